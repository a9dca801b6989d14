package journal

// Drawing are the parameters of a drawn picture of a bead on plate, for the sample journal: the page draws it, so that no
// picture has to be shipped. All lengths are shares of the picture's width.
type Drawing struct {
	Seed    int     `json:"seed"`    // of the small irregularities
	Width   float64 `json:"width"`   // of the bead
	Uneven  float64 `json:"uneven"`  // how much the width wanders, as a share of it
	Ripples int     `json:"ripples"` // count along the bead
	Round   float64 `json:"round"`   // how curved the ripples are, 0 straight to 1
	Pores   int     `json:"pores"`   // dark spots
	Under   float64 `json:"under"`   // length with undercut, as a share of the bead
	Back    bool    `json:"back,omitempty"`
}

// Point is a point of a drawing, x along the bead and y across it, both as shares of the picture's width.
type Point struct{ X, Y float64 }

// Outline is the upper and the lower edge of the bead in n steps. The same drawing gives the same outline everywhere.
func (d Drawing) Outline(n int) (upper, lower []Point) {
	if n < 1 {
		return nil, nil
	}
	const margin, middle = 0.06, 0.35 // of the plate shown around the bead; the picture is 10 wide and 7 high
	r := newRandom(uint64(d.Seed))
	drift := 0.0
	for i := range n + 1 {
		drift = 0.7*drift + 0.3*(2*r.float()-1)
		half := d.Width / 2 * (1 + d.Uneven*drift)
		x := margin + (1-2*margin)*float64(i)/float64(n)
		upper = append(upper, Point{x, middle - half})
		lower = append(lower, Point{x, middle + half})
	}
	return upper, lower
}

// Spots are the middles of the pores.
func (d Drawing) Spots() []Point {
	r := newRandom(uint64(d.Seed) + 1)
	var list []Point
	for range d.Pores {
		list = append(list, Point{0.1 + 0.8*r.float(), 0.35 + d.Width*0.7*(r.float()-0.5)})
	}
	return list
}

// random is a small generator of repeatable numbers (xorshift64*, Vigna 2016, from memory); it is no source of secrets.
type random struct{ state uint64 }

func newRandom(seed uint64) *random { return &random{state: seed*2862933555777941757 + 3037000493} }

func (r *random) next() uint64 {
	if r.state == 0 {
		r.state = 1 // zero would stay zero
	}
	r.state ^= r.state >> 12
	r.state ^= r.state << 25
	r.state ^= r.state >> 27
	return r.state * 2685821657736338717
}

// float is in [0, 1).
func (r *random) float() float64 { return float64(r.next()>>11) / (1 << 53) }

// intn is in [0, n).
func (r *random) intn(n int) int { return int(r.next() >> 33 % uint64(n)) }
