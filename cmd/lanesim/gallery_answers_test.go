package main

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

const galleryHead = `# Gallery

Every example with its question, the command that answers it, and the answer. Answers are written by the test that
checks them (` + "`go test ./cmd/lanesim -run Gallery -update`" + `, which redraws the pictures of changed answers). Balls, bowlers, patterns and
readings are invented unless a source is named. Words are explained by ` + "`lanesim explain WORD`" + `.
`

const galleryTail = `
## And the other commands?

| to | run |
| --- | --- |
| measure a built-in pattern, list all of them | ` + "`lanesim pattern house`, `lanesim pattern`" + ` |
| find the line that converts each of some leaves | ` + "`lanesim spares examples/spare-ten-pin.yaml --leaves 10,3-6-10 --laydown 20:35`" + ` |
| build a pattern file from a few numbers | ` + "`lanesim pattern build --length 42ft --volume 27mL --ratio 3 -o own.yaml`" + ` |
| turn tape readings into a grid | ` + "`lanesim pattern convert examples/tape-readings.csv -o grid.yaml`" + ` |
| lay measured tracks over the shots of a scenario, without fitting | ` + "`lanesim throw examples/fit-friction.yaml --track examples/friction-tracks.csv -o tracks.png`" + ` |
| hand an answer to somebody without the program, as one web page | ` + "`lanesim throw examples/low-flare.yaml -o flare.html`" + ` |
| move one thing at a time and look, in a browser without a network: one page with the engine in it | ` + "`lanesim page examples/compare-flare.yaml -o flare.html`" + ` |
| start a file of your own from an example | ` + "`lanesim new`, `lanesim new first-shot`" + ` |
| split a sweep into parts and join them ([jobs](../examples/jobs/README.md)) | ` + "`lanesim sweep examples/sweep-layout.yaml --shard 0/2 -o parts`, `lanesim merge parts -o rows.csv`" + ` |
| list the built-in bowlers | ` + "`lanesim bowler`" + ` |
| look up a word | ` + "`lanesim explain friction read`" + ` |
| look up a field; give an editor the schema | ` + "`lanesim reference`, `lanesim schema`" + ` |
| check the physics against cases with known answers | ` + "`lanesim validate`" + ` |
| see how a command is used; complete it in a shell; print the version | ` + "`lanesim help throw`, `lanesim completion bash`, `lanesim version`" + ` |
`

// event prints the distance of an event of a shot.
func event(shot found, name string) string {
	return fmt.Sprintf("%.1f ft", shot.number("events."+name+".distance_ft"))
}

func yes(f found, path string) bool { return f.at(path).v == true }

// journey describes a shot in a sentence.
func journey(shot found) string {
	return fmt.Sprintf("The ball reads the friction at %s, begins to hook at %s, turns back at %s on board %.1f, rolls from %s on, and enters on board %.1f at %.1f°.",
		event(shot, "friction_read"), event(shot, "hook_start"), event(shot, "breakpoint"), shot.number("events.breakpoint.board"),
		event(shot, "roll_start"), shot.number("summary.entry_board"), shot.number("summary.entry_angle_deg"))
}

// launch returns the launch angle in degrees that was found for a shot.
func launch(shot found) float64 {
	return shot.number(fmt.Sprintf("aimed.angles_deg.%.0f", shot.number("aimed.used")))
}

// apart returns the difference between the largest and the smallest number at a path of
// some parts.
func apart(parts []found, path string) float64 {
	var list []float64
	for _, p := range parts {
		list = append(list, p.number(path))
	}
	return slices.Max(list) - slices.Min(list)
}

// largest returns the part with the largest number at a path.
func largest(parts []found, path string) found {
	return slices.MaxFunc(parts, func(a, b found) int {
		if a.number(path) < b.number(path) {
			return -1
		}
		return 1
	})
}

// compareAnswer returns the first sentences of a comparison of several pairs.
func compareAnswer(f found) string { return f.text("answer") }

