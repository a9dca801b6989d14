package present

import (
	"torchside/calc/flame"
	"torchside/calc/gas"
	"torchside/calc/setup"
	"torchside/calc/units"
	"torchside/calc/words"
)

// FlameView is the flame under the slider, ready to show.
type FlameView struct {
	Class       string // "Neutral flame"
	Ratio       string // "1.1 to 1"
	Spoken      string // the slider's value for whoever does not see it
	Temperature string // "3110 °C"
	Bound       string // what the temperature is, in one sentence
	Drawing     Drawing
	Strip       Drawing // what is in the flame, as one bar
	Shares      string  // the same in words
	Why         string  // what that does to the work
	Words       FlameWords
	Facts       []Number // of the tip and the heat
	Cautions    []string // stand before the drawing
	Printed     string   // what handbooks print; empty without a figure
}

// FlameScene is what a FlameView is made of. Longest is the longest cone the slider can reach, in m: the scale of the drawing,
// the same for every ratio.
type FlameScene struct {
	Question setup.FlameQuestion
	Work     setup.Work // of the card; empty without one
	Answer   setup.FlameAnswer
	Longest  float64
}

// NewFlameView writes a flame for a person.
func NewFlameView(s FlameScene, o Options) FlameView {
	a, who := s.Answer, burner{s.Question.Fuel, s.Work}
	class := ClassName(a.Class, s.Question.Fuel)
	v := FlameView{
		Class: words.Capital(words.S("%s flame", class)), Ratio: ratioText(s.Question.Ratio), Temperature: temperatureText(a.TemperatureK, o), Bound: boundText(a.Class),
		Drawing: drawFlame(s.drawing(o)), Strip: drawShares(a.Shares), Shares: sharesText(a.Shares), Why: who.why(a.Shares),
		Words: who.words(a.Class), Facts: s.facts(o), Printed: o.Units.Say(a.Printed),
	}
	v.Spoken = words.S("%s, %s, %s", v.Ratio, class, v.Temperature)
	v.Cautions = s.cautions()
	return v
}

func ratioText(ratio float64) string { return words.S("%s to 1", decimal(ratio, 2)) }

func temperatureText(k float64, o Options) string {
	return words.Number(units.Format(units.QuantityTemperature, k, o.Units.Unit(units.QuantityTemperature), 0))
}

// boundText says what an equilibrium temperature is worth.
func boundText(c flame.Class) string {
	if c == flame.Carburizing {
		return "By chemical equilibrium, without any loss; a rich flame may be hotter for a short way."
	}
	return "The most that chemical equilibrium allows; a real flame is cooler."
}

func (s FlameScene) cautions() []string {
	var list []string
	if !s.Answer.Burns.Burns {
		list = append(list, s.Answer.Burns.String())
	}
	if t := s.Answer.Tip; t != nil && t.HoldOn.Advice != flame.NothingToAdd {
		list = append(list, words.S("%s An estimate, an order of magnitude, from memory.", t.HoldOn.Advice.Sentence()))
	}
	return list
}

// drawing puts the cone into the picture's terms.
func (s FlameScene) drawing(o Options) flameInput {
	in := flameInput{class: drawnClass(s.Answer.Class, s.Question.Fuel), us: inches(o), count: s.Question.Holes}
	t := s.Answer.Tip
	if t == nil || !(t.Cone.Value > 0) {
		return in
	}
	in.hole, in.cone, in.shortest, in.longest = s.Question.OrificeDiameterM, t.Cone.Value, t.Cone.Low, t.Cone.High
	in.span = flameSpanFor(max(s.Longest, t.Cone.Value), in.us)
	if in.class == flame.Carburizing {
		in.feather = featherLength(t.Cone.Value, s.Question.Ratio, s.Answer.Neutral.Low)
	}
	return in
}

func inches(o Options) bool { return o.Units.Unit(units.QuantityThickness).Symbol() == "in" }

// featherGrowth makes the feather twice as long as the cone at the middle of the carburizing range that OD0017 prints for
// acetylene, 0.9 of 1.04; that such a feather is about twice the cone is common practice, no source.
const featherGrowth = 1.04 / (1.04 - 0.9)

// featherLength sketches the feather: as long as the cone at the edge of neutral, where it goes into it, and longer by what is
// missing in oxygen, up to four cones.
func featherLength(cone, ratio, neutral float64) float64 {
	return cone * min(1+featherGrowth*(neutral-ratio)/neutral, 4)
}

