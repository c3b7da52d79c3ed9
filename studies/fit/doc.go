// Package fit finds the friction of a lane, or of a cover, from tracked balls.
//
// A [Study] adjusts settings and releases until shots pass where the tracks say; its
// [Result] has the settings with their errors. [ReadTracks] reads tracks, and
// [OverTrack] lays one over a shot.
package fit
