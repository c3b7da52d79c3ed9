// Package measured reports what was measured of deliveries: a release with its
// uncertainties, friction that was fitted to tracked balls, and tracks laid over shots.
package measured
