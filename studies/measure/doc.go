// Package measure computes a release from measurements with a phone and a tape measure: video frames for the
// rev rate, times between marks for the speed, a photo for the axis rotation, an oil ring for the positive
// axis point and the tilt.
//
// [Study] combines all measurements; the methods of [FrameCount], [LaneTime] and [Photo] evaluate one each.
// Each [Quantity] has its standard uncertainty.
package measure
