package main

import (
	"encoding/json"
	"math"

	"lanesim/physics"
	"lanesim/studies"
)

// model is the number of the format and of the physics behind it.
const model = 1

// number is printed with the fewest digits that read back to the same float64,
// and as null where it is not a finite one.
type number float64

func (n number) finite() bool { return !math.IsNaN(float64(n)) && !math.IsInf(float64(n), 0) }

// MarshalJSON prints the number.
func (n number) MarshalJSON() ([]byte, error) {
	if !n.finite() {
		return []byte("null"), nil
	}
	if n == 0 {
		n = 0 // without the sign that a zero can have
	}
	return json.Marshal(float64(n))
}

// optional converts a number that may not exist.
func optional(v *float64, convert func(float64) float64) *number {
	if v == nil {
		return nil
	}
	n := number(convert(*v))
	return &n
}

func same(v float64) float64 { return v }

// stateRecord is a state of the ball as it is printed, in JSON by its keys and
// in CSV by columns of the same names. An array becomes a column for each of
// its parts, which the tag names.
type stateRecord struct {
	Time         number    `json:"time_s"`
	Distance     number    `json:"distance_m"`
	DistanceFeet number    `json:"distance_ft"`
	Lateral      number    `json:"lateral_m"`
	Board        number    `json:"board"`
	Heading      number    `json:"heading_deg"`
	Speed        number    `json:"speed_mps"`
	SpeedTrade   number    `json:"speed_mph"`
	Velocity     [2]number `json:"velocity_mps" parts:"down_lane,left"`
	Spin         [3]number `json:"spin_rad_s" parts:"down_lane,left,up"`
	RevRate      number    `json:"rev_rate_rpm"`
	AxisRotation number    `json:"axis_rotation_deg"`
	AxisTilt     number    `json:"axis_tilt_deg"`
	Slip         number    `json:"slip_mps"`
	Friction     number    `json:"friction"`
	Normal       number    `json:"normal_N"`
	Oil          number    `json:"oil_um"`
	BallOil      number    `json:"ball_oil_um"`
}

func recordState(s physics.State) stateRecord {
	return stateRecord{
		Time:         number(s.Time),
		Distance:     number(s.Distance),
		DistanceFeet: number(feet(s.Distance)),
		Lateral:      number(s.Lateral),
		Board:        number(s.Board),
		Heading:      number(degrees(s.Heading)),
		Speed:        number(s.Speed),
		SpeedTrade:   number(milesPerHour(s.Speed)),
		Velocity:     [2]number{number(s.Velocity[0]), number(s.Velocity[1])},
		Spin:         [3]number{number(s.Spin[0]), number(s.Spin[1]), number(s.Spin[2])},
		RevRate:      number(revsPerMinute(s.RevRate)),
		AxisRotation: number(degrees(s.AxisRotation)),
		AxisTilt:     number(degrees(s.AxisTilt)),
		Slip:         number(s.Slip),
		Friction:     number(s.Friction),
		Normal:       number(s.Normal),
		Oil:          number(micrometres(s.Oil)),
		BallOil:      number(micrometres(s.BallOil)),
	}
}

func recordOptional(s *physics.State) *stateRecord {
	if s == nil {
		return nil
	}
	r := recordState(*s)
	return &r
}

func recordStates(list []physics.State) []stateRecord {
	records := make([]stateRecord, len(list))
	for i, s := range list {
		records[i] = recordState(s)
	}
	return records
}

type eventsRecord struct {
	HookStart    *stateRecord `json:"hook_start"`
	FrictionRead *stateRecord `json:"friction_read"`
	Breakpoint   *stateRecord `json:"breakpoint"`
	RollStart    *stateRecord `json:"roll_start"`
	PatternEnd   *stateRecord `json:"pattern_end"`
	Pins         *stateRecord `json:"pins"`
	Gutter       *stateRecord `json:"gutter"`
}

type oilRecord struct {
	Lane   number `json:"lane"`
	Ball   number `json:"ball"`
	Soaked number `json:"soaked"`
}