var gallery = []shown{
	{file: "first-shot.yaml", command: "throw first-shot.yaml", picture: "first-shot.png", answer: func(f found) string {
		shot := f.at("shots.0")
		verdict := "a good angle"
		if !yes(shot, "summary.good_angle") {
			verdict = "no good angle"
		}
		return fmt.Sprintf("It does, at a launch angle of %.1f°. %s That is %s.", launch(shot), journey(shot), verdict)
	}},
	{file: "compare-flat.yaml", command: "compare compare-flat.yaml", picture: "compare-flat.png"},
	{file: "compare-flare.yaml", command: "compare compare-flare.yaml"},
	{file: "compare-one-number.yaml", command: "compare compare-one-number.yaml"},
	{file: "compare-forty-games.yaml", command: "compare compare-forty-games.yaml"},
	{file: "low-flare.yaml", command: "throw low-flare.yaml", answer: func(f found) string {
		const at = "events.friction_read.distance_ft"
		later := f.number("shots.1."+at) - f.number("shots.0."+at)
		return fmt.Sprintf("By %.1f ft on this line, at this phase of the release; its flare is %.1f in, not %.1f. `lanesim compare` shows why and how certain that is.",
			later, f.number("shots.1.summary.flare_in"), f.number("shots.0.summary.flare_in"))
	}},
	{file: "house-and-flat.yaml", command: "throw house-and-flat.yaml", picture: "house-and-flat.svg", others: " --view lane", answer: func(f found) string {
		shots := f.list("shots")
		const board = "summary.entry_board"
		return fmt.Sprintf("On the house pattern the three balls end within %.1f boards, on the flat one within %.1f.", apart(shots[:3], board), apart(shots[3:], board))
	}},
	{file: "published-averages.yaml", command: "throw published-averages.yaml", picture: "published-averages.svg", others: " --view lane", answer: func(f found) string {
		var said []string
		for _, shot := range f.list("shots") {
			said = append(said, fmt.Sprintf("%s launch at %.1f° from board %s, turn back on board %.0f and enter at %.1f°",
				shot.text("bowler"), launch(shot), shot.text("inputs.bowler.laydown"), shot.number("events.breakpoint.board"), shot.number("summary.entry_angle_deg")))
		}
		return strings.ToUpper(said[0][:1]) + strings.Join(said, "; ")[1:] + "."
	}},
	{file: "left-hander.yaml", command: "throw left-hander.yaml", answer: func(f found) string {
		shot := f.at("shots.0")
		return fmt.Sprintf("At %.1f° from board %s, counted from the left. %s", launch(shot), shot.text("inputs.bowler.laydown"), journey(shot))
	}},
	{file: "layouts-sport-and-house.yaml", command: "compare layouts-sport-and-house.yaml", picture: "layouts-sport-and-house.svg", others: " --assumed 0", long: true, answer: compareAnswer},
	{file: "lines-missed.yaml", command: "compare lines-missed.yaml", answer: compareAnswer},
	{file: "line-three-and-two.yaml", command: "compare line-three-and-two.yaml", picture: "line-three-and-two.svg", answer: compareAnswer},
	{file: "backup-pocket.yaml", command: "throw backup-pocket.yaml", answer: func(f found) string {
		shot := f.at("shots.0")
		return fmt.Sprintf("The pocket on the other side: from board %s at %.1f° it enters on board %.1f at %.1f°, which is the %s.", shot.text("inputs.bowler.laydown"), launch(shot),
			shot.number("summary.entry_board"), shot.number("summary.entry_angle_deg"), shot.text("summary.hit"))
	}},
	{file: "line-breakpoint.yaml", command: "throw line-breakpoint.yaml", answer: func(f found) string {
		shot := f.at("shots.0")
		return fmt.Sprintf("With the sliding foot on board %.1f and the laydown on board %.1f; the ball enters on board %.1f.",
			shot.number("summary.feet_board"), shot.number("summary.laydown_board"), shot.number("summary.entry_board"))
	}},
	{file: "two-handed.yaml", command: "throw two-handed.yaml", answer: func(f found) string {
		shot := f.at("shots.0")
		return fmt.Sprintf("At %.1f° from board %s, out to board %.1f at %s. It turns %.1f times and enters at %.1f°.", launch(shot), shot.text("inputs.bowler.laydown"),
			shot.number("events.breakpoint.board"), event(shot, "breakpoint"), shot.number("summary.revolutions"), shot.number("summary.entry_angle_deg"))
	}},
	{file: "straight-spare.yaml", command: "throw straight-spare.yaml", answer: func(f found) string {
		shot := f.at("shots.0")
		return fmt.Sprintf("It does: it is on board %.2f at 60 ft, on the line to the pin. It still slips there, at %.1f m/s.", shot.number("summary.entry_board"), shot.number("events.pins.slip_mps"))
	}},
	{file: "two-zone-lane.yaml", command: "throw two-zone-lane.yaml", picture: "two-zone-lane.svg", others: " --view lane", answer: func(f found) string {
		entry := func(i string) string {
			shot := f.at("shots." + i)
			return fmt.Sprintf("on board %.1f at %.1f° and %.1f mph", shot.number("summary.entry_board"), shot.number("summary.entry_angle_deg"), shot.number("events.pins.speed_mph"))
		}
		return "On two zones it enters " + entry("0") + ", on a single friction " + entry("1") + "."
	}},
	{file: "aim-house.yaml", command: "aim aim-house.yaml --laydown 24:28 --shots 200", picture: "aim-house.svg", long: true, answer: func(f found) string {
		best, room := f.at("aims.0.best"), f.at("aims.0.room")
		return fmt.Sprintf("Between boards 24 and 28: from board %.1f over board %.1f at the arrows. %s of the deliveries enter in the pocket at a good angle. It may miss by %.1f board to the left and %.1f to the right.",
			best.number("laydown"), best.number("arrows_board"), best.percent("good_share", "good_interval"), room.number("left_boards"), room.number("right_boards"))
	}},
	{file: "aim-two-balls.yaml", command: "aim aim-two-balls.yaml --laydown 24:28 --shots 200", long: true, answer: func(f found) string {
		first, second := f.at("ranking.0.balls.0"), f.at("ranking.0.balls.1")
		sure := "more than chance"
		if !yes(second, "significant") {
			sure = "which may be chance"
		}
		return fmt.Sprintf("%s: %s against %s for %s, %s.", first.text("ball"), first.percent("share", "interval"), second.percent("share", "interval"), second.text("ball"), sure)
	}},
	{file: "spread-which-miss.yaml", command: "spread spread-which-miss.yaml --shots 400", long: true, answer: func(f found) string {
		d := f.at("deliveries.0")
		misses, _ := d.at("sensitivity").v.(map[string]any)
		worst, most := "", math.Inf(-1)
		for name := range misses {
			if gain := d.number("sensitivity." + name + ".pocket_share_without.gain"); gain > most {
				worst, most = name, gain
			}
		}
		return fmt.Sprintf("%s of the deliveries hit the pocket. Without misses in %s it would be %.0f points more, the largest gain.",
			d.percent("pocket_share", "pocket_interval"), strings.Replace(strings.ReplaceAll(worst, "_", " "), "angle", "launch angle", 1), 100*most)
	}},
	{file: "spread-house-and-flat.yaml", command: "spread spread-house-and-flat.yaml --shots 400", long: true, answer: func(f found) string {
		house, flat := f.at("deliveries.0"), f.at("deliveries.1")
		return fmt.Sprintf("Of 400 deliveries %s hit the pocket on the crowned pattern and %s on the flat one; their boards scatter by %.1f and %.1f (standard deviation).",
			house.percent("pocket_share", "pocket_interval"), flat.percent("pocket_share", "pocket_interval"), house.number("entry_board.sd"), flat.number("entry_board.sd"))
	}},
	{file: "spread-two-balls.yaml", command: "spread spread-two-balls.yaml --shots 400", long: true, answer: func(f found) string {
		d := f.at("differences.0")
		says := "these deliveries show a difference between the layouts"
		if !yes(d, "significant") {
			says = "these deliveries show no difference between the layouts"
		}
		return fmt.Sprintf("The second layout's share minus the first's is %+.0f points, with an interval from %+.0f to %+.0f: %s.",
			100*d.number("pocket_share_difference"), 100*d.number("difference_interval.0"), 100*d.number("difference_interval.1"), says)
	}},
	{file: "spread-own-misses.yaml", command: "spread spread-own-misses.yaml --shots 400", long: true, answer: func(f found) string {
		alone, together := f.at("deliveries.0"), f.at("deliveries.1")
		says := "They do"
		if together.number("pocket_share") > alone.number("pocket_share") {
			says = "They do not"
		}
		return fmt.Sprintf("%s: %s hit the pocket with independent deviations, %s if a slow ball also has few revs and goes out.",
			says, alone.percent("pocket_share", "pocket_interval"), together.percent("pocket_share", "pocket_interval"))
	}},
	{file: "carry-light-and-flush.yaml", command: "carry carry-light-and-flush.yaml --racks 100", picture: "carry-light-and-flush.svg", answer: func(f found) string {
		return racked(f.at("deliveries.0"), "The flush ball") + " " + racked(f.at("deliveries.1"), "The light one") + " Which pins stand is robust; the shares depend on assumed values."
	}},
	{file: "carry-lively-pins.yaml", command: "carry carry-lively-pins.yaml --racks 100", answer: func(f found) string {
		return racked(f.at("deliveries.0"), "The ball") + " Without `rack` the same command shows the defaults."
	}},
	{file: "spare-ten-pin.yaml", command: "carry spare-ten-pin.yaml --racks 200 --scatter", long: true, answer: func(f found) string {
		plastic, other := f.at("deliveries.0"), f.at("deliveries.1")
		return fmt.Sprintf("The %s converts it in %s of the racks, the %s in %s.", strings.ToLower(plastic.text("ball")), plastic.percent("strike_share", "strike_interval"),
			strings.ToLower(other.text("ball")), other.percent("strike_share", "strike_interval"))
	}},
	{file: "wear-two-layouts.yaml", command: "wear wear-two-layouts.yaml --plan alone", picture: "wear-two-layouts.svg", long: true, answer: func(f found) string {
		said := []string{f.text("plan.answer")}
		for _, s := range f.list("plan.bowlers") {
			said = append(said, s.text("explanation"))
		}
		return strings.Join(said, " ")
	}},
	{file: "wear-league-night.yaml", command: "wear wear-league-night.yaml", answer: func(f found) string {
		deliveries := 0.0
		for _, b := range f.list("blocks") {
			deliveries += b.number("deliveries")
		}
		return fmt.Sprintf("Of %.1f mL %.2f mL are left on the lane after %.0f deliveries; %.2f mL were wiped off the balls and %.2f mL soaked in.",
			f.number("oil_mL.start"), f.number("oil_mL.lane"), deliveries, f.number("oil_mL.balls"), f.number("oil_mL.soaked"))
	}},
	{file: "bag-three-of-five.yaml", command: "bag bag-three-of-five.yaml --shots 100 --farthest 2", long: true, answer: func(f found) string {
		var names []string
		for _, b := range f.list("balls") {
			if yes(b, "chosen") {
				names = append(names, b.text("ball"))
			}
		}
		return fmt.Sprintf("%s. The best of them on each lane hits the pocket with %s on average.", strings.Join(names, ", "), f.percent("coverage", "coverage_interval"))
	}},
	{file: "fit-friction.yaml", command: "fit fit-friction.yaml friction-tracks.csv --fit film,dry", long: true, answer: func(f found) string {
		var said []string
		for _, s := range f.list("friction") {
			if e := s.number("standard_error"); !math.IsNaN(e) {
				said = append(said, fmt.Sprintf("%s %.4f ± %.4f", s.text("setting"), s.number("value"), e))
			}
		}
		return "As fitted: " + strings.Join(said, ", ") + ". The tracks were computed with film 0.026 and dry 0.18, and then scattered."
	}},
	{file: "seek-layout.yaml", command: "seek seek-layout.yaml", picture: "seek-layout.svg", answer: compareAnswer},
	{file: "seek-line.yaml", command: "seek seek-line.yaml", answer: compareAnswer},
	{file: "sweep-layout.yaml", command: "sweep sweep-layout.yaml", picture: "sweep-layout.svg", answer: func(f found) string {
		rows := f.rows()
		var said []string
		for i := range 3 {
			n := len(rows) / 3
			best := largest(rows[i*n:(i+1)*n], "flare_in")
			said = append(said, fmt.Sprintf("%s in at %s rpm", best.text("ball.layout.pin_to_pap_in"), best.text("bowler.rev_rate_rpm")))
		}
		return "The flare is greatest with this distance from pin to PAP: " + strings.Join(said, ", ") + "."
	}},
	{file: "sweep-speed-revs.yaml", command: "sweep sweep-speed-revs.yaml", picture: "sweep-speed-revs.svg", answer: func(f found) string {
		pocket, lost := 0, 0
		for _, r := range f.rows() {
			switch board := r.number("entry_board"); {
			case math.IsNaN(board):
				lost++
			case math.Abs(board-17.5) <= 0.75:
				pocket++
			}
		}
		return fmt.Sprintf("Of %d pairs %d reach the pocket, along a line in the map; %d end in the gutter.", len(f.rows()), pocket, lost)
	}},
	{file: "sweep-any-release.yaml", command: "sweep sweep-any-release.yaml", answer: func(f found) string {
		var said []string
		for _, column := range []string{"bowler.speed_mph", "bowler.rev_rate_rpm", "bowler.axis_rotation_deg", "bowler.axis_tilt_deg"} {
			name := strings.ReplaceAll(strings.TrimPrefix(column[:strings.LastIndex(column, "_")], "bowler."), "_", " ")
			said = append(said, fmt.Sprintf("%s %+.2f", name, correlation(f.rows(), column, "breakpoint_distance_ft")))
		}
		return "Correlations with the distance of the breakpoint: " + strings.Join(said, ", ") + "."
	}},
	{file: "layout-strong.yaml", command: "layout layout-strong.yaml", picture: "layout-strong.svg", answer: func(f found) string {
		l := f.at("layouts.0")
		outside := 0
		for _, v := range l.list("verdicts") {
			if word := v.text("verdict"); word == "over" || word == "under" {
				outside++
			}
		}
		return fmt.Sprintf("The pin lies %.1f in from the middle of the grip, the PSA %.1f in. Drilling moves the low axis by %.2f in and the high axis by %.2f in; %d of %d listed limits are exceeded.",
			l.number("layout.pin_to_grip_in"), l.number("layout.psa_to_grip_in"), l.number("change.pin_moved_in"), l.number("change.psa_moved_in"), outside, len(l.list("verdicts")))
	}},
	{file: "layout-two-forms.yaml", command: "layout layout-two-forms.yaml", answer: func(f found) string {
		a, b := f.at("layouts.0.layout"), f.at("layouts.1.layout")
		return fmt.Sprintf("The drilling angle is %.1f°, not %.1f°, and the VAL angle %.1f°, not %.1f°.",
			b.number("drilling_angle_deg"), a.number("drilling_angle_deg"), b.number("val_angle_deg"), a.number("val_angle_deg"))
	}},
	{file: "own-grip.yaml", command: "layout own-grip.yaml", answer: func(f found) string {
		c := f.at("layouts.0.change")
		return fmt.Sprintf("The first loses %.1f oz and gets %.1f oz back; its low axis moves by %.2f in. The second has %.2f oz of side weight by its offset.",
			c.number("removed_oz"), c.number("put_back_oz"), c.number("pin_moved_in"), f.number("layouts.1.after.static_side_oz"))
	}},
	{file: "box-and-shop.yaml", command: "layout box-and-shop.yaml", answer: func(f found) string {
		a := f.at("layouts.0.after")
		return fmt.Sprintf("The first ball ends with %.2f oz of side weight, %.2f oz toward the fingers and %.2f oz of top weight, the second with %.2f oz of side weight.",
			a.number("static_side_oz"), a.number("static_finger_thumb_oz"), a.number("static_top_oz"), f.number("layouts.1.after.static_side_oz"))
	}},
	{file: "drill-symmetric.yaml", command: "layout drill-symmetric.yaml", answer: drilledAnswer},
	{file: "drill-asymmetric.yaml", command: "layout drill-asymmetric.yaml", answer: drilledAnswer},
	{file: "drill-thumbless.yaml", command: "layout drill-thumbless.yaml", answer: drilledAnswer},
	{file: "drill-left.yaml", command: "layout drill-left.yaml", answer: drilledAnswer},
	{file: "drill-spare.yaml", command: "layout drill-spare.yaml", answer: drilledAnswer},
	{file: "own-library.yaml", command: "throw own-library.yaml", answer: func(f found) string {
		a, b := f.at("shots.0"), f.at("shots.1")
		return fmt.Sprintf("By the file and the name of each part. %s enters on board %.1f, %s on board %.1f.",
			a.text("ball"), a.number("summary.entry_board"), b.text("ball"), b.number("summary.entry_board"))
	}},
	{file: "own-pattern.yaml", command: "pattern own-pattern.yaml", answer: func(f found) string {
		return fmt.Sprintf("%s The first third holds %.0f of %.0f mL.", f.text("description"), f.number("volume_thirds_mL.0"), f.number("volume_mL"))
	}},
	{file: "measured-bowler.yaml", command: "bowler measured-bowler.yaml", answer: measuredAnswer},
	{file: "measured-by-hand.yaml", command: "bowler measured-by-hand.yaml", answer: measuredAnswer},
	{file: "measured-video.yaml", command: "bowler measured-video.yaml", answer: measuredAnswer},
}

