package figures

import "testing"

func TestAgree(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want bool
	}{
		{"1.3 ft in 22 of 24", "1.3 ft in 22 of 24", true},
		{"1.3 ft", "1.4 ft", true},
		{"1.3 ft", "1.5 ft", false},
		{"0.0249 ± 0.0019", "0.0250 ± 0.0019", true},
		{"22 of 24", "21 of 24", false},
		{"57 % (50 %)", "58 % (48 %)", true},
		{"57 %", "60 %", false},
		{"1.3 ft later", "1.3 ft earlier", false},
		{"+0.1", "−0.1", false},
		{"1.25", "1.3", false},
		{"1.3 ft", "", false},
	} {
		if got := Agree(c.a, c.b); got != c.want {
			t.Errorf("%q and %q: %v", c.a, c.b, got)
		}
	}
}
