package plots

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html"
	"image"
	"image/color"
	"image/png"
	"math"
	"slices"
	"strconv"
	"strings"
)

// perPoint is the number of an inlined drawing's own units in a point: coordinates are
// whole numbers.
const perPoint = 10

// Inline returns the drawing as an svg element for a web page: no address, no id and no
// style sheet, so that any number of drawings can stand in one page, and a small
// fraction of what [Drawing.Write] needs. The title and the sentence under it are left
// out: they are [Drawing.Title] and [Drawing.Note], for the page to show as its own
// text. Equal drawings give equal bytes.
func (d *Drawing) Inline() (string, error) {
	var b strings.Builder
	top := math.Floor(d.headEnd)
	fmt.Fprintf(&b, `<svg viewBox="0 %d %d %d" role="img" aria-label="%s" font-family="'Liberation Sans',Arial,Helvetica,sans-serif" fill="none" stroke-linejoin="round">`,
		tenths(top), tenths(d.Width), tenths(d.Height-top), html.EscapeString(strings.TrimSpace(d.title+". "+d.note)))
	fmt.Fprintf(&b, `<path fill="#fff" d="M0 %dh%dv%dh-%dz"/>`, tenths(top), tenths(d.Width), tenths(d.Height-top), tenths(d.Width))
	rest := d.elements[d.headElements:]
	for i := 0; i < len(rest); i++ {
		switch e := rest[i].(type) {
		case lineElement:
			path := linePath(e.points)
			for ; i+1 < len(rest); i++ { // lines that look alike share an element
				next, ok := rest[i+1].(lineElement)
				if !ok || !e.stroke.like(next.stroke) {
					break
				}
				path += linePath(next.points)
			}
			fmt.Fprintf(&b, `<path stroke="%s"%s stroke-width="%d"%s d="%s"/>`,
				hex(e.stroke.color), opacity("stroke", e.stroke.color), tenths(e.stroke.width), dashes(e.stroke.dash), path)
		case areaElement:
			fmt.Fprintf(&b, `<path fill="%s"%s d="%sz"/>`, hex(e.fill), opacity("fill", e.fill), linePath(e.points))
		case textElement:
			b.WriteString(inlineText(e))
		case imageElement:
			var picture bytes.Buffer
			if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&picture, withPalette(e.img)); err != nil {
				return "", fmt.Errorf("plots: %w", err)
			}
			fmt.Fprintf(&b, `<image preserveAspectRatio="none" x="%d" y="%d" width="%d" height="%d" href="data:image/png;base64,%s"/>`,
				tenths(e.box.left), tenths(e.box.top), tenths(e.box.right-e.box.left), tenths(e.box.bottom-e.box.top),
				base64.StdEncoding.EncodeToString(picture.Bytes()))
		}
	}
	b.WriteString("</svg>")
	return b.String(), nil
}

// withPalette returns a picture with a palette if it has few colours: as a file it is a
// third as large.
func withPalette(img image.Image) image.Image {
	at := map[color.NRGBA]uint8{}
	few := image.NewPaletted(img.Bounds(), nil)
	const most = 256
	for y := img.Bounds().Min.Y; y < img.Bounds().Max.Y; y++ {
		for x := img.Bounds().Min.X; x < img.Bounds().Max.X; x++ {
			c := color.NRGBAModel.Convert(img.At(x, y)).(color.NRGBA)
			k, known := at[c]
			if !known {
				if len(few.Palette) == most {
					return img
				}
				k = uint8(len(few.Palette))
				at[c], few.Palette = k, append(few.Palette, c)
			}
			few.SetColorIndex(x, y, k)
		}
	}
	return few
}

// Title is the drawing's title.
func (d *Drawing) Title() string { return d.title }

// Note is the sentence under the title, which says what to look at.
func (d *Drawing) Note() string { return d.note }

// tenths are points in an inlined drawing's units.
func tenths(points float64) int { return int(math.Round(points * perPoint)) }

