package scenario

import (
	"math"
	"math/big"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

// Numbers are written as the standard library rounds quotients computed with 400 bits.
func TestShortestAgainstLongQuotients(t *testing.T) {
	byQuotient := func(value float64, unit *big.Rat) string {
		q := new(big.Float).SetPrec(400).SetFloat64(value)
		q.Quo(q, new(big.Float).SetPrec(400).SetRat(unit))
		for n := 0; ; n++ {
			text := q.Text('e', n)
			x, _ := new(big.Rat).SetString(text)
			if f, _ := x.Mul(x, unit).Float64(); f == value || n >= 19 {
				mantissa, power, _ := strings.Cut(text, "e")
				e, _ := strconv.Atoi(power)
				return plain(value < 0, strings.TrimPrefix(strings.Replace(mantissa, ".", "", 1), "-"), e)
			}
		}
	}
	r := rand.New(rand.NewPCG(3, 4))
	for k := range 1500 {
		d := dimensions[k%len(dimensions)]
		u := d.units[r.IntN(len(d.units))]
		value := math.Float64frombits(r.Uint64())
		if k%2 == 0 {
			written, _ := exact(big.NewRat(r.Int64N(2000)-1000, 1<<r.IntN(12)).FloatString(r.IntN(5))).Float64()
			of, _ := u.value().Float64()
			value = written * of
		}
		if math.IsNaN(value) || math.IsInf(value, 0) || value == 0 {
			continue
		}
		if got, want := shortest(value, u.value()), byQuotient(value, u.value()); got != want {
			t.Errorf("%v in %s is written %s, not %s", value, u.name, got, want)
		}
	}
}
