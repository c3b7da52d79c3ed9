package physics

import "math"

// Shot is the result of one delivery. Lateral positions, velocities and spins are in the lane's frame for
// either hand; boards and headings are the bowler's.
type Shot struct {
	Status  Status
	Events  Events
	Marks   []State // at the distances of MarkDistances that the ball reached, in order
	Summary Summary
	Stats   Stats

	// Path is the motion from release to the end at equal distances, both ends included. It is nil if
	// Settings.PathSpacing is negative.
	Path []State

	// Track is the contact's path over the ball, from release to the end. It is
	// nil unless Settings.TrackSpacing asks for it.
	Track []TrackPoint

	// Exchange is the oil that the ball took from the lane along its path. It
	// is nil on a dry lane and if Settings.ExchangeSpacing is negative.
	Exchange []Exchange
}

// Status is how a shot ended.
type Status string

// The ways in which a shot ends.
const (
	Pins      Status = "pins"       // reached the head pin's distance
	Gutter    Status = "gutter"     // its centre passed the lane's edge
	FoulLine  Status = "foul line"  // came back over the foul line
	Stopped   Status = "stopped"    // came to rest
	Lifted    Status = "lifted"     // left the lane: the normal force vanished, or friction jammed the ball and threw it up
	TimeLimit Status = "time limit" // did not end within Settings.MaxTime
)

// AllStatuses lists the ways in which a shot ends.
func AllStatuses() []Status { return []Status{Pins, Gutter, FoulLine, Stopped, Lifted, TimeLimit} }

// State is the ball at one instant.
type State struct {
	Time     float64 // s since release
	Distance float64 // m down-lane from the foul line
	Lateral  float64 // m, positive to the left
	Board    float64 // counted from the bowler's side

	// Heading is the direction of travel in rad from straight down-lane, positive toward the bowler's off
	// side (a right-hander's left).
	Heading float64

	Speed    float64    // m/s, of the centre
	Velocity [2]float64 // m/s, of the centre: down-lane, left
	Spin     [3]float64 // rad/s: down-lane, left, up

	RevRate float64 // rad/s, size of the spin

	// Orientation is the unit quaternion w, x, y, z that turns vectors from the
	// ball's body axes into the lane's: down-lane, left, up.
	Orientation [4]float64

	// AxisRotation and AxisTilt are those of the present spin relative to
	// the present heading, in rad; NaN where there is no spin.
	AxisRotation, AxisTilt float64

	Slip     float64 // m/s, of the contact point over the lane
	Friction float64 // coefficient of friction
	Normal   float64 // N

	// Oil is the film in the gap in m, BallOil the part of it that the ball carried there.
	Oil, BallOil float64
}

// Events are the instants at which the shot changes its character. An event that does not occur is nil.
type Events struct {
	// HookStart is where the heading is first Settings.HookTurn away from the
	// launch heading. A ball that rolls first has none.
	HookStart *State

	// FrictionRead is the first place, the release included, where the mean of the friction over one turn,
	// from half a turn before to half a turn after, exceeds that on a full film by a tenth of the difference
	// between dry boards and a full film, both for this ball's cover. The turn is cut at release and at the
	// end; if the ball turns by less than half a turn in all, the friction itself counts. It is nil under the
	// laws that do not depend on film.
	FrictionRead *State

	// Breakpoint is the point farthest toward the bowler's ball-side gutter (for a backup ball the other
	// gutter), if the path turns back there and the point is at least a quarter of a board outside the
	// laydown.
	Breakpoint *State

	// RollStart is where the ball begins to roll without sliding again, except for less than 5 mm in all.
	RollStart *State

	PatternEnd *State // where the ball reaches the end of the pattern
	Pins       *State // at the distance of the head pin
	Gutter     *State // where the centre passes the lane's edge
}

// EntryBoard returns the board at the pins, NaN if the ball does not reach them.
func (s Shot) EntryBoard() float64 {
	if s.Events.Pins == nil {
		return math.NaN()
	}
	return s.Events.Pins.Board
}

// EntryAngle returns the heading in rad at the pins, NaN if the ball does not reach them.
func (s Shot) EntryAngle() float64 {
	if s.Events.Pins == nil {
		return math.NaN()
	}
	return s.Events.Pins.Heading
}

