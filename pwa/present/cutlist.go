package present

import (
	"math"
	"strconv"

	"torchside/calc/cut"
	"torchside/calc/gas"
	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
)

// CutList is a cut list ready to show: what to know first, whether the gas lasts, and what it takes.
type CutList struct {
	Standing []Warning
	Cautions []Warning // of every row, each once
	Checks   []Warning // likewise; they may stand below the answer
	Lasts    string    // "Oxygen runs out first, after piece 2 of 3."
	Short    bool      // the gas does not last, or only just
	More     []string  // sentences below
	Facts    []Fact
	Rows     [][]Fact // of each row
}

// cutListWriter writes the parts.
type cutListWriter struct {
	list setup.CutList
	opt  Options
	fuel string // its name
	b    *builder
}

// NewCutList writes a cut list for a person.
func NewCutList(l setup.CutList, o Options) CutList {
	w := cutListWriter{list: l, opt: o, fuel: gasName(l.Cards[0].FuelName), b: newBuilder(l.Cards[0], o)}
	v := CutList{}
	w.cautions(&v)
	v.Lasts, v.More = w.lasts()
	v.Short = l.Result.Shortage != nil || l.Result.Worst != nil
	v.Facts = w.facts()
	for i := range l.Cards {
		v.Rows = append(v.Rows, w.row(i))
	}
	return v
}

// cautions gathers cautions and checks of all cards, each once: the numbers of a row stand without their card here.
func (w cutListWriter) cautions(v *CutList) {
	seen := map[string]bool{}
	for i, c := range w.list.Cards {
		ws := newWarnings(c.Warnings, w.opt)
		if standing := ws.takeStanding(w.b.limitText()); i == 0 {
			v.Standing = standing
		}
		for _, one := range ws.rest() {
			if seen[one.Code] {
				continue
			}
			seen[one.Code] = true
			switch one.Level {
			case "caution":
				v.Cautions = append(v.Cautions, one)
			case "check":
				v.Checks = append(v.Checks, one)
			}
		}
	}
}

// lasts says whether the gas lasts, and after which piece it does not.
func (w cutListWriter) lasts() (head string, more []string) {
	r := w.list.Result
	for _, unknown := range []struct {
		known bool
		gas   string
	}{{w.list.OxygenKnown, "oxygen"}, {w.list.FuelKnown, w.fuel}} {
		if !unknown.known {
			more = append(more, words.S("What the %s cylinder holds is not known: enter it under Rig.", unknown.gas))
		}
	}
	switch {
	case r.Shortage != nil:
		return w.ends(*r.Shortage), append(append([]string{w.where(*r.Shortage), w.missing(*r.Shortage)}, w.worst()...), more...)
	case len(more) > 0:
		return "Whether the gas lasts cannot be told.", more
	case r.Worst != nil:
		return "The gas lasts, but not surely.", w.worst()
	}
	return words.S("The gas lasts for %s.", words.Count(r.Pieces, "piece")), []string{"Also with a slow hand, the most oxygen through the hole, and the least the gauges may mean."}
}

func (w cutListWriter) gasOf(s cut.Shortage) string {
	if s.First == cut.FuelCylinder {
		return w.fuel
	}
	return "oxygen"
}

// ends is the first sentence: which gas, after which piece.
func (w cutListWriter) ends(s cut.Shortage) string {
	if s.Done == 0 {
		return words.S("%s runs out first, in the first piece of %s.", words.Capital(w.gasOf(s)), strconv.Itoa(w.list.Result.Pieces))
	}
	return words.S("%s runs out first, after piece %s of %s.", words.Capital(w.gasOf(s)), strconv.Itoa(s.Done), strconv.Itoa(w.list.Result.Pieces))
}

