package carry

// Score returns the score of a game by the rules of tenpin: ten frames of two balls; a
// strike, all ten pins with the first ball, counts ten and the pins of the next two
// balls, a spare, all ten with both, ten and those of the next one; a strike or a spare
// in the tenth frame is followed by two balls or one, which count once. Pins are those of
// each ball, in order; what is missing counts nothing.
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
