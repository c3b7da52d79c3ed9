package page

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"

	"lanesim/internal/portable"
	"lanesim/internal/theme"
)

// The icon: a path over the lane with a hook, and the ball at its end. Lengths are shares of
// its side.
var iconPath = [...][2]float64{{0.3, 0.92}, {0.62, 0.5}, {0.4, 0.2}} // of a quadratic curve: start, control, end

const (
	iconWidth  = 0.07 // of the line
	iconRadius = 0.13 // of the ball
)

// iconSVG returns the icon as SVG.
func iconSVG() string {
	p := iconPath
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"><rect width="1" height="1" rx=".18" fill="%s"/>`+
		`<path d="M%g %gQ%g %g %g %g" fill="none" stroke="%s" stroke-width="%g" stroke-linecap="round"/><circle cx="%g" cy="%g" r="%g" fill="%s"/></svg>`,
		theme.Hex(theme.IconGround), p[0][0], p[0][1], p[1][0], p[1][1], p[2][0], p[2][1], theme.Hex(theme.IconLine), iconWidth, p[2][0], p[2][1], iconRadius, theme.Hex(theme.IconBall))
}

// Icon returns the icon as a PNG with a side in pixels.
func Icon(size int) ([]byte, error) {
	m := image.NewNRGBA(image.Rect(0, 0, size, size))
	const pieces = 60
	for y := range size {
		for x := range size {
			px, py := (float64(x)+0.5)/float64(size), (float64(y)+0.5)/float64(size)
			near := math.Inf(1)
			for k := range pieces + 1 {
				t := float64(k) / pieces
				a, b, c := (1-t)*(1-t), 2*t*(1-t), t*t
				near = min(near, portable.Hypot(px-a*iconPath[0][0]-b*iconPath[1][0]-c*iconPath[2][0], py-a*iconPath[0][1]-b*iconPath[1][1]-c*iconPath[2][1]))
			}
			ball := portable.Hypot(px-iconPath[2][0], py-iconPath[2][1]) - iconRadius
			pixel := float64(size)
			shade := theme.Blend(theme.IconGround, theme.IconLine, 0.5-(near-iconWidth/2)*pixel)
			m.SetNRGBA(x, y, theme.Blend(shade, theme.IconBall, 0.5-ball*pixel))
		}
	}
	var b bytes.Buffer
	err := png.Encode(&b, m)
	return b.Bytes(), err
}
