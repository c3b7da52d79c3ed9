package plots

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/internal/theme"
	"lanesim/physics"
	"lanesim/report/layouts"
	"lanesim/units"
)

// inventedBall is a drilled ball with a layout and an invented track: its axis turns around
// the low axis by one step each turn, and the film fades.
type inventedBall struct {
	pinToPAP, drilling, val float64 // in, deg, deg
	over, up                float64 // in
	hand                    ball.Hand
	grip                    ball.GripKind
	equal                   bool // equal moments of inertia and no layout
	tilt, step              float64
	turns                   float64
}

func usualBall() inventedBall {
	return inventedBall{pinToPAP: 4.5, drilling: 60, val: 40, over: 5, up: 0.5, grip: ball.Fingertip, tilt: 13, step: 5, turns: 12.3}
}

func (in inventedBall) figure() BallFigure {
	s := ball.Default()
	s.Differential, s.IntermediateDifferential = 0.05*units.Inch, 0.015*units.Inch
	s.Layout = &ball.Layout{DrillingAngle: in.drilling * units.Degree, PinToPAP: in.pinToPAP * units.Inch, VALAngle: in.val * units.Degree}
	if in.equal {
		s.Layout, s.Differential, s.IntermediateDifferential = nil, 0, 0
	}
	grip, err := ball.NewGrip(in.grip)
	if err != nil {
		panic(err)
	}
	b, d, err := s.Drill(ball.PAP{Over: in.over * units.Inch, Up: in.up * units.Inch}, in.hand, grip)
	if err != nil {
		panic(err)
	}
	l := layouts.Layout{Ball: "A ball with a name that is rather long", Bowler: "a bowler with a long one, too", Specification: s, Drilling: d}
	return BallFigure{Title: "An invented ball", Layout: l, Flare: layouts.ReadFlare(&physics.Shot{Track: in.track(b)}, d), Numbers: true}
}

func (in inventedBall) track(b ball.Ball) []physics.TrackPoint {
	side := 1.0
	if in.hand == ball.Left {
		side = -1
	}
	var list []physics.TrackPoint
	for i := 0; ; i++ {
		turned := float64(i) * layouts.TrackSpacing
		if turned > in.turns*2*math.Pi {
			return list
		}
		sin, cos := math.Sincos(-side * in.step * units.Degree * turned / (2 * math.Pi))
		a := r3.Vec{X: b.PAP[0], Y: cos*b.PAP[1] - sin*b.PAP[2], Z: sin*b.PAP[1] + cos*b.PAP[2]}
		e1 := r3.Unit(r3.Cross(r3.Vec{X: 0.36, Y: -0.48 * side, Z: 0.8}, a))
		e2 := r3.Cross(e1, a)
		if in.hand == ball.Left { // the mirror image of the other's vectors
			e1 = r3.Scale(-1, e1)
		}
		sinT, cosT := math.Sincos(in.tilt * units.Degree)
		sinP, cosP := math.Sincos(turned)
		p := r3.Add(r3.Scale(-sinT, a), r3.Scale(cosT, r3.Add(r3.Scale(cosP, e1), r3.Scale(sinP, e2))))
		list = append(list, physics.TrackPoint{Turned: turned, Point: [3]float64{p.X, p.Y, p.Z}, Left: 1e-6 * math.Exp(-turned/20), Spacing: math.NaN()})
	}
}

// inventedBalls are layouts that leave little room for labels.
func inventedBalls() map[string]inventedBall {
	all := map[string]inventedBall{}
	for name, change := range map[string]func(*inventedBall){
		"usual":               func(*inventedBall) {},
		"pin on the PAP":      func(b *inventedBall) { b.pinToPAP = 0 },
		"pin a quarter away":  func(b *inventedBall) { b.pinToPAP = 6.75 },
		"pin below":           func(b *inventedBall) { b.val = 120 },
		"pin far below":       func(b *inventedBall) { b.val, b.pinToPAP = 170, 5 },
		"pin on the VAL":      func(b *inventedBall) { b.val = 0 },
		"pin behind":          func(b *inventedBall) { b.val, b.pinToPAP = -60, 5 },
		"PSA on the PAP":      func(b *inventedBall) { b.drilling, b.pinToPAP = 0, 6.7387 },
		"pin in the grip":     func(b *inventedBall) { b.val, b.pinToPAP = 90, 5 },
		"left":                func(b *inventedBall) { b.hand = ball.Left },
		"left, pin below":     func(b *inventedBall) { b.hand, b.val = ball.Left, 110 },
		"undrilled":           func(b *inventedBall) { b.grip = ball.Undrilled },
		"thumbless":           func(b *inventedBall) { b.grip = ball.Thumbless },
		"conventional":        func(b *inventedBall) { b.grip = ball.Conventional },
		"equal moments":       func(b *inventedBall) { b.equal = true },
		"equal and undrilled": func(b *inventedBall) { b.equal, b.grip = true, ball.Undrilled },
		"no turn":             func(b *inventedBall) { b.turns = -1 },
		"part of a turn":      func(b *inventedBall) { b.turns = 0.4 },
		"PAP high up":         func(b *inventedBall) { b.over, b.up = 3, 3 },
		"no flare":            func(b *inventedBall) { b.step = 0 },
		"much flare":          func(b *inventedBall) { b.step, b.turns = 17, 21 },
		"tilt the other way":  func(b *inventedBall) { b.tilt = -20 },
	} {
		b := usualBall()
		change(&b)
		all[name] = b
	}
	return all
}

