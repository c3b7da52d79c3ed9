package validation

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"sync"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/units"
)

// The shots of another program, which shares nothing with this one: written in Python, with
// other variables, and integrated by scipy. Its files give the difference between two of
// its settings.
var (
	//go:embed scipy/cases.json
	scipyRigid []byte

	//go:embed scipy/film_memory.json
	scipyFilm []byte
)

// scipyShot is one shot of the other program: its inputs and results, in SI.
type scipyShot struct {
	Name string

	Lane    lane.Lane
	Ball    ball.Ball
	Release physics.Release
	Gravity float64 // m/s²

	// Marks are its states on the way and at the pins.
	Marks []scipyState

	// ReSlips is the number of times its ball broke away into sliding; nil where it does not
	// follow the film under a rolling ball.
	ReSlips *int

	// Accuracy is the largest difference between its settings, by quantity, as named in a
	// state.
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

// scipyFile is a file of the other program, with the members that are used here.
type scipyFile struct {
	Cases []struct {
		Name string
		Ball struct {
			ball.Ball
			RollingResistance float64
		}
		Lane struct {
			lane.Lane
			Gravity float64
			Oil     json.RawMessage // a table, or words that refer to one
		}
		Friction lane.Friction    // the last zone has no end
		Memory   *ball.FilmMemory // a soak-in time of 0 stands for never
		Release  physics.Release
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

// scipyNames replaces the names of the files, which contain units, by this program's.
var scipyNames = strings.NewReplacer(
	`"mass_kg"`, `"Mass"`, `"radius_m"`, `"Radius"`, `"principal_moments_kg_m2"`, `"Moments"`, `"mass_centre_offset_m"`, `"Offset"`,
	`"pap_body"`, `"PAP"`, `"fingers_body"`, `"Fingers"`, `"contact_radius_m"`, `"ContactRadius"`, `"rolling_resistance"`, `"RollingResistance"`,
	`"roughness_m"`, `"Roughness"`, `"gravity_m_s2"`, `"Gravity"`, `"tilt_m"`, `"Tilt"`, `"endless"`, `"Edgeless"`, `"to_m"`, `"To"`,
	`"pick_up"`, `"PickUp"`, `"give_back"`, `"GiveBack"`, `"contact_width_m"`, `"ContactWidth"`, `"soak_in_s"`, `"SoakIn"`,
	`"speed_m_s"`, `"Speed"`, `"rev_rate_rad_s"`, `"RevRate"`, `"axis_rotation_rad"`, `"AxisRotation"`, `"axis_tilt_rad"`, `"AxisTilt"`,
	`"launch_angle_rad"`, `"Angle"`, `"phase_rad"`, `"Phase"`, `"laydown_board"`, `"Laydown"`, `"laydown_distance_m"`, `"LaydownDistance"`,
)

// scipyOilCase is the shot to whose oil the others refer.
const scipyOilCase = "benchmark"

// scipyShots returns the shots of the other program.
var scipyShots = sync.OnceValues(func() ([]scipyShot, error) {
	var shots []scipyShot
	var common *lane.OilMap
	for _, source := range [][]byte{scipyRigid, scipyFilm} {
		var file scipyFile
		if err := json.Unmarshal([]byte(scipyNames.Replace(string(source))), &file); err != nil {
			return nil, fmt.Errorf("validation: shots made with scipy: %w", err)
		}
		for _, c := range file.Cases {
			s := scipyShot{
				Name: c.Name, Gravity: c.Lane.Gravity, Lane: c.Lane.Lane, Ball: c.Ball.Ball, Release: c.Release,
				Marks: append(c.Expected.Marks, c.Expected.Sliding...), Accuracy: c.Accuracy.Settings,
			}
			s.Lane.Length, s.Lane.RollingResistance, s.Lane.Friction = lane.HeadPin, c.Ball.RollingResistance, c.Friction
			if zones := s.Lane.Friction.Zones; len(zones) > 0 {
				zones[len(zones)-1].To = math.Inf(1)
			}
			s.Ball.Memory = ball.FilmMemory{Off: true}
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
				if s.Ball.Memory = *m; m.SoakIn == 0 {
					s.Ball.Memory.SoakIn = math.Inf(1)
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
	// scipyMargin is the allowed difference over that between the other program's two
	// settings.
	scipyMargin = 3

	// ownShare is the error allowed for the tolerance here, as a share of a quantity's size:
	// some hundred steps of 10⁻⁹.
	ownShare = 1e-7

	// oiledShare is the same for a ball that carries oil. There the other program takes
	// fixed steps, and its track converges so slowly that halving them does not show its
	// error.
	oiledShare = 5e-6
)

// bound returns the largest allowed difference of a quantity, by the other program's name
// and its size.
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
