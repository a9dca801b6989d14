package cut

import (
	"math"

	"torchside/calc/units"
)

// Heat of burning iron in J per kg of iron: heats of formation of the CRC Handbook (FeO −272.0, Fe3O4 −1118.4 kJ/mol at 298 K)
// over the molar mass of iron, 55.845 g/mol.
const (
	heatToFeO   = 272.0e3 / 0.055845
	heatToFe3O4 = 1118.4e3 / 3 / 0.055845
)

// The share of the iron of the kerf that burns; the rest leaves unburnt in the slag: 30 to 40 %, oxygen cutting texts, from memory.
const burntLow, burntShare, burntHigh = 0.6, 0.65, 0.7

// heatOfFusion of steel in J/kg, from memory.
const heatOfFusion = 270e3

// Verdict says whether the iron alone keeps a started cut going.
type Verdict string

// The verdicts.
const (
	Sustains  Verdict = "sustains"
	Fails     Verdict = "fails"
	Undecided Verdict = "undecided"
)

// HeatBalance is the heat of a started cut without its flame, per kg of iron out of the kerf.
type HeatBalance struct {
	Freed  units.Band // J/kg, by burning
	Needed units.Band // J/kg, to carry off the kerf and to feed the walls
	Ratio  units.Band // freed over needed
	// Verdict: sustains when Ratio.Low is above 1, fails when Ratio.High is below, undecided between.
	Verdict Verdict
}

// Balance returns the heat balance of a kerf (m) cut at a speed (m/s) in a plate at a temperature. The low end of what is needed has
// walls at kindling temperature and solid iron in the slag, the high end walls that melt. The plate counts as wide and without loss
// to the air.
func Balance(kerf units.Length, speed units.Speed, plate units.Temperature) HeatBalance {
	start := float64(plate) - 273.15
	needed := units.Band{
		Value:  heatContent(start, ironOxideMelts) + (1-burntShare)*heatOfFusion + wallLoss(float64(kerf), float64(speed), start, ironOxideMelts),
		Low:    heatContent(start, ironOxideMelts) + wallLoss(float64(kerf), float64(speed), start, kindling),
		High:   heatContent(start, ironMelts) + (1-burntLow)*heatOfFusion + wallLoss(float64(kerf), float64(speed), start, ironMelts),
		Reason: "walls from kindling to melting; EN 1993-1-2; moving line source (Rosenthal); heat of fusion from memory",
	}
	freed := units.Band{Value: burntShare * heatToFeO, Low: burntLow * heatToFeO, High: burntHigh * heatToFe3O4,
		Reason: "60 to 70 % of the iron burns, from memory; low end to FeO, high end to Fe3O4 (CRC Handbook)"}
	b := HeatBalance{Freed: freed, Needed: needed, Verdict: Undecided,
		Ratio: units.Band{Value: freed.Value / needed.Value, Low: freed.Low / needed.High, High: freed.High / needed.Low, Reason: freed.Reason}}
	switch {
	case b.Ratio.Low > 1:
		b.Verdict = Sustains
	case b.Ratio.High < 1:
		b.Verdict = Fails
	}
	return b
}

// wallLoss is the heat that walls at a temperature lead into the plate, J per kg of kerf.
func wallLoss(kerf, speed, start, wall float64) float64 {
	content := heatContent(start, wall)
	diffusivity := conductance(start, wall) / (steelDensity * content)
	return content * (losses(speed*kerf/diffusivity) - 1)
}

// SustainedRange returns the thinnest and the thickest plate, at usual orifice and speed, for which the middle of the balance is above
// 1; ok is false when there is none. Read it with Ratio: its band is far wider than the middle is away from 1.
func SustainedRange(plate units.Temperature) (thin, thick units.Length, ok bool) {
	const places = 60
	start := float64(plate) - 273.15
	content := heatContent(start, ironOxideMelts)
	left := burntShare*heatToFeO - content - (1-burntShare)*heatOfFusion // for the walls
	least := widthLosing(left/content+1) * conductance(start, ironOxideMelts) / (steelDensity * content)
	for i := range places + 1 {
		t := ThinnestCut * units.Length(math.Pow(float64(ThickestCut/ThinnestCut), float64(i)/places))
		a := at(t)
		if a.speed*a.orifice*kerfOrifice <= least {
			continue
		}
		if !ok {
			thin, ok = t, true
		}
		thick = t
	}
	return thin, thick, ok
}
