package state

import (
	"maps"
	"strings"

	"torchside/calc/leak"
	"torchside/calc/units"
	"torchside/calc/words"
)

// leakView makes one test ready to show.
func (a App) leakView(t LeakTest) LeakView {
	v := LeakView{Test: t, Name: sectionName(t.Section, t.Gas), GasName: string(t.Gas), Answer: a.answer(t), Problem: a.Leak.problems[t.ID], Ratio: t.Gas.StandardRatio()}
	if timer, ok := a.timerFor(t.Key); ok {
		v.Timer = &timer
	}
	if t.Ended == 0 {
		v.Same = map[string]string{}
		for _, s := range a.readingSpecs(t) {
			v.Fields = append(v.Fields, a.readReadingField(t, s))
			if text := a.sameText(t, s); text != "" && strings.TrimSpace(a.Leak.readings[t.ID][s.Key]) == "" {
				v.Same[s.Key] = text
			}
		}
	}
	for _, u := range a.sortedTests() {
		if u.RetestOf == t.ID {
			v.Retests = append(v.Retests, u.ID)
		}
	}
	v.Joints = leakJoints(t, v.Answer)
	return v
}

// leakJoints are the joints to soap once a leak is certain or soap was begun with.
func leakJoints(t LeakTest, answer *LeakAnswer) []LeakJoint {
	found := answer != nil && answer.Problem == "" && (answer.Verdict == leak.Leaking || answer.Certain)
	if !found && len(t.Joints) == 0 {
		return nil
	}
	joints, err := leak.Joints(t.Section, t.Gas)
	if err != nil {
		return nil
	}
	list := make([]LeakJoint, 0, len(joints))
	for _, j := range joints {
		list = append(list, LeakJoint{Joint: j, State: t.Joints[j.Code]})
	}
	return list
}

// readingSpecs are the fields of a reading on the way.
func (a App) readingSpecs(t LeakTest) []Spec {
	main, other := gaugeNames(t.Section)
	delivery, ambient := byDelivery(t.Section), units.AbsolutePressure(t.setting(leakBarometer))
	specs := []Spec{gaugeSpec(leakGauge, main, t.Gas, delivery, false, t.setting(leakScale), ambient).need()}
	specs[0].Steps = divisionSteps(t.setting(leakDivision))
	if _, ok := t.Readings[0].value(leakTemperature); ok {
		specs = append(specs, temperatureSpec)
	}
	if _, ok := t.Readings[0].value(leakOther); ok {
		s := gaugeSpec(leakOther, other, t.Gas, !delivery, false, t.setting(leakOtherScale), ambient)
		s.Steps = divisionSteps(t.setting(leakOtherDiv))
		specs = append(specs, s)
	}
	return specs
}

// readingUnits are the units the next reading is read in: those its texts were typed under.
func (a App) readingUnits(id string) units.System {
	if u, ok := a.Leak.readingUnits[id]; ok {
		return u
	}
	return a.Prefs.Units
}

// readingField is a field of the next reading of a test as it is read now.
func (a App) readingField(id string, s Spec) units.Field {
	f := s.Field
	f.Unit = s.unit(a.readingUnits(id))
	return f
}

func (a App) readReading(t LeakTest, s Spec) reading {
	text := a.Leak.readings[t.ID][s.Key]
	if strings.TrimSpace(text) == "" {
		return reading{}
	}
	return readField(s, a.readingField(t.ID, s), text)
}

// readReadingField shows a field; while it is empty its steppers go on from the last reading.
func (a App) readReadingField(t LeakTest, s Spec) FormField {
	field, text := a.readingField(t.ID, s), a.Leak.readings[t.ID][s.Key]
	f := formField(s, field, text, a.readReading(t, s))
	if before := a.sameText(t, s); strings.TrimSpace(text) == "" && before != "" {
		f.Down, f.Up = stepTexts(s, field, before, readField(s, field, before))
	}
	return f
}

// sameText is the last reading as text, in the units of now.
func (a App) sameText(t LeakTest, s Spec) string {
	for i := len(t.Readings) - 1; i >= 0; i-- {
		v, ok := t.Readings[i].Values[s.Key]
		if !ok {
			continue
		}
		return said(a.readingField(t.ID, s), v)
	}
	return ""
}

// said writes a stored number as text that a field understands as the same: as typed, with its unit, or anew.
func said(f units.Field, v Value) string {
	for _, text := range []string{v.Typed, strings.TrimSpace(v.Typed + " " + v.Unit)} {
		if r, err := f.Parse(text); err == nil && !r.Empty && sameSI(r.SI, v.SI) {
			return text
		}
	}
	return units.Format(f.Quantity, v.SI, f.Unit, f.Standard)
}

// typedReading puts what is typed into a reading; the error is what is wrong, by field.
func (a App) typedReading(t LeakTest) (LeakReading, string) {
	r := LeakReading{At: a.Clock.Wall, Values: map[string]Value{}}
	for _, s := range a.readingSpecs(t) {
		got := a.readReading(t, s)
		switch {
		case got.err != "":
			return r, got.err
		case got.given:
			r.Values[s.Key] = Value{SI: got.si, Typed: a.Leak.readings[t.ID][s.Key], Unit: got.unit.Symbol()}
		case s.required:
			return r, words.S("%s: nothing typed; allowed: what the gauge shows now, also when it has not moved.", s.Label)
		}
	}
	return r, ""
}

// withReadingText keeps a typed text of a reading that is not noted yet.
func (a App) withReadingText(id, key, text string, system units.System) App {
	a.Leak.readingUnits = maps.Clone(a.Leak.readingUnits)
	if a.Leak.readingUnits == nil {
		a.Leak.readingUnits = map[string]units.System{}
	}
	a.Leak.readingUnits[id] = system
	a.Leak.readings = maps.Clone(a.Leak.readings)
	if a.Leak.readings == nil {
		a.Leak.readings = map[string]map[string]string{}
	}
	texts := maps.Clone(a.Leak.readings[id])
	if texts == nil {
		texts = map[string]string{}
	}
	texts[key] = text
	a.Leak.readings[id] = texts
	return a
}