// where says in which row and how far into the next piece, and by what it ends.
func (w cutListWriter) where(s cut.Shortage) string {
	t := words.S("Piece %s (row %s) stops %s %% through", strconv.Itoa(s.Done+1), strconv.Itoa(s.Row), strconv.Itoa(int(math.Floor(100*s.Share))))
	if s.First == cut.FuelCylinder && w.list.FuelEnds == setup.AtWithdrawal {
		return words.S("%s: what is left then may not be drawn from so fast.", t)
	}
	return words.S("%s: the cylinder is then down to its reserve.", t)
}

// missing is what the list needs more.
func (w cutListWriter) missing(s cut.Shortage) string {
	t := ""
	for _, g := range []struct {
		gas, key string
		v        units.StandardVolume
	}{{"oxygen", "oxygen.x_std_m3", s.Oxygen}, {w.fuel, "fuel.x_std_m3", s.Fuel}} {
		if g.v <= 0 {
			continue
		}
		if t != "" {
			t += words.T(" and ")
		}
		t += words.S("%s of %s", w.b.scaler.of(g.key).text(float64(g.v)), g.gas)
	}
	return words.S("Missing for the whole list: %s.", t)
}

// worst is the same with everything at its dear end.
func (w cutListWriter) worst() []string {
	s := w.list.Result.Worst
	if s == nil {
		return nil
	}
	done := "before the first piece is through"
	if s.Done > 0 {
		done = words.S("after piece %s", strconv.Itoa(s.Done))
	}
	return []string{words.S("At worst %s ends %s: a slow hand, the most oxygen through the hole, the least the gauges may mean.", w.gasOf(*s), done)}
}

// facts are the sums.
func (w cutListWriter) facts() []Fact {
	r := w.list.Result
	t := scale{quantity: units.QuantityDuration}
	banded := func(name, val string, s scale, b units.Band) Fact {
		text := s.text(b.Value)
		if band := s.band(b.Low, b.High); band != "" {
			text += " (" + band + ")"
		}
		return Fact{name, text, val}
	}
	list := []Fact{banded("Cutting, by hand", "cuts.time", t, r.Time), banded("Preheating, all starts", "cuts.start", t, r.Start),
		banded("Oxygen", "cuts.oxygen", w.b.scaler.of("oxygen.x_std_m3"), r.Oxygen), banded(words.Capital(w.fuel), "cuts.fuel", w.b.scaler.of("fuel.x_std_m3"), r.Fuel)}
	if r.Cost != nil {
		list = append(list, Fact{"Gas costs", w.opt.Currency + words.Number(strconv.FormatFloat(*r.Cost, 'f', 2, 64)), "cuts.cost"})
	}
	return list
}

// row is what one row takes: tip, pressures with the hose, time and oxygen.
func (w cutListWriter) row(i int) []Fact {
	c, r := w.list.Cards[i], w.list.Result.Rows[i]
	s := newScaler(w.opt, gas.Gas(c.FuelName))
	val := "cuts.row" + strconv.Itoa(i+1)
	return []Fact{{"Tip", c.Tip, val + ".tip"},
		{"Oxygen at the regulator", s.of("oxygen.regulator_gauge_pa").text(c.Oxygen.RegulatorGaugePa), val + ".oxygen"},
		{words.S("%s at the regulator", words.Capital(w.fuel)), s.of("fuel.regulator_gauge_pa").text(c.Fuel.RegulatorGaugePa), val + ".fuel"},
		{"One piece takes", words.S("%s, %s of oxygen", scale{quantity: units.QuantityDuration}.text(r.Time.Value+r.Start.Value), s.of("oxygen.x_std_m3").text(r.Oxygen.Value)), val + ".piece"}}
}

// CutsOf says in one line what is cut and how: "Mild steel, from an edge, bare".
func CutsOf(metal, start string, painted bool) string {
	coat, from := "bare", "from an edge"
	if painted {
		coat = "painted"
	}
	if start == string(cut.Pierce) {
		from = "pierced"
	}
	return words.S("%s, %s, %s.", words.Capital(plain(metal)), from, coat)
}
