package docs_test

import (
	"context"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/pins"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/carry"
	"lanesim/studies/compare"
	"lanesim/units"
	"lanesim/validation"
)

const theory = "theory.md"

// table lays out a table of Markdown, the first row being its heading.
func table(rows [][]string) string {
	var b strings.Builder
	for i, row := range rows {
		b.WriteString("| " + strings.Join(row, " | ") + " |\n")
		if i == 0 {
			b.WriteString(strings.Repeat("| --- ", len(row)) + "|\n")
		}
	}
	return b.String()
}

func short(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }

// The constants of the page are those of the code.
func TestTheoryTellsTheDefaults(t *testing.T) {
	section(t, theory, "settings", settingsTable())
	section(t, theory, "assumed", assumedTable())
	rows := [][]string{{"cover", "μ dry", "μ film", "soak-in time"}}
	for _, c := range ball.Covers() {
		soak := short(c.SoakIn) + " s"
		if math.IsInf(c.SoakIn, 1) {
			soak = "never"
		}
		rows = append(rows, []string{c.Name, short(c.Dry), short(c.Film), soak})
	}
	section(t, theory, "covers", table(rows))
	section(t, theory, "pins", pinsTable())
}

func settingsTable() string {
	deg := func(v float64) string { return short(v/units.Degree) + "°" }
	pocket, angle, visible := physics.DefaultPocket, physics.DefaultGoodAngle, compare.DefaultVisible()
	return table([][]string{
		{"setting", "default", "basis"},
		{"length of the lane", short(lane.HeadPin/units.Foot) + " ft", "rule book"},
		{"hook turn", deg(physics.DefaultHookTurn), "chosen"},
		{"pocket", fmt.Sprintf("board %s ± %s", short((pocket.Min+pocket.Max)/2), short((pocket.Max-pocket.Min)/2)), "pin studies of the governing body, second-hand: 17 to 18"},
		{"good angle", deg(angle.Min) + " to " + deg(angle.Max), "common practice"},
		{"what can be seen", fmt.Sprintf("%s board at the pins or %s ft of friction read", short(visible.Boards), short(visible.FrictionRead/units.Foot)), "assumed"},
		{"phases of a comparison", strconv.Itoa(compare.Phases), "chosen"},
		{"sets of assumed values", strconv.Itoa(studies.DefaultAssumedSets), "chosen"},
		{"tolerance of a shot, of studies", short(physics.DefaultTolerance) + ", " + short(studies.ManyShotsTolerance), "measured errors in README.md"},
	})
}

func assumedTable() string {
	friction, memory := lane.DefaultFriction(), ball.DefaultFilmMemory()
	values := map[string]struct {
		symbol, unit string
		size, value  float64
		from         string
	}{
		"lane.friction.film":             {"μ_film", "", 1, friction.Film, "calibrated: with a release published in 2025 a two-zone lane reaches the pocket only with 0.021 to 0.024"},
		"lane.friction.dry":              {"μ_dry", "", 1, friction.Dry, "the figure most often quoted (Frohlich, Am. J. Phys. 72, 1170, 2004; from memory)"},
		"lane.friction.entrained":        {"κ_e", "", 1, friction.Entrained, "assumed"},
		"lane.roughness":                 {"Ra_lane", " µm", 1e-6, lane.DefaultRoughness, "assumed"},
		"ball.film_memory.pick_up":       {"p", "", 1, memory.PickUp, "assumed; held by wear: about half of the oil in the heads is left after 12 to 15 games (common practice)"},
		"ball.film_memory.give_back":     {"q", "", 1, memory.GiveBack, "assumed equal to the pick-up: equal films without slip exchange nothing"},
		"ball.film_memory.contact_width": {"w", " mm", 1e-3, memory.ContactWidth, "assumed; oil rings are about a quarter inch wide (common practice)"},
		"ball.contact_radius":            {"a", " mm", 1e-3, ball.DefaultContactRadius, "assumed"},
	}
	rows := [][]string{{"value", "symbol", "default", "range tried", "basis"}}
	for _, a := range studies.AssumedValues() {
		v := values[a.Key]
		rows = append(rows, []string{"`" + a.Key + "`", v.symbol, short(v.value/v.size) + v.unit, short(a.Low/v.size) + " to " + short(a.High/v.size) + v.unit, v.from})
	}
	return table(append(rows,
		[]string{"`ball.roughness`", "Ra_ball", short(ball.DefaultRoughness/units.Microinch) + " µin", "", "assumed, where nothing is said"},
		[]string{"`ball.grip.shell_density`", "", short(ball.DefaultShellDensity/1000) + " g/cm³", "", "assumed"},
		[]string{"`lane.rolling_resistance`", "c", short(lane.Default().RollingResistance), "", "no published value was found"},
	))
}

