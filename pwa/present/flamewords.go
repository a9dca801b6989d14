package present

import (
	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/setup"
	"torchside/calc/words"
)

// FlameWords say what a flame is for and how it is known.
type FlameWords struct{ Use, Look, Sound, Misuse, Source string }

// burner is whose flame is spoken of: the work is empty where nothing is asked yet.
type burner struct {
	fuel gas.Gas
	work setup.Work
}

// audience is what the words of a flame turn on.
type audience int

const (
	welding  audience = iota // steel, with acetylene; also acetylene without a work
	brazing                  // no puddle: base metal stays solid
	heating                  // heating and bending: nothing melts
	cutting                  // the preheat of a cut: the jet does the rest
	anyOther                 // another fuel without a work: it welds no steel
)

func (b burner) audience() audience {
	switch {
	case b.work == setup.Braze:
		return brazing
	case b.work == setup.Heat || b.work == setup.Bend:
		return heating
	case b.work == setup.Cut:
		return cutting
	case b.fuel == gas.Acetylene:
		return welding
	}
	return anyOther
}

// useWords and misuseWords are common practice, no source.
var useWords = map[audience]map[flame.Class]string{
	welding: {
		flame.Carburizing: "Hard-facing: the skin of the steel takes up carbon and sweats. Slightly so, for silver brazing and aluminium.",
		flame.Neutral:     "Welding steel, cast iron and copper; most heating and bending.",
		flame.Oxidizing:   "Slightly so, for brass and bronze and for braze-welding cast iron: the oxide keeps the zinc in.",
	},
	brazing: {
		flame.Carburizing: "Slightly so, for silver brazing and aluminium: it keeps air off the joint.",
		flame.Neutral:     "Most brazing of steel and copper.",
		flame.Oxidizing:   "Slightly so, for brass and for braze-welding cast iron: the oxide keeps the zinc in.",
	},
	heating: {
		flame.Carburizing: "Slightly so, where scale would do harm.",
		flame.Neutral:     "Heating and bending.",
		flame.Oxidizing:   "No heating needs it.",
	},
	cutting: {
		flame.Carburizing: "No cut needs it.",
		flame.Neutral:     "Preheating for a cut, set with the cutting lever pressed.",
		flame.Oxidizing:   "Slightly so, to start a cut sooner.",
	},
	anyOther: {
		flame.Carburizing: "Slightly so, for brazing and heating where scale would do harm.",
		flame.Neutral:     "Heating, bending, brazing. It welds no steel.",
		flame.Oxidizing:   "Slightly so, for brazing brass: the oxide keeps the zinc in.",
	},
}

var misuseWords = map[audience]map[flame.Class]string{
	welding: {
		flame.Carburizing: "On a steel weld the puddle boils and clouds over; carbon goes in, and the weld comes out hard and brittle.",
		flame.Neutral:     drifts,
		flame.Oxidizing:   "Steel foams and throws sparks; the weld is full of oxide, weak and brittle.",
	},
	brazing: {
		flame.Carburizing: "Soot settles on the joint, and filler does not wet where it lies.",
		flame.Neutral:     drifts,
		flame.Oxidizing:   "The flux is used up early, the joint scales, and filler balls up on it.",
	},
	heating: {
		flame.Carburizing: "Soot; and hot steel takes up carbon in its skin.",
		flame.Neutral:     drifts,
		flame.Oxidizing:   "Thick scale, and a burnt skin where the flame stands still.",
	},
	cutting: {
		flame.Carburizing: "The start takes longer, and the cut edge takes up carbon.",
		flame.Neutral:     drifts,
		flame.Oxidizing:   "The top edge melts and rounds off.",
	},
	anyOther: {
		flame.Carburizing: "Soot on the work, and less heat where it is wanted.",
		flame.Neutral:     drifts,
		flame.Oxidizing:   "The work scales, and flux is used up early.",
	},
}

const drifts = "It drifts as the tip warms up: look at the cone again."

// acetyleneLooks are Army Ordnance OD0017.
var acetyleneLooks = map[flame.Class]string{
	flame.Carburizing: "A whitish feather stands beyond the inner cone; the envelope is long and yellowish.",
	flame.Neutral:     "The feather has just gone into a rounded, bright inner cone.",
	flame.Oxidizing:   "The inner cone is a little shorter, pointed and purplish; the envelope is short.",
}

// otherLooks and hydrogenLooks are common practice, from memory.
var otherLooks = map[flame.Class]string{
	flame.Carburizing: "The inner cone is long and blurred; the envelope is long and yellowish.",
	flame.Neutral:     "The inner cone has just become sharp.",
	flame.Oxidizing:   "The inner cone is short and pale.",
}

var hydrogenLooks = map[flame.Class]string{
	flame.Carburizing: "Pale, and hard to see in daylight. There is no feather: it holds no carbon.",
	flame.Neutral:     "Pale, and hard to see in daylight.",
	flame.Oxidizing:   "Pale, and hard to see in daylight; the cone is short.",
}

