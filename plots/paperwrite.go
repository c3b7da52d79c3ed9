package plots

import (
	"image/color"
	"io"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"codeberg.org/go-pdf/fpdf"
)

// WritePaper writes drawings as the pages of one PDF, each at its size, in grey,
// with text that can be selected. Equal drawings give equal bytes.
func WritePaper(w io.Writer, pages []*Drawing) error {
	setPDFDates()
	pdf := fpdf.NewCustom(&fpdf.InitType{OrientationStr: "P", UnitStr: "pt", Size: fpdf.SizeType{Wd: pages[0].Width, Ht: pages[0].Height}})
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetTitle(pages[0].title, true)
	pdf.AddUTF8FontFromBytes("sans", "", liberationsansregular.TTF)
	pdf.AddUTF8FontFromBytes("sans", "B", liberationsansbold.TTF)
	for _, d := range pages {
		pdf.AddPageFormat("P", fpdf.SizeType{Wd: d.Width, Ht: d.Height})
		for _, e := range d.elements {
			if p, ok := e.(paperElement); ok {
				p.onPaper(pdf)
			}
		}
	}
	return pdf.Output(w)
}

// paperElement is an element that can be written on paper: all but pictures.
type paperElement interface{ onPaper(*fpdf.Fpdf) }

// grey returns the luminance of a colour by the weights of ITU-R BT.601, on white.
func grey(c color.NRGBA) int {
	share := float64(c.A) / 255
	l := 0.299*float64(c.R) + 0.587*float64(c.G) + 0.114*float64(c.B)
	return int(share*l + (1-share)*255 + 0.5)
}

func (e lineElement) onPaper(pdf *fpdf.Fpdf) {
	g := grey(e.stroke.color)
	pdf.SetDrawColor(g, g, g)
	pdf.SetLineWidth(e.stroke.width)
	dash := e.stroke.dash
	if dash == nil {
		dash = []float64{}
	}
	pdf.SetDashPattern(dash, 0)
	for i, p := range e.points {
		if i == 0 {
			pdf.MoveTo(p.x, p.y)
		} else {
			pdf.LineTo(p.x, p.y)
		}
	}
	pdf.DrawPath("D")
}

func (e areaElement) onPaper(pdf *fpdf.Fpdf) {
	g := grey(e.fill)
	pdf.SetFillColor(g, g, g)
	var points []fpdf.PointType
	for _, p := range e.points {
		points = append(points, fpdf.PointType{X: p.x, Y: p.y})
	}
	pdf.Polygon(points, "F")
}

func (e textElement) onPaper(pdf *fpdf.Fpdf) {
	g := grey(e.color)
	pdf.SetTextColor(g, g, g)
	style := ""
	if e.letters.bold {
		style = "B"
	}
	pdf.SetFont("sans", style, e.letters.size)
	pdf.Text(e.left, e.baseline, e.text)
}
