package heat

import (
	"math"

	"torchside/calc/gas"
	"torchside/calc/words"
)

// Range is a lowest and a highest value, in the unit of what it belongs to.
type Range struct{ Low, High float64 }

// Shape is the form of the piece.
type Shape string

// The shapes. A square bar is a flat one of equal sides.
const (
	Round Shape = "round" // Diameter
	Flat  Shape = "flat"  // Width, Height
	Tube  Shape = "tube"  // Diameter, Wall; still air inside, which takes no heat
	Plate Shape = "plate" // Thickness, Width; heated in a band over the whole width
)

// Shapes returns every shape in the order a list shows them.
func Shapes() []Shape { return []Shape{Round, Flat, Tube, Plate} }

// Piece is the bar or plate, in m. Only the sizes of its shape are read.
type Piece struct {
	Shape     Shape
	Diameter  float64 // round, tube
	Width     float64 // flat, plate
	Height    float64 // flat
	Thickness float64 // plate
	Wall      float64 // tube
	Length    float64 // along which the heat flows
}

// section is the cross section of a piece.
type section struct {
	area      float64 // m²
	perimeter float64 // of the outside, m
	height    float64 // of the surface, for convection, m
	path      float64 // from the heated surface to the middle of the metal, m
}

func (p Piece) section() section {
	d := p.Diameter
	switch p.Shape {
	case Round:
		return section{math.Pi / 4 * d * d, math.Pi * d, d, d / 2}
	case Tube:
		return section{math.Pi * (d - p.Wall) * p.Wall, math.Pi * d, d, p.Wall}
	case Plate:
		return section{p.Thickness * p.Width, 2 * (p.Thickness + p.Width), p.Thickness, p.Thickness / 2}
	}
	return section{p.Width * p.Height, 2 * (p.Width + p.Height), min(p.Width, p.Height), min(p.Width, p.Height) / 2}
}

// Limits of the sizes, m.
const (
	thinnest = 0.0005
	thickest = 0.3
	widest   = 3
	longest  = 12
)

const (
	whySize   = "torch work lies in this range"
	whyWall   = "the wall of a tube is at most half its diameter"
	whyLength = "bars and plates come up to this length"
)

// check tests the sizes that the shape needs and refuses those it does not have.
func (p Piece) check() error {
	type size struct {
		field     string
		value     float64
		low, high float64
		why       string
		needed    bool
	}
	is := func(shapes ...Shape) bool {
		for _, s := range shapes {
			if s == p.Shape {
				return true
			}
		}
		return false
	}
	if !is(Shapes()...) {
		return &WordError{"shape", string(p.Shape), joined(Shapes())}
	}
	for _, s := range []size{
		{"diameter_m", p.Diameter, thinnest, thickest, whySize, is(Round, Tube)},
		{"width_m", p.Width, thinnest, widest, whySize, is(Flat, Plate)},
		{"height_m", p.Height, thinnest, thickest, whySize, is(Flat)},
		{"thickness_m", p.Thickness, thinnest, thickest, whySize, is(Plate)},
		{"wall_m", p.Wall, 0.0002, p.Diameter / 2, whyWall, is(Tube)},
		{"length_m", p.Length, 0.01, longest, whyLength, true},
	} {
		switch {
		case s.needed:
			if err := gas.InRange(s.field, s.value, s.low, s.high, "m", s.why); err != nil {
				return err
			}
		case s.value != 0:
			return gas.InRange(s.field, s.value, 0, 0, "m", words.S("a %s has no such size; leave it out", string(p.Shape)))
		}
	}
	return nil
}
