package physics

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"lanesim/ball"
	"lanesim/lane"
	"lanesim/units"
)

// lawReadDirectly finds where the friction is read by adding it up over even, short
// times.
func lawReadDirectly(t *Thrower, looks int) (distance, steepness float64, ok bool) {
	film, dry, _ := t.m.law.limits()
	limit := film + 0.1*(dry-film)
	var turned, sum, place, mus []float64
	for i := range t.pieces {
		p := &t.pieces[i]
		end := min(p.End, t.finalTime)
		n := max(1, int(float64(looks)*(p.Component(iTurned, end)-p.Component(iTurned, p.Start))))
		for k := range n {
			// At the middle of each short time, so that jumps lie between.
			from, to := p.Start+(end-p.Start)*float64(k)/float64(n), p.Start+(end-p.Start)*float64(k+1)/float64(n)
			_, mu := t.frictionAt(instant{i, from + (to-from)/2})
			before, after := p.Component(iTurned, from), p.Component(iTurned, to)
			if len(turned) == 0 {
				turned, sum, place, mus = append(turned, before), append(sum, 0), append(place, p.Component(ix, from)), append(mus, mu)
			}
			turned = append(turned, after)
			sum = append(sum, sum[len(sum)-1]+mu*(after-before))
			place, mus = append(place, p.Component(ix, to)), append(mus, mu)
		}
	}
	last := len(turned) - 1
	if turned[last] <= math.Pi {
		for k, mu := range mus {
			if mu > limit {
				return place[max(k-1, 0)], math.Inf(1), true
			}
		}
		return 0, 0, false
	}
	at := func(angle float64, from int) (float64, int) {
		for from < last && turned[from+1] < angle {
			from++
		}
		if from == last {
			return sum[last], from
		}
		share := (angle - turned[from]) / (turned[from+1] - turned[from])
		return sum[from] + share*(sum[from+1]-sum[from]), from
	}
	i, j := 0, 0
	var low, high, before float64
	for k := range turned {
		from, to := max(turned[k]-math.Pi, 0), min(turned[k]+math.Pi, turned[last])
		low, i = at(from, i)
		high, j = at(to, j)
		mean := (high - low) / (to - from)
		if mean > limit {
			if k == 0 {
				return place[0], math.Inf(1), true
			}
			share := (limit - before) / (mean - before)
			return place[k-1] + share*(place[k]-place[k-1]), (mean - before) / (place[k] - place[k-1]) / (dry - film), true
		}
		before = mean
	}
	return 0, 0, false
}

// lawReader draws a shot over oil, as people throw.
func lawReader(t *rapid.T) (lane.Lane, ball.Ball, Release) {
	l, s, r := lane.Default(), lawSpecification(t), lawRelease(t)
	l.Oil, l.Edgeless = lawOil(t), true
	return l, lawPrepare(t, s, ball.Right), r
}

// The place where the friction is read is that which adding up over a fine grid
// gives.
func TestLawFrictionIsReadWhereTheMeanSays(t *testing.T) {
	// The grid itself is off by up to half a step at every jump, 2·10⁻⁴ of
	// μ_dry − μ_film in the mean. Of film that the ball meets for a few degrees some
	// is left between the looks: up to 10⁻³ was seen.
	mean := lawBound{what: "mean friction off that on a fine grid, of μ_dry − μ_film", bound: 2e-3}
	off := lawBound{what: "place off that on a fine grid in ft", bound: 0.1}
	reads, releases, flat := 0, 0, 0
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		l, b, r := lawReader(t)
		shot := lawThrow(t, thrower, l, b, r, Settings{PathSpacing: -1, ExchangeSpacing: -1})
		distance, steepness, ok := lawReadDirectly(thrower, 400)
		read := shot.Events.FrictionRead
		if (read != nil) != ok {
			t.Fatalf("read %v, on a fine grid %v at %v m", read != nil, ok, distance)
		}
		if !ok {
			return
		}
		reads++
		d := math.Abs(read.Distance - distance)
		switch {
		case math.IsInf(steepness, 1):
			releases++
			if read.Time != 0 {
				t.Errorf("read at %v s, not at release", read.Time)
			}
		case steepness*units.Foot < 0.01:
			// A mean that hardly rises passes its limit at no sharp place.
			flat++
			mean.hold(t, d*steepness)
		default:
			mean.hold(t, d*steepness)
			off.hold(t, d/units.Foot)
		}
	})
	t.Logf("%d read, %d of them at release, %d where the mean rises by less than a hundredth in a foot", reads, releases, flat)
	mean.report(t)
	off.report(t)
	if releases == 0 || 4*flat > reads {
		t.Error("not every case was met, or too few sharp ones")
	}
}