// flameSounds are common practice, no source.
var flameSounds = map[flame.Class]string{
	flame.Carburizing: "Soft, almost quiet.",
	flame.Neutral:     "An even, soft hiss.",
	flame.Oxidizing:   "A harsh hiss.",
}

// words are those of a class of flame for the one who burns it.
func (b burner) words(c flame.Class) FlameWords {
	w := FlameWords{Use: useWords[b.audience()][c], Misuse: misuseWords[b.audience()][c], Look: b.look(c), Sound: flameSounds[c]}
	w.Source = "Common practice, from memory, no source."
	if b.fuel == gas.Acetylene {
		w.Source = "Looks: Army Ordnance OD0017; the rest is common practice, no source."
	}
	if b.fuel == gas.Hydrogen && c == flame.Carburizing {
		w.Misuse = "No carbon goes into the work, and no soot settles on it; heat is lost."
	}
	return w
}

func (b burner) look(c flame.Class) string {
	switch b.fuel {
	case gas.Acetylene:
		return acetyleneLooks[c]
	case gas.Hydrogen:
		return hydrogenLooks[c]
	}
	return otherLooks[c]
}

// effects say what the gases of the flame do where it is used (common practice, no source).
var effects = map[audience]map[flame.Class]string{
	welding: {flame.Carburizing: "Fuel is left over, and carbon goes into the puddle.", flame.Neutral: "CO and H₂ shield the puddle.",
		flame.Oxidizing: "It hisses: free oxygen burns the puddle."},
	brazing: {flame.Carburizing: "Fuel is left over: it keeps air off the joint, and can lay soot on it.", flame.Neutral: "CO and H₂ keep air off the joint.",
		flame.Oxidizing: "It hisses: free oxygen scales the joint and uses up the flux."},
	heating: {flame.Carburizing: "Fuel is left over: less scale, but soot.", flame.Neutral: "CO and H₂ keep scale down.",
		flame.Oxidizing: "It hisses: free oxygen scales the work."},
	cutting: {flame.Carburizing: "Fuel is left over: it burns late, beside the start of the cut.", flame.Neutral: "It heats the edge until steel burns in the jet.",
		flame.Oxidizing: "It hisses: free oxygen burns the edge a little."},
}

// effect is what the flame does to the work; a hydrogen flame has neither CO nor soot.
func (b burner) effect(c flame.Class) string {
	if b.fuel == gas.Hydrogen && c != flame.Oxidizing {
		return "It leaves H₂ and steam, no CO and no soot."
	}
	a := b.audience()
	if a == anyOther {
		a = heating
	}
	return effects[a][c]
}

// ClassName is the trade's word for a class of flame; hydrogen has no carbon to give.
func ClassName(c flame.Class, fuel gas.Gas) string {
	if c == flame.Carburizing && fuel == gas.Hydrogen {
		return "reducing"
	}
	return string(c)
}

// ClassStop labels the slider's stop of the flame with fuel left over.
func ClassStop(fuel gas.Gas) string { return words.Capital(ClassName(flame.Carburizing, fuel)) }

// exitWords say how a flame feels by its exit velocity. Common practice, from memory.
var exitWords = map[flame.ExitClass]string{
	flame.TooSlow:    "Too slow: limp, and near to popping back.",
	flame.Soft:       "Soft: a gentle flame, for thin sheet and brazing.",
	flame.NormalFlow: "Normal.",
	flame.Harsh:      "Harsh: it pushes puddle or filler about.",
	flame.TooFast:    "Too fast: the flame tends to leave the tip.",
}

// shielding, burning and sooting begin the lines on what the gases of a flame do.
var (
	shielding = map[audience]string{welding: "To shield the puddle", brazing: "To keep air off the joint", heating: "To keep scale down", cutting: "To keep the edge clean", anyOther: "To keep air off the work"}
	burning   = map[audience]string{welding: "To burn it", brazing: "To scale it", heating: "To scale the work", cutting: "To burn it", anyOther: "To scale it"}
)

// why says in numbers what shields the work and what burns it.
func (b burner) why(s setup.Shares) string {
	a, left := b.audience(), "CO and H₂"
	if b.fuel == gas.Hydrogen {
		left = "H₂"
	}
	text := words.S("%s: %s, %s. %s: O₂, O and OH, %s.", shielding[a], left, inPercent(s.CO+s.H2), burning[a], inPercent(s.O2+s.O+s.OH))
	if s.Soot > 0 && a == welding {
		return words.S("%s To go into it: carbon as soot, %s.", text, inPercent(s.Soot))
	}
	if s.Soot > 0 {
		return words.S("%s To blacken it: carbon as soot, %s.", text, inPercent(s.Soot))
	}
	return text
}
