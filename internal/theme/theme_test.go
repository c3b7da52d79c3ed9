package theme

import (
	"image/color"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// luminance is relative luminance by WCAG 2.2.
func luminance(c color.NRGBA) float64 {
	linear := func(v uint8) float64 {
		if s := float64(v) / 0xff; s > 0.04045 {
			return math.Pow((s+0.055)/1.055, 2.4)
		} else {
			return s / 12.92
		}
	}
	return 0.2126*linear(c.R) + 0.7152*linear(c.G) + 0.0722*linear(c.B)
}

func contrast(a, b color.NRGBA) float64 {
	x, y := luminance(a)+0.05, luminance(b)+0.05
	return max(x/y, y/x)
}

// Type is legible in sunlight, and paths are visible: contrasts of 4.5 and 3 (WCAG 2.2,
// 1.4.3 and 1.4.11).
func TestContrasts(t *testing.T) {
	for name, c := range map[string]Colours{"light": Light, "dark": Dark, "print": Print} {
		for i, ink := range []color.NRGBA{c.Ink, c.Soft, c.AInk, c.BInk, c.Good, c.Bad, c.Notable} {
			for k, ground := range []color.NRGBA{c.Ground, c.Paper, c.Faint} {
				if got := contrast(ink, ground); got < 4.5 {
					t.Errorf("%s: type %d on ground %d has a contrast of %.2f", name, i, k, got)
				}
			}
		}
		for i, path := range c.Paths {
			if got := contrast(path, c.Paper); got < 3 {
				t.Errorf("%s: path %d on paper has a contrast of %.2f", name, i, got)
			}
		}
		if got := contrast(c.Ink, c.Oil[1]); got < 4.5 {
			t.Errorf("%s: type on oil has a contrast of %.2f", name, got)
		}
	}
	if got := contrast(Black, Light.Paper); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white has a contrast of %v", got)
	}
}

// Colours are defined only here: no other source has one, except white and transparent
// shades of black and grey.
func TestColoursStandInOnePlace(t *testing.T) {
	written := regexp.MustCompile(`#([0-9a-fA-F]{8}|[0-9a-fA-F]{6})\b|RGBA\{0x|rgba?\([0-9]`)
	seen := map[string]int{}
	err := filepath.WalkDir("../..", func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if folder := entry.Name(); entry.IsDir() && slices.Contains([]string{".git", "dist", "docs", "testdata", "theme"}, folder) {
			return filepath.SkipDir
		}
		kind := filepath.Ext(name)
		if !slices.Contains([]string{".go", ".ts", ".js", ".css", ".html"}, kind) || strings.HasSuffix(name, "_test.go") || strings.HasPrefix(entry.Name(), "colours.") {
			return nil
		}
		text, err := os.ReadFile(name)
		seen[kind]++
		for _, found := range written.FindAll(text, -1) {
			t.Errorf("%s writes down %s", name, found)
		}
		return err
	})
	if err != nil || seen[".go"] < 300 || seen[".ts"] < 20 || seen[".css"] < 2 {
		t.Errorf("read %v, %v", seen, err)
	}
}

func TestStyleHasWhatASheetUses(t *testing.T) {
	style := Style("p { color: var(--ink); border-color: var(--b); background: var(--pocket) }")
	for property, times := range map[string]int{"--ink: #22262b;": 1, "--ink: #eef0f2;": 2, "--ink: #000000;": 1, "--b: #d55e00;": 2, "--pocket: #009e7333;": 2, "--soft": 0, "color-scheme: dark;": 2} {
		if got := strings.Count(style, property); got != times {
			t.Errorf("%s is there %d times, not %d:\n%s", property, got, times, style)
		}
	}
}

func TestBlend(t *testing.T) {
	for share, want := range map[float64]color.NRGBA{-1: Black, 0: Black, 0.5: rgb(0x808080), 2: Light.Paper} {
		if got := Blend(Black, Light.Paper, share); got != want {
			t.Errorf("%v of the way: %v", share, got)
		}
	}
}
