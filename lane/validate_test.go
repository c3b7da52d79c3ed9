package lane

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"lanesim/units"
)

func TestLanesThatCanBe(t *testing.T) {
	oil, err := NewOilMap([]float64{0, 10}, 0, 1, 1, []float64{1e-6, 0})
	if err != nil {
		t.Fatal(err)
	}
	for what, change := range map[string]func(*Lane){
		"the usual":   func(*Lane) {},
		"endless":     func(l *Lane) { l.Length = math.Inf(1) },
		"oiled":       func(l *Lane) { l.Oil = oil },
		"no friction": func(l *Lane) { l.Friction.Film, l.Friction.Dry = 0, 0 },
		"constant":    func(l *Lane) { l.Friction = Friction{Law: Constant, Mu: 2, Film: -1} },
		"one zone":    func(l *Lane) { l.Friction = Friction{Law: Zones, Zones: []Zone{{Mu: 0.1}}} },
		"two zones": func(l *Lane) {
			l.Friction = Friction{Law: Zones, Zones: []Zone{{To: 1, Mu: 0.1}, {To: math.Inf(1), Mu: 0.2}}}
		},
		"mirrored, tilted": func(l *Lane) { l.Oil, l.Tilt = oil, 1e-3; *l = l.Mirror() },
	} {
		l := Default()
		change(&l)
		if err := l.Validate(); err != nil {
			t.Errorf("%s: %v", what, err)
		}
	}
}

func TestLanesThatCannotBe(t *testing.T) {
	nan, infinite := math.NaN(), math.Inf(1)
	grid := func(change func(*OilMap)) func(*Lane) {
		return func(l *Lane) {
			l.Oil = &OilMap{Distances: []float64{0, 10}, Spacing: 1, Columns: 2, Film: []float64{1, 1, 1, 1}}
			change(l.Oil)
		}
	}
	zones := func(z ...Zone) func(*Lane) {
		return func(l *Lane) { l.Friction = Friction{Law: Zones, Zones: z} }
	}
	for want, changes := range map[string][]func(*Lane){
		"Length":               {func(l *Lane) { l.Length = 0 }, func(l *Lane) { l.Length = -1 }, func(l *Lane) { l.Length = nan }},
		"Tilt":                 {func(l *Lane) { l.Tilt = nan }, func(l *Lane) { l.Tilt = -infinite }, func(l *Lane) { l.Tilt = 2 }},
		"Roughness":            {func(l *Lane) { l.Roughness = -1 }, func(l *Lane) { l.Roughness = nan }, func(l *Lane) { l.Roughness = infinite }},
		"RollingResistance":    {func(l *Lane) { l.RollingResistance = -1 }, func(l *Lane) { l.RollingResistance = nan }, func(l *Lane) { l.RollingResistance = 2 }},
		"Friction.Law":         {func(l *Lane) { l.Friction.Law = "" }, func(l *Lane) { l.Friction.Law = "none such" }},
		"Friction.Film":        {func(l *Lane) { l.Friction.Film = -0.1 }, func(l *Lane) { l.Friction.Film = nan }, func(l *Lane) { l.Friction.Film = 2.1 }},
		"Friction.Dry":         {func(l *Lane) { l.Friction.Dry = -0.1 }, func(l *Lane) { l.Friction.Dry = infinite }},
		"Friction.Entrained":   {func(l *Lane) { l.Friction.Entrained = -0.1 }, func(l *Lane) { l.Friction.Entrained = 1.1 }, func(l *Lane) { l.Friction.Entrained = nan }},
		"Friction.Mu":          {func(l *Lane) { l.Friction = Friction{Law: Constant, Mu: -1} }, func(l *Lane) { l.Friction = Friction{Law: Constant, Mu: nan} }},
		"Friction.Zones":       {zones()},
		"Friction.Zones[1].Mu": {zones(Zone{To: 1}, Zone{To: 2, Mu: -1}), zones(Zone{To: 1}, Zone{To: 2, Mu: nan})},
		"Friction.Zones[1].To": {zones(Zone{To: 2}, Zone{To: 2}, Zone{}), zones(Zone{To: 2}, Zone{To: nan}, Zone{})},
		"Oil.Distances": {
			func(l *Lane) { l.Oil = &OilMap{} }, grid(func(o *OilMap) { o.Distances = nil }),
		},
		"Oil.Distances[1]":                   {grid(func(o *OilMap) { o.Distances[1] = 0 }), grid(func(o *OilMap) { o.Distances[1] = nan })},
		"Oil.Columns":                        {grid(func(o *OilMap) { o.Columns = 0 })},
		"Oil.Spacing":                        {grid(func(o *OilMap) { o.Spacing = 0 }), grid(func(o *OilMap) { o.Spacing = nan })},
		"Oil.Right":                          {grid(func(o *OilMap) { o.Right = nan })},
		"Oil.Film":                           {grid(func(o *OilMap) { o.Film = o.Film[1:] })},
		"Oil.Film[2] (distance 1, column 0)": {grid(func(o *OilMap) { o.Film[2] = -1 }), grid(func(o *OilMap) { o.Film[2] = nan })},
	} {
		for i, change := range changes {
			l := Default()
			change(&l)
			var e *units.FieldError
			if err := l.Validate(); !errors.As(err, &e) || e.Field != want || e.Rule == "" || !strings.Contains(err.Error(), "lane: "+want+" is ") {
				t.Errorf("%s, change %d: %v", want, i, err)
			}
		}
	}
	l := Default()
	l.Length, l.Tilt, l.Friction.Dry, l.Oil = -1, nan, 3, &OilMap{}
	var got []string
	for _, one := range l.Validate().(interface{ Unwrap() []error }).Unwrap() {
		var e *units.FieldError
		if errors.As(one, &e) {
			got = append(got, e.Field)
		}
	}
	if want := []string{"Length", "Tilt", "Friction.Dry", "Oil.Distances"}; !slices.Equal(got, want) {
		t.Errorf("%v is wrong, want %v", got, want)
	}
}

// Readers treat an empty map as no oil.
func TestAnEmptyMapIsRead(t *testing.T) {
	o := &OilMap{}
	if o.Length() != 0 || o.Thickness(0, 0) != 0 || o.Thickness(1, 0) != 0 || o.Volume(0, 10) != 0 || o.Mirror().Length() != 0 {
		t.Error("there is oil on an empty map")
	}
}
