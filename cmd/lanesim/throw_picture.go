package main

import (
	"bytes"

	"lanesim/internal/files"
	"lanesim/plots"
	"lanesim/plots/handouts"
	"lanesim/scenario"
	"lanesim/scenario/runs"

	"github.com/spf13/cobra"
)

// pictureFlags choose what a picture shows.
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

// drawShots draws the shots of each lane: the first picture has the path itself, the
// others a number.
func drawShots(path string, s *scenario.Scenario, shots []runs.Thrown, flags pictureFlags) ([]file, error) {
	var all []file
	for i := range s.Lanes {
		f := handouts.ShotsFigure(s, shots, i, flags.size())
		draw := plots.Combined
		switch flags.view {
		case viewLane:
			draw = plots.Lane
		case viewMotion:
			draw = plots.Motion
		}
		made, err := picture(files.Numbered(path, i), func() (*plots.Drawing, error) { return draw(f) })
		if err != nil {
			return nil, err
		}
		all = append(all, made)
	}
	return all, nil
}

// picture returns the file of a drawing, in the format of its name's ending.
func picture(path string, draw func() (*plots.Drawing, error)) (file, error) {
	d, err := draw()
	if err != nil {
		return file{}, err
	}
	var b bytes.Buffer
	err = d.Write(&b, files.Ending(path))
	return file{Path: path, Content: b.Bytes()}, err
}
