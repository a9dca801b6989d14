package state

import (
	"strings"
	"time"

	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
	"torchside/storage"
)

// groups makes the list: the parts of each kind, those in use first, retired ones apart.
func (a App) groups() []Group {
	list := make([]Group, 0, len(partKinds))
	for _, k := range partKinds {
		info := kinds[k]
		g := Group{Kind: k, Title: info.group, Add: info.add, Lined: info.lined, AddOxygen: info.addOxygen, AddFuel: info.addFuel}
		var idle []PartView
		for _, p := range a.parts(k) {
			v := a.view(p)
			switch {
			case v.Retired:
				g.Spares = append(g.Spares, v)
			case v.InUse || !info.sole:
				g.Parts = append(g.Parts, v)
			default:
				idle = append(idle, v)
			}
		}
		g.Parts = append(g.Parts, idle...)
		list = append(list, g)
	}
	return list
}

// view makes one line of the list.
func (a App) view(p Part) PartView {
	v := PartView{
		ID: p.ID, Kind: p.Kind, Name: a.partName(p), Line: p.Line(), Gas: a.lineGas(p), GasName: a.lineGasName(p), Facts: a.facts(p), Retired: p.Retired,
		Sample: p.Sample, Split: p.record.Conflict != storage.ConflictNone,
	}
	if used, ok := a.inUse(p.Kind, p.Line()); ok && kinds[p.Kind].sole {
		v.InUse = used.ID == p.ID
	}
	v.CanUse = kinds[p.Kind].sole && !p.Retired && !v.InUse
	if p.Kind == KindTip {
		for _, r := range a.rows(p.ID) {
			v.Rows = append(v.Rows, a.rowView(r))
		}
	}
	return v
}

// partName is the owner's name of a part, or what it is.
func (a App) partName(p Part) string {
	if p.Name != "" {
		return p.Name
	}
	switch p.Kind {
	case KindCylinder:
		return words.S("%s cylinder", words.Capital(gasName(p.Choices["gas"])))
	case KindArrestor:
		return label(arrestorSpecs, "type", p.Choices["type"])
	case KindTorch:
		return words.S("%s torch", label(torchSpecs, "mixing", p.Choices["mixing"]))
	case KindRegulator, KindHose:
		return words.S("%s %s", words.Capital(p.Line()), strings.ToLower(kinds[p.Kind].title))
	}
	return kinds[p.Kind].title
}

// lineGas names the gas of a part's line: always beside its colour.
func (a App) lineGas(p Part) string {
	switch {
	case p.Kind == KindCylinder:
		return gasName(p.Choices["gas"])
	case p.Line() == LineOxygen:
		return "oxygen"
	case p.Line() == LineFuel && a.fuelInUse() != "":
		return gasName(a.fuelInUse())
	case p.Line() == LineFuel:
		return "fuel gas"
	}
	return ""
}

// lineGasName is the JSON name of the gas of a part's line.
func (a App) lineGasName(p Part) string {
	switch {
	case p.Kind == KindCylinder:
		return p.Choices["gas"]
	case p.Line() == LineFuel && a.fuelInUse() != "":
		return a.fuelInUse()
	case p.Line() == LineFuel:
		return "acetylene"
	}
	return p.Line()
}

// facts are the numbers, choices and dates of a part in the owner's units.
func (a App) facts(p Part) []string {
	var list []string
	for _, s := range Specs(p.Kind) {
		if !s.isShown(fill{choices: p.Choices}) || s.Key == "name" || s.Key == "line" || s.Key == "gas" || s.Key == "size" {
			continue
		}
		if text := a.fact(p, s); text != "" {
			list = append(list, text)
		}
	}
	if t, ok := a.lastLeakTest(p.ID); ok {
		list = append(list, words.S("Leak test %s: %s", time.UnixMilli(t.Start).Format(dateLayout), string(t.Outcome.Verdict)))
	}
	return list
}

func (a App) fact(p Part, s Spec) string {
	switch s.Type {
	case TypeNumber:
		v, ok := p.Values[s.Key]
		if !ok || s.Default != "" && v.Typed == s.Default {
			return ""
		}
		return words.S("%s %s", s.briefly(), a.valueView(p, s, v))
	case TypeChoice:
		if p.Choices[s.Key] == "" {
			return ""
		}
		return words.T(s.briefly()) + words.T(label(Specs(p.Kind), s.Key, p.Choices[s.Key]))
	case TypeDate:
		if p.Dates[s.Key] == "" {
			return ""
		}
		return words.S("%s %s", s.Label, p.Dates[s.Key])
	}
	if s.Key == "note" {
		return p.Note
	}
	return ""
}

// valueView writes a saved number in the owner's units.
func (a App) valueView(p Part, s Spec, v Value) string {
	text := words.Number(units.Format(s.Field.Quantity, v.SI, s.unit(a.Prefs.Units), a.ratioOf(p, s)))
	if s.Field.Quantity.IsMoney() {
		return a.Prefs.Currency + text
	}
	return text
}

func (a App) ratioOf(p Part, s Spec) units.StandardRatio {
	g := a.gasOf(&Form{Kind: p.Kind, TipID: p.Choices["tip"], texts: p.Choices}, s)
	if !g.Known() {
		return 0
	}
	return g.StandardRatio()
}

// rowView writes one chart row.
func (a App) rowView(p Part) RowView {
	span := func(low string) string {
		high := strings.TrimSuffix(low, "low") + "high"
		l, h := a.rowNumber(p, low), a.rowNumber(p, high)
		switch {
		case l == "" || l == h:
			return h
		case h == "":
			return l
		}
		return l + " – " + h
	}
	v := RowView{
		ID: p.ID, Work: label(chartRowSpecs, "work", p.Choices["work"]), Thickness: span("thickness_low"), Oxygen: span("oxygen_low"),
		Fuel: span("fuel_low"), OxygenFlow: span("oxygen_flow_low"), FuelFlow: span("fuel_flow_low"), Sample: p.Sample,
	}
	if p.Choices["pressures_at"] == "torch" {
		v.Condition = "read at the torch inlet"
	}
	return v
}

func (a App) rowNumber(p Part, key string) string {
	for _, s := range chartRowSpecs {
		if v, ok := p.Values[key]; ok && s.Key == key {
			return a.valueView(p, s, v)
		}
	}
	return ""
}

// label is the label of a choice, the value itself when this build does not know it.
func label(specs []Spec, key, value string) string {
	for _, s := range specs {
		for _, o := range s.Options {
			if s.Key == key && o.Value == value {
				return o.Label
			}
		}
	}
	return value
}

// gasName is a gas for a person; the word itself when this build does not know it.
func gasName(name string) string {
	if g := gas.Gas(name); g.Known() {
		return g.Name()
	}
	return name
}
