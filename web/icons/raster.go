package main

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"slices"
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

// coverage is how much of each pixel lies inside the shape, by the even-odd rule: on each of the
// samples' rows, everything between an odd crossing of the outline and the next is inside.
func (s shape) coverage(size int) *image.Alpha {
	outline := s.flatten(float64(size) / side)
	mask := image.NewAlpha(image.Rect(0, 0, size, size))
	counts := make([]int, size)
	for y := range size {
		clear(counts)
		for i := range samples {
			crossings := crossings(outline, float64(y)+(float64(i)+0.5)/samples)
			for j := 0; j+1 < len(crossings); j += 2 {
				addSpan(counts, crossings[j], crossings[j+1])
			}
		}
		for x, n := range counts {
			mask.SetAlpha(x, y, color.Alpha{A: uint8(n * 255 / (samples * samples))})
		}
	}
	return mask
}

// addSpan counts for each pixel the samples of one row between from and to.
func addSpan(counts []int, from, to float64) {
	first := int(math.Ceil(from*samples - 0.5))
	for k := max(first, 0); k < len(counts)*samples && float64(k)+0.5 < to*samples; k++ {
		counts[k/samples]++
	}
}

// crossings are the places where the row at height y meets the outline, from left to right.
func crossings(polygon []point, y float64) []float64 {
	var xs []float64
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		if (p.y > y) != (q.y > y) {
			xs = append(xs, p.x+(y-p.y)*(q.x-p.x)/(q.y-p.y))
		}
	}
	slices.Sort(xs)
	return xs
}

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
