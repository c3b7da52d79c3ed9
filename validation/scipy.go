package validation

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"math"
	"sync"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// The shots of another program, which shares nothing with this one: written in
// Python, with other variables, and integrated by scipy. Its files say how far
// two of its own settings differ.
var (
	//go:embed scipy/cases.json
	scipyRigid []byte

	//go:embed scipy/film_memory.json
	scipyFilm []byte
)

// scipyShot is one shot of the other program: what went in, in SI, and what
// came out.
type scipyShot struct {
	Name string

	Lane    lane.Lane
	Ball    ball.Ball
	Release physics.Release
	Gravity float64 // m/s²

	// Marks are its states on the way and at the pins.
	Marks []scipyState

	// ReSlips is how often its ball broke away; nil where it does not follow the
	// film under a rolling ball.
	ReSlips *int

	// Accuracy is by how much its settings differ at most, by quantity, as
	// named in a state.
	Accuracy map[string]float64
}

// scipyState is the ball at one distance.
type scipyState struct {
	Time     float64    `json:"time_s"`
	Distance float64    `json:"distance_m"`
	Lateral  float64    `json:"lateral_m"`
	Velocity [2]float64 `json:"velocity_m_s"` // down-lane, left
	Spin     [3]float64 `json:"spin_rad_s"`   // down-lane, left, up
	Slip     float64    `json:"slip_m_s"`
	Heading  float64    `json:"heading_deg"`
	Flare    float64    `json:"flare_m"`
	Turned   float64    `json:"turned_rad"`
}

// scipyFile is one of the files, as far as it is used.
type scipyFile struct {
	Cases []struct {
		Name string
		Ball struct {
			Mass              float64    `json:"mass_kg"`
			Radius            float64    `json:"radius_m"`
			Moments           [3]float64 `json:"principal_moments_kg_m2"`
			Offset            [3]float64 `json:"mass_centre_offset_m"`
			PAP               [3]float64 `json:"pap_body"`
			Fingers           [3]float64 `json:"fingers_body"`
			ContactRadius     float64    `json:"contact_radius_m"`
			RollingResistance float64    `json:"rolling_resistance"`
			Roughness         float64    `json:"roughness_m"`
		}
		Lane struct {
			Gravity   float64 `json:"gravity_m_s2"`
			Tilt      float64 `json:"tilt_m"`
			Roughness float64 `json:"roughness_m"`
			Endless   bool
			Oil       json.RawMessage // a table, or words that refer to one
		}
		Friction struct {
			Law                      lane.Law
			Mu, Film, Dry, Entrained float64
			Zones                    []struct {
				To *float64 `json:"to_m"` // nil without end
				Mu float64
			}
		}
		Memory *struct {
			PickUp       float64  `json:"pick_up"`
			GiveBack     float64  `json:"give_back"`
			ContactWidth float64  `json:"contact_width_m"`
			SoakIn       *float64 `json:"soak_in_s"` // nil for never
		}
		Release struct {
			Speed           float64 `json:"speed_m_s"`
			RevRate         float64 `json:"rev_rate_rad_s"`
			AxisRotation    float64 `json:"axis_rotation_rad"`
			AxisTilt        float64 `json:"axis_tilt_rad"`
			Angle           float64 `json:"launch_angle_rad"`
			Phase           float64 `json:"phase_rad"`
			Laydown         float64 `json:"laydown_board"`
			LaydownDistance float64 `json:"laydown_distance_m"`
		}
		Expected struct {
			Marks   []scipyState
			Sliding []scipyState      `json:"marks_while_sliding"`
			Events  []json.RawMessage `json:"other_events"`
			Pins    *scipyState
		}
		Accuracy struct {
			Settings map[string]float64 `json:"settings_agree_to"`
		}
	}
}

// scipyOilCase is the shot whose oil the others refer to.
const scipyOilCase = "benchmark"