// checkBall checks that a ball's drawing has its names and that no texts overlap.
func checkBall(t reporter, f BallFigure) {
	d := drawn(t)(Ball(f))
	texts := checkTexts(t, d)
	wanted := []string{"PAP"}
	if laidOut(f.Layout) {
		wanted = append(wanted, "pin", "PSA")
	}
	for _, h := range f.Drilling.Holes {
		wanted = append(wanted, h.Name)
	}
	for _, w := range wanted {
		if !slices.ContainsFunc(texts, func(s string) bool { return s == w || s == w+", far side" }) {
			t.Fatalf("%q is not named: %q", w, texts)
		}
	}
}

func TestNoLabelsOfABallOverlap(t *testing.T) {
	for name, in := range inventedBalls() {
		for _, size := range []Size{Sheet, Phone} {
			t.Run(fmt.Sprintf("%s/%d", name, size), func(t *testing.T) {
				f := in.figure()
				f.Size = size
				checkBall(t, f)
			})
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		number := func(name string, from, to float64) float64 { return rapid.Float64Range(from, to).Draw(t, name) }
		f := inventedBall{
			pinToPAP: number("pin to PAP", 0, 13.4), drilling: number("drilling", -180, 180), val: number("VAL", -180, 180),
			over: number("over", -6, 6), up: number("up", -4, 4),
			hand: ball.Hand(rapid.IntRange(0, 1).Draw(t, "hand")), grip: rapid.SampledFrom(ball.GripKinds()).Draw(t, "grip"),
			equal: rapid.IntRange(0, 9).Draw(t, "equal") == 0,
			tilt:  number("tilt", -60, 60), step: number("step", 0, 20), turns: number("turns", 0, 20),
		}.figure()
		f.Size = Size(rapid.IntRange(0, 1).Draw(t, "size"))
		checkBall(t, f)
	})
}

// A left-hander's drawing is the mirror image of a right-hander's, except for the words and
// the places of their labels.
func TestLeftHandersBallMirrorsTheRightHanders(t *testing.T) {
	for name, in := range inventedBalls() {
		views := func(hand ball.Hand) (*Drawing, error) {
			in.hand = hand
			f := in.figure()
			f.Numbers = false // their words differ in length
			return Ball(f)
		}
		right, err := views(ball.Right)
		if err != nil {
			t.Fatal(err)
		}
		left, err := views(ball.Left)
		if err != nil {
			t.Fatal(err)
		}
		a, b := outlines(right, false), outlines(left, true)
		if len(a) != len(b) || len(a) < 10 {
			t.Fatalf("%s: %d and %d lines", name, len(a), len(b))
		}
		// Coordinates below 1000 points have rounding errors of 1e-13 each; the principal
		// axes of the drilled ball, computed from rounded tensors, have about 1e-9.
		const rounding = 1e-6
		slices.SortFunc(a, byPlace)
		slices.SortFunc(b, byPlace)
		for i := range a {
			for k := range a[i] {
				if math.Abs(a[i][k]-b[i][k]) > rounding {
					t.Errorf("%s: line %d at %v, mirrored at %v", name, i, a[i], b[i])
					break
				}
			}
		}
	}
}

// byPlace orders outlines by place. Those that differ only by rounding are equal.
func byPlace(a, b [4]float64) int {
	for k := range a {
		if x, y := math.Round(a[k]*100), math.Round(b[k]*100); x != y {
			return int(x - y)
		}
	}
	return 0
}

// outlines returns the bounds of the lines and areas of the views, without labels' leaders
// and backgrounds.
func outlines(d *Drawing, mirrored bool) [][4]float64 {
	var all [][4]float64
	leader := stroke{color: softInk, width: Sheet.measures().hairline}
	for _, e := range d.elements {
		var points []point
		switch e := e.(type) {
		case lineElement:
			if e.stroke.color == leader.color && e.stroke.width == leader.width && e.stroke.dash == nil {
				continue
			}
			points = e.points
		case areaElement:
			if e.fill == theme.BallPlate {
				continue
			}
			points = e.points
		default:
			continue
		}
		b := bounds(points)
		if mirrored {
			b.left, b.right = d.Width-b.right, d.Width-b.left
		}
		all = append(all, [4]float64{b.left, b.top, b.right, b.bottom})
	}
	return all
}

func TestBallIsWrittenInEveryFormat(t *testing.T) {
	checkRepeatable(t, func() (*Drawing, error) { return Ball(usualBall().figure()) })
	if _, err := Ball(BallFigure{}); err == nil {
		t.Error("a ball of no size gives no error")
	}
}

func TestViewOfTheOtherEndIsDrawnIfSomethingLiesThere(t *testing.T) {
	const other = "Looking at the other end of the axis, fingers up"
	for name, want := range map[string]bool{"usual": true, "no turn": false} {
		d := drawn(t)(Ball(inventedBalls()[name].figure()))
		if got := strings.Contains(strings.Join(d.Texts(), "\n"), other); got != want {
			t.Errorf("%s: view of the other end: %v", name, got)
		}
	}
	behind := inventedBalls()["pin behind"]
	behind.turns, behind.val, behind.pinToPAP = -1, -90, 9
	d := drawn(t)(Ball(behind.figure()))
	if !strings.Contains(strings.Join(d.Texts(), "\n"), other) {
		t.Error("the pin lies behind and is not shown")
	}
}
