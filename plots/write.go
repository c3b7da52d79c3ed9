package plots

import (
	"bytes"
	"fmt"
	"html"
	"image"
	"io"
	"strings"
	"sync"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgpdf"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Formats lists the formats that a drawing can be written in.
func Formats() []string { return []string{"svg", "png", "pdf"} }

// Write writes the drawing in the given format, one of [Formats]; a leading
// dot and capitals do not matter, so that a file name's ending will do. Equal
// drawings give equal bytes.
func (d *Drawing) Write(w io.Writer, format string) error {
	var out bytes.Buffer
	var err error
	switch strings.ToLower(strings.TrimPrefix(format, ".")) {
	case "svg":
		err = d.svg(&out)
	case "png":
		err = d.png(&out)
	case "pdf":
		err = d.pdf(&out)
	default:
		return fmt.Errorf("plots: no format %q: use one of %s", format, strings.Join(Formats(), ", "))
	}
	if err != nil {
		return fmt.Errorf("plots: %w", err)
	}
	_, err = out.WriteTo(w)
	return err
}

func (d *Drawing) paint(c vg.Canvas) {
	d.paper().paint(c, d.Height)
	for _, e := range d.elements {
		e.paint(c, d.Height)
	}
}

func (d *Drawing) paper() element {
	return areaElement{box{0, 0, d.Width, d.Height}.corners(), paper}
}

func (d *Drawing) size() (w, h vg.Length) { return vg.Points(d.Width), vg.Points(d.Height) }

// svg writes text as text. A reader without the typeface is given one of the
// same widths and, for others, the width to fit each text to. The picture of the oil may be stretched by a
// fraction of a pixel to fit its frame.
func (d *Drawing) svg(w io.Writer) error {
	c := vgsvg.New(d.size())
	d.paint(c)
	var out bytes.Buffer
	if _, err := c.WriteTo(&out); err != nil {
		return err
	}
	s := d.fixWidths(out.String())
	s = strings.NewReplacer(
		"font-family:Liberation Sans;font-variant:normal;",
		"font-family:'Liberation Sans',Arial,Helvetica,sans-serif;",
		"data:image/jpg;", "data:image/png;",
		"<image ", `<image preserveAspectRatio="none" `,
	).Replace(s)
	// A title is what a screen reader says.
	const last = `xmlns:xlink="http://www.w3.org/1999/xlink">`
	s = strings.Replace(s, last, last+"\n<title>"+html.EscapeString(d.title)+"</title>", 1)
	_, err := io.WriteString(w, s)
	return err
}

// fixWidths adds its width to every text, in the order in which the texts were
// drawn.
func (d *Drawing) fixWidths(svg string) string {
	const start = "<text "
	parts := strings.Split(svg, start)
	out := parts[:1:1]
	for _, e := range d.elements {
		t, ok := e.(textElement)
		if !ok || len(out) == len(parts) {
			continue
		}
		fit := ""
		if w := t.letters.width(t.text); w > 0 {
			fit = fmt.Sprintf(`textLength="%.2f" lengthAdjust="spacingAndGlyphs" `, w)
		}
		out = append(out, fit+parts[len(out)])
	}
	return strings.Join(out, start)
}

func (d *Drawing) png(w io.Writer) error {
	width, height := d.size()
	c := vgimg.NewWith(vgimg.UseWH(width, height), vgimg.UseDPI(d.resolution))
	d.paint(c)
	_, err := vgimg.PngCanvas{Canvas: c}.WriteTo(w)
	return err
}

var fixPDF sync.Once

// setPDFDates fixes what would differ from run to run: the date in a file would be
// the time of writing, and the order of its catalogue that of a map.
func setPDFDates() {
	fixPDF.Do(func() {
		epoch := time.Date(2000, time.January, 1, 0, 0, 0, 0, time.UTC)
		fpdf.SetDefaultCreationDate(epoch)
		fpdf.SetDefaultModificationDate(epoch)
		fpdf.SetDefaultCatalogSort(true)
	})
}

// pdf writes letters as outlines: so any language can be drawn, and the font
// needs not be converted, for which the back end would use temporary files.
func (d *Drawing) pdf(w io.Writer) error {
	setPDFDates()
	c := vgpdf.New(d.size())
	d.paper().paint(c, d.Height)
	widths := map[int]bool{}
	for _, e := range d.elements {
		switch e := e.(type) {
		case textElement:
			if err := e.outline(c, d.Height); err != nil {
				return err
			}
		case imageElement:
			e.img = unlike(e.img, widths)
			e.paint(c, d.Height)
		default:
			e.paint(c, d.Height)
		}
	}
	_, err := c.WriteTo(w)
	return err
}

// unlike gives a picture a width of its own, by repeating each of its columns. The
// back end sorts pictures by their widths alone and writes those of one width in
// the order of a map, another every time.
func unlike(img image.Image, taken map[int]bool) image.Image {
	size := img.Bounds().Size()
	times := 1
	for taken[times*size.X] {
		times++
	}
	taken[times*size.X] = true
	if times == 1 {
		return img
	}
	wide := image.NewNRGBA(image.Rect(0, 0, times*size.X, size.Y))
	for x := range times * size.X {
		for y := range size.Y {
			wide.Set(x, y, img.At(img.Bounds().Min.X+x/times, img.Bounds().Min.Y+y))
		}
	}
	return wide
}

// outline fills the shapes of the text's letters.
func (e textElement) outline(c vg.Canvas, height float64) error {
	face := e.letters.face()
	var buf sfnt.Buffer
	// At as many pixels per em as the font has units, coordinates are the
	// font's own.
	em := fixed.I(int(face.Face.UnitsPerEm()))
	scale := e.letters.size / float64(em)
	left := e.left
	var path vg.Path
	var previous sfnt.GlyphIndex
	for i, r := range e.text {
		glyph, err := face.Face.GlyphIndex(&buf, r)
		if err != nil {
			return err
		}
		if i > 0 {
			if kern, err := face.Face.Kern(&buf, previous, glyph, em, 0); err == nil {
				left += float64(kern) * scale
			}
		}
		previous = glyph
		segments, err := face.Face.LoadGlyph(&buf, glyph, em, nil)
		if err != nil {
			return err
		}
		at := func(p fixed.Point26_6) vg.Point {
			return vg.Point{
				X: vg.Points(left + float64(p.X)*scale),
				Y: vg.Points(height - e.baseline - float64(p.Y)*scale),
			}
		}
		for _, s := range segments {
			switch s.Op {
			case sfnt.SegmentOpMoveTo:
				path.Move(at(s.Args[0]))
			case sfnt.SegmentOpLineTo:
				path.Line(at(s.Args[0]))
			case sfnt.SegmentOpQuadTo:
				path.QuadTo(at(s.Args[0]), at(s.Args[1]))
			case sfnt.SegmentOpCubeTo:
				path.CubeTo(at(s.Args[0]), at(s.Args[1]), at(s.Args[2]))
			}
		}
		advance, err := face.Face.GlyphAdvance(&buf, glyph, em, 0)
		if err != nil {
			return err
		}
		left += float64(advance) * scale
	}
	if len(path) == 0 {
		return nil
	}
	c.SetColor(e.color)
	c.Fill(path)
	return nil
}