// measuredAnswer prints the measured values of a bowler.
func measuredAnswer(f found) string {
	var said []string
	for _, m := range []struct{ key, name, unit string }{
		{"speed_mph", "speed", "mph"}, {"rev_rate_rpm", "rev rate", "rpm"}, {"axis_rotation_deg", "axis rotation", "°"}, {"axis_tilt_deg", "axis tilt", "°"},
	} {
		if e := f.number("measured." + m.key + ".uncertainty"); !math.IsNaN(e) {
			said = append(said, strings.ReplaceAll(fmt.Sprintf("%s %.1f ± %.1f %s", m.name, f.number("measured."+m.key+".value"), e, m.unit), " °", "°"))
		}
	}
	return "Measured: " + strings.Join(said, ", ") + "."
}

// racked prints how often a delivery strikes and what it leaves.
func racked(d found, who string) string {
	said := fmt.Sprintf("%s, on board %.1f at %.1f°, strikes in %s of %.0f racks.", who, d.number("entry_board"), d.number("entry_angle_deg"),
		d.percent("strike_share", "strike_interval"), d.number("racks"))
	if leaves := d.list("leaves"); len(leaves) > 0 {
		said += fmt.Sprintf(" The commonest leave is %s.", leaves[0].text("pins"))
	}
	return said
}

