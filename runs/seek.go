package runs

import (
	"lanesim/report"
	"lanesim/report/studied"
	"lanesim/scenario"
	"lanesim/studies"
	"lanesim/studies/seek"
	"lanesim/studies/sweep"
)

// SeekStudy is the study of a file of wishes, of its first delivery.
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

// Sought is what was found, with the values of the fields.
func Sought(s *scenario.Seek, found []seek.Found) studied.Seek {
	r := studied.Seek{Title: s.Title, Warnings: s.Warnings, Want: s.Want, Found: found, Foot: s.Base.Bowlers[0].FootToBall}
	for i := range s.Parameters {
		r.Varied = append(r.Varied, studied.SoughtField{Path: s.Parameters[i].Path, Unit: s.Parameters[i].Unit})
	}
	for _, f := range found {
		var values []report.Cell
		for i := range s.Parameters {
			values = append(values, s.Parameters[i].Value(f.At[i]))
		}
		r.Values = append(r.Values, values)
	}
	return r
}