// On a dry lane the friction is read at release. Where the oil carries the ball to the
// end, where dry boards rub no more than oil, and under laws that ask for no film it
// is never read.
func TestLawFrictionReadAtReleaseOrNever(t *testing.T) {
	thick := func(feet float64) *lane.OilMap {
		row := make([]float64, lane.Boards)
		for i := range row {
			row[i] = 100
		}
		oil, err := lane.NewBoardOilMap([]float64{0, feet * units.Foot}, [][]float64{row, row})
		if err != nil {
			t.Fatal(err)
		}
		return oil
	}
	for _, c := range []struct {
		name     string
		oil      *lane.OilMap
		friction lane.Friction
		want     bool
	}{
		{"dry", nil, lane.DefaultFriction(), true},
		{"oil to 40 ft", thick(40), lane.DefaultFriction(), true},
		{"oil to the pins", thick(60), lane.DefaultFriction(), false},
		{"dry boards as slippery as oil", nil, lane.Friction{Law: lane.Mixed, Film: 0.1, Dry: 0.1, Entrained: 0.5}, false},
		{"dry boards more slippery than oil", thick(40), lane.Friction{Law: lane.Mixed, Film: 0.2, Dry: 0.1, Entrained: 0.5}, false},
		{"constant", thick(40), lane.Friction{Law: lane.Constant, Mu: 0.1}, false},
		{"zones", nil, lane.Friction{Law: lane.Zones, Zones: []lane.Zone{{To: 5, Mu: 0.02}, {To: math.Inf(1), Mu: 0.2}}}, false},
	} {
		for _, rate := range []float64{0, 350} {
			l := lane.Default()
			l.Oil, l.Friction, l.Edgeless = c.oil, c.friction, true
			r := lawFlatReleases[1]
			r.RevRate = rate * units.RPM
			s := ball.Default()
			s.Memory.Off = true
			shot := lawThrow(t, NewThrower(), l, lawPrepare(t, s, ball.Right), r, Settings{})
			read := shot.Events.FrictionRead
			if (read != nil) != c.want {
				t.Errorf("%s at %v rpm: read %+v", c.name, rate, read)
			}
			if read != nil && (read.Time == 0) != (c.oil == nil) {
				t.Errorf("%s at %v rpm: read at %v s", c.name, rate, read.Time)
			}
			end := lawThrow(t, NewThrower(), l, lawPrepare(t, s, ball.Right), r, Settings{EndOnly: true, FrictionRead: true}).Events.FrictionRead
			if (end != nil) != (read != nil) || read != nil && end.Time != read.Time {
				t.Errorf("%s at %v rpm: read %+v, with the end alone %+v", c.name, rate, read, end)
			}
		}
	}
	// A ball that turns by less than half a turn in all reads the friction itself.
	l := lane.Default()
	l.Oil, l.Friction.Film, l.Friction.Dry = thick(40), 0, 1e-3
	r := lawFlatReleases[1]
	r.RevRate = 0
	shot := lawThrow(t, NewThrower(), l, lawPrepare(t, ball.Default(), ball.Right), r, Settings{})
	if read := shot.Events.FrictionRead; shot.Summary.Revolutions > 0.5 || read == nil || math.Abs(read.Distance-40*units.Foot) > 1e-9 {
		t.Errorf("%v revolutions, read %+v", shot.Summary.Revolutions, read)
	}
}

// Longer oil of the same film never lets a ball read the friction earlier that brings
// none of it along. Where a ball meets its own film once or twice in a turn, it also
// counts at which place of its turn the oil ends, and a little more of it may let the
// ball read sooner; not so the mean over the phases of the release.
func TestLawLongerOilIsReadNoEarlier(t *testing.T) {
	earlier := lawBound{what: "friction read earlier on longer oil, without film on the ball, in ft", bound: 1e-3}
	single := lawBound{what: "the same with film on the ball, one phase", bound: 1.5}
	mean := lawBound{what: "the same, mean over six phases", bound: 1e-3}
	later, same := 0, 0
	thrower := NewThrower()
	rapid.Check(t, func(t *rapid.T) {
		s, r := lawSpecification(t), lawRelease(t)
		b := lawPrepare(t, s, ball.Right)
		l := lane.Default()
		l.Edgeless = true
		thickness, first, more := lawDraw(t, "units", 1, 60), lawDraw(t, "length in ft", 10, 45), lawDraw(t, "more in ft", 0.5, 14)
		row := make([]float64, lane.Boards)
		for i := range row {
			row[i] = thickness
		}
		// gain is by how much later the longer oil is read; false where it is not read.
		gain := func(phase float64) (float64, bool) {
			r := r
			r.Phase += phase
			var reads [2]float64
			for i, length := range []float64{first, first + more} {
				oil, err := lane.NewBoardOilMap([]float64{0, length * units.Foot}, [][]float64{row, row})
				if err != nil {
					t.Fatal(err)
				}
				l.Oil = oil
				read := lawThrow(t, thrower, l, b, r, Settings{EndOnly: true, FrictionRead: true}).Events.FrictionRead
				if reads[i] = math.Inf(1); read != nil {
					reads[i] = read.Distance / units.Foot
				}
			}
			if math.IsInf(reads[0], 1) && !math.IsInf(reads[1], 1) {
				t.Errorf("the longer oil alone is read, at %v ft", reads[1])
			}
			return reads[1] - reads[0], !math.IsInf(reads[1], 1)
		}
		b.Memory.Off = true
		if g, ok := gain(0); ok {
			earlier.hold(t, -g)
			if g > 0.1 {
				later++
			} else {
				same++
			}
		}
		b.Memory.Off = false
		const phases = 6
		sum := 0.0
		for k := range phases {
			g, ok := gain(2 * math.Pi * float64(k) / phases)
			if !ok {
				return
			}
			single.hold(t, -g)
			sum += g
		}
		mean.hold(t, -sum/phases)
	})
	t.Logf("%d later, %d within a tenth of a foot", later, same)
	earlier.report(t)
	single.report(t)
	mean.report(t)
	if later == 0 {
		t.Error("nothing was read later")
	}
}
