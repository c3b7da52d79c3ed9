package main

import (
	"fmt"
	"slices"

	"lanesim/internal/input"
	"lanesim/patterns"
	"lanesim/scenario"

	"github.com/spf13/cobra"
)

// patternReading has the flags for measuring a pattern.
type patternReading struct {
	inside, outside string
	at              []string
	smooth          float64
}

func (f *patternReading) addSmooth(c *cobra.Command) {
	numberVar(c.Flags(), &f.smooth, "smooth", 0, "smooth the film across the lane first: the `boards` at which triangular weights reach 0; the volume is kept")
}

func (f *patternReading) add(c *cobra.Command) {
	usual := patterns.DefaultBoardSets()
	s := c.Flags()
	s.StringVar(&f.inside, "inside", "", "inside `boards` of the ratio, from the edge of each side (default "+boardsText(usual.Inside)+", or the file's)")
	s.StringVar(&f.outside, "outside", "", "outside `boards` of the ratio (default "+boardsText(usual.Outside)+", or the file's)")
	s.StringSliceVar(&f.at, "at", nil, "`distances` at which to read the film, besides the end of the oil (default 8 ft,15 ft,22 ft)")
	f.addSmooth(c)
}

// sets returns the board sets of the file with those of the flags.
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

// distances returns the distances in m at which the film is read.
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
			return nil, input.Wrong("--at: %s lies before the foul line or is given twice", text)
		}
		list = append(list, d)
	}
	return list, nil
}

// boardsText writes a run of boards as in a flag.
func boardsText(r patterns.BoardRange) string { return fmt.Sprintf("%d-%d", r.From, r.To) }

// smoothed returns a pattern smoothed as a grid, or unchanged without --smooth.
func (f *patternReading) smoothed(p scenario.Pattern) (scenario.Pattern, error) {
	if f.smooth == 0 {
		return p, nil
	}
	return asGrid(p, func(grid *patterns.Grid) (err error) {
		if *grid, err = grid.Smooth(f.smooth); err != nil {
			return input.Wrong("--smooth: %w", err)
		}
		return nil
	})
}

// asGrid is a pattern given by its film at places, which is changed before.
func asGrid(p scenario.Pattern, change func(*patterns.Grid) error) (scenario.Pattern, error) {
	grid, err := p.Table()
	if err == nil {
		err = change(&grid)
	}
	if err != nil {
		return p, err
	}
	made, err := scenario.GridPattern(grid)
	if err != nil {
		return p, err
	}
	return *made, nil
}
