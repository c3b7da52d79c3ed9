package main

import (
	"fmt"
	"slices"

	"lanesim/internal/input"
	"lanesim/patterns"
	"lanesim/scenario"

	"github.com/spf13/cobra"
)

// patternReading are flags that say how a pattern is measured.
type patternReading struct {
	inside, outside string
	at              []string
	smooth          float64
}

func (f *patternReading) addSmooth(c *cobra.Command) {
	numberVar(c.Flags(), &f.smooth, "smooth", 0, "smooth the film across the lane first: the `boards` at which a tent-shaped weight ends; the volume stays")
}

func (f *patternReading) add(c *cobra.Command) {
	usual := patterns.DefaultBoardSets()
	s := c.Flags()
	s.StringVar(&f.inside, "inside", "", "inside `boards` of the ratio, from the edge of each side (default "+boardsText(usual.Inside)+", or the file's)")
	s.StringVar(&f.outside, "outside", "", "outside `boards` of the ratio (default "+boardsText(usual.Outside)+", or the file's)")
	s.StringSliceVar(&f.at, "at", nil, "`distances` at which to read the film (default 8 ft,15 ft,22 ft); the end of the oil comes on top")
	f.addSmooth(c)
}

// sets puts the flags' boards in place of those of the file.
func (f *patternReading) sets(usual patterns.BoardSets) (patterns.BoardSets, error) {
	if usual == (patterns.BoardSets{}) {
		usual = patterns.DefaultBoardSets()
	}
	for _, flag := range []struct {
		name, text string
		boards     *patterns.BoardRange
	}{{"inside", f.inside, &usual.Inside}, {"outside", f.outside, &usual.Outside}} {
		if flag.text == "" {
			continue
		}
		made, err := scenario.ParseBoards(flag.text)
		if err != nil {
			return usual, input.Wrong("--%s: %w", flag.name, err)
		}
		*flag.boards = made
	}
	return usual, nil
}

// distances returns those at which the film is read, in m.
func (f *patternReading) distances() ([]float64, error) {
	if len(f.at) == 0 {
		return patterns.ReadingDistances(), nil
	}
	var list []float64
	for _, text := range f.at {
		d, err := scenario.ParseLength(text)
		if err != nil {
			return nil, input.Wrong("--at: %w", err)
		}
		if d < 0 || slices.Contains(list, d) {
			return nil, input.Wrong("--at: %s lies before the foul line or is there twice", text)
		}
		list = append(list, d)
	}
	return list, nil
}

// boardsText writes a run of boards as flags take it.
func boardsText(r patterns.BoardRange) string { return fmt.Sprintf("%d-%d", r.From, r.To) }

// smoothed smooths a pattern if that is asked for. The result is a grid.
func (f *patternReading) smoothed(p scenario.Pattern) (scenario.Pattern, error) {
	if f.smooth == 0 {
		return p, nil
	}
	grid, err := p.Table()
	if err != nil {
		return p, err
	}
	if grid, err = grid.Smooth(f.smooth); err != nil {
		return p, input.Wrong("--smooth: %w", err)
	}
	made, err := scenario.GridPattern(grid)
	if err != nil {
		return p, err
	}
	return *made, nil
}
