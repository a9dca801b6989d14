package setup

import (
	"slices"

	"torchside/calc/cut"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Cutting is what a card for cutting says of the cut. Bands of its numbers are in Card.Provenance under the keys below.
type Cutting struct {
	CuttingOxygenStdM3S float64 `json:"cutting_oxygen_std_m3_s"` // without the preheat
	PreheatOxygenStdM3S float64 `json:"preheat_oxygen_std_m3_s"`
	HandSpeedMS         Range   `json:"hand_speed_m_s"`
	MachineSpeedMS      Range   `json:"machine_speed_m_s"`
	KerfM               float64 `json:"kerf_m"`
	DragM               float64 `json:"drag_m"`       // how far the bottom of the cut lags behind its top
	StartTimeS          float64 `json:"start_time_s"` // preheat before the cutting oxygen is opened
	// OxygenPerLength and FuelPerLength are what a metre of cut takes, m³ standard per m, without the start.
	OxygenPerLength float64 `json:"oxygen_std_m3_m"`
	FuelPerLength   float64 `json:"fuel_std_m3_m"`
	// IronHeatShare is the part of the heat that the burning iron gives; the flame of the preheat gives the rest.
	IronHeatShare float64 `json:"iron_heat_share"`
	// HeatRatio is heat freed by the iron over heat needed without any flame; Sustains says whether a started cut goes on alone.
	HeatRatio float64     `json:"heat_ratio"`
	Sustains  cut.Verdict `json:"sustains"`
	// SustainedM are the thicknesses at which HeatRatio is above 1 at usual hole and speed; nil when there are none.
	SustainedM *Range    `json:"sustained_m"`
	Start      cut.Start `json:"start"`

	result cut.Result // for cut lists
}

// Keys of what cutting adds to [Card.Provenance].
const (
	KeyCuttingOxygen = "oxygen.cutting_flow_std_m3_s"
	KeyPreheatOxygen = "oxygen.preheat_flow_std_m3_s"
	KeyCutHand       = "hand_speed_m_s"
	KeyCutMachine    = "machine_speed_m_s"
	KeyKerf          = "kerf_m"
	KeyDrag          = "drag_m"
	KeyCutStart      = "start_time_s"
	KeyOxygenPerM    = "oxygen.per_length_std_m3"
	KeyFuelPerM      = "fuel.per_length_std_m3"
	KeyIronShare     = "iron_heat_share"
	KeyHeatRatio     = "cut_heat_ratio"
)

const (
	sourceSpeeds  = "Carvill, Mechanical Engineer's Data Handbook, p. 210; hand: Sheet and Plate Metal Work (both read second-hand)"
	sourceBalance = "heats of formation of FeO and Fe3O4: CRC Handbook; heat in steel: EN 1993-1-2; moving line source (Rosenthal)"
)

// cutting fills what only a card for cutting has.
func (b *builder) cutting() {
	if b.c.cut == nil {
		return
	}
	r := b.c.cut.result
	c := &Cutting{Start: b.in.cut().Start, result: r}
	if c.Start == "" {
		c.Start = cut.Edge
	}
	c.CuttingOxygenStdM3S, c.PreheatOxygenStdM3S = b.put(KeyCuttingOxygen, b.c.cut.cutting), b.put(KeyPreheatOxygen, b.c.cut.preheat)
	speed := func(key string, v units.Band) Range {
		b.put(key, banded(Handbook, sourceSpeeds, true, v))
		return Range{v.Low, v.High}
	}
	c.HandSpeedMS, c.MachineSpeedMS = speed(KeyCutHand, r.Hand), speed(KeyCutMachine, r.Machine)
	c.KerfM = b.put(KeyKerf, banded(CommonPractice, "share of the hole for the cutting oxygen (from memory)", true, r.Kerf))
	c.DragM = b.put(KeyDrag, banded(CommonPractice, "share of the thickness (from memory)", true, r.Drag))
	c.StartTimeS = b.put(KeyCutStart, banded(CommonPractice, "by thickness (from memory)", true, r.Start))
	b.perLength(c, r)
	b.heatOfCut(c, r)
	b.card.Cutting = c
}

// banded is a band as an estimate.
func banded(kind Kind, source string, memory bool, v units.Band) estimate {
	return newEstimate(kind, source, memory, v.Value, v.Low, v.High, v.Reason)
}

// perLength divides flows by the speed of a hand.
func (b *builder) perLength(c *Cutting, r cut.Result) {
	per := func(f estimate) estimate {
		return newEstimate(Computed, "flow ÷ speed of a hand", true, f.value/r.Hand.Value, f.prov.Low/r.Hand.High, f.prov.High/r.Hand.Low, "the bands of flow and speed")
	}
	c.OxygenPerLength, c.FuelPerLength = b.put(KeyOxygenPerM, per(b.c.oxyFlow)), b.put(KeyFuelPerM, per(b.c.fuelFlow))
}

// heatOfCut weighs the heat of the burning iron against what the kerf takes.
func (b *builder) heatOfCut(c *Cutting, r cut.Result) {
	plate := units.Temperature(b.in.TemperatureK)
	balance := cut.Balance(units.Length(r.Kerf.Value), units.Speed(r.Speed.Value), plate)
	c.IronHeatShare = b.put(KeyIronShare, banded(Computed, sourceBalance, true, r.IronShare).withFormula("heat of the iron that burns ÷ (that + heat of the preheat's cone)",
		NamedValue{Name: "burning iron", Quantity: "power", SI: r.IronPower}, NamedValue{Name: "cone of the preheat", Quantity: "power", SI: r.FlamePower}))
	ratio := banded(Computed, sourceBalance, true, balance.Ratio)
	ratio.prov.Reason = words.S("%s; %s", balance.Freed.Reason, balance.Needed.Reason)
	c.HeatRatio, c.Sustains = b.put(KeyHeatRatio, ratio.withFormula("heat freed ÷ heat needed, of a kilogram of iron out of the kerf")), balance.Verdict
	if thin, thick, ok := cut.SustainedRange(plate); ok {
		c.SustainedM = &Range{float64(thin), float64(thick)}
	}
}

// cutConcerns names the number a note of calc/cut stands before; what is not named concerns the whole card.
var cutConcerns = map[string]string{"pierce": KeyCutStart, "settings_from_memory": "oxygen.regulator_gauge_pa", "wide_orifice": "tip", "impure_oxygen": "oxygen.flow_std_m3_s"}

// cutNotes turns the notes of calc/cut into warnings. What the standing cautions say already is left out.
func (b *builder) cutNotes() {
	if b.c.cut == nil {
		return
	}
	said := standing(b.in)
	for _, n := range b.c.cut.result.Notes {
		if slices.ContainsFunc(said, func(w Warning) bool { return w.Code == n.Code }) {
			continue
		}
		w := Warning{Code: n.Code, Level: Check, Text: n.Text, Source: n.Source, Concerns: cutConcerns[n.Code]}
		if n.FromMemory {
			w.Source = memoryMark(n.Source)
		}
		if n.Stop || n.Code == "pierce" {
			w.Level = Caution
		}
		b.card.Warnings = append(b.card.Warnings, w)
	}
}
