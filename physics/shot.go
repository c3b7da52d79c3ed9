package physics

import "math"

// Shot is what became of one delivery. Lateral positions, velocities and spins
// are in the lane's frame whatever the hand; boards and headings are the
// bowler's.
type Shot struct {
	Status  Status
	Events  Events
	Marks   []State // at the comparison distances that the ball reached, in order
	Summary Summary
	Stats   Stats

	// Path is the motion from release to the end at an even spacing in
	// distance, both ends included. It is nil if Settings.PathSpacing is
	// negative.
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
	Lifted    Status = "lifted"     // the lane would have to pull to hold it down, or friction jams it and throws it up
	TimeLimit Status = "time limit" // was still on its way when time was up
)

// AllStatuses lists the ways in which a shot ends.
func AllStatuses() []Status { return []Status{Pins, Gutter, FoulLine, Stopped, Lifted, TimeLimit} }

// State is the ball at one instant.
type State struct {
	Time     float64 // s since release
	Distance float64 // m down-lane from the foul line
	Lateral  float64 // m, positive to the left
	Board    float64 // counted from the bowler's side

	// Heading is the direction of travel in rad from straight down-lane,
	// positive toward the bowler's off side (a right-hander's left).
	Heading float64

	Speed    float64    // m/s, of the centre
	Velocity [2]float64 // m/s, of the centre: down-lane, left
	Spin     [3]float64 // rad/s: down-lane, left, up

	RevRate float64 // rad/s, magnitude of the spin

	// Orientation is the unit quaternion w, x, y, z that turns vectors from the
	// ball's body axes into the lane's: down-lane, left, up.
	Orientation [4]float64

	// AxisRotation and AxisTilt are those of the present spin relative to
	// the present heading, in rad; NaN where there is no spin.
	AxisRotation, AxisTilt float64

	Slip     float64 // m/s, of the contact point over the lane
	Friction float64 // coefficient that the law gives here
	Normal   float64 // N

	// Oil is the film in the gap in m, BallOil the part of it that the
	// ball's own surface brought.
	Oil, BallOil float64
}

// Events are the moments at which the shot's character changes; nil where one
// does not occur.
type Events struct {
	// HookStart is where the heading is first Settings.HookTurn away from the
	// launch heading. A ball that rolls first has none.
	HookStart *State

	// FrictionRead is the first place, the release included, where the mean of the
	// friction over one turn, from half a turn before to half a turn after, exceeds
	// that on a full film by a tenth of the difference between dry boards and a
	// full film, both as this ball meets them. The turn is cut at release and at the
	// end; of a ball that turns by less than half a turn in all the friction itself
	// counts. There is none under the laws that ask for no film, nor if it is never
	// reached.
	FrictionRead *State

	// Breakpoint is the point farthest toward the bowler's ball-side gutter, of a backup
	// ball toward the other one, if the path turns back there, at least a quarter of a
	// board from the laydown.
	Breakpoint *State

	// RollStart is where the ball begins to roll for good.
	RollStart *State

	PatternEnd *State // where the ball leaves the oiled length
	Pins       *State
	Gutter     *State
}

// EntryBoard is the board at the pins, NaN if the ball does not get there.
func (s Shot) EntryBoard() float64 {
	if s.Events.Pins == nil {
		return math.NaN()
	}
	return s.Events.Pins.Board
}

// EntryAngle is the heading in rad at the pins, NaN if the ball does not get there.
func (s Shot) EntryAngle() float64 {
	if s.Events.Pins == nil {
		return math.NaN()
	}
	return s.Events.Pins.Heading
}

// Summary holds the numbers by which shots are compared.
type Summary struct {
	// Skid, Hook and Roll are the lengths in m down-lane of the phases that
	// the shot had: release to hook start or, if that is first, roll start; from
	// there to roll start; roll start to the end. The hook of a ball that rolls first is
	// 0 m long. A phase that the shot did not have is NaN.
	Skid, Hook, Roll float64

	SpeedLoss   float64 // m/s, release to end
	EnergyLost  float64 // J, done by friction, release to end
	Flare       float64 // m, migration of the track that the core causes
	FlareOil    float64 // m, the same up to the end of the oil
	Revolutions float64 // turns of the ball, release to end
	ReSlips     int     // how often a rolling ball broke away

	Pocket    bool // entry board within the pocket window
	GoodAngle bool // entry angle within the window, of a ball that hits light, pocket or high

	// BreakpointInOil says that there is a breakpoint, before the end of the oil.
	BreakpointInOil bool

	Oil OilBudget
}

