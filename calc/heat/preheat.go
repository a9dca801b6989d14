package heat

import (
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// Steel is what a mill certificate says, in mass per cent.
type Steel struct {
	C, Mn, Si, Cr, Mo, V, Ni, Cu, B float64
}

// Equivalents are the carbon equivalents of a steel, in per cent.
type Equivalents struct {
	IIW float64 // IIW document IX-535-67; EN 1011-2
	D11 float64 // AWS D1.1 Annex: adds silicon over 6
	Pcm float64 // API 5L clause 6.1.3.1; for carbon up to about 0.12 %
}

// Equivalents works the carbon equivalents out.
func (s Steel) Equivalents() Equivalents {
	iiw := s.C + s.Mn/6 + (s.Cr+s.Mo+s.V)/5 + (s.Ni+s.Cu)/15
	return Equivalents{IIW: iiw, D11: iiw + s.Si/6,
		Pcm: s.C + s.Si/30 + s.Mn/20 + s.Cu/20 + s.Ni/60 + s.Cr/20 + s.Mo/15 + s.V/10 + 5*s.B}
}

// weldability bands of a shop guide for arc welding: the upper end of IIW, and the word.
var weldability = []struct {
	upTo float64
	word string
}{{0.35, "excellent"}, {0.40, "very good"}, {0.45, "good"}, {0.50, "fair"}}

// Weldability is the word of a shop guide for arc welding: a rough guide only.
func (e Equivalents) Weldability() string {
	for _, w := range weldability {
		if e.IIW <= w.upTo+1e-9 {
			return w.word
		}
	}
	return "poor"
}

// Preheat is the lowest temperature before and between passes.
type Preheat struct {
	Lowest     units.Temperature // preheat and interpass; 0 when none is asked for
	Source     string
	FromMemory bool
	Equivalent Equivalents
	Notes      []Note
}

// preheatRow is the lowest preheat up to a thickness, m and °C.
type preheatRow struct{ upTo, celsius float64 }

const sourceD11 = "AWS D1.1 preheat table as printed in TI 809-26 (1 March 2000), table 3-1"

// preheatOpen is category A, processes without low hydrogen: the safer one, as gas welding is not in the table.
var preheatOpen = []preheatRow{{0.01905, 0}, {0.0381, 66}, {0.0635, 107}, {math.Inf(1), 150}}

// stricter are the preheats that shops ask for by carbon equivalent. From memory: they only raise what the table asks.
var stricter = []struct{ above, celsius float64 }{{0.50, 200}, {0.45, 100}}

const (
	sourceStricter = "shop practice by carbon equivalent (from memory), stricter than " + sourceD11
	sourceIto      = "Ito and Bessyo, 1440 (Pcm + H/60 + t/600) − 392 with 5 ml of hydrogen in 100 g (from memory), stricter than " + sourceD11
	whyComposition = "per cent of mass in a steel"
)

// Preheat returns the lowest temperature before and between passes for a thickness in m. The table of a standard is the least; rules
// from memory only raise it. The error is a *gas.RangeError.
func (s Steel) Preheat(thickness units.Length) (Preheat, error) {
	if err := s.check(); err != nil {
		return Preheat{}, err
	}
	if err := gas.InRange("thickness_m", float64(thickness), thinnest, thickest, "m", whySize); err != nil {
		return Preheat{}, err
	}
	p := Preheat{Source: sourceD11, Equivalent: s.Equivalents()}
	least := 0.0
	for _, row := range preheatOpen {
		if float64(thickness) <= row.upTo {
			least = row.celsius
			break
		}
	}
	raise := func(celsius float64, source string) {
		if celsius > least {
			least, p.Source, p.FromMemory = celsius, source, true
		}
	}
	for _, r := range stricter {
		if p.Equivalent.IIW > r.above {
			raise(r.celsius, sourceStricter)
		}
	}
	if s.C <= 0.17 { // what the formula was made for
		raise(1440*(p.Equivalent.Pcm+5./60+float64(thickness)/0.6)-392, sourceIto)
	}
	if least > 20 {
		p.Lowest = units.Temperature(least + zeroCelsius)
	}
	p.Notes = append(p.Notes, noteGasWelding)
	if p.Equivalent.IIW > 0.45 {
		p.Notes = append(p.Notes, noteSlow)
	}
	return p, nil
}

var (
	noteGasWelding = Note{Code: "not_for_gas", Source: sourceD11,
		Text: "The table is for arc welding; a torch warms the joint by itself. Never weld steel that is wet or below 0 °C (32 °F)."}
	noteSlow = Note{Code: "cool_slowly", Source: commonPractice,
		Text: "This steel hardens: keep the preheat between passes and cover the work, so that it cools slowly."}
)

func (s Steel) check() error {
	for _, e := range []struct {
		field   string
		v, most float64
	}{{"c_percent", s.C, 2}, {"mn_percent", s.Mn, 15}, {"si_percent", s.Si, 5}, {"cr_percent", s.Cr, 15}, {"mo_percent", s.Mo, 5},
		{"v_percent", s.V, 2}, {"ni_percent", s.Ni, 15}, {"cu_percent", s.Cu, 5}, {"b_percent", s.B, 0.1}} {
		if err := gas.InRange(e.field, e.v, 0, e.most, "", whyComposition); err != nil {
			return err
		}
	}
	return nil
}
