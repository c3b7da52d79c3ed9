package pins

import (
	"encoding/json"
	"os"
	"os/exec"
	"testing"

	"lanesim/units"
)

// Smooth blows on a free pin by another program, jolt-physics, a general-purpose engine
// of rigid bodies, within 0.2° and 0.3 %. LANESIM_JOLT names the directory in which it is
// installed; the script says how.
func TestSmoothBlowByAnotherEngine(t *testing.T) {
	directory := os.Getenv("LANESIM_JOLT")
	if directory == "" {
		t.Skip("LANESIM_JOLT is not set")
	}
	text, err := exec.Command("node", "../validation/jolt/blow.mjs", directory).Output()
	if err != nil {
		t.Fatal(err)
	}
	var blows []struct {
		Offset float64 `json:"offset_in"`
		Ball   float64 `json:"ball_deg"`
		Pin    float64 `json:"pin_deg"`
		Speed  float64 `json:"pin_mps"`
	}
	if err := json.Unmarshal(text, &blows); err != nil || len(blows) < 5 {
		t.Fatal(len(blows), err)
	}
	for _, b := range blows {
		s, _ := freeBlow(b.Offset*units.Inch, 0)
		s.blow(false)
		near(t, "ball, °", heading(s.bodies[ballIndex].v), b.Ball, 0.2)
		near(t, "pin, °", heading(s.bodies[0].v), b.Pin, 0.2)
		near(t, "pin, m/s", s.bodies[0].v.norm(), b.Speed, 0.003*b.Speed)
	}
}
