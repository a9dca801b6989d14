package main

import (
	"fmt"
	"image/color"
	"strings"
)

// side is the drawing's width and height in its own units.
const side = 512

// kind is how the icon is going to be cut.
type kind int

const (
	plain    kind = iota // shown as it is, with our own round corners
	maskable             // cut to any shape by the system
)

// maskableScale keeps the drawing inside the circle of 40 % radius that is never cut off (W3C
// Web Application Manifest, "icon masks and safe zone"): the bead's ends are the farthest points.
const maskableScale = 0.80

type point struct{ x, y float64 }

// curve is a cubic Bézier from the end of the one before.
type curve struct{ c1, c2, end point }

// shape is one closed outline in one colour.
type shape struct {
	fill  color.NRGBA
	start point
	path  []curve
}

// The colours are the app's own: ground, bone white, and temper colours of steel.
var (
	ground = color.NRGBA{0x17, 0x12, 0x0f, 0xff}
	bone   = color.NRGBA{0xf3, 0xed, 0xe2, 0xff}
	straw  = color.NRGBA{0xe0, 0xb0, 0x4c, 0xff}
	bronze = color.NRGBA{0xa0, 0x62, 0x3a, 0xff}
	blue   = color.NRGBA{0x4a, 0x6f, 0xb8, 0xff}
)

// drawing lists the shapes from back to front.
func drawing(k kind) []shape {
	corner, scale := 96.0, 1.0
	if k == maskable {
		corner, scale = 0, maskableScale
	}
	shapes := []shape{box(ground, 0, 0, side, side, corner)}
	for _, s := range figure() {
		shapes = append(shapes, s.scaled(scale))
	}
	return shapes
}

func figure() []shape {
	return []shape{
		{blue, point{230, 136}, []curve{
			{point{130, 240}, point{180, 340}, point{256, 408}},
			{point{332, 340}, point{382, 240}, point{282, 136}},
			line(point{282, 136}, point{230, 136}),
		}},
		{bone, point{236, 136}, []curve{
			{point{220, 196}, point{240, 250}, point{256, 286}},
			{point{272, 250}, point{292, 196}, point{276, 136}},
			line(point{276, 136}, point{236, 136}),
		}},
		{bronze, point{216, 60}, []curve{
			line(point{216, 60}, point{296, 60}),
			line(point{296, 60}, point{284, 140}),
			line(point{284, 140}, point{228, 140}),
			line(point{228, 140}, point{216, 60}),
		}},
		box(straw, 84, 404, 428, 440, 18),
	}
}

// line is a straight line written as a curve.
func line(from, to point) curve { return curve{from, to, to} }

// box is a rectangle with round corners of radius r.
func box(fill color.NRGBA, x0, y0, x1, y1, r float64) shape {
	k := r * (1 - 0.5523) // control distance of a quarter circle: 4/3·tan(π/8)
	return shape{fill, point{x0 + r, y0}, []curve{
		line(point{x0 + r, y0}, point{x1 - r, y0}),
		{point{x1 - k, y0}, point{x1, y0 + k}, point{x1, y0 + r}},
		line(point{x1, y0 + r}, point{x1, y1 - r}),
		{point{x1, y1 - k}, point{x1 - k, y1}, point{x1 - r, y1}},
		line(point{x1 - r, y1}, point{x0 + r, y1}),
		{point{x0 + k, y1}, point{x0, y1 - k}, point{x0, y1 - r}},
		line(point{x0, y1 - r}, point{x0, y0 + r}),
		{point{x0, y0 + k}, point{x0 + k, y0}, point{x0 + r, y0}},
	}}
}

// scaled shrinks a shape towards the middle.
func (s shape) scaled(f float64) shape {
	at := func(p point) point {
		return point{side/2 + (p.x-side/2)*f, side/2 + (p.y-side/2)*f}
	}
	out := shape{fill: s.fill, start: at(s.start)}
	for _, c := range s.path {
		out.path = append(out.path, curve{at(c.c1), at(c.c2), at(c.end)})
	}
	return out
}

// svg writes the shapes as a picture without fixed size.
func svg(shapes []shape) string {
	var b strings.Builder
	fmt.Fprintf(&b, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\">\n", side, side)
	for _, s := range shapes {
		fmt.Fprintf(&b, "<path fill=\"#%02x%02x%02x\" d=\"M%g %g", s.fill.R, s.fill.G, s.fill.B, s.start.x, s.start.y)
		for _, c := range s.path {
			fmt.Fprintf(&b, "C%g %g %g %g %g %g", c.c1.x, c.c1.y, c.c2.x, c.c2.y, c.end.x, c.end.y)
		}
		b.WriteString("z\"/>\n")
	}
	b.WriteString("</svg>\n")
	return b.String()
}
