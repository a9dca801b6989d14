package state

import (
	"torchside/calc/words"
	"torchside/storage"
)

// The sample rig is of our own invention: every name and number of it is made up, chosen so that it gives a card for welding
// mild steel of 1/8 in with acetylene. No torch or tip of this kind is sold anywhere.
const (
	sampleRowTip = "SAMPLE 14"
)

func sampleValue(si float64, typed, unit string) Value {
	return Value{SI: si, Typed: typed, Unit: unit}
}

// Units of the invented numbers.
const (
	barPa = 1e5
	mm    = 1e-3
	litre = 1e-3
	// litresPerHour turns L/h into m³/s.
	litresPerHour = litre / 3600
)

func samplePart(k Kind, name string, choices map[string]string, values map[string]Value, inUse bool) Part {
	return Part{Kind: k, Name: name, Choices: choices, Values: values, Note: "Invented example.", InUse: inUse, Sample: true}
}

// sampleParts are the parts but for the chart row, which needs the id of its tip.
func sampleParts() []Part {
	hose := func(line, grade string) Part {
		choices := map[string]string{"line": line}
		if line == LineFuel {
			choices["grade"] = grade
		}
		return samplePart(KindHose, words.S("SAMPLE %s hose", line), choices, map[string]Value{
			"inside_diameter": sampleValue(6.3*mm, "6.3", "mm"), "length": sampleValue(5, "5", "m"),
		}, true)
	}
	regulator := func(line string, end float64, typed string) Part {
		return samplePart(KindRegulator, words.S("SAMPLE %s regulator", line), map[string]string{"line": line},
			map[string]Value{"max_gauge": sampleValue(end, typed, "bar")}, true)
	}
	arrestor := func(line string) Part {
		return samplePart(KindArrestor, words.S("SAMPLE %s arrestor", line), map[string]string{"line": line, "type": "flashback_arrestor", "place": "regulator"}, nil, false)
	}
	return []Part{
		samplePart(KindCylinder, "SAMPLE oxygen, 20 L", map[string]string{"gas": "oxygen"}, map[string]Value{
			"water_volume": sampleValue(20*litre, "20", "L"), "gauge_pressure": sampleValue(140*barPa, "140", "bar")}, true),
		samplePart(KindCylinder, "SAMPLE acetylene", map[string]string{"gas": "acetylene"}, map[string]Value{
			"gross_mass": sampleValue(38.6, "38.6", "kg"), "tare_mass": sampleValue(34.2, "34.2", "kg"), "full_mass": sampleValue(4.8, "4.8", "kg")}, true),
		regulator(LineOxygen, 10*barPa, "10"), regulator(LineFuel, 2.5*barPa, "2.5"),
		hose(LineOxygen, ""), hose(LineFuel, "R"), arrestor(LineOxygen), arrestor(LineFuel),
		samplePart(KindTorch, "SAMPLE equal-pressure torch", map[string]string{"mixing": "equal_pressure"}, nil, true),
		sampleTip("SAMPLE 10", 1.0, "1.0"), sampleTip(sampleRowTip, 1.4, "1.4"), sampleTip("SAMPLE 18", 1.8, "1.8"), sampleCuttingTip(),
	}
}

func sampleTip(name string, holeMM float64, typed string) Part {
	return samplePart(KindTip, name, map[string]string{"fuel": "acetylene"}, map[string]Value{"orifice_diameter": sampleValue(holeMM*mm, typed, "mm")}, false)
}

// sampleCuttingTip is the invented tip for cutting.
func sampleCuttingTip() Part {
	return samplePart(KindTip, "SAMPLE cutting", map[string]string{"fuel": "acetylene", "work": "cut"}, map[string]Value{
		"orifice_diameter": sampleValue(1.0*mm, "1.0", "mm"), "preheat_diameter": sampleValue(0.6*mm, "0.6", "mm"), "preheat_count": sampleValue(6, "6", "")}, false)
}

// sampleRow is the one invented chart row.
func sampleRow(tipID string) Part {
	return samplePart(KindChartRow, "", map[string]string{"tip": tipID, "work": "weld"}, map[string]Value{
		"thickness_low": sampleValue(2.5*mm, "2.5", "mm"), "thickness_high": sampleValue(4*mm, "4", "mm"),
		"oxygen_low": sampleValue(0.3*barPa, "0.3", "bar"), "oxygen_high": sampleValue(0.45*barPa, "0.45", "bar"),
		"fuel_low": sampleValue(0.3*barPa, "0.3", "bar"), "fuel_high": sampleValue(0.45*barPa, "0.45", "bar"),
		"oxygen_flow_low": sampleValue(240*litresPerHour, "240", "L/h"), "oxygen_flow_high": sampleValue(360*litresPerHour, "360", "L/h"),
		"fuel_flow_low": sampleValue(220*litresPerHour, "220", "L/h"), "fuel_flow_high": sampleValue(330*litresPerHour, "330", "L/h"),
	}, false)
}

// sampleAdded writes the sample rig: parts in use where the owner has none of that kind.
func (a App) sampleAdded() (App, []Effect) {
	if a.Rig.Sample || a.busy() {
		return a, nil
	}
	var p pending
	for _, part := range sampleParts() {
		if part.InUse {
			part = a.firstUse(part)
		}
		d, err := draftOf(part)
		if err != nil {
			return a.panicked(err.Error()), nil
		}
		p.drafts = append(p.drafts, d)
	}
	p.then = sampleRowFollows
	return a.write(p)
}

// sampleRowFollows writes the chart row once its tip has an id.
func sampleRowFollows(a App, records []storage.Record) (App, []Effect) {
	for _, r := range records {
		part, err := ReadPart(r)
		if err != nil || part.Kind != KindTip || part.Name != sampleRowTip {
			continue
		}
		d, err := draftOf(sampleRow(part.ID))
		if err != nil {
			return a.panicked(err.Error()), nil
		}
		return a.write(pending{drafts: []storage.Draft{d}})
	}
	return a, nil
}

// sampleRemoved deletes every sample part. A row the owner has added to a sample tip goes with the tip.
func (a App) sampleRemoved() (App, []Effect) {
	if a.busy() {
		return a, nil
	}
	var list []Part
	for _, k := range append(partKinds, KindChartRow) {
		for _, p := range a.parts(k) {
			tip, ok := a.part(p.Choices["tip"])
			if p.Sample || k == KindChartRow && ok && tip.Sample {
				list = append(list, p)
			}
		}
	}
	if len(list) == 0 {
		return a, nil
	}
	return a.remove(list, "The sample rig is removed.")
}
