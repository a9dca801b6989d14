package present

import (
	"torchside/calc/gas"
	"torchside/calc/setup"
	"torchside/calc/words"
)

// Gas is one gas of the card from its regulator to the torch.
type Gas struct {
	Key       string // "oxygen" or "fuel"
	Name      string // "acetylene"
	Hose      Hose
	Dial      Drawing
	Regulator Number // the set pressure: the main number
	Torch     Number
	Flow      Number
	Minutes   Number // how long this gas lasts
	Warnings  []Warning
}

// gas writes one line. The warnings of its numbers are gathered before the dial, because the dial shows the set pressure.
func (b *builder) gas(key string, g gas.Gas, l setup.GasLine) Gas {
	v := Gas{Key: key, Name: gasName(string(g)), Hose: hoseOf(g, b.opt.Region)}
	if key == "fuel" {
		v.Name = gasName(b.card.FuelName)
	}
	v.Warnings = b.warn.take(key)
	v.Regulator = b.value(key+".regulator_gauge_pa", "Regulator", l.RegulatorGaugePa)
	v.Torch = b.value(key+".torch_gauge_pa", words.S("%s at the torch", words.Capital(v.Name)), l.TorchGaugePa)
	v.Flow = b.value(key+".flow_std_m3_s", words.S("%s flow", words.Capital(v.Name)), l.FlowStdM3S)
	v.Flow.Note = words.S("As %s.", stateOf(b.scaler.of(key+".flow_std_m3_s").unit))
	v.Minutes = b.minutes(key, words.S("%s lasts", words.Capital(v.Name)), l)
	v.Dial = b.dial(v, l)
	v.Warnings = append(v.Warnings, v.Regulator.Warnings...)
	v.Regulator.Warnings = nil
	return v
}

func (b *builder) minutes(key, label string, l setup.GasLine) Number {
	k := key + ".endurance_s"
	if l.EnduranceS == nil {
		n := b.words(k, label, "not known")
		n.Note = "Enter what the cylinder holds to see it."
		return n
	}
	n := b.value(k, label, *l.EnduranceS)
	if l.ContentsStdM3 != nil {
		n.Note = words.S("%s to draw before the reserve.", b.scaler.of(key+".contents_std_m3").text(*l.ContentsStdM3))
	}
	if w := l.WithoutPauseS; w != nil && *w <= 0 && *l.EnduranceS > 0 {
		n.Note = "With pauses only."
	} else if l.EndedBy == setup.AtWithdrawal {
		n.Note = "Until it is too fast for what is left." // the reserve is not what ends it; the card says by which rule
	}
	return n
}

// dial draws the gauge of a line.
func (b *builder) dial(v Gas, l setup.GasLine) Drawing {
	sc := b.scaler.of(v.Key + ".regulator_gauge_pa")
	end := dialEnd(l)
	d := dialInput{name: v.Name, class: v.Hose.Class, value: v.Regulator.Text(), unit: sc.unit.Symbol()}
	d.max, _ = sc.unit.FromSI(end, sc.ratio)
	d.set, _ = sc.unit.FromSI(l.RegulatorGaugePa, sc.ratio)
	d.assumed = l.RegulatorMaxPa == nil
	if v.Key == "fuel" && b.scaler.limit > 0 {
		d.limit, _ = sc.unit.FromSI(b.scaler.limit, sc.ratio)
		d.limitText = b.limitText()
	}
	return drawDial(d)
}

// dialEnd is the end of the owner's own gauge; without one the dial is drawn to a common one, and says so.
func dialEnd(l setup.GasLine) float64 {
	if l.RegulatorMaxPa != nil && *l.RegulatorMaxPa > 0 {
		return *l.RegulatorMaxPa
	}
	end := 2e5 // 2 bar: holds the limit of acetylene
	for end < 1.25*l.RegulatorGaugePa {
		end *= 2
	}
	return end
}
