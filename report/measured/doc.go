// Package measured reports measurements of deliveries: a release with its uncertainties, friction fitted to
// tracked balls, and tracks compared with shots.
package measured
