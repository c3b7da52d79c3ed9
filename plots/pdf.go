package plots

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"io"
	"strconv"
	"sync"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"
)

var fixPDF sync.Once

// WritePaper writes drawings as the pages of one PDF, each at its size, in grey,
// with text that can be selected. Equal drawings give equal bytes.
func WritePaper(w io.Writer, pages []*Drawing) error { return writePDF(w, pages, true) }

func writePDF(w io.Writer, pages []*Drawing, grey bool) error {
	// Whatever would differ from run to run is fixed: the date of writing, and the order of
	// the catalogue, which is that of a map.
	fixPDF.Do(func() {
		epoch := time.Date(2000, time.January, 1, 0, 0, 0, 0, time.UTC)
		fpdf.SetDefaultCreationDate(epoch)
		fpdf.SetDefaultModificationDate(epoch)
		fpdf.SetDefaultCatalogSort(true)
	})
	size := func(d *Drawing) fpdf.SizeType { return fpdf.SizeType{Wd: d.Width, Ht: d.Height} }
	p := &pdfPage{Fpdf: fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: size(pages[0])}), grey: grey, widths: map[int]bool{}}
	p.SetAutoPageBreak(false, 0)
	p.SetTitle(pages[0].title, true)
	p.AddUTF8FontFromBytes("sans", "", liberationsansregular.TTF)
	p.AddUTF8FontFromBytes("sans", "B", liberationsansbold.TTF)
	for _, d := range pages {
		p.AddPageFormat("P", size(d))
		for _, e := range d.elements {
			e.onPaper(p)
		}
	}
	return p.Output(w)
}

// pdfPage is a page of a PDF, in grey or in colour.
type pdfPage struct {
	*fpdf.Fpdf
	grey   bool
	widths map[int]bool // of its pictures
}

// ink sets a colour.
func (p *pdfPage) ink(set func(r, g, b int), c color.NRGBA) {
	if p.grey {
		g := grey(c)
		set(g, g, g)
		return
	}
	set(int(c.R), int(c.G), int(c.B))
	p.SetAlpha(float64(c.A)/0xff, "Normal")
}

// grey returns the luminance of a colour by the weights of ITU-R BT.601, on white.
func grey(c color.NRGBA) int {
	share := float64(c.A) / 255
	l := 0.299*float64(c.R) + 0.587*float64(c.G) + 0.114*float64(c.B)
	return int(share*l + (1-share)*255 + 0.5)
}

func (e lineElement) onPaper(p *pdfPage) {
	p.ink(p.SetDrawColor, e.stroke.color)
	p.SetLineWidth(e.stroke.width)
	p.SetDashPattern(append([]float64{}, e.stroke.dash...), 0)
	for i, q := range e.points {
		if i == 0 {
			p.MoveTo(q.x, q.y)
		} else {
			p.LineTo(q.x, q.y)
		}
	}
	p.DrawPath("D")
}

func (e areaElement) onPaper(p *pdfPage) {
	p.ink(p.SetFillColor, e.fill)
	var points []fpdf.PointType
	for _, q := range e.points {
		points = append(points, fpdf.PointType{X: q.x, Y: q.y})
	}
	p.Polygon(points, "F")
}

func (e imageElement) onPaper(p *pdfPage) {
	var file bytes.Buffer
	if err := png.Encode(&file, unlike(e.img, p.widths)); err != nil {
		p.SetError(err)
		return
	}
	p.SetAlpha(1, "Normal")
	name, kind := strconv.Itoa(len(p.widths)), fpdf.ImageOptions{ImageType: "PNG"}
	p.RegisterImageOptionsReader(name, kind, &file)
	p.ImageOptions(name, e.box.left, e.box.top, e.box.width(), e.box.height(), false, kind, 0, "")
}

func (e textElement) onPaper(p *pdfPage) {
	p.ink(p.SetTextColor, e.color)
	style := ""
	if e.letters.bold {
		style = "B"
	}
	p.SetFont("sans", style, e.letters.size)
	p.Text(e.left, e.baseline, e.text)
}

// unlike gives a picture a width of its own, by repeating each of its columns. The library
// sorts pictures by width alone and writes those of equal width in the order of a map,
// which differs from run to run.
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
