package plots

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	"lanesim/physics"
)

func TestInlineHoldsWhatIsDrawn(t *testing.T) {
	f := Figure{Title: "Four shots", Lane: inventedLane(), Series: four()}
	for _, size := range []Size{Sheet, Phone} {
		f.Size = size
		d := drawn(t)(Combined(f))
		inline, err := d.Inline()
		if err != nil {
			t.Fatal(err)
		}
		again, err := d.Inline()
		if err != nil || again != inline {
			t.Error("the same drawing gives other bytes")
		}
		var written []string
		x := xml.NewDecoder(strings.NewReader(inline))
		for {
			token, err := x.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatal(err)
			}
			if text, ok := token.(xml.CharData); ok {
				written = append(written, string(text))
			}
			if e, ok := token.(xml.StartElement); ok {
				for _, a := range e.Attr {
					if a.Name.Local == "id" || a.Name.Local == "style" || strings.Contains(a.Value, "://") {
						t.Errorf("%s has %s=%.40q", e.Name.Local, a.Name.Local, a.Value)
					}
				}
			}
		}
		drawn := d.Texts()[len(d.Texts())-len(written):]
		if strings.Join(written, "\n") != strings.Join(drawn, "\n") {
			t.Errorf("texts differ:\n%q\n%q", written, drawn)
		}
		head := strings.Join(d.Texts()[:len(d.Texts())-len(written)], " ")
		if said := strings.Join(strings.Fields(d.Title()+" "+glued(d.Note())), " "); head != said && strings.ReplaceAll(head, noBreak, " ") != strings.ReplaceAll(said, noBreak, " ") {
			t.Errorf("left out %q, title and note are %q", head, said)
		}
		full := fileOf(t, d, "svg")
		if len(inline) > full.Len()/2 {
			t.Errorf("%d bytes inlined, %d as a file", len(inline), full.Len())
		}
		t.Logf("%d bytes inlined, %d as a file", len(inline), full.Len())
	}
}

func TestStageLiesUnderThePaths(t *testing.T) {
	f := Figure{Title: "Four shots", Lane: inventedLane(), Series: four()}
	d := drawn(t)(Lane(f))
	stage, ok := d.Stage()
	if !ok || len(stage.Colors) != len(f.Series) {
		t.Fatalf("stage %+v", stage)
	}
	v, err := newView(f)
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range f.Series {
		for _, at := range []physics.State{s.Shot.Path[0], s.Shot.Path[len(s.Shot.Path)-1]} {
			x, y := (stage.X+stage.PerDistance*at.Distance)/perPoint, (stage.Y+stage.PerLateral*at.Lateral)/perPoint
			near := math.Inf(1)
			for _, e := range d.elements {
				if line, ok := e.(lineElement); ok && line.stroke.color == v.measures.shotStroke(i).color {
					for _, p := range line.points {
						near = min(near, math.Hypot(p.x-x, p.y-y))
					}
				}
			}
			if near > closest {
				t.Errorf("shot %d at %.2f m is %.2f points off its path", i, at.Distance, near)
			}
		}
	}
}

func TestStraightenedStaysNear(t *testing.T) {
	var points []point
	for i := range 400 {
		a := float64(i) / 40
		points = append(points, point{30 * a, 20 * math.Sin(a)})
	}
	few := straightened(points)
	if len(few) > len(points)/4 || few[0] != points[0] || few[len(few)-1] != points[len(points)-1] {
		t.Errorf("%d of %d points are left", len(few), len(points))
	}
	for _, p := range points {
		near := math.Inf(1)
		for i := 1; i < len(few); i++ {
			a, z := few[i-1], few[i]
			along := max(0, min(1, ((p.x-a.x)*(z.x-a.x)+(p.y-a.y)*(z.y-a.y))/((z.x-a.x)*(z.x-a.x)+(z.y-a.y)*(z.y-a.y))))
			near = min(near, math.Hypot(p.x-a.x-along*(z.x-a.x), p.y-a.y-along*(z.y-a.y)))
		}
		if near > straightWithin {
			t.Fatalf("%v is %.3f off", p, near)
		}
	}
}