// correlation returns Pearson's correlation of the rows that have both numbers.
func correlation(rows []found, x, y string) float64 {
	var n, sx, sy, sxx, syy, sxy float64
	for _, r := range rows {
		if a, b := r.number(x), r.number(y); !math.IsNaN(a) && !math.IsNaN(b) {
			n, sx, sy, sxx, syy, sxy = n+1, sx+a, sy+b, sxx+a*a, syy+b*b, sxy+a*b
		}
	}
	return (sxy - sx*sy/n) / math.Sqrt((sxx-sx*sx/n)*(syy-sy*sy/n))
}

// drilledAnswer describes the finished weights and the nearest clearance.
func drilledAnswer(f found) string {
	l := f.at("layouts.0")
	nearest, what := math.Inf(1), ""
	for _, c := range l.list("clearances") {
		if d := c.number("distance_in"); d < nearest {
			nearest, what = d, c.text("what")
		}
	}
	a := l.at("after")
	text := fmt.Sprintf("The finished ball weighs %.2f lb, with %.2f oz of side weight, %.2f oz toward the fingers and %.2f oz of top weight. The smallest clearance is the %s, %.2f in.",
		a.number("weight_lb"), a.number("static_side_oz"), a.number("static_finger_thumb_oz"), a.number("static_top_oz"), what, nearest)
	for _, p := range l.list("plans") {
		text += fmt.Sprintf(" Other %s bring the side weight to %.2f oz.", p.text("by"), p.number("side_oz"))
	}
	return text
}
