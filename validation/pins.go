package validation

import (
	"context"
	"math"

	"lanesim/internal/portable"
	"lanesim/lane"
	"lanesim/pins"
	"lanesim/units"
)

// racks returns a function that rolls racks at 17 mph, without a bowler's scatter.
func racks(board, degrees, pounds float64) func() (pins.Tally, error) {
	return func() (pins.Tally, error) {
		d := pins.Rolling(board, degrees*units.Degree, 17*units.MPH, pounds*units.Pound)
		return pins.Rolls{Delivery: func(int) pins.Delivery { return d }, Seed: 1, Racks: 60, Workers: 1}.Run(context.Background())
	}
}

// smoothBlow rolls a smooth ball at a single pin, 3 in to the right and to the left of its
// axis, and returns the deflections to the off side, in rad.
func smoothBlow() (turned [2]float64, err error) {
	const none = -1
	d, err := pins.NewDeck(pins.Settings{
		BallPinFriction: none, PinDeckFriction: none, BallDeckFriction: none,
		SpotScatter: none, MassScatter: none, MassCentreScatter: none, RestitutionScatter: none, FrictionScatter: none,
	})
	if err != nil {
		return turned, err
	}
	alone := pins.Leave(1)
	for i, side := range []float64{1, -1} {
		ball := pins.Rolling((lane.Boards+1)/2.0, 0, 17*units.MPH, 15*units.Pound)
		ball.Position[1] = side * 3 * units.Inch
		turned[i] = d.Roll(ball, alone, 1, 0).ExitHeading
	}
	return turned, nil
}

// blurred is the share of strikes of a bowler's scatter of 1 board and ½° about a line,
// by the stored table, at 15 lb and 17 mph. Its deliveries are those of the R2 sequence
// (Roberts, 2018) by Box and Muller's transformation.
func blurred(t *pins.Table, board, degrees float64) float64 {
	const deliveries = 500
	sum := 0.0
	for k := range deliveries {
		_, u := math.Modf(0.5 + float64(k)*0.7548776662466927)
		_, v := math.Modf(0.5 + float64(k)*0.5698402909980532)
		r := math.Sqrt(-2 * portable.Log(1-u))
		sin, cos := math.Sincos(2 * math.Pi * v)
		sum += t.Strikes(pins.Entry{Board: board + r*cos, Angle: (degrees + 0.5*r*sin) * units.Degree, Mass: 15 * units.Pound, Speed: 17 * units.MPH})
	}
	return sum / deliveries
}

// bestBoard returns the board with the most strikes at an angle.
func bestBoard(t *pins.Table, degrees float64) float64 {
	best, most := 0.0, -1.0
	for board := 13.0; board <= 22; board += 0.125 {
		if s := blurred(t, board, degrees); s > most {
			best, most = board, s
		}
	}
	return best
}

// pinCases are the order of contacts and what depends on the place of the hit. They rest on
// assumed constants, but order and place hardly depend on these.
func pinCases() []Case {
	const study = "governing body's pin study, secondary page"
	type answerOf = answer[pins.Tally]
	first := func(pin, by int) func(pins.Tally) (float64, error) {
		return func(t pins.Tally) (float64, error) { return t.ShareOf(t.First[pin-1][by]).Share, nil }
	}
	strikes := func(t pins.Tally) (float64, error) { return t.Strikes().Share, nil }
	var all []Case
	// Over 80 % of racks: between 0.8 and 1.
	all = append(all, within(0.1, setUp[pins.Tally]{"ball of 15 lb on board 17.5 at 6°", study, Published, racks(17.5, 6, 15)}.cases(
		answerOf{"share in which the 6 is first to touch the 10", "", "0.9", first(10, 6)},
		answerOf{"share in which the 5 is first to touch the 8", "", "0.9", first(8, 5)},
	))...)
	all = append(all, within(0.1, setUp[pins.Tally]{"ball of 15 lb on board 18.5 at 6°", study, Published, racks(18.5, 6, 15)}.cases(
		answerOf{"share in which the head pin is first to touch the 5", "", "0.9", first(5, 1)},
	))...)
	all = append(all, within(0.1, setUp[pins.Tally]{"ball of 15 lb on board 16 at 5°", study, Published, racks(16, 5, 15)}.cases(
		answerOf{"share in which the 3 is first to touch the 10", "", "0.9", first(10, 3)},
	))...)
	// A straight ball strikes often within half a board of the middle, hardly ever far from it.
	for _, c := range []struct {
		name    string
		board   float64
		printed string
	}{{"straight ball of 15 lb on board 17.5", 17.5, "0.9"}, {"straight ball of 15 lb on board 16", 16, "0.1"}, {"straight ball of 15 lb on board 19", 19, "0.1"}} {
		all = append(all, within(0.1, setUp[pins.Tally]{c.name, study, Published, racks(c.board, 0, 15)}.cases(
			answerOf{"strikes", "", c.printed, strikes},
		))...)
	}
	// J = (1+e) uₙ/(1/M + 1/m + |r×n|²/I) on the outline of a pin.
	all = append(all, within(0.05, setUp[[2]float64]{"smooth ball of 15 lb at 17 mph, 3 in beside a pin's axis", "impulse of a smooth blow on a free pin", Derived, smoothBlow}.cases(
		answer[[2]float64]{"ball turns by", "°", "8.73", func(turned [2]float64) (float64, error) { return turned[0], nil }},
	))...)
	all = append(all, within(0, setUp[[2]float64]{"the same on the other side", "mirror image", Derived, smoothBlow}.cases(
		answer[[2]float64]{"sum of both turns", "°", "0", func(turned [2]float64) (float64, error) { return turned[0] + turned[1], nil }},
	))...)
	scattered := setUp[*pins.Table]{"deliveries that scatter by 1 board and ½°", study, Published, func() (*pins.Table, error) { return pins.Stored(), nil }}
	all = append(all, within(0.5, scattered.cases(
		answer[*pins.Table]{"board with the most strikes at 6°, 17 to 18", "", "17.5", func(t *pins.Table) (float64, error) { return bestBoard(t, 6), nil }},
	))...)
	// More than ten percentage points: between 0.1 and 0.5.
	all = append(all, within(0.2, scattered.cases(
		answer[*pins.Table]{"strikes at 5° over those at 2°", "", "0.3", func(t *pins.Table) (float64, error) { return blurred(t, 17.5, 5) - blurred(t, 17.5, 2), nil }},
		answer[*pins.Table]{"strikes at 8° over those at 2°", "", "0.3", func(t *pins.Table) (float64, error) { return blurred(t, 17.5, 8) - blurred(t, 17.5, 2), nil }},
	))...)
	// 14 lb against 16 lb: between one and three boards.
	weights := func() ([2]pins.Tally, error) {
		var both [2]pins.Tally
		for i, pounds := range []float64{14, 16} {
			t, err := racks(17.5, 6, pounds)()
			if err != nil {
				return both, err
			}
			both[i] = t
		}
		return both, nil
	}
	return append(all, within(1, setUp[[2]pins.Tally]{"balls of 14 and 16 lb on board 17.5 at 6°", "the lighter ball is deflected by over a board more", CommonPractice, weights}.cases(
		answer[[2]pins.Tally]{"boards between where they leave the deck", "", "2", func(t [2]pins.Tally) (float64, error) { return t[1].Exit() - t[0].Exit(), nil }},
	))...)
}
