package carry

import (
	"math/rand/v2"
	"testing"
)

// The rules of tenpin bowling, by games with well-known scores.
func TestScore(t *testing.T) {
	repeat := func(balls []int, times int, then ...int) []int {
		var all []int
		for range times {
			all = append(all, balls...)
		}
		return append(all, then...)
	}
	for _, c := range []struct {
		name  string
		balls []int
		want  int
	}{
		{"perfect", repeat([]int{10}, 12), 300},
		{"nine and a spare, always", repeat([]int{9, 1}, 10, 9), 190},
		{"five and a spare, always", repeat([]int{5, 5}, 10, 5), 150},
		{"nine and a miss, always", repeat([]int{9, 0}, 10), 90},
		{"strike and spare in turn", []int{10, 9, 1, 10, 9, 1, 10, 9, 1, 10, 9, 1, 10, 9, 1, 10}, 200},
		{"gutter balls", repeat([]int{0, 0}, 10), 0},
		{"a spare of ten pins", repeat([]int{0, 10}, 10, 10), 110},
		{"eleven strikes and nine", repeat([]int{10}, 11, 9), 299},
		{"open in the tenth", repeat([]int{10}, 9, 7, 2), 9*30 - 3 - 4 + 2},
		{"spare in the tenth", repeat([]int{9, 0}, 9, 8, 2, 10), 101},
	} {
		if got := Score(c.balls); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
	// Frame by frame, as on paper, for random games.
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		var balls, starts []int
		for frame := range 10 {
			starts = append(starts, len(balls))
			first := min(10, r.IntN(14))
			balls = append(balls, first)
			second := 0
			if first < 10 {
				second = r.IntN(11 - first)
				balls = append(balls, second)
			}
			if frame == 9 && first == 10 {
				next := r.IntN(11)
				balls = append(balls, next)
				if next == 10 {
					balls = append(balls, r.IntN(11))
				} else {
					balls = append(balls, r.IntN(11-next))
				}
			} else if frame == 9 && first+second == 10 {
				balls = append(balls, r.IntN(11))
			}
		}
		want := 0
		for frame, from := range starts {
			until := len(balls)
			switch {
			case frame == 9:
			case balls[from] == 10 || balls[from]+balls[from+1] == 10:
				until = from + 3
			default:
				until = from + 2
			}
			for _, b := range balls[from:min(until, len(balls))] {
				want += b
			}
		}
		if got := Score(balls); got != want {
			t.Fatalf("%v: %d, want %d", balls, got, want)
		}
	}
}
