package setup

import (
	"testing"

	"torchside/calc/calctest"
	"torchside/calc/gas"
)

// propaneHeating asks for heating with propane on a rig of three propane tips. Invented.
func propaneHeating() Input {
	in := eighth()
	in.Work, in.Joint = Heat, ""
	in.Rig.FuelCylinder = &FuelCylinder{Fuel: gas.Propane}
	for i := range in.Rig.Tips {
		in.Rig.Tips[i].Fuels = []gas.Gas{gas.Propane}
	}
	return in
}

// The flow of another fuel stands inside its band, not at the edge: between the same heat as acetylene and half as much again.
func TestFuelNeed_ofAnotherFuelStandsInsideItsBand(t *testing.T) {
	in := propaneHeating()
	acetylene := in
	rig := *in.Rig
	rig.FuelCylinder = &FuelCylinder{Fuel: gas.Acetylene}
	acetylene.Rig = &rig
	e, of := fuelNeed(in), fuelNeed(acetylene)
	if e.value < 1.15*e.prov.Low || e.value > e.prov.High/1.15 {
		t.Errorf("%v of %v to %v", e.value, e.prov.Low, e.prov.High)
	}
	same := heatPerVolume(gas.Acetylene) / heatPerVolume(gas.Propane)
	calctest.Near(t, e.prov.Low, of.prov.Low*same, 1e-9, "the same heat at least")
	calctest.Near(t, e.prov.High, of.prov.High*same*1.5, 1e-9, "half as much again at most")
}

// Law: the band of the exit velocity of a card stays inside the velocities at which a flame burns, unless the maker or the weather
// takes the value itself out.
func TestCompute_theBandOfTheExitVelocityStaysWithinWhatBurns(t *testing.T) {
	cards := 0
	for _, in := range []Input{propaneHeating(), eighth()} {
		for mm := 0.8; mm < 6; mm += 0.1 {
			in.ThicknessM = mm / 1000
			c, err := Compute(in)
			if err != nil {
				continue // refused: nothing is shown
			}
			cards++
			u, pr := *c.ExitVelocityMS, c.Provenance["exit_velocity_m_s"]
			if pr.Low < min(u, slowest)*(1-1e-9) || pr.High > max(u, fastest)*(1+1e-9) {
				t.Errorf("%s %.1f mm: %v of %v to %v", in.Work, mm, u, pr.Low, pr.High)
			}
		}
	}
	if cards < 40 {
		t.Errorf("only %d cards", cards)
	}
}
