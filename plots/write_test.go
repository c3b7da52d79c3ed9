package plots

import (
	"bytes"
	"image"
	"image/color"
	"testing"
)

// Pictures of one width are written to a PDF in drawing order, so that equal drawings give
// equal bytes.
func TestPicturesOfOneWidthAreInOrder(t *testing.T) {
	d := Drawing{Width: 100, Height: 100}
	for i := range 6 {
		img := image.NewNRGBA(image.Rect(3, 2, 7, 5))
		for x := range 4 {
			for y := range 3 {
				img.SetNRGBA(3+x, 2+y, color.NRGBA{uint8(60 * x), uint8(80 * y), uint8(40 * i), 255})
			}
		}
		d.elements = append(d.elements, imageElement{box{float64(10 * i), 0, float64(10*i + 9), 50}, img})
	}
	var first []byte
	for range 30 { // an unordered writer would give one of 720 orders each time
		b := fileOf(t, &d, "pdf")
		if first == nil {
			first = b.Bytes()
		}
		if !bytes.Equal(b.Bytes(), first) {
			t.Fatal("the same drawing gives other bytes")
		}
	}
}

// A widened picture keeps its columns.
func TestWidenedPicturesKeepTheirColumns(t *testing.T) {
	img := image.NewNRGBA(image.Rect(1, 1, 4, 3))
	for i := range img.Pix {
		img.Pix[i] = uint8(7 * i)
	}
	wide := unlike(img, map[int]bool{3: true, 6: true})
	if wide.Bounds().Dx() != 9 || wide.Bounds().Dy() != 2 {
		t.Fatalf("is %v", wide.Bounds())
	}
	for x := range 9 {
		for y := range 2 {
			if got, want := wide.At(x, y), img.At(1+x/3, 1+y); got != want {
				t.Errorf("column %d, row %d is %v, want %v", x, y, got, want)
			}
		}
	}
}