// rackConstants are the constants of the pins in words.
var rackConstants = map[string]string{
	"ball_pin_restitution": "restitution, ball–pin", "pin_pin_restitution": "restitution, pin–pin",
	"pin_floor_restitution": "restitution, pin–floor", "pin_side_board_restitution": "restitution, pin–side board",
	"ball_pin_friction": "friction, ball–pin", "pin_pin_friction": "friction, pin–pin", "pin_deck_friction": "friction, pin–deck",
	"pin_side_board_friction": "friction, pin–side board", "ball_deck_friction": "friction, ball–deck",
	"spot_scatter": "scatter of the spot",
}

func pinsTable() string {
	s := pins.Settings{}.WithDefaults()
	inch := func(v float64) string { return short(v/units.Inch) + " in" }
	var ranges []string
	for _, r := range carry.RackRanges() {
		name, low, high := rackConstants[r.Key], short(r.Low), short(r.High)
		if r.Key == "spot_scatter" {
			low, high = short(r.Low/units.Inch), inch(r.High)
		}
		ranges = append(ranges, name+" "+low+" to "+high)
	}
	return table([][]string{
		{"of the pins", "default"},
		{"restitution: ball–pin, pin–pin, pin–floor, pin–side board", strings.Join([]string{
			short(s.BallPinRestitution), short(s.PinPinRestitution), short(s.PinFloorRestitution), short(s.PinSideBoardRestitution)}, ", ")},
		{"friction: ball–pin, pin–pin, pin–deck, pin–side board, ball–deck", strings.Join([]string{
			short(s.BallPinFriction), short(s.PinPinFriction), short(s.PinDeckFriction), short(s.PinSideBoardFriction), short(s.BallDeckFriction)}, ", ")},
		{"pin: mass, height of the mass centre, radii of gyration across and along", strings.Join([]string{
			short(s.Mass/units.Pound) + " lb", inch(s.MassCentre), inch(s.AcrossGyration), inch(s.AlongGyration)}, ", ")},
		{"scatter, one standard deviation: spot, mass, mass centre, restitution, friction", strings.Join([]string{
			inch(s.SpotScatter), short(s.MassScatter/units.Ounce) + " oz", inch(s.MassCentreScatter), short(100*s.RestitutionScatter) + " %", short(100*s.FrictionScatter) + " %"}, ", ")},
		{"tried by `aim --by carry --assumed`, with the deck giving blows back and not", strings.Join(ranges, "; ")},
	})
}