// scipyShots returns the shots of the other program.
var scipyShots = sync.OnceValues(func() ([]scipyShot, error) {
	var shots []scipyShot
	var common *lane.OilMap
	for _, source := range [][]byte{scipyRigid, scipyFilm} {
		var file scipyFile
		if err := json.Unmarshal(source, &file); err != nil {
			return nil, fmt.Errorf("validation: shots made with scipy: %w", err)
		}
		for _, c := range file.Cases {
			s := scipyShot{
				Name:    c.Name,
				Gravity: c.Lane.Gravity,
				Lane: lane.Lane{
					Length:            lane.HeadPin,
					Edgeless:          c.Lane.Endless,
					Tilt:              c.Lane.Tilt,
					Roughness:         c.Lane.Roughness,
					RollingResistance: c.Ball.RollingResistance,
					Friction: lane.Friction{Law: c.Friction.Law, Mu: c.Friction.Mu, Film: c.Friction.Film,
						Dry: c.Friction.Dry, Entrained: c.Friction.Entrained},
				},
				Ball: ball.Ball{
					Radius: c.Ball.Radius, Mass: c.Ball.Mass, Moments: c.Ball.Moments, Offset: c.Ball.Offset,
					PAP: c.Ball.PAP, Fingers: c.Ball.Fingers, Roughness: c.Ball.Roughness, ContactRadius: c.Ball.ContactRadius,
					Memory: ball.FilmMemory{Off: true},
				},
				Release: physics.Release{
					Speed: c.Release.Speed, RevRate: c.Release.RevRate, AxisRotation: c.Release.AxisRotation,
					AxisTilt: c.Release.AxisTilt, Phase: c.Release.Phase, Laydown: c.Release.Laydown,
					LaydownDistance: c.Release.LaydownDistance, Angle: c.Release.Angle,
				},
				Marks:    append(c.Expected.Marks, c.Expected.Sliding...),
				Accuracy: c.Accuracy.Settings,
			}
			for _, z := range c.Friction.Zones {
				to := math.Inf(1)
				if z.To != nil {
					to = *z.To
				}
				s.Lane.Friction.Zones = append(s.Lane.Friction.Zones, lane.Zone{To: to, Mu: z.Mu})
			}
			reSlips := 0
			for _, raw := range c.Expected.Events {
				var e struct{ Event string }
				if json.Unmarshal(raw, &e) == nil && e.Event == "slips again" {
					reSlips++
				}
			}
			if c.Expected.Pins != nil {
				s.Marks = append(s.Marks, *c.Expected.Pins)
			}
			if c.Memory == nil {
				s.ReSlips = &reSlips
			}
			if m := c.Memory; m != nil {
				s.Ball.Memory = ball.FilmMemory{PickUp: m.PickUp, GiveBack: m.GiveBack, ContactWidth: m.ContactWidth, SoakIn: math.Inf(1)}
				if m.SoakIn != nil {
					s.Ball.Memory.SoakIn = *m.SoakIn
				}
				s.Name += ", oil on the ball"
			}
			if len(c.Lane.Oil) > 0 {
				s.Lane.Oil = common
				if c.Lane.Oil[0] == '{' {
					o, err := scipyOil(c.Lane.Oil)
					if err != nil {
						return nil, fmt.Errorf("validation: oil of %q: %w", c.Name, err)
					}
					s.Lane.Oil = o
				}
				if c.Name == scipyOilCase {
					common = s.Lane.Oil
				}
			}
			shots = append(shots, s)
		}
	}
	return shots, nil
})

func scipyOil(source []byte) (*lane.OilMap, error) {
	var table struct {
		Unit      float64   `json:"unit_m"`
		Distances []float64 `json:"distances_m"`
		Units     [][]float64
	}
	if err := json.Unmarshal(source, &table); err != nil {
		return nil, err
	}
	o, err := lane.NewBoardOilMap(table.Distances, table.Units)
	if err != nil {
		return nil, err
	}
	for i := range o.Film {
		o.Film[i] *= table.Unit / units.OilUnit
	}
	return o, nil
}

// throw throws the shot.
func (s scipyShot) throw() (physics.Shot, error) {
	return throw(s.Lane, s.Ball, s.Release, physics.Settings{Gravity: s.Gravity})()
}

const (
	// scipyMargin is how many times the difference of two of the other
	// program's settings it may be off.
	scipyMargin = 3

	// ownShare is what the tolerance here leaves, as a share of the size of a
	// quantity: some hundred steps of 10⁻⁹.
	ownShare = 1e-7

	// oiledShare is the same where the ball carries oil. There the other
	// program takes fixed steps, and its track is so slow to converge that
	// halving them does not show its error.
	oiledShare = 5e-6
)

// bound is the largest difference that passes, for a quantity as the other
// program names it and its size.
func (s scipyShot) bound(quantity string, size float64) float64 {
	own := ownShare
	if !s.Ball.Memory.Off {
		own = oiledShare
	}
	return scipyMargin*s.Accuracy[quantity] + own*math.Abs(size)
}

// scipyCases compare time, place and angle at the pins.
func scipyCases() []Case {
	shots, err := scipyShots()
	if err != nil {
		panic(err) // the files are part of the program, and tested
	}
	var all []Case
	for _, s := range shots {
		end := s.Marks[len(s.Marks)-1]
		once := sync.OnceValues(s.throw)
		at := func(read func(physics.State) float64) func() (float64, error) {
			return func() (float64, error) {
				shot, err := once()
				if err != nil {
					return 0, err
				}
				return arrives(read)(shot)
			}
		}
		c := Case{Name: "against scipy: " + s.Name, Source: "integrated independently with scipy; the inputs come with the program", Mark: Derived}
		add := func(quantity, unit string, expected, tolerance float64, compute func() (float64, error)) {
			c.Quantity, c.Unit, c.Expected, c.Tolerance, c.Compute = quantity, unit, expected, tolerance, compute
			all = append(all, c)
		}
		add("time at the pins", "s", end.Time, s.bound("time_s", end.Time), at(elapsed))
		add("lateral position at the pins", "m", end.Lateral, s.bound("lateral_m", lane.Width), at(lateral))
		add("entry angle", "°", end.Heading, s.bound("heading_deg", 1/units.Degree), at(func(s physics.State) float64 { return s.Heading / units.Degree }))
	}
	return all
}
