package scenario

import (
	"os"
	"testing"

	"lanesim/pins"
)

const straightAtPins = "lane: {oil: dry}\nball: {differential: 0 in}\nbowler: {speed: 18 mph, rev_rate: 0 rpm, laydown: 20, aim: {pins: 10-6-3}}\n"

// Pins that the file does not mention have the defaults; a leave is read as written.
func TestRackHasItsDefaults(t *testing.T) {
	s := mustRead(t, "", []byte(straightAtPins), os.ReadFile)
	if got, want := s.Rack.WithDefaults(), (pins.Settings{}).WithDefaults(); got != want || !s.UsualRack() {
		t.Errorf("%+v, usual %v, want %+v", got, s.UsualRack(), want)
	}
	if b := s.Bowlers[0]; b.AimAtPins != pins.Pins(3, 6, 10) || b.AimAtPocket {
		t.Errorf("%+v", b)
	}
	s = mustRead(t, "", []byte(straightAtPins), os.ReadFile, "rack.spot_scatter=0 in", "rack.pin_weight=56 oz", "rack.floor_rebound=taken")
	if full := s.Rack.WithDefaults(); full.SpotScatter != 0 || full.Mass != (pins.Settings{}).WithDefaults().Mass || full.Rebound != pins.ReboundTaken || s.UsualRack() {
		t.Errorf("%+v", full)
	}
	if err := s.Rack.Validate(); err != nil {
		t.Error(err)
	}
}
