package check_test

import (
	"errors"
	"testing"

	"lanesim/internal/check"
	"lanesim/units"
)

func TestFaultsAreJoined(t *testing.T) {
	f := check.Of("lane")
	f.That(true, "Length", 18, "must be above 0")
	f.Add(nil)
	if err := f.Err(); err != nil {
		t.Error(err)
	}
	f.That(false, "Length", -0.5, "must be above 0")
	f.Refuse("Friction.Law", "odd", "must be mixed")
	err := f.Err()
	if want := "lane: Length is -0.5: it must be above 0\nlane: Friction.Law is odd: it must be mixed"; err == nil || err.Error() != want {
		t.Errorf("%v, not %s", err, want)
	}
	var field *units.FieldError
	if !errors.As(err, &field) || field.Field != "Length" || field.Value != -0.5 {
		t.Errorf("%+v", field)
	}
}

func TestWhatIsInOrderCostsNothing(t *testing.T) {
	f := check.Of("lane")
	value := 18.0
	if n := testing.AllocsPerRun(100, func() { value++; f.That(value > 0, "Length", value, "must be above 0") }); n > 0 {
		t.Errorf("%g allocations", n)
	}
}
