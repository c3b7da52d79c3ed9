package validation

import (
	"context"

	"lanesim/pins"
	"lanesim/units"
)

// racks rolls racks at 17 mph, without a bowler's scatter.
func racks(board, degrees, pounds float64) func() (pins.Tally, error) {
	return func() (pins.Tally, error) {
		d := pins.Rolling(board, degrees*units.Degree, 17*units.MPH, pounds*units.Pound)
		return pins.Rolls{Delivery: func(int) pins.Delivery { return d }, Seed: 1, Racks: 60, Workers: 1}.Run(context.Background())
	}
}

// pinCases: the order of contacts and what follows from the place of the hit. They rest
// on constants that are assumed; the order and the place are robust against these.
func pinCases() []Case {
	const study = "governing body's pin study, secondary page"
	type answerOf = answer[pins.Tally]
	first := func(pin, by int) func(pins.Tally) (float64, error) {
		return func(t pins.Tally) (float64, error) { return t.ShareOf(t.First[pin-1][by]).Share, nil }
	}
	strikes := func(t pins.Tally) (float64, error) { return t.Strikes().Share, nil }
	var all []Case
	// In over 80 % of racks: between 0.8 and 1.
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
