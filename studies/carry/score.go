package carry

// Score returns the score of a game by the rules of tenpin bowling, from the pins of each ball in order;
// missing balls count as 0. A game has ten frames of up to two balls. A strike, all ten pins with the first
// ball, counts ten plus the pins of the next two balls. A spare, all ten with both balls, counts ten plus
// those of the next ball. After a strike or spare in the tenth frame, two balls or one ball follow, which
// count once.
func Score(pins []int) int {
	at := func(i int) int {
		if i < len(pins) {
			return pins[i]
		}
		return 0
	}
	score, ball := 0, 0
	for range 10 {
		switch {
		case at(ball) == 10:
			score += 10 + at(ball+1) + at(ball+2)
			ball++
		case at(ball)+at(ball+1) == 10:
			score += 10 + at(ball+2)
			ball += 2
		default:
			score += at(ball) + at(ball+1)
			ball += 2
		}
	}
	return score
}
