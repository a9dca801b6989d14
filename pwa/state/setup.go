package state

import (
	"errors"
	"maps"

	"torchside/calc/setup"
	"torchside/calc/units"
)

// Setup is the question and its answer.
type Setup struct {
	Work, Metal, Joint string            // JSON words of calc/setup
	Typed              map[string]string // raw texts: "thickness", "temperature", "altitude", "ratio"
	Read               map[string]string // what was understood, "1/8 in = 3.175 mm"
	Errors             map[string]string // what is wrong; the typed text stays
	TipLabel           string            // "" lets the computation choose
	HadTip             string            // chosen by hand for an earlier question, "" for none: one tap takes it again
	Refusal            *setup.Refusal    // why there is no new card; nil when nothing is wrong or nothing is asked yet
	Card               *setup.Card       // the last good card
	Stale              bool              // Card answers an earlier question than the one typed now
	For                Asked             // the question that Card answers, or answered before a reload
	OpenProvenance     string            // key of the open "where from" sheet, "" for none
	Sample             bool              // the rig in use has sample parts
	// Fields are the typed fields ready to show, by the keys of Typed: label, hint, help and stepper texts.
	Fields map[string]FormField
	// Piece are the fields that the work asks besides, of the piece to heat or bend and of the cut, in the order they are entered; none
	// for other works.
	Piece []FormField

	flame setup.FlameQuestion // of Card, for the slider
	input setup.Input         // the question Card answers
}

func newSetup() Setup {
	return Setup{
		Work: string(setup.Weld), Metal: string(setup.MildSteel), Joint: string(setup.Butt),
		Typed: map[string]string{}, Read: map[string]string{}, Errors: map[string]string{}, Fields: map[string]FormField{},
	}
}

// setupSpecs are the typed fields of Setup. Thickness has the limits of the chosen work, see setupField.
var setupSpecs = append([]Spec{
	numberSpec("thickness", "Thickness", "Of the thinner part, as 1/8 in, 3 mm or 11 ga.", units.QuantityThickness, 0, 0, "").need(),
	numberSpec("temperature", "Shop temperature", "Empty takes the one set on Bench.", units.QuantityTemperature, 253.15, 323.15,
		"hoses and gas data hold from −20 to 50 °C").steps(stepsWarmth),
	numberSpec("altitude", "Altitude", "Of the shop above the sea. Empty takes the one set on Bench.", units.QuantityLength, -400, 4000,
		"people weld between the Dead Sea's shore and a high mountain").steps(stepsHeight),
	numberSpec("ratio", "Oxygen to fuel", "Empty takes the usual flame for the work.", units.QuantityNumber, 0.3, 6,
		"outside this no torch flame burns in a useful way").steps(stepTable{"": 0.05}),
}, append(append(heatSpecs, cutSpecs...), jointSpecs...)...)

// sheetOf is the gauge table that belongs to a metal.
func sheetOf(metal string) units.SheetTable {
	switch setup.Metal(metal) {
	case setup.MildSteel, setup.CastIron:
		return units.SteelSheet
	case setup.GalvanisedSteel:
		return units.GalvanisedSheet
	case setup.StainlessSteel:
		return units.StainlessSheet
	}
	return units.NonFerrousSheet
}

// setupField is a Setup field as it is read now.
func (a App) setupField(s Spec) units.Field {
	f := s.Field
	f.Unit, f.Sheet = a.Prefs.Units.Unit(f.Quantity), sheetOf(a.Setup.Metal)
	if s.Key == "thickness" {
		f.Min, f.Max, f.Why = setup.Thickness(setup.Work(a.Setup.Work))
	}
	return f
}

func (a App) setupTyped(m SetupTyped) (App, []Effect) {
	a.Setup.Typed = maps.Clone(a.Setup.Typed)
	changed := a.Setup.Typed[m.Field] != m.Text
	a.Setup.Typed[m.Field] = m.Text
	a = a.tipGivenUp(changed && (m.Field == "thickness" || m.Field == keyProcess))
	a = a.recomputed()
	return a, a.keepSetup()
}

func (a App) setupChosen(m SetupChosen) (App, []Effect) {
	a = a.withSetupChoice(m.Field, m.Value).recomputed()
	return a, a.keepSetup()
}