// firstShot is the scenario of the first example, with values put in.
func firstShot(t *testing.T, sets ...string) *scenario.Scenario {
	t.Helper()
	const name = "../examples/first-shot.yaml"
	s, err := scenario.Read(name, []byte(read(t, name)), os.ReadFile, sets)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The flare by intermediate differential and drilling angle is what the page says.
func TestTheoryTellsOfIntermediateDifferential(t *testing.T) {
	heading := []string{"drilling angle"}
	differentials := []float64{0, 0.012, 0.024}
	for _, d := range differentials {
		heading = append(heading, fmt.Sprintf("intermediate differential %g in", d))
	}
	rows := [][]string{heading}
	thrower := physics.NewThrower()
	for _, angle := range []int{20, 45, 70, 90} {
		row := []string{fmt.Sprintf("%d°", angle)}
		for _, d := range differentials {
			s := firstShot(t, "ball.grip=undrilled", fmt.Sprintf("ball.layout.drilling_angle=%d deg", angle), fmt.Sprintf("ball.intermediate_differential=%g in", d))
			w := s.Bowlers[0]
			b, _, err := s.Balls[0].Drill(w.PAP, w.Release.Hand, s.Grips[0])
			if err != nil {
				t.Fatal(err)
			}
			flare := 0.0
			for phase := range compare.Phases {
				r := w.Release
				r.Angle, r.Phase = 2.7*units.Degree, 2*math.Pi*float64(phase)/compare.Phases
				shot, err := thrower.Throw(s.Lanes[0], b, r, studies.ForManyShots(s.Settings))
				if err != nil {
					t.Fatal(err)
				}
				flare += shot.Summary.Flare / compare.Phases
			}
			row = append(row, fmt.Sprintf("%.1f", flare/units.Inch))
		}
		rows = append(rows, row)
	}
	section(t, theory, "intermediate", table(rows))
}

// signed prints a difference and its spread to a tenth; one that is nothing has no sign.
func signed(v, spread float64) string {
	return strings.NewReplacer("+0.0 ±", "0.0 ±", "-0.0 ±", "0.0 ±", "-", "−").Replace(fmt.Sprintf("%+.1f ± %.1f", v, spread))
}

// Where a low-flare layout reads the friction is what the page says.
func TestTheoryTellsOfLowFlare(t *testing.T) {
	rows := [][]string{{"oil", "release", "friction read, ft", "at the pins, boards"}}
	for _, oil := range []string{"house", "flat"} {
		for _, release := range [][3]int{{19, 220, 22}, {18, 325, 28}, {18, 420, 32}, {18, 500, 35}} {
			s := firstShot(t, "lane.oil="+oil, "ball.intermediate_differential=0 in", fmt.Sprintf("bowler.speed=%d mph", release[0]), fmt.Sprintf("bowler.rev_rate=%d rpm", release[1]), fmt.Sprintf("bowler.laydown=%d", release[2]))
			var deliveries []studies.Undrilled
			for _, pin := range []float64{3.375, 6.25} {
				d := studies.Undrilled{Setup: studies.Setup{Lane: s.Lanes[0], Release: s.Bowlers[0].Release}, Specification: s.Balls[0], Grip: s.Grips[0], PAP: s.Bowlers[0].PAP}
				layout := *d.Specification.Layout
				layout.PinToPAP = pin * units.Inch
				d.Specification.Layout = &layout
				deliveries = append(deliveries, d)
			}
			settings := s.Settings
			settings.PathSpacing = -1
			c, err := compare.Study{Deliveries: deliveries, Lines: []int{0, 0}, Pairs: [][2]int{{0, 1}}, Visible: s.Visible, Sets: -1, Settings: settings}.Run(context.Background())
			if err != nil {
				t.Fatal(oil, release, err)
			}
			p := c.Pairs[0]
			rows = append(rows, []string{oil, fmt.Sprintf("%d mph, %d rpm, from board %d", release[0], release[1], release[2]),
				signed(p.Difference.FrictionRead/units.Foot, p.Spread.FrictionRead/units.Foot), signed(p.Difference.AtPins, p.Spread.AtPins)})
		}
	}
	section(t, theory, "low flare", table(rows))
}

// The measured precision stands in the page as it stands beside its figure.
func TestTheoryTellsThePrecision(t *testing.T) {
	type point struct{ shot, tolerance string }
	cells := map[point]string{}
	for _, file := range []string{"lanesim.csv", "scipy.csv"} {
		name := filepath.Join("..", "validation", "precision", file)
		rows, err := csv.NewReader(strings.NewReader(read(t, name))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range rows[1:] {
			tolerance, err := strconv.ParseFloat(r[1], 64)
			if err != nil {
				t.Fatal(err)
			}
			microseconds, err := strconv.ParseFloat(r[3], 64)
			if err != nil {
				t.Fatal(err)
			}
			cells[point{r[0], short(tolerance)}] = fmt.Sprintf("%s board, %.3g ms", r[2], microseconds/1000)
		}
	}
	rows := [][]string{{"tolerance", "without film on the ball", "with film", "SciPy, called from Python, without film"}}
	for _, tolerance := range []string{"0.0001", "1e-06", "1e-09"} {
		row := []string{tolerance}
		for _, shot := range []string{"benchmark", "benchmark layout, oil on the ball", "scipy"} {
			cell, ok := cells[point{shot, tolerance}]
			if !ok {
				t.Errorf("%s at %s was not measured", shot, tolerance)
			}
			row = append(row, cell)
		}
		rows = append(rows, row)
	}
	section(t, theory, "precision", table(rows))
}

// The page lists the sources of all cases.
func TestTheoryListsTheCases(t *testing.T) {
	type source struct {
		text string
		mark validation.Mark
	}
	var order []source
	names, count := map[source][]string{}, map[source]int{}
	for _, c := range validation.Cases() {
		s := source{c.Source, c.Mark}
		if count[s]++; count[s] == 1 {
			order = append(order, s)
		}
		if n := names[s]; len(n) == 0 || n[len(n)-1] != c.Name {
			names[s] = append(n, c.Name)
		}
	}
	rows := [][]string{{"set-up", "quantities", "source", "mark"}}
	for _, s := range order {
		first := names[s][0]
		if n := len(names[s]); n > 1 {
			first += fmt.Sprintf(", and %d more", n-1)
		}
		rows = append(rows, []string{first, strconv.Itoa(count[s]), strings.ReplaceAll(s.text, "|", "\\|"), string(s.mark)})
	}
	section(t, theory, "cases", table(rows))
}
