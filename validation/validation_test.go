package validation

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
)

// Every case passes.
func TestCases(t *testing.T) {
	calls := 0
	outcomes, err := Run(context.Background(), func(done, total int) {
		calls++
		if done != calls || total < done {
			t.Errorf("progress %d of %d at call %d", done, total, calls)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(outcomes) == 0 || calls != len(outcomes) || len(outcomes) != len(Cases()) {
		t.Fatalf("%d outcomes, %d calls, %d cases", len(outcomes), calls, len(Cases()))
	}
	for _, o := range outcomes {
		switch {
		case o.Failure != nil:
			t.Error(o.Failure)
		case !o.Pass:
			t.Errorf("%s, %s: %.12g %s, want %.12g: error %.2g, tolerance %.2g", o.Name, o.Quantity, o.Computed, o.Unit, o.Expected, o.Error, o.Tolerance)
		}
	}
}

// No case passes if its expected value is changed by a little more than twice its
// tolerance, up or down.
func TestAltered(t *testing.T) {
	for _, c := range Cases() {
		value, err := c.Compute()
		if err != nil {
			t.Error(err)
			continue
		}
		c.Compute = func() (float64, error) { return value, nil }
		step := c.Tolerance
		if c.Relative {
			step *= math.Abs(c.Expected)
		}
		// A count has no tolerance; its smallest change is one.
		step = 2.01 * step
		if step == 0 {
			step = 1
		}
		for _, sign := range []float64{-1, 1} {
			altered := c
			altered.Expected += sign * step
			if o := altered.Check(); o.Pass {
				t.Errorf("%s, %s: passes with %.12g for %.12g", c.Name, c.Quantity, altered.Expected, c.Expected)
			}
		}
	}
}

// Names are unique, sources are given, marks are valid, and tolerances are finite.
func TestWellFormed(t *testing.T) {
	marks := map[Mark]int{Published: 0, Derived: 0, CommonPractice: 0, FromMemory: 0}
	seen := map[string]bool{}
	for _, c := range Cases() {
		name := c.Name + ", " + c.Quantity
		if c.Name == "" || c.Quantity == "" || seen[name] {
			t.Errorf("%q is empty or not unique", name)
		}
		seen[name] = true
		if strings.TrimSpace(c.Source) == "" {
			t.Errorf("%s: no source", name)
		}
		if _, ok := marks[c.Mark]; !ok {
			t.Errorf("%s: mark %q", name, c.Mark)
		}
		marks[c.Mark]++
		if !(c.Tolerance >= 0) || math.IsInf(c.Tolerance, 0) || math.IsNaN(c.Expected) {
			t.Errorf("%s: expected %g, tolerance %g", name, c.Expected, c.Tolerance)
		}
		if _, ok := sizes[c.Unit]; !ok {
			t.Errorf("%s: unit %q", name, c.Unit)
		}
	}
	for mark, count := range marks {
		if count == 0 {
			t.Errorf("no case is %s", mark)
		}
	}
}

// A case that cannot be computed fails with the reason.
func TestFailure(t *testing.T) {
	why := errors.New("no such ball")
	o := Case{Name: "ball", Quantity: "colour", Compute: func() (float64, error) { return 0, why }}.Check()
	if o.Pass || !errors.Is(o.Failure, why) || !strings.Contains(o.Failure.Error(), "colour") || !math.IsNaN(o.Computed) {
		t.Errorf("%+v", o)
	}
	if o = (Case{Tolerance: 1, Compute: func() (float64, error) { return math.NaN(), nil }}).Check(); o.Pass {
		t.Error("not a number passes")
	}
	if o = (Case{Expected: -2, Tolerance: 0.6, Relative: true, Compute: func() (float64, error) { return -3, nil }}).Check(); !o.Pass || o.Error != -0.5 {
		t.Errorf("relative error %g, pass %t", o.Error, o.Pass)
	}
}

// A run ends with its context.
func TestCancel(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	outcomes, err := Run(ctx, func(done, _ int) {
		if done == 3 {
			cancel()
		}
	})
	if !errors.Is(err, context.Canceled) || len(outcomes) != 3 {
		t.Errorf("%d outcomes, %v", len(outcomes), err)
	}
}

// The tolerance of a printed number is half a unit of its last digit.
func TestDigits(t *testing.T) {
	for printed, want := range map[string][2]float64{
		"60": {60, 0.5}, "1.180": {1.180, 0.0005}, "-2.1": {-2.1, 0.05}, "0.0000": {0, 0.00005},
	} {
		value, half := digits(printed)
		if value != want[0] || fmt.Sprintf("%.6g", half) != fmt.Sprintf("%.6g", want[1]) {
			t.Errorf("%s: %g ± %g", printed, value, half)
		}
	}
}