// withSetupChoice sets one choice of Setup; an unknown field changes nothing, an unknown word is refused by calc.
func (a App) withSetupChoice(field, value string) App {
	switch field {
	case "work":
		a = a.tipGivenUp(value != a.Setup.Work)
		a.Setup.Work = value
	case "metal":
		a = a.tipGivenUp(value != a.Setup.Metal)
		a.Setup.Metal = value
	case "joint":
		a.Setup.Joint = value
	case "had_tip":
		a.Setup.HadTip = value
	case "tip":
		a.Setup.TipLabel, a.Setup.HadTip = value, ""
	}
	return a
}

// tipGivenUp goes back to the best tip: one that was chosen by hand was chosen for another question.
func (a App) tipGivenUp(changed bool) App {
	if changed && a.Setup.TipLabel != "" {
		a.Setup.TipLabel, a.Setup.HadTip = "", a.Setup.TipLabel
	}
	return a
}

// keepSetup keeps what was asked, so that a reload asks it again.
func (a App) keepSetup() []Effect {
	s := a.Setup
	return []Effect{KeepDraft{Key: draftSetup, Draft: Draft{
		Texts:   maps.Clone(s.Typed),
		Choices: map[string]string{"work": s.Work, "metal": s.Metal, "joint": s.Joint, "tip": s.TipLabel, "had_tip": s.HadTip},
		Units:   textOf(a.Prefs.Units),
		Earlier: s.For.draft(),
	}}}
}

// recomputed reads the typed texts again and asks calc for a card. The last good card stays, marked stale, whenever there is
// no new one. The flame under the slider follows the card.
func (a App) recomputed() App { return a.carded().earlier().flamed() }

func (a App) carded() App {
	s := &a.Setup
	s.Read, s.Errors, s.Fields = map[string]string{}, map[string]string{}, map[string]FormField{}
	si := map[string]float64{}
	for _, spec := range setupSpecs {
		if !s.asks(spec.Key) {
			continue
		}
		field := a.setupField(spec)
		r := readField(spec, field, s.Typed[spec.Key])
		if spec.Key == "thickness" && s.Typed[spec.Key] == "" {
			r = reading{} // nothing asked yet is no mistake
		}
		if r.given {
			si[spec.Key] = r.si
		}
		put(s.Read, spec.Key, r.read)
		put(s.Errors, spec.Key, r.err)
		s.Fields[spec.Key] = formField(spec, field, s.Typed[spec.Key], r)
	}
	s.Fields["thickness"] = s.heatField(s.Fields["thickness"])
	s.Piece = s.pieceFields()
	s.Refusal, s.Stale = nil, s.Card != nil
	s.Sample = a.Rig.Sample
	thickness, asked := si["thickness"]
	if !asked || len(s.Errors) > 0 || !a.Ready {
		return a
	}
	question := a.question(thickness, si)
	card, err := setup.Compute(question)
	if err == nil {
		card, err = s.heating(card, question, si)
	}
	if err == nil {
		card, err = s.jointed(card, question, si)
	}
	if err != nil {
		s.Refusal = refusalOf(err)
		return a
	}
	return a.took(card, question)
}

// question puts the typed numbers, the preferences and the rig together.
func (a App) question(thickness float64, si map[string]float64) setup.Input {
	s := a.Setup
	temperature, ok := si["temperature"]
	if !ok {
		temperature = a.Prefs.number(PrefTemperature)
	}
	altitude, ok := si["altitude"]
	if !ok {
		altitude = a.Prefs.number(PrefAltitude)
	}
	in := setup.Input{
		Work: setup.Work(s.Work), Metal: setup.Metal(s.Metal), ThicknessM: thickness, Rig: a.rigSI(), TipLabel: s.TipLabel,
		TemperatureK: temperature, AmbientAbsPa: float64(ambient(units.Length(altitude))), Ratio: si["ratio"],
	}
	in.Cut = s.cutQuestion(si)
	if in.Work == setup.Weld || in.Work == setup.Braze {
		in.Joint = setup.Joint(s.Joint)
	}
	return s.withJoint(in)
}

// refusalOf makes any error of calc one that can be shown.
func refusalOf(err error) *setup.Refusal {
	var r *setup.Refusal
	if errors.As(err, &r) {
		return r
	}
	return &setup.Refusal{Code: "failed", Field: "rig", Read: "this question", Allowed: "another one", Why: err.Error()}
}

func put(m map[string]string, key, text string) {
	if text != "" {
		m[key] = text
	}
}
