package ball

import (
	"errors"
	"math"
	"slices"
	"testing"

	"lanesim/units"
)

// wrongFields lists the fields that joined errors name, each once.
func wrongFields(t *testing.T, err error) []string {
	t.Helper()
	if err == nil {
		return nil
	}
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		t.Fatalf("%T: %v", err, err)
	}
	var fields []string
	for _, one := range joined.Unwrap() {
		var e *units.FieldError
		if !errors.As(one, &e) || e.Rule == "" {
			t.Fatalf("%T: %v", one, one)
		}
		if !slices.Contains(fields, e.Field) {
			fields = append(fields, e.Field)
		}
	}
	return fields
}

func drilled(t *testing.T) Ball {
	t.Helper()
	s := Default()
	s.Differential = 0.05 * units.Inch
	s.Layout = &Layout{DrillingAngle: 60 * units.Degree, PinToPAP: 5 * units.Inch, VALAngle: 40 * units.Degree}
	b, _ := mustDrill(t, s, Right, DefaultGrip())
	return b
}

func TestBallsThatCanBe(t *testing.T) {
	for what, change := range map[string]func(*Ball){
		"drilled":                   func(*Ball) {},
		"mirrored":                  func(b *Ball) { *b = b.Mirror() },
		"a cover of no name":        func(b *Ball) { b.Cover = Cover{} },
		"a cover without friction":  func(b *Ball) { b.Cover = Cover{SoakIn: 1} },
		"plastic":                   func(b *Ball) { b.Cover = Plastic },
		"nothing soaks in":          func(b *Ball) { b.Memory.SoakIn = math.Inf(1) },
		"memory off":                func(b *Ball) { b.Memory = FilmMemory{Off: true} },
		"memory of nothing":         func(b *Ball) { b.Memory = FilmMemory{} },
		"smooth, without pivot":     func(b *Ball) { b.Roughness, b.ContactRadius = 0, 0 },
		"a thin shell":              func(b *Ball) { m := 2. / 3 * b.Mass * b.Radius * b.Radius; b.Moments = [3]float64{m, m, m} },
		"the sum of the other two":  func(b *Ball) { b.Moments = [3]float64{0.01, 0.01, 0.02} },
		"all oil that lies there":   func(b *Ball) { b.Memory.PickUp, b.Memory.GiveBack = 1, 1 },
		"an offset that is large":   func(b *Ball) { b.Offset = [3]float64{0, 0.05, 0} },
		"a contact without a width": func(b *Ball) { b.Memory = FilmMemory{Off: true, ContactWidth: -1, SoakIn: math.NaN()} },
	} {
		b := drilled(t)
		change(&b)
		if err := b.Validate(); err != nil {
			t.Errorf("%s: %v", what, err)
		}
	}
}

func TestBallsThatCannotBe(t *testing.T) {
	nan, infinite := math.NaN(), math.Inf(1)
	for want, changes := range map[string][]func(*Ball){
		"Radius": {
			func(b *Ball) { b.Radius = -b.Radius }, func(b *Ball) { b.Radius = nan }, func(b *Ball) { b.Radius = infinite },
		},
		"Mass":       {func(b *Ball) { b.Mass = -1 }, func(b *Ball) { b.Mass = nan }, func(b *Ball) { b.Mass = infinite }},
		"Moments[0]": {func(b *Ball) { b.Moments[0] = 0 }, func(b *Ball) { b.Moments[0] = nan }, func(b *Ball) { b.Moments[0] = infinite }},
		"Moments[1]": {func(b *Ball) { b.Moments = [3]float64{0.01, 0.021, 0.01} }},
		"Moments[2]": {func(b *Ball) { b.Moments[2] = 1.01 * b.Mass * b.Radius * b.Radius }, func(b *Ball) { b.Moments[2] = -1 }},
		"Offset":     {func(b *Ball) { b.Offset[1] = b.Radius }, func(b *Ball) { b.Offset[2] = nan }},
		"PAP":        {func(b *Ball) { b.PAP = [3]float64{} }, func(b *Ball) { b.PAP[0] = nan }, func(b *Ball) { b.PAP[1] += 0.01 }},
		"Fingers":    {func(b *Ball) { b.Fingers = b.PAP }, func(b *Ball) { b.Fingers[0] = infinite }},
		"Roughness":  {func(b *Ball) { b.Roughness = -1e-9 }, func(b *Ball) { b.Roughness = nan }, func(b *Ball) { b.Roughness = infinite }},
		"ContactRadius": {
			func(b *Ball) { b.ContactRadius = -1e-3 }, func(b *Ball) { b.ContactRadius = 1 }, func(b *Ball) { b.ContactRadius = nan },
		},
		"Cover.Dry":       {func(b *Ball) { b.Cover.Dry = -0.1 }, func(b *Ball) { b.Cover.Dry = 2.1 }, func(b *Ball) { b.Cover.Dry = nan }},
		"Cover.Film":      {func(b *Ball) { b.Cover.Film = -0.1 }, func(b *Ball) { b.Cover.Film = infinite }},
		"Cover.SoakIn":    {func(b *Ball) { b.Cover.SoakIn = 0 }, func(b *Ball) { b.Cover.SoakIn = -1 }, func(b *Ball) { b.Cover.SoakIn = nan }},
		"Memory.PickUp":   {func(b *Ball) { b.Memory.PickUp = -0.1 }, func(b *Ball) { b.Memory.PickUp = 1.1 }, func(b *Ball) { b.Memory.PickUp = nan }},
		"Memory.GiveBack": {func(b *Ball) { b.Memory.GiveBack = -0.1 }, func(b *Ball) { b.Memory.GiveBack = 1.1 }},
		"Memory.ContactWidth": {
			func(b *Ball) { b.Memory.ContactWidth = 0 }, func(b *Ball) { b.Memory.ContactWidth = 1 }, func(b *Ball) { b.Memory.ContactWidth = nan },
		},
		"Memory.SoakIn": {func(b *Ball) { b.Memory.SoakIn = 0 }, func(b *Ball) { b.Memory.SoakIn = -1 }, func(b *Ball) { b.Memory.SoakIn = nan }},
	} {
		for i, change := range changes {
			b := drilled(t)
			change(&b)
			if got := wrongFields(t, b.Validate()); !slices.Contains(got, want) {
				t.Errorf("%s, change %d: %v is wrong", want, i, got)
			}
		}
	}
	if got := wrongFields(t, Ball{}.Validate()); len(got) < 6 {
		t.Errorf("of no ball only %v is wrong", got)
	}
	// All faults are reported, and nothing else.
	b := drilled(t)
	b.Roughness, b.Cover.Dry, b.Memory.PickUp = -1, nan, 2
	if got, want := wrongFields(t, b.Validate()), []string{"Roughness", "Cover.Dry", "Memory.PickUp"}; !slices.Equal(got, want) {
		t.Errorf("%v is wrong, want %v", got, want)
	}
}
