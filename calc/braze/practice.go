package braze

import (
	"torchside/calc/heat"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Step is one thing to do, in its order.
type Step struct {
	Name       string // "clean", "fit", "flux", "heat", "feed", "after"
	Text       string
	Source     string
	FromMemory bool
}

// Flame is how the flame is set and held.
type Flame struct {
	Word string // "neutral", "slightly oxidizing", …
	Why  string
	// Cone is how far the tip of the inner cone is held from the work, m; nil where it is kept off altogether.
	Cone       *units.Band
	Source     string
	FromMemory bool
}

// Inner cone to work: brazing 1/4 to 3/8 in, TM 1-1500-204-23-8; braze welding 1/8 to 1/4 in, NAVEDTRA 14119.
var (
	coneBraze = units.Band{Value: 0.3125 * units.Inch, Low: 0.25 * units.Inch, High: 0.375 * units.Inch, Reason: "as printed"}
	coneBuilt = units.Band{Value: 0.1875 * units.Inch, Low: 0.125 * units.Inch, High: 0.25 * units.Inch, Reason: "as printed"}
)

func (in Input) flame(f Filler) Flame {
	switch {
	case in.Process == Solder:
		return Flame{Word: "soft, the smallest tip", Why: "Only the outer envelope touches the work; the cone would burn the flux.", Source: commonly}
	case f.Family == CopperZinc && in.Process == BrazeWeld:
		return Flame{Word: "slightly oxidizing", Why: "It keeps a skin on the brass that holds the zinc in.", Cone: &coneBuilt, Source: "welding texts; distance: NAVEDTRA 14119", FromMemory: true}
	case f.Family == AluminiumSilicon:
		return Flame{Word: "slightly carburizing", Why: "Oxygen thickens the skin on aluminium.", Cone: &coneBraze, Source: "brazing texts; distance: TM 1-1500-204-23-8", FromMemory: true}
	}
	return Flame{Word: "neutral", Why: "A carburizing flame leaves a neat joint with less strength, an oxidizing one a rough joint. Some texts ask for slightly carburizing.", Cone: &coneBraze,
		Source: "NAVEDTRA 14250; distance: TM 1-1500-204-23-8"}
}

// cleaning is how a metal is made ready. Common practice.
var cleaning = map[Metal]string{
	heat.CastIron:       "File or shot-blast cast iron, do not grind it: a wheel smears the graphite, and filler runs off graphite.",
	heat.StainlessSteel: "Scour stainless with a clean stainless brush or new cloth, and flux it within minutes.",
	heat.Aluminium:      "Degrease aluminium, then brush it with a clean stainless brush, and flux it at once.",
	heat.Copper:         "Scour copper with fine cloth to bright metal; touch it no more.",
	heat.Brass:          "Scour brass with fine cloth to bright metal.",
}

const cleanSteel = "Take oil off first, then scale, rust and paint, down to bright metal, 25 mm (1 in) beyond the joint."

func clean(m Metal) string {
	if s, ok := cleaning[m]; ok {
		return s
	}
	return cleanSteel
}

// steps is the order of work.
func (in Input) steps(f Filler, flux Flux) []Step {
	text := clean(in.Metal)
	if other := clean(in.Other); other != text {
		text += words.S(" %s", other)
	}
	list := []Step{{Name: "clean", Text: text, Source: commonly}, in.fit()}
	if !flux.None() {
		list = append(list, Step{Name: "flux", Text: words.S("Both faces and a margin, at once after cleaning: %s.", flux.Name), Source: commonly})
	}
	list = append(list, in.heating(), in.feeding(f, flux))
	after := "Hold it still until the filler has set, then let it cool by itself."
	if in.Metal == heat.CastIron || in.Other == heat.CastIron {
		after = "Hold it still until the filler has set, then let it cool slowly under dry sand or a blanket: cast iron cracks when it is chilled."
	}
	if !flux.None() {
		after += words.S(" %s", flux.After)
	}
	return append(list, Step{Name: "after", Text: after, Source: commonly})
}

func (in Input) fit() Step {
	switch {
	case in.Process == BrazeWeld && in.Joint == Butt:
		return Step{Name: "fit", Text: "File the edges to a V of 60 to 90 degrees, break the sharp corners, and clamp.", Source: "Army training text on brazing grey iron, read in a copy"}
	case in.Process == BrazeWeld:
		return Step{Name: "fit", Text: "Clamp the parts close; bevel an edge thicker than 5 mm (0.2 in).", Source: commonly}
	}
	return Step{Name: "fit", Text: "Clamp with the gap asked for, the same all along; dry-fit first. No filler bridges a gap that gapes.", Source: commonly}
}

// heating tells where the flame goes: the part that leads the heat away faster gets more of it.
func (in Input) heating() Step {
	text := "Warm all of the joint broadly, the flame always moving, "
	a, _ := heat.PropertiesOf(in.Metal)
	b, _ := heat.PropertiesOf(in.Other)
	const warm = 400 + zeroCelsius
	ratio := a.Conductivity(warm) / b.Conductivity(warm)
	fast, slow := in.Metal, in.Other
	if ratio < 1 {
		ratio, fast, slow = 1/ratio, in.Other, in.Metal
	}
	switch {
	case ratio > 1.5:
		text += words.S("more on the %s: it leads heat away about %s times as fast as the %s. Bring both to the heat together.", fast.Name(), rounded(ratio), slow.Name())
	case in.Joint == Socket:
		text += words.T("the tube first, then the cup, then back and forth between them.")
	default:
		text += words.T("more on the thicker part. Bring both to the heat together.")
	}
	if in.Process == BrazeWeld {
		text = "Warm the joint until it is dull red, cone ahead of the bead, flame at about 45 degrees along the seam. " +
			"Cast iron: warm the whole casting first, evenly."
	}
	return Step{Name: "heat", Text: text, Source: words.S("heat conduction at 400 °C (750 °F); %s", commonly)}
}

func (in Input) feeding(f Filler, flux Flux) Step {
	switch {
	case in.Process == BrazeWeld:
		return Step{Name: "feed", Text: "Touch the fluxed rod to the metal and let it spread as a film first, then build up on the film: what has no film under it does not hold.", Source: sourceThick}
	case in.Process == Solder:
		return Step{Name: "feed", Text: "Take the flame off, touch the wire to the joint away from it: the joint melts the solder. It runs toward the heat.", Source: "Copper Tube Handbook, soldered joints"}
	case flux.None():
		return Step{Name: "feed", Text: "At dark red touch the rod to the joint: the joint melts it, not the flame. It runs toward the heat.", Source: "NAVEDTRA 14250; colour: common practice"}
	case f.Family == AluminiumSilicon:
		return Step{Name: "feed", Text: "When the flux runs clear touch the rod to the joint, again and again: the flux is the only sign, the metal shows none.", Source: commonly}
	case in.fluxTells(flux):
		return Step{Name: "feed", Text: "Watch the flux: it dries, turns milky near 320 °C (600 °F), and runs clear like water near 590 °C (1100 °F). Then touch the rod to the joint: the joint melts it, not the flame.", Source: "NAVEDTRA 14250"}
	}
	return Step{Name: "feed", Text: "When the flux runs clear like water and the joint is dull to cherry red, touch the rod to the joint: the joint melts it, not the flame.", Source: "NAVEDTRA 14250; colour: common practice"}
}

// fluxTells reports whether the flux is one whose looks were read.
func (in Input) fluxTells(f Flux) bool { return f.Name == whitePaste.Name || f.Name == blackPaste.Name }
