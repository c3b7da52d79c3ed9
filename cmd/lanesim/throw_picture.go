package main

import (
	"bytes"
	"strings"

	"lanesim/files"
	"lanesim/plots"
	"lanesim/report"
	"lanesim/scenario"

	"github.com/spf13/cobra"
)

// pictureFlags say what a picture shows.
type pictureFlags struct {
	view  string
	phone bool
}

// The views of a picture of shots.
const (
	viewBoth   = "both"
	viewLane   = "lane"
	viewMotion = "motion"
)

func (f *pictureFlags) add(c *cobra.Command) {
	c.Flags().StringVar(&f.view, "view", viewBoth, "what `part` pictures show: lane, motion or both")
	complete(c, "view", viewLane, viewMotion, viewBoth)
	f.addPhone(c)
}

func (f *pictureFlags) addPhone(c *cobra.Command) {
	c.Flags().BoolVar(&f.phone, "phone", false, "lay pictures out for a phone's narrow screen")
}

func (f *pictureFlags) check() error {
	return oneOf("view", f.view, []string{viewLane, viewMotion, viewBoth})
}

func (f *pictureFlags) size() plots.Size {
	if f.phone {
		return plots.Phone
	}
	return plots.Sheet
}

// drawShots draws the shots of each lane, the first under the path itself and
// the others with their number.
func drawShots(path string, s *scenario.Scenario, shots []thrown, flags pictureFlags) ([]file, error) {
	var all []file
	for i := range s.Lanes {
		f := shotsFigure(s, shots, i, flags.size())
		draw := plots.Combined
		switch flags.view {
		case viewLane:
			draw = plots.Lane
		case viewMotion:
			draw = plots.Motion
		}
		d, err := draw(f)
		if err != nil {
			return nil, err
		}
		made, err := drawn(files.Numbered(path, i), d)
		if err != nil {
			return nil, err
		}
		all = append(all, made)
	}
	return all, nil
}

// shotsFigure has the shots of a lane.
func shotsFigure(s *scenario.Scenario, shots []thrown, i int, size plots.Size) plots.Figure {
	lane := s.Lanes[i]
	f := plots.Figure{Title: title(s), Lane: lane, Pocket: report.Pocket(s.Settings, s.Bowlers[0].Release), Size: size}
	if len(s.Lanes) > 1 {
		f.Title = strings.TrimPrefix(f.Title+": "+lane.Name, ": ")
	}
	for _, t := range shots {
		if t.Lane == i {
			f.Series = append(f.Series, plots.Series{Name: seriesName(s, t), Shot: t.made.Shot, Hand: t.made.Release.Hand, Line: t.made.LineText()})
		}
	}
	return f
}

// drawn makes a file of a drawing, in the format of its name's ending.
func drawn(path string, d *plots.Drawing) (file, error) {
	var b bytes.Buffer
	err := d.Write(&b, files.Ending(path))
	return file{Path: path, Content: b.Bytes()}, err
}

// picture makes a file of what is drawn.
func picture(path string, draw func() (*plots.Drawing, error)) ([]file, error) {
	d, err := draw()
	if err != nil {
		return nil, err
	}
	made, err := drawn(path, d)
	return []file{made}, err
}

// title is a scenario's title or, without one, what there is only one of.
func title(s *scenario.Scenario) string {
	if s.Title != "" {
		return s.Title
	}
	var names []string
	if len(s.Bowlers) == 1 {
		names = append(names, s.Bowlers[0].Name)
	}
	if len(s.Balls) == 1 {
		names = append(names, s.Balls[0].Name)
	}
	if len(s.Lanes) == 1 {
		names = append(names, s.Lanes[0].Name)
	}
	return strings.Join(names, ", ")
}

// seriesName tells a shot from the others on its lane.
func seriesName(s *scenario.Scenario, t thrown) string {
	var names []string
	if len(s.Bowlers) > 1 {
		names = append(names, t.made.Bowler)
	}
	if len(s.Balls) > 1 {
		names = append(names, t.made.Ball)
	}
	return strings.Join(names, ", ")
}
