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

// Limits of the size of a handout's pictures in bytes, so that it is easy to send: up to mostTwice they are
// in two layouts, for paper and for phones, up to mostOnce in one. Further pictures are left out.
const (
	mostTwice = 90_000
	mostOnce  = 160_000
)

// handedPictures converts drawings to pictures of a handout.
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

// onePicture returns the picture of a single drawing.
func onePicture(draw func(plots.Size) (*plots.Drawing, error)) ([]handout.Picture, error) {
	return handedPictures(func(size plots.Size) ([]*plots.Drawing, error) {
		d, err := draw(size)
		return []*plots.Drawing{d}, err
	})
}

// pictureOf returns the picture of a report with a single drawing.
func pictureOf[T any](report T, draw func(T, plots.Size) (*plots.Drawing, error)) ([]handout.Picture, error) {
	return onePicture(func(size plots.Size) (*plots.Drawing, error) { return draw(report, size) })
}

// mostRolling is the largest number of balls that roll at once: as many as a picture has on one lane.
const mostRolling = plots.MaxCompared

// mostTurning is the largest number of balls that are shown turning: more would make the handout too large to
// send.
const mostTurning = 2

// playback returns a playback of the shots on one lane, at most the first mostRolling.
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

// handedInput is a part of deliveries' inputs: a lane, a ball, a bowler or settings.
type handedInput struct {
	kind, name, of string
	text           json.RawMessage
}

// gathered returns the inputs of deliveries, each lane, ball and bowler once. The function inputs returns
// those of one delivery as a scenario, and its ball and lane.
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

// inputsOf returns the inputs of one delivery with a line, and its ball and lane.
func inputsOf(s *scenario.Scenario, d scenario.Delivery, release physics.Release) (raw json.RawMessage, of string, err error) {
	raw, err = s.InputsFrom(d, release.Laydown, release.Angle)
	return raw, ofDelivery(s, d), err
}

// ofDelivery describes a delivery by ball and lane.
func ofDelivery(s *scenario.Scenario, d scenario.Delivery) string {
	return s.Balls[d.Ball].Name + " on " + s.Lanes[d.Lane].Name
}

// inputKinds are the parts of a delivery's inputs in their order.
var inputKinds = []string{"bowler", "ball", "lane", "settings", "rack"}

// addInputs adds the inputs of one delivery.
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

// sections returns the inputs, bowlers first. A bowler whose line depends on ball and lane is listed with
// each.
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

// handedOf returns the beginning of a handout of a study of players.
func handedOf(kind, title string, s *scenario.Scenario, players []runs.Player, cautions []string) (handout.Page, error) {
	inputs, err := gathered(players, func(_ int, t runs.Player) (json.RawMessage, string, error) { return inputsOf(s, t.At, t.Setup.Release) })
	return handout.Page{Kind: kind, Title: title, Cautions: cautions, Assumed: s.Defaults(), Inputs: inputs}, err
}
