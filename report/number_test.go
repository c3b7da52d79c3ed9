package report

import (
	"math"
	"strconv"
	"testing"
)

func TestNumbersArePrintedShortestAndReadBack(t *testing.T) {
	for _, v := range []float64{0, math.Copysign(0, -1), 1, 0.1, 1.0 / 3, -17.5, 1e-300, 5e-324, math.MaxFloat64, 123456789012345680} {
		text, err := JSON(v)
		if err != nil {
			t.Fatal(err)
		}
		back, err := strconv.ParseFloat(string(text), 64)
		if err != nil || back != v {
			t.Errorf("%v is printed as %s", v, text)
		}
		if shortest := strconv.FormatFloat(v, 'g', -1, 64); len(text) > len(strconv.FormatFloat(v, 'f', -1, 64)) && len(text) > len(shortest) {
			t.Errorf("%v is printed as %s", v, text)
		}
	}
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if text, err := JSON(v); err != nil || string(text) != "null" {
			t.Errorf("%v is printed as %s, %v", v, text, err)
		}
	}
	if text, _ := JSON(math.Copysign(0, -1)); string(text) != "0" {
		t.Errorf("minus zero is printed as %s", text)
	}
}

func TestFiguresForPeopleHaveFourDigits(t *testing.T) {
	for _, c := range []struct {
		v    float64
		want string
	}{
		{17.5, "17.50"}, {9.99996, "10.00"}, {0.0123449, "0.01234"}, {-2.263, "−2.263"}, {575.46, "575.5"},
		{12345.6, "12346"}, {0, "0"}, {1e-16, "0"}, {1.23456e-6, "1.235e−06"}, {math.NaN(), Absent}, {math.Inf(1), "+Inf"},
	} {
		if got := Figure(c.v); got != c.want {
			t.Errorf("%v is shown as %s, want %s", c.v, got, c.want)
		}
	}
}

// One number has one look for people: the same minus, none before nothing, and a plus
// only before a difference.
func TestNumbersForPeople(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Fixed(-2.852, 2), "−2.85"}, {Fixed(-0.004, 2), "0.00"}, {Fixed(2.25, 1), "2.2"}, {Fixed(math.NaN(), 1), Absent}, {Fixed(math.Inf(-1), 1), "−Inf"},
		{Signed(-2.852, 2), "−2.85"}, {Signed(0.004, 2), "0.00"}, {Signed(0.005001, 2), "+0.01"}, {Signed(math.NaN(), 2), Absent},
		{Share(0.1234), "12.3%"}, {Percent(-0.0001, 0), "0%"}, {Points(-0.0123), "−1.2"}, {Points(0.0123), "+1.2"}, {Share(math.NaN()), Absent},
		{Foot.Show(7.7), "25.3"}, {Board.Show(17.5), "17.5"}, {Degree.Show(4.4 * math.Pi / 180), "4.4"}, {MPH.Show(18 * MPH.Size), "18.0"},
		{RPM.Show(325 * RPM.Size), "325"}, {Microlitre.Show(1.198e-8), "12.0"},
	} {
		if c.got != c.want {
			t.Errorf("%s, want %s", c.got, c.want)
		}
	}
}

func TestSignedNumbersOfTables(t *testing.T) {
	for v, want := range map[float64]string{0.1234: "+12.3", -0.0166: "−1.7", 0: "0.0", -0.0001: "0.0"} {
		if got := Points(v); got != want {
			t.Errorf("%g is %q, not %q", v, got, want)
		}
	}
	if got := Points(math.NaN()); got != Absent {
		t.Error(got)
	}
}
