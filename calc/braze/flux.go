package braze

import (
	"torchside/calc/heat"
	"torchside/calc/units"
)

// Flux is what keeps the oxide off.
type Flux struct {
	Name string // "none" where none is needed
	// Active is the temperature in which it works, K; both 0 where none was found.
	Active   heat.Range
	Fluoride bool // it holds fluoride, or may
	Acid     bool
	// After says what is done with what is left of it.
	After      string
	Source     string
	FromMemory bool
}

// None reports whether the joint needs no flux.
func (f Flux) None() bool { return f.Name == noFlux }

const noFlux = "none"

const sourceA531 = "AWS A5.31"

// The fluxes. Their ranges are those of AWS A5.31, from memory: they only decide between a flux and a hotter one. That FB3-A or FB3-C is
// for copper and its alloys: Copper Tube Handbook, brazed joints.
var (
	whitePaste = Flux{Name: "white fluoride brazing paste, FB3-A", Active: fahrenheits(1050, 1600), Fluoride: true, After: afterFluoride, Source: sourceA531, FromMemory: true}
	blackPaste = Flux{Name: "black fluoride brazing paste, FB3-C", Active: fahrenheits(1050, 1700), Fluoride: true, After: afterFluoride, Source: sourceA531, FromMemory: true}
	hotPaste   = Flux{Name: "borax-type brazing flux, FB3-D", Active: fahrenheits(1400, 2200), Fluoride: true, After: afterBorax, Source: sourceA531, FromMemory: true}
	aluminium  = Flux{Name: "aluminium brazing flux, FB1-A", Active: fahrenheits(1080, 1140), Fluoride: true, After: afterAluminium, Source: sourceA531, FromMemory: true}
	tubeSolder = Flux{Name: "soldering flux for copper, ASTM B 813", After: afterSolder, Source: "Copper Tube Handbook, soldered joints"}
	acidSolder = Flux{Name: "zinc chloride (acid) soldering flux", Acid: true, After: afterAcid, Source: "metal-workers' textbook on solder and fluxes"}
	inoxSolder = Flux{Name: "acid soldering flux made for stainless steel", Acid: true, After: afterAcid, Source: "soldering practice", FromMemory: true}
	without    = Flux{Name: noFlux, Source: sourceA58}
)

const (
	afterFluoride  = "Wash it off in hot water once the filler has set: what is left eats the joint."
	afterBorax     = "It sets to glass: brush or chip it off, eyes covered, or soak it in hot water."
	afterAluminium = "Scrub every trace off in hot water at once: it eats aluminium."
	afterSolder    = "Wipe it off while warm: what is left eats the metal."
	afterAcid      = "Wash it off with plenty of water: it rusts steel within hours."
)

func fahrenheits(low, high float64) heat.Range {
	return heat.Range{Low: fahrenheit(low), High: fahrenheit(high)}
}

// fluxFor is the flux of a filler on a pair of metals.
func fluxFor(f Filler, a, b Metal) Flux {
	either := func(m Metal) bool { return a == m || b == m }
	iron := func(m Metal) bool { return m != heat.Copper && m != heat.Brass }
	switch {
	case f.soft() && either(heat.StainlessSteel):
		return inoxSolder
	case f.soft() && (iron(a) || iron(b)):
		return acidSolder
	case f.soft():
		return tubeSolder
	case f.Family == AluminiumSilicon:
		return aluminium
	case f.Family == CopperPhosphorus && a == heat.Copper && b == heat.Copper:
		return without
	case f.Family == CopperZinc || f.Works().Low > blackPaste.Active.High:
		return hotPaste
	case either(heat.StainlessSteel) || f.Works().Low > whitePaste.Active.High-fluxMargin:
		return blackPaste
	}
	return whitePaste
}

// fluxMargin is how far below its upper end a flux is still chosen, K. Our choice.
const fluxMargin = 30

// How much flux is used, all but that of solder from memory. Paste is a wet layer on the faces of the gap and a margin along the seam;
// powder for a braze weld goes by the weight of the rod; solder flux is 2 oz to the pound of solder (Copper Tube Handbook, table 14.10).
const (
	pasteThin, paste, pasteThick = 0.0002, 0.0005, 0.001 // m
	pasteMargin                  = 0.008                 // m, on either side of the gap
	pasteDensity                 = 1500                  // kg/m³
	powderLow, powder, powderTop = 0.03, 0.06, 0.15      // of the mass of the rod
	perSolder                    = 2. / 16               // of the mass of the solder
)

// fluxMass is what all joints take, kg, and where the rule is from.
func (in Input) fluxMass(f Flux, rod units.Band) (b units.Band, source string, memory bool) {
	switch {
	case f.None():
		return units.Band{}, f.Source, false
	case in.Process == Solder:
		b = times(rod, perSolder/2, perSolder, perSolder*2)
		b.Reason = "2 oz to the pound of solder; half to twice that"
		return b, "Copper Tube Handbook, table 14.10", false
	case in.Process == BrazeWeld:
		b = times(rod, powderLow, powder, powderTop)
		b.Reason = "3 to 15 % of the rod (from memory)"
		return b, "braze-welding practice", true
	}
	wet := (2*in.area() + 2*pasteMargin*in.seam()) * float64(in.Count) * pasteDensity
	return units.Band{Value: wet * paste, Low: wet * pasteThin, High: wet * pasteThick, Reason: "a wet layer of 0.2 to 1 mm (0.008 to 0.04 in) on the faces and a margin (from memory)"}, "brazing practice", true
}
