package physics

import (
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"flag"
	"fmt"
	"hash"
	"math"
	"math/rand/v2"
	"os"
	"reflect"
	"strconv"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write testdata anew")

// shotsFile has the ends of random shots, and a hash of all that is known of each.
const shotsFile = "testdata/shots.golden"

const renewBits = "after a change of the model: go test ./physics ./cmd/lanesim -run SameB -update"

// fused reports whether the compiler fuses products and sums, as it does for arm64 and
// GOAMD64=v3: the last digits differ then.
//
//go:noinline
func fused(x, y, z float64) bool { return x*y+z != 0 }

// TestSameBitsEverywhere: 200 random shots, half of them with film on the ball, come out
// to the bit alike in the program and in the browser. Where the compiler fuses products
// and sums, three of four agree to 10⁻⁸ of each quantity's scale. In the others a rounding
// decides whether a step is accepted or a stride halved, and their film on the ball differs:
// they agree as nearly as shots are computed, to 5·10⁻⁴, 0.02 board. With GOAMD64=v3 it is
// 46 that differ by more than 10⁻⁸, by 1.7·10⁻⁴ at most.
//
// After a change of the model it is renewed as renewBits says.
func TestSameBitsEverywhere(t *testing.T) {
	const n = 200
	rnd := rand.New(rand.NewPCG(5, 6))
	var out bytes.Buffer
	a := NewThrower()
	for i := range n {
		l, b, r := randomShot(rnd, i%2 == 0)
		s, err := a.Throw(l, b, r, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		end := s.Path[len(s.Path)-1]
		sum := sha256.New()
		digest(sum, reflect.ValueOf(s))
		fmt.Fprintf(&out, "%s", s.Status)
		for _, v := range [...]float64{end.Time, end.Distance, end.Board, end.Heading, end.Speed, end.RevRate, s.Summary.Flare} {
			fmt.Fprintf(&out, " %v", v)
		}
		fmt.Fprintf(&out, " %x\n", sum.Sum(nil)[:8])
	}
	if *update {
		if err := os.WriteFile(shotsFile, out.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(shotsFile)
	if err != nil {
		t.Fatal(err)
	}
	scales := [...]float64{3, 20, 39, 0.1, 10, 60, 0.1} // s, m, boards, rad, m/s, rad/s, m
	shots := strings.Split(strings.TrimSpace(string(want)), "\n")
	if len(shots) != n {
		t.Fatalf("%s has %d shots, not %d", shotsFile, len(shots), n)
	}
	defer func() {
		if t.Failed() {
			t.Log(renewBits)
		}
	}()
	inexact := fused(1+0x1p-30, 1-0x1p-30, -1)
	other, far, largest := 0, 0, 0.0
	for i, line := range strings.Split(strings.TrimSpace(out.String()), "\n") {
		if line == shots[i] {
			continue
		}
		other++
		if got, want := strings.Fields(line), strings.Fields(shots[i]); inexact && got[0] == want[0] {
			off := 0.0
			for k, scale := range scales {
				x, _ := strconv.ParseFloat(got[k+1], 64)
				y, _ := strconv.ParseFloat(want[k+1], 64)
				off = max(off, math.Abs(x-y)/scale)
			}
			if off > 1e-8 {
				far++
			}
			largest = max(largest, off)
			continue
		}
		t.Errorf("shot %d is other than in %s:\n%s\n%s", i, shotsFile, line, shots[i])
		if other == 5 {
			t.Fatal("and so on")
		}
	}
	t.Logf("products and sums are fused: %v; %d shots have other digits, %d by more than 1e-8 of a quantity's scale, by %.2g at most", inexact, other, far, largest)
	if far > n/3 || largest > 5e-4 {
		t.Errorf("%d shots differ by more than 1e-8 of a quantity's scale, one by %.2g", far, largest)
	}
}

// digest adds all numbers and words of a value to a hash.
func digest(h hash.Hash, v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		bits := math.Float64bits(v.Float())
		if math.IsNaN(v.Float()) {
			bits = math.Float64bits(math.NaN()) // whatever its sign and payload
		}
		binary.Write(h, binary.LittleEndian, bits)
	case reflect.Struct:
		for i := range v.NumField() {
			digest(h, v.Field(i))
		}
	case reflect.Slice, reflect.Array:
		fmt.Fprint(h, v.Len(), ";")
		for i := range v.Len() {
			digest(h, v.Index(i))
		}
	case reflect.Pointer:
		fmt.Fprint(h, v.IsNil(), ";")
		if !v.IsNil() {
			digest(h, v.Elem())
		}
	case reflect.Bool, reflect.Int, reflect.String:
		fmt.Fprint(h, v.Interface(), ";")
	default:
		panic("a shot holds a " + v.Kind().String())
	}
}
