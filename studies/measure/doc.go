// Package measure works a release out of what can be measured with a phone and a tape:
// frames of a film for the rev rate, times between marks for the speed, a photo for the
// axis rotation, an oil ring for the positive axis point and the tilt.
//
// [Release] takes them together; the methods of [FrameCount], [LaneTime] and [Photo]
// one at a time. Each [Quantity] comes with its standard uncertainty.
package measure
