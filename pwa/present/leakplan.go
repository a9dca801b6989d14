package present

import (
	"torchside/calc/leak"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Preparation is a preparation ready to show.
type Preparation struct {
	Cautions []Warning
	Steps    []Step
}

// Step is one thing to do.
type Step struct{ Text, Why, Source string }

// NewPreparation writes a preparation in the owner's units: cautions first.
func NewPreparation(p leak.Preparation, o Options) Preparation {
	var out Preparation
	for _, n := range p.Cautions {
		out.Cautions = append(out.Cautions, noteWarning(n, "caution", "Caution", o))
	}
	for _, s := range p.Steps {
		out.Steps = append(out.Steps, Step{Text: o.Units.Say(s.Text), Why: finished(o.Units.Say(s.Why)), Source: s.Source})
	}
	return out
}

// VolumeParts writes what a closed volume is reckoned from, the sum last.
func VolumeParts(parts []leak.Part, o Options) []Fact {
	unit := o.Units.Unit(units.QuantityVolume)
	write := func(v, e units.Volume) string {
		return words.Number(units.Format(units.QuantityVolume, float64(v), unit, 0)) + " ± " + words.Number(units.Format(units.QuantityVolume, float64(e), unit, 0))
	}
	var list []Fact
	for _, p := range parts {
		name := words.Capital(p.Name)
		if p.Trust == leak.TrustMemory {
			name += words.T(" (from memory)")
		}
		list = append(list, Fact{name, write(p.Volume, p.Error), ""})
	}
	v, e := leak.Sum(parts)
	return append(list, Fact{"Together", write(v, e), "leak.volume"})
}

// Need says how long a test must run.
func Need(needed, runs units.Duration, allowed, sees units.StandardFlow, ratio units.StandardRatio, o Options) string {
	text := words.S("To see a leak of %s it must run %s.", LeakFlow(float64(allowed), ratio, o), Span(needed))
	if sees > 0 {
		text += words.S(" In %s it sees any leak above %s.", Span(runs), LeakFlow(float64(sees), ratio, o))
	}
	if runs < needed {
		text += words.T(" A shorter test can still find a large leak; a tight rig will come out undecided.")
	}
	return text
}

// JointLine is one place to soap.
type JointLine struct{ Code, Name, Hint, Source string }

// NewJointLine writes a joint.
func NewJointLine(j leak.Joint) JointLine {
	return JointLine{Code: j.Code, Name: words.Capital(j.Name), Hint: finished(j.Hint), Source: j.Source}
}
