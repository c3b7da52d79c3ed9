package scenario

import (
	"errors"
	"testing"
)

// Reading any text gives either a scenario that can be thrown and written out or errors
// with places in the text.
func FuzzRead(f *testing.F) {
	for _, pattern := range []string{"testdata/bad/*", "testdata/good/*"} {
		for _, file := range testFiles(f, pattern) {
			f.Add(file.text, "ball.rg=2.5 in", file.text)
		}
	}
	f.Add([]byte(twoBalls), `balls."Pin. near".layout.pin_to_pap=3 in`, []byte("kind: grid"))
	f.Add([]byte(twoBalls), "lane.oil=p.csv", []byte("distance_ft,board,units\n8,2,10\n"))
	f.Add([]byte(twoBalls), "lane.oil=p.yaml", []byte("{kind: crown, length: 42 ft, volume: 27 mL, ratio: 1.5}"))
	f.Fuzz(func(t *testing.T, data []byte, set string, pattern []byte) {
		s, err := Read("scenario.yaml", data, func(string) ([]byte, error) { return pattern, nil }, []string{set})
		if err != nil {
			var problems Errors
			if !errors.As(err, &problems) || len(problems) == 0 {
				t.Fatalf("%T is not Errors", err)
			}
			checkPlaces(t, problems)
			return
		}
		list := deliveriesOf(t, s)
		for _, d := range list[:min(len(list), 3)] {
			text := inputsOf(t, s, d, s.Bowlers[d.Bowler].Release.Angle)
			mustRead(t, "inputs.json", text, nil)
		}
	})
}
