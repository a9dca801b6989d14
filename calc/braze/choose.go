package braze

import (
	"slices"

	"torchside/calc/heat"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Choice is what can be used for a pair of metals, the best first. None of them holds cadmium.
type Choice struct {
	Fillers []Filler
	Why     string // of the order
	Source  string
	// Cadmium are classes of the same family that hold cadmium: never proposed.
	Cadmium []string
}

// Choose returns the fillers for a pair of metals; the error is a *Refusal where there is none.
func Choose(p Process, a, b Metal) (Choice, error) {
	order, why, source := proposed(p, a, b)
	c := Choice{Why: why, Source: source}
	var no *Refusal
	for _, class := range order {
		f, _ := ByClass(class)
		if refused := unfit(f, p, a, b); refused != nil {
			if no == nil {
				no = refused
			}
			continue
		}
		c.Fillers = append(c.Fillers, f)
	}
	if len(c.Fillers) == 0 {
		return c, no
	}
	for _, f := range fillers {
		if f.Cadmium && hasFamily(c.Fillers, f.Family) {
			c.Cadmium = append(c.Cadmium, f.Class)
		}
	}
	return c, nil
}

func hasFamily(list []Filler, family Family) bool {
	return slices.ContainsFunc(list, func(f Filler) bool { return f.Family == family })
}

const (
	sourceTube  = "Copper Tube Handbook, brazed joints"
	sourceThick = "NAVEDTRA 14119, braze welding"
)

// proposed are the classes worth trying, the best first, with the reason of the order.
func proposed(p Process, a, b Metal) (order []string, why, source string) {
	either := func(m Metal) bool { return a == m || b == m }
	both := func(m Metal) bool { return a == m && b == m }
	switch {
	case p == Solder:
		return []string{"95-5", "60-40", "50-50"}, "without lead first", commonly
	case p == BrazeWeld:
		return []string{"RBCuZn-A", "RBCuZn-C", "RBCuZn-D"}, "copper and zinc, 60 to 40, is strong while hot and stiffens at once: it can be built up", sourceThick
	case both(heat.Aluminium):
		return []string{"BAlSi-4", "BAlSi-5", "BAlSi-3"}, "what flows coolest first: the part melts soon after", sourceA58
	case both(heat.Copper):
		return []string{"BCuP-5", "BCuP-2", "BAg-7", "BAg-5"}, "copper to copper needs no flux with phosphorus in the rod", sourceA58
	case either(heat.StainlessSteel):
		return []string{"BAg-7", "BAg-5", "BAg-24", "BAg-4"}, "what flows coolest first", sourceA58
	case a == b && a != heat.Brass, !either(heat.Copper) && !either(heat.Brass) && !either(heat.Aluminium):
		return []string{"RBCuZn-A", "RBCuZn-C", "BAg-7", "BAg-5"}, "brass rod is the cheap one for steel; silver flows cooler", commonly
	}
	return []string{"BAg-7", "BAg-5", "BAg-20", "BCuP-5", "RBCuZn-A"}, "silver is what joins unlike metals", sourceTube
}

// meltMargin is how far below a part's melting the filler must begin to flow, K. A torch does not hold a part closer than that: common
// practice, from memory.
const meltMargin = 25

// unfit says why a filler must not be used for a pair of metals; nil when it may.
func unfit(f Filler, p Process, a, b Metal) *Refusal {
	for _, check := range []func(Filler, Process, Metal, Metal) *Refusal{unfitPair, unfitProcess, unfitMelting, unfitMetal} {
		if no := check(f, p, a, b); no != nil {
			return no
		}
	}
	return nil
}

// unfitPair refuses what no filler mends.
func unfitPair(_ Filler, p Process, a, b Metal) *Refusal {
	switch {
	case (a == heat.Aluminium) != (b == heat.Aluminium):
		return &Refusal{Code: "aluminium_to_other", Field: "other_metal", Read: words.S("%s to %s", a.Name(), b.Name()), Allowed: "aluminium to aluminium",
			Why: "aluminium makes a brittle layer with the other metal, and the joint snaps", Source: commonly, WaysOut: []string{"bolt or rivet them", "leave it to somebody with a filler made for the pair"}}
	case p != Solder && (a == heat.GalvanisedSteel || b == heat.GalvanisedSteel):
		return &Refusal{Code: "galvanised", Field: "metal", Read: "galvanised steel", Allowed: "steel with the zinc taken off",
			Why:    words.S("the zinc melts at %s, far below any brazing heat, and boils near %s: its fume makes ill, and the filler holds on zinc, not on the steel", celsius(419.5), celsius(907)),
			Source: "melting: CRC Handbook; boiling from memory; 29 CFR 1910.252(c)(6), from memory", WaysOut: []string{"take the zinc off both sides well beyond the joint and choose mild steel", "solder it"}}
	case p == Solder && (a == heat.CastIron || b == heat.CastIron):
		return &Refusal{Code: "cast_iron_not_soldered", Field: "metal", Read: "cast iron", Allowed: "another metal for soldering",
			Why: "the graphite in it keeps solder off", Source: commonly, WaysOut: []string{"braze-weld it"}}
	case p != Braze && (a == heat.Aluminium):
		return &Refusal{Code: "aluminium_process", Field: "process", Read: string(p), Allowed: "braze for aluminium",
			Why: "its oxide keeps solder off and a brass rod needs more heat than aluminium stands", Source: commonly, WaysOut: []string{"braze it with an aluminium-silicon filler"}}
	}
	return nil
}

// unfitProcess refuses a filler for the way of joining.
func unfitProcess(f Filler, p Process, _, _ Metal) *Refusal {
	no := &Refusal{Code: "filler_process", Field: "filler", Read: f.Class}
	switch {
	case f.Family == Copper:
		no.Allowed, no.Why, no.Source = "a filler for the torch", words.S("it needs a furnace: it flows from %s", celsiusF(f.BrazeLow)), sourceA58
	case f.soft() && p != Solder:
		no.Allowed, no.Why, no.Source = "a filler that melts above 450 °C (840 °F)", "a solder is too weak for it", "AWS A3.0 glossary"
	case !f.soft() && p == Solder:
		no.Allowed, no.Why, no.Source = "a solder, which melts below 450 °C (840 °F)", "this is a brazing filler: choose brazing", "AWS A3.0 glossary"
	case p == BrazeWeld && f.Family == Silver:
		no.Allowed, no.Why, no.Source = "RBCuZn classes for a braze weld", "silver filler is strong only as a thin film: built up thick it is weak", sourceThick
	case p == BrazeWeld && f.Family != CopperZinc:
		no.Allowed, no.Why, no.Source = "RBCuZn classes for a braze weld", "this filler runs thin and is made for close gaps", commonly
	default:
		return nil
	}
	return no
}

// unfitMelting refuses a filler that flows only when a part begins to melt.
func unfitMelting(f Filler, _ Process, a, b Metal) *Refusal {
	for _, m := range []Metal{a, b} {
		p, err := heat.PropertiesOf(m)
		if err != nil || f.Works().Low <= p.Melts.Low-meltMargin {
			continue
		}
		no := &Refusal{Code: "part_melts", Field: "filler", Read: f.Class, Allowed: words.S("a filler that flows below %s", kelvin(p.Melts.Low-meltMargin)),
			Why: words.S("%s begins to melt at %s, and this filler flows from %s: the part is gone first", m.Name(), kelvin(p.Melts.Low), kelvin(f.Works().Low)), Source: words.S("%s; %s", f.Source(), p.Source)}
		if m == heat.Aluminium {
			no.WaysOut = []string{"use an aluminium-silicon filler, BAlSi-4 or the like, with its own flux"}
		} else {
			no.WaysOut = []string{"braze it with a silver filler, BAg-7 or the like"}
		}
		return no
	}
	return nil
}

// unfitMetal refuses a filler whose source does not name the metal.
func unfitMetal(f Filler, _ Process, a, b Metal) *Refusal {
	for _, m := range []Metal{a, b} {
		if slices.Contains(suits[f.Family], m) {
			continue
		}
		no := &Refusal{Code: "filler_metal", Field: "filler", Read: f.Class, Allowed: words.S("a filler made for %s", m.Name()),
			Why: words.S("its source does not name %s among what it joins", m.Name()), Source: f.Source()}
		switch {
		case f.Family == CopperPhosphorus:
			no.Why = words.S("phosphorus and iron or nickel make a brittle layer: on %s the joint cracks off", m.Name())
			no.Source = words.S("%s: not for steel or nickel; why, common practice", sourceA58)
			no.WaysOut = []string{"use a silver filler, BAg-7 or the like, with flux"}
		case f.Family == AluminiumSilicon:
			no.Why = "it is made for aluminium alone"
		case m == heat.StainlessSteel:
			no.WaysOut = []string{"use a silver filler, BAg-7 or the like, with flux"}
		}
		return no
	}
	return nil
}

// celsius writes °C in both scales, celsiusF takes °F and kelvin K.
func celsius(c float64) string  { return text(c) }
func celsiusF(f float64) string { return text((f - 32) / 1.8) }
func kelvin(k float64) string   { return text(k - zeroCelsius) }

func text(c float64) string {
	return rounded(c) + " °C (" + rounded(c*1.8+32) + " °F)"
}

// size writes a length in both systems.
func size(m float64) string {
	return trimmed(m*1000, 2) + " mm (" + trimmed(m/units.Inch, 3) + " in)"
}
