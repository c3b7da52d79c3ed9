// Package fit finds the friction of a lane, or of a cover, from tracked balls.
//
// A [Study] adjusts settings and releases until computed shots pass through the tracks; its [Result] has the
// settings with their errors. [OverTrack] compares a track with a shot without fitting.
package fit
