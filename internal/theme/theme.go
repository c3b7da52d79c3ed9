// Package theme has the look of pictures, handouts and the page: colours by purpose, and
// the colours, dashes and letters of the shots on one lane. It has them as Go values, as
// custom properties of a style sheet and as TypeScript.
package theme

import "image/color"

// Shots is the number of shots that a panel distinguishes, by colour, dash and letter:
// colour alone never carries a meaning.
const Shots = 4

// Dashes are the lengths on and off along the paths of shots, in widths of the path; a
// full line has none.
var Dashes = [Shots][]float64{{}, {3.2, 1.4}, {1.1, 1.1}, {4.5, 1, 1.1, 1}}

// Letters name shots.
var Letters = [Shots]string{"A", "B", "C", "D"}

// Colours of the palette for the colour-blind by Okabe and Ito (Color Universal Design, 2008).
var (
	Black       = rgb(0x000000)
	Orange      = rgb(0xe69f00)
	SkyBlue     = rgb(0x56b4e9)
	BluishGreen = rgb(0x009e73)
	Blue        = rgb(0x0072b2)
	Vermillion  = rgb(0xd55e00)
)

// Colours are the colours of one colour scheme, by purpose. Those for type have a contrast
// of 4.5 or more with Ground, Paper and Faint, the paths of 3 with Paper, by WCAG 2.
type Colours struct {
	Ground color.NRGBA // behind what lies on paper
	Paper  color.NRGBA // lane, pictures, panels
	Ink    color.NRGBA // type and frames
	Soft   color.NRGBA // type of axes and notes
	Line   color.NRGBA // rims of controls, rules of tables
	Faint  color.NRGBA // quiet fills and fine rules
	Grid   color.NRGBA // of plots
	Gutter color.NRGBA
	Casing color.NRGBA // on both sides of a path, separates it from the oil
	Pocket color.NRGBA // over the boards of the pocket

	// Oil has the ends of the colour ramp for oil: one quiet blue-grey, light enough at its
	// full end for dark type on it, in colour and in grey. Dry boards have Paper's colour.
	Oil [2]color.NRGBA

	Paths [Shots]color.NRGBA // of shots
	AInk  color.NRGBA        // type for the first shot, and links
	BInk  color.NRGBA        // type for the second shot

	Good, Bad, Notable color.NRGBA // type of verdicts

	Ball [2]color.NRGBA // lit and shaded
	Hole color.NRGBA    // in a ball
	Pin  color.NRGBA
}

// The colours on a light screen, on a dark one, and of type and rules on paper.
var (
	Light = Colours{
		Ground: rgb(0xf4f5f6), Paper: rgb(0xffffff), Ink: rgb(0x22262b), Soft: rgb(0x555c64),
		Line: rgb(0xc9ced4), Faint: rgb(0xe6e9ec), Grid: rgb(0xd9dde1), Gutter: rgb(0xe9eaec),
		Casing: clear(0xffffff, 0xd0), Pocket: clear(0x009e73, 0x33), Oil: [2]color.NRGBA{rgb(0xecf2f6), rgb(0x86a3ba)},
		Paths: [Shots]color.NRGBA{Blue, Vermillion, Black, BluishGreen}, AInk: rgb(0x005f96), BInk: rgb(0xa34600),
		Good: rgb(0x00633f), Bad: rgb(0xa33100), Notable: rgb(0x7a4b00),
		Ball: [2]color.NRGBA{rgb(0xffffff), rgb(0xc6ccd3)}, Hole: rgb(0x22262b), Pin: rgb(0xffffff),
	}
	Dark = Colours{
		Ground: rgb(0x0f1114), Paper: rgb(0x16191d), Ink: rgb(0xeef0f2), Soft: rgb(0xaab2bb),
		Line: rgb(0x4a525c), Faint: rgb(0x262b31), Grid: rgb(0x343a42), Gutter: rgb(0x2a2f36),
		Casing: clear(0x101216, 0xd0), Pocket: clear(0x009e73, 0x59), Oil: [2]color.NRGBA{rgb(0x1c232a), rgb(0x466075)},
		Paths: [Shots]color.NRGBA{SkyBlue, Orange, rgb(0xeef0f2), BluishGreen}, AInk: rgb(0x7cc5ef), BInk: rgb(0xf0b53a),
		Good: rgb(0x6fd6a8), Bad: rgb(0xff9d73), Notable: rgb(0xf0c36a),
		Ball: [2]color.NRGBA{rgb(0x4a525c), rgb(0x23282e)}, Hole: rgb(0x0b0d0f), Pin: rgb(0xe6e8ea),
	}
	Print = printed()
)

func printed() Colours {
	c := Light
	c.Ground, c.Ink, c.Soft, c.Line, c.Faint = c.Paper, Black, rgb(0x444444), rgb(0x999999), rgb(0xdddddd)
	c.Good, c.Bad, c.Notable = Black, Black, Black
	return c
}

// Blend returns the colour at a share, from 0 to 1, of the way between two opaque colours.
func Blend(from, to color.NRGBA, share float64) color.NRGBA {
	share = max(0, min(1, share))
	mix := func(a, b uint8) uint8 { return uint8(float64(a) + share*(float64(b)-float64(a)) + 0.5) }
	return color.NRGBA{mix(from.R, to.R), mix(from.G, to.G), mix(from.B, to.B), 0xff}
}

func rgb(hex uint32) color.NRGBA { return clear(hex, 0xff) }

func clear(hex uint32, opacity uint8) color.NRGBA {
	return color.NRGBA{uint8(hex >> 16), uint8(hex >> 8), uint8(hex), opacity}
}
