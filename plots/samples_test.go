package plots

import (
	"os"
	"path/filepath"
	"testing"
)

func figures() map[string]Figure {
	l := inventedLane()
	dry := inventedLane()
	dry.Oil = nil
	lost := tooWide()
	left := usual()
	left.hand = 1
	straight := straightBall()
	eleven := four()
	eleven = append(eleven, lost.series("Too far out"), straight.series("Straight"))
	eleven = append(eleven, four()...)
	eleven = append(eleven, usual().series("The last of a long row of names that go on and on for ever"))
	long := four()
	long[0].Name = "Medium revs · a ball with quite a long name, pin far"
	long[1].Name = "Medium revs · a ball with quite a long name, pin near"
	return map[string]Figure{
		"one":      {Title: "Flat forty-two, one ball", Lane: l, Series: []Series{usual().series("")}},
		"two":      {Title: "Two layouts on one ball", Lane: l, Series: four()[:2]},
		"three":    {Title: "Three balls", Lane: l, Series: four()[:3]},
		"four":     {Title: "Four balls", Lane: l, Series: four()},
		"long":     {Title: "A title that is long enough to need a second line on a sheet and a third one on a phone, surely", Lane: l, Series: long},
		"left":     {Title: "A left-hander", Lane: l, Series: []Series{left.series("Lefty")}},
		"mixed":    {Title: "Both hands", Lane: l, Series: []Series{usual().series("Right-hander"), left.series("Left-hander")}},
		"gutter":   {Title: "Lost in the gutter", Lane: l, Series: []Series{lost.series("Too far out")}},
		"gutter2":  {Title: "One lost in the gutter", Lane: l, Series: []Series{usual().series("Good"), lost.series("Too far out")}},
		"dry":      {Title: "A dry lane", Lane: dry, Series: []Series{usual().series("Dry")}},
		"straight": {Title: "A straight ball", Lane: l, Series: []Series{straight.series("Straight"), usual().series("Hook")}},
		"many":     {Title: "Eleven shots", Lane: l, Series: eleven},
		"oil":      {Title: "Oil alone", Lane: l},
	}
}

func TestSamples(t *testing.T) {
	dir := os.Getenv("PLOTS_SAMPLES")
	if dir == "" {
		t.Skip()
	}
	for name, f := range figures() {
		for suffix, size := range map[string]Size{"": Sheet, "-phone": Phone} {
			f.Size = size
			for kind, draw := range map[string]func(Figure) (*Drawing, error){"lane": Lane, "motion": Motion, "combined": Combined} {
				d, err := draw(f)
				if err != nil {
					t.Log(name, kind, err)
					continue
				}
				out, _ := os.Create(filepath.Join(dir, kind+"-"+name+suffix+".png"))
				d.Write(out, "png")
				out.Close()
			}
		}
	}
}
