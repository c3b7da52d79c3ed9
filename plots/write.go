package plots

import (
	"bytes"
	"fmt"
	"html"
	"io"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Formats lists the formats of drawings.
func Formats() []string { return []string{"svg", "png", "pdf"} }

// Write writes the drawing in a format, one of [Formats]; a leading dot and capitals do not
// matter, so that a file name's ending can be given. Equal drawings give equal bytes.
func (d *Drawing) Write(w io.Writer, format string) error {
	var out bytes.Buffer
	var err error
	switch strings.ToLower(strings.TrimPrefix(format, ".")) {
	case "svg":
		err = d.svg(&out)
	case "png":
		err = d.png(&out)
	case "pdf":
		err = writePDF(&out, []*Drawing{d}, false)
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
	areaElement{box{0, 0, d.Width, d.Height}.corners(), paper}.paint(c, d.Height)
	for _, e := range d.elements {
		e.paint(c, d.Height)
	}
}

func (d *Drawing) size() (w, h vg.Length) { return vg.Points(d.Width), vg.Points(d.Height) }

// svg writes text as text. It names a substitute typeface of the same widths and, for any
// other, gives the width to which each text is fitted. The picture of the oil may be
// stretched by a fraction of a pixel to fit its frame.
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
	// Screen readers read the title.
	const last = `xmlns:xlink="http://www.w3.org/1999/xlink">`
	s = strings.Replace(s, last, last+"\n<title>"+html.EscapeString(d.title)+"</title>", 1)
	_, err := io.WriteString(w, s)
	return err
}

// fixWidths adds to every text its width, in the order in which the texts were drawn.
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