// facts are the numbers of tip and heat, in the order they matter at the torch.
func (s FlameScene) facts(o Options) []Number {
	sc := newScaler(o, s.Question.Fuel)
	a := s.Answer
	fact := func(key, label string, si float64, n Number) Number {
		n.Key, n.Label = "flame."+key, label
		if n.Value == "" {
			n.Value, n.Unit = sc.of(key).number(si)
		}
		return n
	}
	list := s.tipFacts(fact, sc, o)
	return append(list,
		fact("oxygen.flow_std_m3_s", "Oxygen flow", a.OxygenFlowStd, Number{Kind: string(setup.Computed), Note: words.S("The %s stays at %s; volumes at %s.", s.Question.Fuel.Name(), sc.of("fuel.flow_std_m3_s").text(s.Question.FuelFlowStd), volumesAt(o))}),
		fact("primary_power_w", "Heat released by the torch oxygen", a.PrimaryW, Number{Kind: string(setup.Computed), Note: o.Units.Say(a.PrintedSplit)}),
		fact("envelope_power_w", "Heat added by the air", a.EnvelopeW, Number{Kind: string(setup.Computed), Note: "In the envelope; much of it passes the work by."}),
	)
}

// tipFacts are exit, pop-back margin, lowest flow and burning velocity; nothing where the tip is not known.
func (s FlameScene) tipFacts(fact func(string, string, float64, Number) Number, sc scaler, o Options) []Number {
	t := s.Answer.Tip
	if t == nil {
		return []Number{{Key: "flame.hold_on_margin", Label: "On the tip", Value: "not known", Note: "It needs the hole of the tip and a burning velocity of this gas."}}
	}
	computed := string(setup.Computed)
	return []Number{
		{Key: "flame.cone_length_m", Label: "Inner cone", Value: coneValue(t.Cone.Value, o), Band: coneBand(t.Cone, o), Kind: computed, Memory: true},
		fact(keyVelocity, "Out of the tip", t.ExitVelocityMS, Number{Note: exitWords[t.ExitClass], Kind: computed, Memory: true}),
		{Key: "flame.hold_on_margin", Label: "Pop-back estimate", Value: words.S("about %s ×", oneDigit(t.HoldOn.Margin.Value)), Band: words.S("%s to %s ×", oneDigit(t.HoldOn.Margin.Low), oneDigit(t.HoldOn.Margin.High)),
			Note: "Times the flow at which the flame could walk back. An order of magnitude.", Kind: computed, Memory: true},
		s.lowest(t.Lowest, sc),
		fact("burning_"+keySpeed, "Burns at", t.BurningVelocity.Value, s.velocity(t.BurningVelocity, sc)),
	}
}

// lowest is the least flow advised; it is never called safe.
func (s FlameScene) lowest(l flame.LowestFlow, sc scaler) Number {
	n := Number{Key: "flame.lowest_flow", Label: words.S("Lowest %s flow advised", s.Question.Fuel.Name()), Kind: string(setup.Computed), Memory: l.FromMemory}
	flow := sc.of("fuel.flow_std_m3_s")
	n.Value, n.Unit = flow.number(float64(l.Advised))
	n.Note = "An order of magnitude, on the high side: the flame may pop back above it too. Never go below the maker's smallest flow."
	if l.FromMaker {
		n.Kind, n.Note = string(setup.MakersChart), words.S("The maker's smallest flow; the estimate finds %s or less.", flow.text(l.Estimate.High))
	}
	return n
}

func (s FlameScene) velocity(b units.Band, sc scaler) Number {
	jet := scale{quantity: units.QuantitySpeed, unit: sc.jet()}
	v, unit := jet.number(b.Value)
	return Number{Value: v, Unit: unit, Band: jet.band(b.Low, b.High), Note: "Models below, remembered measurements above.", Kind: string(setup.Computed), Memory: true}
}

func coneValue(m float64, o Options) string {
	if !(m > 0) {
		return "none stands"
	}
	return coneText(m, o)
}

func coneBand(b units.Band, o Options) string {
	if !(b.Low < b.High) {
		return ""
	}
	return words.S("%s to %s", coneText(b.Low, o), coneText(b.High, o))
}

// Fuels are the fuels to choose from.
func Fuels() []Word {
	var list []Word
	for _, g := range gas.Fuels() {
		list = append(list, Word{Value: string(g), Label: words.Capital(g.Name())})
	}
	return list
}

// Ratio writes a ratio of oxygen to fuel.
func Ratio(ratio float64) string { return ratioText(ratio) }

// RatioDigits writes a ratio as a person types it.
func RatioDigits(ratio float64) string { return decimal(ratio, 2) }

// FlameTip says whose flame is drawn: the card's tip, or an example.
func FlameTip(tip string, q setup.FlameQuestion, o Options) string {
	sc := newScaler(o, q.Fuel)
	flow := words.S("%s of %s", sc.of("fuel.flow_std_m3_s").text(q.FuelFlowStd), q.Fuel.Name())
	if tip != "" {
		return words.S("Tip %s of your card, %s.", tip, flow)
	}
	hole := words.Number(units.Format(units.QuantityBore, q.OrificeDiameterM, o.Units.Unit(units.QuantityBore), 0))
	return words.S("An example: a hole of %s with %s. Setup shows your own tip.", hole, flow)
}
