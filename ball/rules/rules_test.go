package rules

import (
	"math"
	"strings"
	"testing"

	"lanesim/ball"
	"lanesim/units"
)

// verdicts returns the verdicts on a ball with a grip by name.
func verdicts(t *testing.T, s ball.Specification, g ball.Grip) map[string]Verdict {
	t.Helper()
	_, d, err := s.Drill(ball.DefaultPAP(), ball.Right, g)
	if err != nil {
		t.Fatal(err)
	}
	m := map[string]Verdict{}
	for _, v := range Check(s, d) {
		if _, twice := m[v.Name]; twice {
			t.Errorf("two verdicts on %s", v.Name)
		}
		m[v.Name] = v
	}
	return m
}

func TestAUsualBallIsWithinTheLimitsListed(t *testing.T) {
	for name, v := range verdicts(t, usualBall(), ball.DefaultGrip()) {
		want := Within
		if strings.HasPrefix(name, "static_") { // nothing is said about the balance
			want = Unknown
			if !math.IsNaN(v.Value) || v.Limit == "" {
				t.Errorf("%s: %+v", name, v)
			}
		}
		if name == "hardness" || name == "coefficient_of_friction" || name == "holes_used" {
			want = Unknown
		}
		if v.Verdict != want || math.IsNaN(v.Value) != (want == Unknown) || want == Within && v.Limit == "" {
			t.Errorf("%s: %+v, want %s", name, v, want)
		}
	}
}

// A value equal to a limit is within it.
func TestAtTheLimits(t *testing.T) {
	s := usualBall()
	s.Weight, s.Diameter, s.RG, s.Differential, s.Roughness = 16*units.Pound, 8.595*units.Inch, 2.46*units.Inch, 0.06*units.Inch, 50*units.Microinch
	m := verdicts(t, s, ball.DefaultGrip())
	for _, name := range []string{"weight", "diameter", "circumference", "rg", "differential", "roughness"} {
		if m[name].Verdict != Within {
			t.Errorf("%s: %+v", name, m[name])
		}
	}
}

func TestOutsideTheLimits(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(*ball.Specification)
		want  Judgement
	}{
		{"diameter", func(s *ball.Specification) { s.Diameter = 8.6 * units.Inch }, Over},
		{"diameter", func(s *ball.Specification) { s.Diameter = 8.49 * units.Inch }, Under},
		{"circumference", func(s *ball.Specification) { s.Diameter = 8.6 * units.Inch }, Over},
		{"weight", func(s *ball.Specification) { s.Weight = 16.01 * units.Pound }, Over},
		{"rg", func(s *ball.Specification) { s.RG = 2.45 * units.Inch }, Under},
		{"rg", func(s *ball.Specification) { s.RG = 2.81 * units.Inch }, Over},
		{"differential", func(s *ball.Specification) { s.Differential = 0.061 * units.Inch }, Over},
		{"roughness", func(s *ball.Specification) { s.Roughness = 51 * units.Microinch }, Over},
		{"static_side", func(s *ball.Specification) { s.Static = &ball.StaticWeights{Side: 3.1 * units.Ounce} }, Over},
		{"static_top", func(s *ball.Specification) { s.Static = &ball.StaticWeights{Top: -3.1 * units.Ounce} }, Over},
		{"static_finger_thumb", func(s *ball.Specification) {
			s.Weight, s.Static = 9*units.Pound, &ball.StaticWeights{FingerThumb: 4 * units.Ounce}
		}, Unknown},
	} {
		s := usualBall()
		c.spoil(&s)
		if v := verdicts(t, s, ball.DefaultGrip())[c.name]; v.Verdict != c.want {
			t.Errorf("%s: %+v, want %s", c.name, v, c.want)
		}
	}
}

// A large intermediate differential has a name, and breaks no limit.
func TestAsymmetry(t *testing.T) {
	s := usualBall()
	for share, want := range map[float64]string{0: "symmetrical", 0.05: "symmetrical", 0.06: "asymmetrical"} {
		s.IntermediateDifferential = share * s.Differential
		if v := verdicts(t, s, ball.DefaultGrip())["asymmetry"]; v.Note != want || v.Verdict != Within {
			t.Errorf("%g of the differential: %+v, want %s", share, v, want)
		}
	}
}

// The limits have their source and do not say what is allowed.
func TestWordingOfTheLimits(t *testing.T) {
	l := Listed()
	if l.Edition == "" || l.Mark == "" || !strings.Contains(l.Caution, "current rule book") {
		t.Errorf("%+v", l)
	}
	if strings.Contains(strings.ToLower(string(limitsFile)), "legal") {
		t.Error("the limits judge")
	}
	for _, m := range l.Limits {
		if _, ok := l.Listed(m.Name); !ok || m.Least != nil && m.Most != nil && *m.Least > *m.Most {
			t.Errorf("%+v", m)
		}
	}
	if _, ok := l.Listed("colour"); ok {
		t.Error("a limit that there is not")
	}
}

// usualBall is a strong asymmetric ball.
func usualBall() ball.Specification {
	s := ball.Default()
	s.RG, s.Differential, s.IntermediateDifferential = 2.49*units.Inch, 0.048*units.Inch, 0.012*units.Inch
	s.Layout = &ball.Layout{DrillingAngle: 60 * units.Degree, PinToPAP: 5 * units.Inch, VALAngle: 40 * units.Degree}
	return s
}

func TestWeightsAreJudgedWhereTheyAreKnown(t *testing.T) {
	boxed := func(top float64, pinOut units.Optional) ball.Specification {
		s := usualBall()
		s.Box = &ball.Box{TopWeight: units.Given(top), PinOut: pinOut}
		return s
	}
	unmarked, halfInch := boxed(3*units.Ounce, units.Optional{}), units.Given(0.5*units.Inch)
	if v := verdicts(t, unmarked, ball.DefaultGrip())["static_side"]; v.Verdict != Unknown || !math.IsNaN(v.Value) {
		t.Errorf("%+v", v)
	}
	if v := verdicts(t, boxed(9*units.Ounce, halfInch), ball.DefaultGrip())["static_top"]; v.Verdict != Over {
		t.Errorf("%+v", v)
	}
}