// OilBudget says where the oil went that the ball exchanged with the lane. The
// three add up to nothing.
type OilBudget struct {
	Lane   float64 // m³ that the lane gained: negative as a rule
	Ball   float64 // m³ on the ball's surface at the end
	Soaked float64 // m³ taken in by the cover
}

// TrackPoint is where the ball touches the lane at one instant.
type TrackPoint struct {
	Time     float64    // s since release
	Distance float64    // m down-lane from the foul line
	Turned   float64    // rad that the ball has turned since release
	Point    [3]float64 // unit vector from the centre, in body axes
	Found    float64    // m, film that the ball brought to the contact
	Left     float64    // m, film that the pass left there

	// Spacing is the distance in m on the ball's surface to the nearest point
	// of the track of one turn ago; NaN in the first turn and on a ball
	// without film memory.
	Spacing float64
}

// Exchange is oil taken along a short piece of the path.
type Exchange struct {
	Distance, Lateral float64 // m, middle of the piece, in the lane's frame
	Length            float64 // m down-lane
	Volume            float64 // m³ taken from the lane; negative if laid down
}

// Stats counts the work that a shot took.
type Stats struct {
	Steps       int // accepted
	Rejected    int
	Evaluations int // of the forces on the ball, by whatever method
}

// Window is a closed interval, in the unit of what it bounds: boards or rad.
type Window struct{ Min, Max float64 }

// Contains reports whether v lies in the window.
func (w Window) Contains(v float64) bool { return v >= w.Min && v <= w.Max }

// Settings control how a shot is computed and judged. The zero value works.
type Settings struct {
	// Tolerance is the dimensionless accuracy asked of the integration: the
	// local error allowed per step, relative to the ball's speed, spin and
	// the length of the lane. 0 means DefaultTolerance, which puts the ball at the pins
	// within 0.001 board (0.02 with film memory). Below 1e-5 the pair of order 5(4) takes all
	// steps; from there on, for studies of many shots, splitting takes those of a sliding ball and
	// collocation those of a rolling one on dry boards.
	Tolerance float64

	// Pocket is the window of boards at the pins that counts as the pocket;
	// zero means 17.5 ± 0.75.
	Pocket Window

	// GoodAngle is the window of entry angles in rad called good; zero
	// means 4° to 7°.
	GoodAngle Window

	// HookTurn is the angle in rad by which the heading turns up to the hook start.
	// 0 means DefaultHookTurn, 1°.
	HookTurn float64

	// PathSpacing is the distance in m between points of Shot.Path. 0
	// means 0.25 ft; negative keeps no path.
	PathSpacing float64

	// TrackSpacing is the angle in rad of turning between points of
	// Shot.Track. 0 keeps no track.
	TrackSpacing float64

	// ExchangeSpacing is the distance in m over which Shot.Exchange adds up.
	// 0 means 0.25 ft; negative keeps no exchange.
	ExchangeSpacing float64

	// EndOnly keeps of the shot how and where it ended, for studies that need no
	// more: Status, the events Pins and Gutter, of the summary the entry and its
	// verdicts, and Stats.
	EndOnly bool

	// FrictionRead keeps the event FrictionRead as well where EndOnly is set.
	FrictionRead bool

	// EvenNodes makes a sliding ball look the film on it up at even distances, at tolerances from 1e-5
	// on, rather than closer where friction changes. To look closer only where much film was found
	// counts film that a node hit by chance for less and film that it missed for no more, so that
	// balls which hook on their own film err to one side, by 0.02 board at 1e-4. With even nodes
	// errors are chance, and a shot takes less time. Studies and scenarios ask for it.
	EvenNodes bool

	// Gravity is the acceleration of free fall in m/s². 0 means
	// StandardGravity.
	Gravity float64

	// MaxTime is the time in s after which a shot is given up. 0 means 60.
	MaxTime float64
}