type summaryRecord struct {
	Skid        *number   `json:"skid_ft"`
	Hook        *number   `json:"hook_ft"`
	Roll        *number   `json:"roll_ft"`
	EntryBoard  *number   `json:"entry_board"`
	EntryAngle  *number   `json:"entry_angle_deg"`
	SpeedLoss   number    `json:"speed_loss_mph"`
	EnergyLost  number    `json:"energy_lost_J"`
	Flare       number    `json:"flare_in"`
	FlareOil    number    `json:"flare_oil_in"`
	Revolutions number    `json:"revolutions"`
	ReSlips     int       `json:"re_slips"`
	Pocket      bool      `json:"pocket"`
	GoodAngle   bool      `json:"good_angle"`
	InOil       bool      `json:"breakpoint_in_oil"`
	Oil         oilRecord `json:"oil_mL"`
}

type statsRecord struct {
	Steps       int `json:"steps"`
	Rejected    int `json:"rejected"`
	Evaluations int `json:"evaluations"`
}

// aimedRecord holds the launch angles that reach the pocket, and the index of the
// one that is thrown.
type aimedRecord struct {
	Angles []number `json:"angles_deg"`
	Used   int      `json:"used"`
}

func recordAimed(a *studies.Aimed) *aimedRecord {
	if a == nil {
		return nil
	}
	r := &aimedRecord{Used: a.Used}
	for _, angle := range a.Angles {
		r.Angles = append(r.Angles, number(degrees(angle)))
	}
	return r
}

// shotRecord is one shot as it is printed.
type shotRecord struct {
	Lane    string          `json:"lane"`
	Ball    string          `json:"ball"`
	Bowler  string          `json:"bowler"`
	Status  physics.Status  `json:"status"`
	Inputs  json.RawMessage `json:"inputs"`
	Events  eventsRecord    `json:"events"`
	Marks   []stateRecord   `json:"marks"`
	Summary summaryRecord   `json:"summary"`
	Aimed   *aimedRecord    `json:"aimed"`
	Stats   statsRecord     `json:"stats"`
	Path    []stateRecord   `json:"path"`
}

func recordShot(t thrown) shotRecord {
	e, u := t.shot.Events, t.shot.Summary
	r := shotRecord{
		Lane: t.lane, Ball: t.ball, Bowler: t.bowler,
		Status: t.shot.Status,
		Inputs: t.inputs,
		Events: eventsRecord{
			HookStart:    recordOptional(e.HookStart),
			FrictionRead: recordOptional(e.FrictionRead),
			Breakpoint:   recordOptional(e.Breakpoint),
			RollStart:    recordOptional(e.RollStart),
			PatternEnd:   recordOptional(e.PatternEnd),
			Pins:         recordOptional(e.Pins),
			Gutter:       recordOptional(e.Gutter),
		},
		Marks: recordStates(t.shot.Marks),
		Summary: summaryRecord{
			Skid:        optional(u.Skid, feet),
			Hook:        optional(u.Hook, feet),
			Roll:        optional(u.Roll, feet),
			EntryBoard:  optional(u.EntryBoard, same),
			EntryAngle:  optional(u.EntryAngle, degrees),
			SpeedLoss:   number(milesPerHour(u.SpeedLoss)),
			EnergyLost:  number(u.EnergyLost),
			Flare:       number(inches(u.Flare)),
			FlareOil:    number(inches(u.FlareOil)),
			Revolutions: number(u.Revolutions),
			ReSlips:     u.ReSlips,
			Pocket:      u.Pocket,
			GoodAngle:   u.GoodAngle,
			InOil:       u.BreakpointInOil,
			Oil: oilRecord{
				Lane:   number(millilitres(u.Oil.Lane)),
				Ball:   number(millilitres(u.Oil.Ball)),
				Soaked: number(millilitres(u.Oil.Soaked)),
			},
		},
		Aimed: recordAimed(t.aimed),
		Stats: statsRecord{t.shot.Stats.Steps, t.shot.Stats.Rejected, t.shot.Stats.Evaluations},
		Path:  recordStates(t.shot.Path),
	}
	return r
}
