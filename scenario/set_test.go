package scenario

import (
	"testing"

	"lanesim/lane"
	"lanesim/units"
)

const twoBalls = `lane: {oil: flat}
balls:
  - {name: Pin far, rg: 2.5 in}
  - {name: Pin. near, rg: 2.5 in, film_memory: on}
bowler: {speed: 18 mph, rev_rate: 0 rpm, laydown: 20, angle: 1 deg}`

// An override gives the same scenario as a file with that value.
func TestOverrides(t *testing.T) {
	rgs := func(s *Scenario) [2]float64 { return [2]float64{s.Balls[0].RG, s.Balls[1].RG} }
	half, long := 2.5*units.Inch, 2.6*units.Inch
	for _, c := range []struct {
		set  string
		want [2]float64
	}{
		{"ball.rg=2.6 in", [2]float64{long, long}},
		{"balls.rg=2.6 in", [2]float64{long, long}},
		{"balls[1].rg=2.6 in", [2]float64{half, long}},
		{"balls.1.rg=2.6 in", [2]float64{half, long}},
		{"ball[0].rg=2 3/5 in", [2]float64{long, half}},
		{"balls.Pin far.rg=2.6 in", [2]float64{long, half}},
		{`ball."Pin. near".rg="2.6 in"`, [2]float64{half, long}},
		{"balls[0]={name: Other, rg: 2.6 in}", [2]float64{long, half}},
		{"balls=[{rg: 2.6 in}, {rg: 2.5 in}]", [2]float64{long, half}},
	} {
		if got := rgs(readText(t, twoBalls, c.set)); got != c.want {
			t.Errorf("%s: RGs are %v, want %v", c.set, got, c.want)
		}
	}
}

func TestOverridesMakeWhatIsAbsent(t *testing.T) {
	s := readText(t, twoBalls,
		"title=A title", "ball.film_memory.pick_up=0.1", "lane.friction.film=0.03", "settings.pocket.board=17", "settings.pocket.half_width=1",
		"ball.layout.pin_to_pap=5 in", "ball.layout.psa_to_pap=4.2 in", "ball.layout.pin_to_val=2.5 in", "balls[1].layout.pin_to_pap=4 in")
	if s.Title != "A title" || s.Lanes[0].Friction.Film != 0.03 || s.Settings.Pocket.Min != 16 {
		t.Errorf("%+v", s)
	}
	for i, pin := range []float64{5, 4} {
		if b := s.Balls[i]; b.Memory.PickUp != 0.1 || b.Layout == nil || b.Layout.PinToPAP != pin*units.Inch {
			t.Errorf("ball %d: %+v", i, b)
		}
	}
}

// An override replaces keys of the file that exclude it.
func TestOverridesSupersede(t *testing.T) {
	s := readText(t, twoBalls, "bowler.aim=pocket", "ball.finish=500 grit", "lane.friction.law=constant", "lane.friction.mu=0.2")
	if !s.Bowlers[0].AimAtPocket || s.Lanes[0].Friction.Law != lane.Constant {
		t.Errorf("%+v", s)
	}
	file := "ball: {differential: 0.04 in, layout: {drilling_angle: 60 deg, pin_to_pap: 5 in, val_angle: 40 deg}, roughness: 25 uin}"
	s = readText(t, file, "ball.finish=500 grit", "ball.layout.psa_to_pap=4.2 in", "ball.layout.pin_to_val=2.5 in")
	if d := s.Balls[0].Layout.Distances(s.Balls[0].Diameter / 2); d.PSAToPAP < 0.1066 || d.PSAToPAP > 0.1067 {
		t.Errorf("PSA to PAP is %v m", d.PSAToPAP)
	}
	s = readText(t, "bowler: {speed: 18 mph, rev_rate: 0 rpm, laydown: 20, angle: 1 deg}",
		"bowlers=[{speed: 10 mph, rev_rate: 0 rpm, laydown: 20, angle: 1 deg}, {speed: 11 mph, rev_rate: 0 rpm, laydown: 20, angle: 1 deg}]")
	if len(s.Bowlers) != 2 {
		t.Errorf("%d bowlers, want 2", len(s.Bowlers))
	}
	// Later overrides replace earlier ones.
	if s = readText(t, twoBalls, "bowler.angle=2 deg", "bowler.angle=3 deg"); s.Bowlers[0].Release.Angle != 3*units.Degree {
		t.Errorf("angle is %v rad", s.Bowlers[0].Release.Angle)
	}
}
