package runs

import (
	"math"

	"lanesim/physics"
	"lanesim/report"
	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/seek"
	"lanesim/studies/sweep"
	"lanesim/units"
)

// SeekStudy returns the study of a seek file, for its first delivery.
func SeekStudy(s *scenario.Seek) seek.Study {
	return seek.Study{
		Want: s.Want, Dimensions: s.Dimensions(), Settings: s.Base.Settings,
		Worker: func() func([]sweep.Coordinate) (studies.Setup, bool, error) {
			resolver := s.Resolver()
			return func(at []sweep.Coordinate) (studies.Setup, bool, error) {
				point, err := resolver.At(at)
				if err != nil {
					return studies.Setup{}, false, err
				}
				d, made := point.Deliveries[0], point.Scenario
				bowler := made.Bowlers[d.Bowler]
				return studies.Setup{Lane: made.Lanes[d.Lane], Ball: d.Prepared, Release: bowler.Release}, bowler.AimAtPocket, nil
			}
		},
	}
}

// ThrowSought throws the places found at four phases of the release, for a picture.
func ThrowSought(r *studied.Seek, s physics.Settings) error {
	const phases = 4
	thrower := physics.NewThrower()
	s.PathSpacing, s.ExchangeSpacing = units.Foot/2, -1
	r.Pocket, _ = s.PocketOf(r.Found[0].Setup.Release)
	for _, f := range r.Found {
		var shots []physics.Shot
		for k := range phases {
			release := f.Setup.Release
			release.Phase += 2 * math.Pi * float64(k) / phases
			shot, err := thrower.Throw(f.Setup.Lane, f.Setup.Ball, release, s)
			if err != nil {
				return err
			}
			shots = append(shots, shot)
		}
		r.Shots = append(r.Shots, shots)
	}
	return nil
}

// Sought returns the report of the places found, with the values of the fields.
func Sought(s *scenario.Seek, found []seek.Result) studied.Seek {
	r := studied.Seek{Title: s.Title, Warnings: s.Warnings, Want: s.Want, Found: found, Foot: s.Base.Bowlers[0].FootToBall}
	for i := range s.Parameters {
		r.Varied = append(r.Varied, studied.SoughtField{Path: s.Parameters[i].Path, Unit: s.Parameters[i].Unit})
	}
	for _, f := range found {
		values := make([]report.Cell, len(s.Parameters))
		for i := range s.Parameters {
			values[i] = s.Parameters[i].Value(f.At[i])
		}
		r.Values = append(r.Values, values)
	}
	return r
}
