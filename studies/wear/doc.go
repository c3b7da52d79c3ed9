// Package wear says how a lane changes under the balls, and how long a line stays.
//
// A [Study] bowls sessions on one lane, each delivery on the oil that the last one
// left; a [Result] has them with the oil's balance. [Move] asks where to move on the
// worn lane. Intervals of shares take the deliveries of a session as independent, though
// they share its lane: their hits vary no more than independent ones.
package wear
