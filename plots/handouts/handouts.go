package handouts

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"html/template"
	"slices"
	"strings"

	"lanesim/lane"
	"lanesim/physics"
	"lanesim/plots"
	"lanesim/report/handout"
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

// pictureOf is the one drawing of a report.
func pictureOf[T any](report T, draw func(T, plots.Size) (*plots.Drawing, error)) ([]handout.Picture, error) {
	return onePicture(func(size plots.Size) (*plots.Drawing, error) { return draw(report, size) })
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
		b := handout.Ball{Name: cmp.Or(s.Name, "the ball"), Color: colors[i], Path: s.Shot.Path, Status: s.Shot.Status}
		if len(f.Series) <= mostTurning {
			b.Track = s.Shot.Track
		}
		p.Balls = append(p.Balls, b)
	}
	return &p, nil
}

// handedInput is a lane, a ball or a bowler of deliveries' inputs, or their settings.
type handedInput struct {
	kind, name, of string
	text           json.RawMessage
}

// gathered are the inputs of deliveries, each lane, ball and bowler once. inputs are those of
// one delivery, as a scenario has them, and of which ball on which lane it is.
func gathered[T any](deliveries []T, inputs func(i int, d T) (raw json.RawMessage, of string, err error)) ([]handout.Inputs, error) {
	var list []handedInput
	for i, d := range deliveries {
		raw, of, err := inputs(i, d)
		if err != nil {
			return nil, err
		}
		if list, err = addInputs(list, raw, of); err != nil {
			return nil, err
		}
	}
	return sections(list), nil
}

// inputsOf are the inputs of one delivery from a line, and what it is of.
func inputsOf(s *scenario.Scenario, d scenario.Delivery, release physics.Release) (raw json.RawMessage, of string, err error) {
	raw, err = s.InputsFrom(d, release.Laydown, release.Angle)
	return raw, ofDelivery(s, d), err
}

// ofDelivery says whose inputs these are.
func ofDelivery(s *scenario.Scenario, d scenario.Delivery) string {
	return s.Balls[d.Ball].Name + " on " + s.Lanes[d.Lane].Name
}

// inputKinds are the parts of a delivery's inputs, in their order.
var inputKinds = []string{"bowler", "ball", "lane", "settings", "rack"}

// addInputs adds the inputs of one delivery, which is of a ball on a lane.
func addInputs(list []handedInput, raw json.RawMessage, of string) ([]handedInput, error) {
	var parts map[string]json.RawMessage
	if err := json.Unmarshal(raw, &parts); err != nil {
		return nil, err
	}
	for _, kind := range inputKinds {
		text, has := parts[kind]
		if !has || slices.ContainsFunc(list, func(k handedInput) bool { return k.kind == kind && bytes.Equal(k.text, text) }) {
			continue
		}
		var named struct{ Name string }
		if err := json.Unmarshal(text, &named); err != nil {
			return nil, err
		}
		list = append(list, handedInput{kind, named.Name, of, text})
	}
	return list, nil
}

// sections are the inputs, bowlers first. A bowler whose line differs with the ball and
// the lane is there with each.
func sections(inputs []handedInput) []handout.Inputs {
	var list []handout.Inputs
	for _, kind := range inputKinds {
		for _, k := range inputs {
			if k.kind != kind {
				continue
			}
			heading := strings.ToUpper(kind[:1]) + kind[1:]
			if k.name != "" {
				heading += ": " + k.name
			}
			if slices.ContainsFunc(inputs, func(o handedInput) bool {
				return o.kind == kind && o.name == k.name && !bytes.Equal(o.text, k.text)
			}) {
				heading += ", " + k.of
			}
			list = append(list, handout.Inputs{Heading: heading, JSON: k.text})
		}
	}
	return list
}

// handedOf begins a handout of players' study.
func handedOf(kind, title string, s *scenario.Scenario, players []runs.Player, cautions []string) (handout.Page, error) {
	inputs, err := gathered(players, func(_ int, t runs.Player) (json.RawMessage, string, error) { return inputsOf(s, t.At, t.Setup.Release) })
	return handout.Page{Kind: kind, Title: title, Cautions: cautions, Assumed: s.Defaults(), Inputs: inputs}, err
}
