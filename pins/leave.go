package pins

import (
	"fmt"
	"math/bits"
	"strconv"
	"strings"
)

// Leave is a set of standing pins: bit n−1 is pin n. Racks are computed for a
// right-hander; Mirror gives the leave of a left-hander, whose pins have the same
// numbers.
type Leave uint16

// All is the full rack.
const All Leave = 1<<Count - 1

// Pins returns the leave of pins with these numbers, 1 to 10.
func Pins(numbers ...int) Leave {
	var l Leave
	for _, n := range numbers {
		l = l.With(n)
	}
	return l
}

// Has reports whether pin n stands.
func (l Leave) Has(n int) bool { return l>>(n-1)&1 == 1 }

// With returns the leave with pin n standing.
func (l Leave) With(n int) Leave { return l | 1<<(n-1) }

// Len returns how many pins stand.
func (l Leave) Len() int { return bits.OnesCount16(uint16(l)) }

// String returns the pins' numbers in order, "3-6-10", and "none" if none stands.
func (l Leave) String() string {
	if l == 0 {
		return "none"
	}
	var list []string
	for n := 1; n <= Count; n++ {
		if l.Has(n) {
			list = append(list, strconv.Itoa(n))
		}
	}
	return strings.Join(list, "-")
}

// ParseLeave reads pins' numbers separated by hyphens, in any order: "3-6-10".
func ParseLeave(text string) (Leave, error) {
	var l Leave
	for _, part := range strings.Split(text, "-") {
		n, err := strconv.Atoi(strings.TrimSpace(part))
		switch {
		case err != nil:
			return 0, fmt.Errorf("pins: %q in %q is not a number; write pins as 3-6-10", part, text)
		case n < 1 || n > Count:
			return 0, fmt.Errorf("pins: there is no pin %d in %q; pins are 1 to %d", n, text, Count)
		case l.Has(n):
			return 0, fmt.Errorf("pins: pin %d is written twice in %q", n, text)
		}
		l = l.With(n)
	}
	return l, nil
}

// mirrored is where each pin stands in the mirror image.
var mirrored = [Count + 1]int{0, 1, 3, 2, 6, 5, 4, 10, 9, 8, 7}

// Mirror returns the mirror image.
func (l Leave) Mirror() Leave {
	var m Leave
	for n := 1; n <= Count; n++ {
		if l.Has(n) {
			m = m.With(mirrored[n])
		}
	}
	return m
}

// column returns a pin's place across the deck, in half spacings from the middle, and its
// row from the front.
func column(n int) (across, row int) {
	for n > row+1 {
		n -= row + 1
		row++
	}
	return row - 2*(n-1), row
}

// Split reports whether the leave is a split by the trade's definition: the head pin is
// down and, of two or more standing pins, at least one is down between them, or directly
// ahead of two neighbours in a row.
//
// A pin is down between them if the leave consists of separate groups: two pins are in
// one group if they stand 12 in apart, or one straight behind the other with a row
// between (2-8 is no split).
func (l Leave) Split() bool {
	if l.Has(1) || l.Len() < 2 {
		return false
	}
	for a := 1; a <= Count; a++ {
		for b := a + 1; b <= Count; b++ {
			if ahead := aheadOf(a, b); ahead > 0 && l.Has(a) && l.Has(b) && !l.Has(ahead) {
				return true
			}
		}
	}
	// The group of the first standing pin.
	var group Leave
	for n := 1; n <= Count && group == 0; n++ {
		if l.Has(n) {
			group = group.With(n)
		}
	}
	for grown := true; grown; {
		grown = false
		for a := 1; a <= Count; a++ {
			for b := 1; b <= Count && group.Has(a); b++ {
				if l.Has(b) && !group.Has(b) && together(a, b) {
					group, grown = group.With(b), true
				}
			}
		}
	}
	return group != l
}

// together reports whether two standing pins a and b are in one group.
func together(a, b int) bool {
	ya, ra := column(a)
	yb, rb := column(b)
	across := max(ya-yb, yb-ya)
	switch rows := max(ra-rb, rb-ra); rows {
	case 0:
		return across == 2
	case 1:
		return across == 1
	case 2:
		return across == 0
	}
	return false
}

// aheadOf returns the pin directly ahead of two neighbours in a row, 0 for any other two
// pins.
func aheadOf(a, b int) int {
	ya, ra := column(a)
	yb, rb := column(b)
	if ra != rb || ya-yb != 2 && yb-ya != 2 {
		return 0
	}
	for n := 1; n <= Count; n++ {
		if y, r := column(n); r == ra-1 && 2*y == ya+yb {
			return n
		}
	}
	return 0
}

// names are the trade's names of leaves.
var names = map[Leave]string{
	Pins(7, 10): "bedposts", Pins(2, 4, 5, 8): "bucket", Pins(3, 5, 6, 9): "bucket", Pins(3, 10): "baby split", Pins(2, 7): "baby split",
	Pins(4, 6, 7, 10): "big four", Pins(5, 7, 10): "lily", Pins(4, 6, 7, 8, 10): "Greek church", Pins(4, 6, 7, 9, 10): "Greek church",
	Pins(1, 2, 4, 7): "picket fence", Pins(1, 3, 6, 10): "picket fence", Pins(1, 2, 4, 10): "washout", Pins(1, 2, 10): "washout",
	Pins(1, 3, 7): "washout", Pins(1, 3, 6, 7): "washout",
	Pins(2, 8): "double wood", Pins(3, 9): "double wood", Pins(1, 5): "double wood",
	Pins(10): "ten pin", Pins(7): "seven pin",
}

// Name returns the trade's name of the leave, or "" if it has none.
func (l Leave) Name() string { return names[l] }
