// Package wear finds how a lane changes under the balls, and how long a line stays playable.
//
// A [Study] plays sessions on one lane, each delivery on the oil that the previous ones left; a [Result] has
// the deliveries and the oil's balance. [Move] finds the best move on the worn lane, [Plan] moves and ball
// changes during a session. Intervals of shares treat the deliveries of a session as independent although
// they share its lane: their hits vary no more than independent ones.
package wear