// Summary holds the numbers by which shots are compared.
type Summary struct {
	// Skid, Hook and Roll are the lengths of the phases in m down-lane. Skid is from release to the hook
	// start or, if that is first, the roll start; hook from there to the roll start; roll from there to the
	// end. The hook of a ball that rolls before its hook start is 0 m long. A phase that the shot did not
	// have is NaN.
	Skid, Hook, Roll float64

	SpeedLoss   float64 // m/s, release to end
	EnergyLost  float64 // J, taken by friction, release to end
	Flare       float64 // m, migration of the track that the core causes
	FlareOil    float64 // m, the same up to the end of the pattern
	Revolutions float64 // turns of the ball, release to end
	ReSlips     int     // how often a rolling ball broke away

	Pocket    bool // entry board within the pocket window
	GoodAngle bool // entry angle within the window, of a ball that hits light, pocket or high

	// BreakpointInOil is set if there is a breakpoint and it lies before the end of the pattern.
	BreakpointInOil bool

	Oil OilBudget
}

// OilBudget is where the oil that the ball exchanged with the lane went. The three volumes add up to zero.
type OilBudget struct {
	Lane   float64 // m³ that the lane gained: negative as a rule
	Ball   float64 // m³ on the ball's surface at the end
	Soaked float64 // m³ soaked into the cover
}

// TrackPoint is where the ball touches the lane at one instant.
type TrackPoint struct {
	Time     float64    // s since release
	Distance float64    // m down-lane from the foul line
	Turned   float64    // rad that the ball has turned since release
	Point    [3]float64 // unit vector from the centre, in body axes
	Found    float64    // m, film on the ball before the contact
	Left     float64    // m, film on the ball behind the contact

	// Spacing is the distance in m on the ball's surface to the nearest point of the track one turn earlier;
	// NaN in the first turn and on a ball without film memory.
	Spacing float64
}

// Exchange is the oil that the ball took along a short part of the path.
type Exchange struct {
	Distance, Lateral float64 // m, middle of the part, in the lane's frame
	Length            float64 // m down-lane
	Volume            float64 // m³ taken from the lane; negative if laid down
}

// Stats counts the work that a shot took.
type Stats struct {
	Steps       int // accepted
	Rejected    int
	Evaluations int // of the forces on the ball, by all methods
}

// Window is a closed interval in the unit of its quantity: boards or rad.
type Window struct{ Min, Max float64 }

// Contains reports whether v lies in the window.
func (w Window) Contains(v float64) bool { return v >= w.Min && v <= w.Max }

// Settings control how a shot is computed and judged. The zero value works.
type Settings struct {
	// Tolerance is the local error allowed per step, in terms of 1 m, 1 m/s, 10 rad/s and 10 rad for place,
	// velocity, spin and orientation. 0 means DefaultTolerance, with which the ball is right within 0.001
	// board at the pins (0.02 with film memory). Below 1e-5 an embedded Runge–Kutta pair of order 5(4) takes
	// all steps. From 1e-5 on, for studies of many shots, splitting takes the steps of a sliding ball and
	// collocation those of a ball that rolls on dry boards, both only without rolling resistance.
	Tolerance float64

	// Pocket is the window of boards at the pins that counts as the pocket; zero means 17.5 ± 0.75.
	Pocket Window

	// GoodAngle is the window of entry angles in rad called good; zero
	// means 4° to 7°.
	GoodAngle Window

	// HookTurn is the change of heading in rad at which the hook starts. 0 means DefaultHookTurn, 1°.
	HookTurn float64

	// PathSpacing is the distance in m between points of Shot.Path. 0
	// means 0.25 ft; negative keeps no path.
	PathSpacing float64

	// TrackSpacing is the turning in rad between points of Shot.Track. 0 keeps no track.
	TrackSpacing float64

	// ExchangeSpacing is the distance in m over which Shot.Exchange adds up.
	// 0 means 0.25 ft; negative keeps no exchange.
	ExchangeSpacing float64

	// EndOnly reports only how and where the shot ended, for studies that need no more: Status, the events
	// Pins and Gutter, the verdicts Pocket and GoodAngle of the summary, and Stats.
	EndOnly bool

	// FrictionRead reports the event FrictionRead even if EndOnly is set.
	FrictionRead bool

	// EvenNodes looks the film on a sliding ball up at evenly spaced nodes at tolerances from 1e-5 on,
	// instead of at closer nodes where friction changes. Closer nodes only where much film was found
	// introduce a bias: film hit by chance counts less, film missed counts no more, and balls that hook on
	// their own film err to one side, by 0.02 board at 1e-4. With even nodes the errors are random, and a
	// shot takes less time. Studies and scenarios set it.
	EvenNodes bool

	// Gravity is the acceleration of free fall in m/s². 0 means
	// StandardGravity.
	Gravity float64

	// MaxTime is the time in s after which a shot ends with the status TimeLimit. 0 means 60.
	MaxTime float64
}
