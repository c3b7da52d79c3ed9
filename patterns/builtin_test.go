package patterns

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"lanesim/units"
)

// flatFile reads plain `key: value` lines, which are all that the built-ins have.
func flatFile(t *testing.T, source []byte) map[string]string {
	keys := map[string]string{}
	for line := range strings.Lines(string(source)) {
		key, value, found := strings.Cut(strings.TrimSpace(line), ": ")
		if _, twice := keys[key]; !found || twice {
			t.Fatalf("line %q", line)
		}
		keys[key] = value
	}
	return keys
}

func builtinCrown(t *testing.T, source []byte) Crown {
	keys := flatFile(t, source)
	if keys["kind"] != "crown" {
		t.Fatalf("kind %q", keys["kind"])
	}
	c := Crown{Name: keys["name"], About: keys["about"]}
	delete(keys, "kind")
	delete(keys, "name")
	delete(keys, "about")
	targets := map[string]struct {
		value *float64
		unit  string
		scale float64
	}{
		"length":        {&c.Length, " ft", units.Foot},
		"volume":        {&c.Volume, " mL", 1e-6},
		"ratio":         {&c.Ratio, "", 1},
		"plateau":       {&c.Plateau, "", 1},
		"shoulder":      {&c.Shoulder, "", 1},
		"front_to_back": {&c.FrontToBack, "", 1},
		"fall_off":      {&c.FallOff, "", 1},
	}
	for key, text := range keys {
		target, known := targets[key]
		number, unit := strings.CutSuffix(text, target.unit)
		value, err := strconv.ParseFloat(number, 64)
		if !known || !unit || err != nil {
			t.Fatalf("%s: %s", key, text)
		}
		*target.value = value * target.scale
	}
	return c
}

func TestBuiltins(t *testing.T) {
	var names []string
	for _, builtin := range Builtins() {
		names = append(names, builtin.Name)
		t.Run(builtin.Name, func(t *testing.T) {
			c := builtinCrown(t, builtin.Source)
			if c.Name == "" || !strings.HasSuffix(c.About, "invented for this program.") {
				t.Errorf("name %q, about %q", c.Name, c.About)
			}
			o, err := c.Build()
			if err != nil {
				t.Fatal(err)
			}
			checkCrown(t, c, o)
			// Published: lengths of 35 to 47 ft in general. Common practice:
			// the heads' middle holds some tens of units.
			if feet := c.Length / units.Foot; feet < 35 || feet > 47 {
				t.Errorf("%.4g ft long", feet)
			}
			heads, back := o.Thickness(0, 0)/units.OilUnit, o.Thickness(o.Length(), 0)/units.OilUnit
			if heads < 25 || heads > 70 || back > heads/4 {
				t.Errorf("%.1f units in the heads, %.1f at the end", heads, back)
			}
			if t.Failed() || testing.Verbose() {
				t.Logf("%.1f units in the heads, %.1f at the end", heads, back)
			}
			if source, ok := BuiltinSource(builtin.Name); !ok || !slices.Equal(source, builtin.Source) {
				t.Errorf("not found by its name")
			}
		})
	}
	if want := []string{"flat", "house", "long", "long-flat", "short", "steep"}; !slices.Equal(names, want) {
		t.Errorf("names %q, want %q", names, want)
	}
	for _, name := range []string{"", "no such pattern", "house.yaml", "../builtin/house", "House"} {
		if _, ok := BuiltinSource(name); ok {
			t.Errorf("found %q", name)
		}
	}
}
