package present

import (
	"torchside/calc/flame"
	"torchside/calc/setup"
)

// FlameWords say what a flame of a class is for and how it is known. What it looks like is Army Ordnance OD0017; the rest is
// common practice, no source.
type FlameWords struct{ Use, Look, Sound, Misuse string }

var flameWords = map[flame.Class]FlameWords{
	flame.Carburizing: {
		Use:    "Hard-facing: the skin of the steel takes up carbon and sweats. Slightly so, for silver brazing and aluminium.",
		Look:   "A whitish feather stands beyond the inner cone; the envelope is long and yellowish.",
		Sound:  "Soft, almost quiet.",
		Misuse: "On a steel weld the puddle boils and clouds over; carbon goes in, and the weld comes out hard and brittle.",
	},
	flame.Neutral: {
		Use:    "Welding steel, cast iron and copper; most heating and bending.",
		Look:   "The feather has just gone into a rounded, bright inner cone.",
		Sound:  "An even, soft hiss.",
		Misuse: "It drifts as the tip warms up: look again for a feather, or for a cone that shrinks.",
	},
	flame.Oxidizing: {
		Use:    "Slightly so, for brass and bronze and for braze-welding cast iron: the oxide keeps the zinc in.",
		Look:   "The inner cone is shorter by about a tenth, pointed and purplish; the envelope is short.",
		Sound:  "A harsh hiss.",
		Misuse: "Steel foams and throws sparks; the weld is full of oxide, weak and brittle.",
	},
}

// exitWords say how a flame feels by its exit velocity. Common practice, from memory.
var exitWords = map[flame.ExitClass]string{
	flame.TooSlow:    "Too slow: limp, and near to popping back.",
	flame.Soft:       "Soft: moves the puddle little; thin sheet, brazing.",
	flame.NormalFlow: "Normal.",
	flame.Harsh:      "Harsh: pushes the puddle.",
	flame.TooFast:    "Too fast: the flame tends to leave the tip.",
}

// whyText says in numbers what shields the puddle and what burns it.
func whyText(s setup.Shares) string {
	text := "CO and H₂ shield the puddle: " + inPercent(s.CO+s.H2) + ". Oxygen to burn it, as O₂, O and OH: " + inPercent(s.O2+s.O+s.OH) + "."
	if s.Soot > 0 {
		text += " Carbon that can go into it, as soot: " + inPercent(s.Soot) + "."
	}
	return text
}
