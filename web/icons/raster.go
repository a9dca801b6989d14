package main

import (
	"image"
	"image/color"
	"image/draw"
)

const (
	samples = 4  // per pixel and direction, for smooth edges
	steps   = 32 // straight pieces per curve: below a tenth of a pixel off at 512
)

// raster draws the shapes into a square image of size pixels.
func raster(shapes []shape, size int) image.Image {
	img := image.NewNRGBA(image.Rect(0, 0, size, size))
	for _, s := range shapes {
		draw.DrawMask(img, img.Bounds(), image.NewUniform(s.fill), image.Point{}, s.coverage(size), image.Point{}, draw.Over)
	}
	return img
}

// coverage is how much of each pixel lies inside the shape.
func (s shape) coverage(size int) *image.Alpha {
	outline := s.flatten(float64(size) / side)
	mask := image.NewAlpha(image.Rect(0, 0, size, size))
	for y := range size {
		for x := range size {
			n := 0
			for i := range samples * samples {
				at := point{float64(x) + offset(i%samples), float64(y) + offset(i/samples)}
				if inside(outline, at) {
					n++
				}
			}
			mask.SetAlpha(x, y, color.Alpha{A: uint8(n * 255 / (samples * samples))})
		}
	}
	return mask
}

func offset(i int) float64 { return (float64(i) + 0.5) / samples }

// flatten turns the outline into a polygon in pixels.
func (s shape) flatten(scale float64) []point {
	var polygon []point
	from := s.start
	for _, c := range s.path {
		for i := 1; i <= steps; i++ {
			p := c.at(from, float64(i)/steps)
			polygon = append(polygon, point{p.x * scale, p.y * scale})
		}
		from = c.end
	}
	return polygon
}

// at is the point of the curve at parameter t (Bernstein form).
func (c curve) at(from point, t float64) point {
	u := 1 - t
	a, b, d, e := u*u*u, 3*u*u*t, 3*u*t*t, t*t*t
	return point{
		a*from.x + b*c.c1.x + d*c.c2.x + e*c.end.x,
		a*from.y + b*c.c1.y + d*c.c2.y + e*c.end.y,
	}
}

// inside counts the edges to the right of a point: an odd number means inside.
func inside(polygon []point, at point) bool {
	in := false
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		if (p.y > at.y) != (q.y > at.y) && at.x < p.x+(at.y-p.y)*(q.x-p.x)/(q.y-p.y) {
			in = !in
		}
	}
	return in
}
