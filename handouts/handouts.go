package handouts

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html/template"
	"regexp"
	"slices"
	"strings"

	"lanesim/handout"
	"lanesim/lane"
	"lanesim/physics"
	"lanesim/plots"
	"lanesim/scenario"
	"lanesim/scenario/runs"
)

// How large in bytes the pictures of a handout may be, so that it stays easy to send: in
// two layouts, for sheets and for phones; and in one, which phones get too. Of more
// pictures the last are left out.
const (
	mostTwice = 90_000
	mostOnce  = 160_000
)

// handedPictures are drawings as a handout has them.
func handedPictures(draw func(plots.Size) ([]*plots.Drawing, error)) ([]handout.Picture, error) {
	drawings, err := draw(plots.Sheet)
	if err != nil {
		return nil, err
	}
	list, size := make([]handout.Picture, len(drawings)), 0
	for i, d := range drawings {
		inline, err := d.Inline()
		if err != nil {
			return nil, err
		}
		if size += len(inline); i > 0 && size > mostOnce {
			list = list[:i]
			list[i-1].Caption += fmt.Sprintf(" To keep the page small, %d more of these pictures are left out.", len(drawings)-i)
			return list, nil
		}
		list[i] = handout.Picture{Wide: template.HTML(inline), Title: d.Title(), Caption: d.Note()}
	}
	if size > mostTwice {
		return list, nil
	}
	if drawings, err = draw(plots.Phone); err != nil {
		return nil, err
	}
	for i, d := range drawings {
		inline, err := d.Inline()
		if err != nil {
			return nil, err
		}
		list[i].Narrow = template.HTML(inline)
	}
	return list, nil
}

// onePicture are the drawings of which there is one.
func onePicture(draw func(plots.Size) (*plots.Drawing, error)) ([]handout.Picture, error) {
	return handedPictures(func(size plots.Size) ([]*plots.Drawing, error) {
		d, err := draw(size)
		return []*plots.Drawing{d}, err
	})
}

// mostRolling is how many balls roll at once: as many as share a lane in a picture.
const mostRolling = plots.MaxCompared

// mostTurning is how many balls may roll for each to be shown as it turns: more would not
// leave the handout easy to send.
const mostTurning = 2

// playback shows shots on one lane in motion; of many the first.
func playback(l lane.Lane, pocket physics.Window, series []plots.Series) (*handout.Playback, error) {
	f := plots.Figure{Lane: l, Series: series[:min(len(series), mostRolling)], Pocket: pocket}
	var stages []handout.Stage
	var colors []string
	pictures, err := handedPictures(func(size plots.Size) ([]*plots.Drawing, error) {
		f.Size = size
		d, err := plots.Lane(f)
		if err != nil {
			return nil, err
		}
		on, _ := d.Stage()
		colors = on.Colors
		stages = append(stages, handout.Stage{X: on.X, PerDistance: on.PerDistance, Y: on.Y, PerLateral: on.PerLateral})
		return []*plots.Drawing{d}, nil
	})
	if err != nil {
		return nil, err
	}
	who := "the ball"
	if len(f.Series) > 1 {
		who = "the balls"
	}
	p := handout.Playback{Picture: pictures[0], OnWide: stages[0], OnNarrow: stages[len(stages)-1]}
	p.Caption = "The lane from above. Play shows " + who + " in true time."
	if len(f.Series) <= mostTurning && f.Series[0].Shot.Track != nil {
		p.Caption += " Seen from behind, each ball turns as it does on the lane, with its track."
	}
	if len(series) > len(f.Series) {
		p.Caption += fmt.Sprintf(" These are the first %d of %d shots.", len(f.Series), len(series))
	}
	for i, s := range f.Series {
		name := s.Name
		if name == "" {
			name = "the ball"
		}
		b := handout.Ball{Name: name, Color: colors[i], Path: s.Shot.Path, Status: s.Shot.Status}
		if len(f.Series) <= mostTurning {
			b.Track = s.Shot.Track
		}
		p.Balls = append(p.Balls, b)
	}
	return &p, nil
}

// handedInputs gathers the inputs of deliveries, each lane, ball and bowler once.
type handedInputs struct{ list []handedInput }

type handedInput struct {
	kind, name, of string
	text           json.RawMessage
}

// add adds the inputs of one delivery, as a scenario has them.
func (h *handedInputs) add(s *scenario.Scenario, d scenario.Delivery, release physics.Release) error {
	raw, err := s.InputsFrom(d, release.Laydown, release.Angle)
	if err != nil {
		return err
	}
	return h.addJSON(raw, s.Balls[d.Ball].Name+" on "+s.Lanes[d.Lane].Name)
}

var launchAngle = regexp.MustCompile(`,\s*"angle":\s*"[^"]*"`)

// addUnaimed adds the inputs of a delivery whose line is found on each lane anew: without
// a launch angle.
func (h *handedInputs) addUnaimed(s *scenario.Scenario, d scenario.Delivery, release physics.Release) error {
	raw, err := s.InputsFrom(d, release.Laydown, release.Angle)
	if err != nil {
		return err
	}
	return h.addJSON(launchAngle.ReplaceAll(raw, nil), s.Balls[d.Ball].Name+" on "+s.Lanes[d.Lane].Name)
}

// addJSON adds the inputs of one delivery, which is of a ball on a lane.
func (h *handedInputs) addJSON(raw json.RawMessage, of string) error {
	var parts map[string]json.RawMessage
	if err := json.Unmarshal(raw, &parts); err != nil {
		return err
	}
	for _, kind := range []string{"bowler", "ball", "lane", "settings", "rack"} {
		text, has := parts[kind]
		if !has || slices.ContainsFunc(h.list, func(k handedInput) bool { return k.kind == kind && bytes.Equal(k.text, text) }) {
			continue
		}
		var named struct{ Name string }
		if err := json.Unmarshal(text, &named); err != nil {
			return err
		}
		h.list = append(h.list, handedInput{kind, named.Name, of, text})
	}
	return nil
}

// sections are the inputs, bowlers first. A bowler whose line differs with the ball and
// the lane is there with each.
func (h *handedInputs) sections() []handout.Inputs {
	var list []handout.Inputs
	for _, kind := range []string{"bowler", "ball", "lane", "settings", "rack"} {
		for i, k := range h.list {
			if k.kind != kind {
				continue
			}
			heading := strings.ToUpper(kind[:1]) + kind[1:]
			if k.name != "" {
				heading += ": " + k.name
			}
			if slices.ContainsFunc(h.list, func(o handedInput) bool {
				return o.kind == kind && o.name == k.name && !bytes.Equal(o.text, h.list[i].text)
			}) {
				heading += ", " + k.of
			}
			list = append(list, handout.Inputs{Heading: heading, JSON: k.text})
		}
	}
	return list
}

// inputsOfPlayers are those of the players of a scenario.
func inputsOfPlayers(s *scenario.Scenario, players []runs.Player) ([]handout.Inputs, error) {
	var h handedInputs
	for _, t := range players {
		if err := h.add(s, t.At, t.Setup.Release); err != nil {
			return nil, err
		}
	}
	return h.sections(), nil
}

// handedOf begins a handout of players' study.
func handedOf(kind, title string, s *scenario.Scenario, players []runs.Player, cautions []string) (handout.Page, error) {
	inputs, err := inputsOfPlayers(s, players)
	return handout.Page{Kind: kind, Title: title, Cautions: cautions, Assumed: s.Defaults(), Inputs: inputs}, err
}