// like reports whether lines of two strokes can be drawn as one element: overlaps of
// transparent strokes would change.
func (s stroke) like(o stroke) bool {
	return s.color == o.color && s.color.A == 0xff && s.width == o.width && slices.Equal(s.dash, o.dash)
}

func inlineText(e textElement) string {
	if strings.TrimSpace(e.text) == "" {
		return ""
	}
	bold := ""
	if e.letters.bold {
		bold = ` font-weight="bold"`
	}
	return fmt.Sprintf(`<text x="%d" y="%d" font-size="%d"%s fill="%s" textLength="%d" lengthAdjust="spacingAndGlyphs">%s</text>`,
		tenths(e.left), tenths(e.baseline), tenths(e.letters.size), bold, hex(e.color), tenths(e.letters.width(e.text)), html.EscapeString(e.text))
}

func hex(c color.NRGBA) string {
	short := func(v uint8) bool { return v>>4 == v&0xf }
	if short(c.R) && short(c.G) && short(c.B) {
		return fmt.Sprintf("#%x%x%x", c.R&0xf, c.G&0xf, c.B&0xf)
	}
	return fmt.Sprintf("#%02x%02x%02x", c.R, c.G, c.B)
}

func opacity(of string, c color.NRGBA) string {
	if c.A == 0xff {
		return ""
	}
	return fmt.Sprintf(` %s-opacity="%s"`, of, strconv.FormatFloat(float64(c.A)/0xff, 'f', 2, 64))
}

func dashes(list []float64) string {
	if len(list) == 0 {
		return ""
	}
	words := make([]string, len(list))
	for i, v := range list {
		words[i] = strconv.Itoa(tenths(v))
	}
	return ` stroke-dasharray="` + strings.Join(words, " ") + `"`
}

// straightWithin is the deviation in points below which a bend is left out: less than can
// be seen.
const straightWithin = 0.2

// linePath writes a line in whole units, each point from the one before.
func linePath(points []point) string {
	var b []byte
	x, y := 0, 0
	for i, p := range straightened(points) {
		px, py := tenths(p.x), tenths(p.y)
		switch {
		case i == 0:
			b = strconv.AppendInt(append(b, 'M'), int64(px), 10)
			b = appendSpaced(b, py)
			b = append(b, 'l')
		case px == x && py == y && len(points) > 2:
			continue
		case b[len(b)-1] == 'l':
			b = strconv.AppendInt(b, int64(px-x), 10)
			b = appendSpaced(b, py-y)
		default:
			b = appendSpaced(b, px-x)
			b = appendSpaced(b, py-y)
		}
		x, y = px, py
	}
	return strings.TrimSuffix(string(b), "l")
}

// appendSpaced appends a number after another; a minus needs no space.
func appendSpaced(b []byte, v int) []byte {
	if v >= 0 {
		b = append(b, ' ')
	}
	return strconv.AppendInt(b, int64(v), 10)
}

// straightened leaves out points that lie nearly on the line between others (Douglas and
// Peucker, Cartographica 10, 112, 1973).
func straightened(points []point) []point {
	if len(points) < 3 {
		return points
	}
	a, z := points[0], points[len(points)-1]
	length := math.Hypot(z.x-a.x, z.y-a.y)
	farthest, at := 0.0, 0
	for i, p := range points[1 : len(points)-1] {
		off := math.Hypot(p.x-a.x, p.y-a.y) // of a line that comes back to where it began
		if length > 0 {
			along := max(0, min(1, ((p.x-a.x)*(z.x-a.x)+(p.y-a.y)*(z.y-a.y))/(length*length)))
			off = math.Hypot(p.x-a.x-along*(z.x-a.x), p.y-a.y-along*(z.y-a.y))
		}
		if off > farthest {
			farthest, at = off, i+1
		}
	}
	if farthest <= straightWithin {
		return []point{a, z}
	}
	first := straightened(points[:at+1])
	return append(first[:len(first)-1:len(first)-1], straightened(points[at:])...)
}
