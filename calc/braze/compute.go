package braze

import (
	"errors"
	"math"

	"torchside/calc/heat"
	"torchside/calc/units"
)

// Shade is the filter lens for the eyes.
type Shade struct {
	Minimum, Low, High int
	Source, Reason     string
}

const sourceShade = "29 CFR 1910.133(a)(5); recommended range 8 CCR 3382"

// shade is the row of the table. Braze welding has none of its own: the row of gas welding is taken, the darker one; it changes at 1/8 in
// and 1/2 in.
func (in Input) shade() Shade {
	const reason = "no row for braze welding: the darker row for gas welding is taken"
	switch t := float64(in.Thinner); {
	case in.Process == Solder:
		return Shade{2, 2, 2, sourceShade, ""}
	case in.Process == Braze:
		return Shade{3, 3, 4, sourceShade, ""}
	case t < 0.125*units.Inch*(1-1e-9):
		return Shade{4, 4, 5, sourceShade, reason}
	case t <= 0.5*units.Inch*(1+1e-9):
		return Shade{5, 5, 6, sourceShade, reason}
	}
	return Shade{6, 6, 8, sourceShade, reason}
}

// Result is the answer.
type Result struct {
	Notes []Note // what stops first
	Choice
	Filler Filler // the one the numbers are for: that asked for, else the best
	Flux   Flux
	// HeatTo is what the joint is brought to, K: where the filler is used, and not near where a part melts.
	HeatTo heat.Range
	// Gap is what the filler wants, m; the value is its middle. Of a braze weld all is 0.
	Gap           units.Band
	GapSource     string
	GapFromMemory bool
	Closes        float64      // how much the gap of a socket narrows or opens when hot, m
	Overlap       units.Length // taken; of a braze weld 0
	Strong        units.Length // overlap for a joint as strong as the parts; 0 for joints without
	Leg           units.Length // of a braze-welded fillet; else 0
	Flame         Flame
	Steps         []Step
	Shade         Shade
	Used          *Used // nil without the length of the seam
}

// Used is what all joints take.
type Used struct {
	Joint          float64    // volume of the joints as drawn, m³
	Volume         units.Band // of filler used, m³
	Mass           units.Band // likewise, kg
	Rod            units.Band // its length, m
	RodDiameter    units.Length
	Flux           units.Band // kg
	Source         string     // of filler
	FluxSource     string
	FluxFromMemory bool
}

// Compute answers a question. The error is a *Refusal or a *gas.RangeError, with the field as the command line writes it.
func Compute(in Input) (Result, error) {
	in = in.withDefaults()
	if err := in.check(); err != nil {
		return Result{}, err
	}
	choice, err := Choose(in.Process, in.Metal, in.Other)
	r := Result{Choice: choice}
	if err == nil || in.Filler != "" {
		if r.Filler, err = in.taken(choice, err); err != nil {
			return Result{}, err
		}
	} else {
		return Result{}, err
	}
	r.Flux = fluxFor(r.Filler, in.Metal, in.Other)
	r.HeatTo = in.heatTo(r.Filler)
	in.fits(&r)
	r.Flame, r.Shade = in.flame(r.Filler), in.shade()
	r.Steps = in.steps(r.Filler, r.Flux)
	if in.seam() > 0 {
		r.Used = in.used(r)
	}
	r.Notes = in.notes(r)
	return r, nil
}

// taken is the filler asked for, or the best.
func (in Input) taken(c Choice, err error) (Filler, error) {
	if in.Filler == "" {
		return c.Fillers[0], nil
	}
	f, ok := ByClass(in.Filler)
	if !ok {
		return f, &Refusal{Code: "unknown_filler", Field: "filler", Read: in.Filler, Allowed: "a class of the table, as BAg-7, RBCuZn-A, BCuP-5, BAlSi-4 or 95-5", Why: "no other is known here"}
	}
	if no := unfit(f, in.Process, in.Metal, in.Other); no != nil {
		return f, no
	}
	var none *Refusal
	if errors.As(err, &none) {
		return f, none
	}
	return f, nil
}

// heatTo is the range in which the filler is used, ended below where a part begins to melt.
func (in Input) heatTo(f Filler) heat.Range {
	r := f.Works()
	for _, m := range []Metal{in.Metal, in.Other} {
		if p, err := heat.PropertiesOf(m); err == nil {
			r.High = min(r.High, p.Melts.Low-meltMargin)
		}
	}
	return r
}

// fits fills gap, overlap and leg.
func (in Input) fits(r *Result) {
	if in.Process == BrazeWeld {
		if in.Joint != Butt {
			r.Leg = in.Leg
		}
		return
	}
	row := gapFor(r.Filler, in.Overlap)
	r.Gap, r.GapSource, r.GapFromMemory = row.band(), row.source, row.fromMemory
	r.Overlap, r.Closes = in.Overlap, in.closes(r.HeatTo.Low)
	if in.overlaps() {
		r.Strong = overlapRatio * in.Thinner
	}
}

// used works out rod and flux.
func (in Input) used(r Result) *Used {
	gap := r.Gap
	if g := float64(in.Gap); g > 0 {
		gap = units.Band{Value: g, Low: g, High: g}
	}
	u := &Used{RodDiameter: in.Rod, Source: "volume of the gap; losses: Copper Tube Handbook, table 14.11"}
	if in.Process == BrazeWeld {
		u.Source = "area of the weld × length; losses from memory"
	}
	u.Joint, u.Volume = in.volumes(gap)
	d := densities[r.Filler.Family]
	u.Mass = times(u.Volume, d.Low, (d.Low+d.High)/2, d.High)
	section := math.Pi / 4 * float64(in.Rod) * float64(in.Rod)
	u.Rod = times(u.Volume, 1/section, 1/section, 1/section)
	u.Flux, u.FluxSource, u.FluxFromMemory = in.fluxMass(r.Flux, u.Mass)
	return u
}
