package leak

import (
	"torchside/calc/gas"
	"torchside/calc/units"
	"torchside/calc/words"
)

// Test pressures on the delivery side: common practice, no source. Fuel stays below 15 psi whatever the fuel.
const (
	oxygenTestGauge units.GaugePressure = 25 * units.PSI
	fuelTestGauge   units.GaugePressure = 10 * units.PSI
)

// Step is one thing to do, in order.
type Step struct {
	Text   string
	Why    string // empty when it is plain
	Source string
	Trust  Trust
}

// Preparation is what to do before a test: cautions first, then the steps.
type Preparation struct {
	Section  Section
	Gas      gas.Gas
	Cautions []Note
	Steps    []Step
	// Gauge is the delivery pressure to set; 0 for a supply section, which stands at whatever the cylinder has.
	Gauge units.GaugePressure
	// GaugeMaximum is never passed: 15 psi for any fuel, less up high for acetylene; 0 for none but the regulator's.
	GaugeMaximum units.GaugePressure
	// BackedOut is whether the regulator screw is backed out while the test runs, as Locate wants it.
	BackedOut bool
	// GaugeOnly: no rate, only whether the gauge moved; see MovedByGauge.
	GaugeOnly bool
}

// Prepare returns the preparation of a test of a section for a gas; ambient is the barometer, 0 for units.StandardAtmosphere. Errors:
// *UnknownSectionError, *WrongSectionError, gas.ErrUnknown, *gas.RangeError.
func Prepare(s Section, g gas.Gas, ambient units.AbsolutePressure) (Preparation, error) {
	if ambient == 0 {
		ambient = units.StandardAtmosphere
	}
	err := firstError(checkSection(s, g), inRange("ambient_abs_pa", ambient, AmbientMinimum, AmbientMaximum, "Pa", whyAmbient))
	if err != nil {
		return Preparation{}, err
	}
	p := Preparation{Section: s, Gas: g, Cautions: cautions(s, g), GaugeOnly: s.GaugeOnly(g), BackedOut: s != WholeRig}
	if g.IsFuel() {
		p.GaugeMaximum = min(AcetyleneMaximum, AcetyleneAbsoluteMaximum.Gauge(ambient))
	}
	switch {
	case s == OxygenSupply || s == FuelSupply:
	case g.IsFuel():
		p.Gauge = min(fuelTestGauge, p.GaugeMaximum)
	default:
		p.Gauge = oxygenTestGauge
	}
	p.Steps = steps(p)
	return p, nil
}

// cautions are what to know before touching a valve.
func cautions(s Section, g gas.Gas) []Note {
	list := []Note{
		{Code: "no_flame", Text: "No flame, no smoking, no sparks anywhere near. Never look for a leak with a flame.", Source: sourceSoap, Trust: TrustRead, Stop: true},
		{Code: "ventilate", Text: "Doors open, or do it outside: gas that leaks must find its way out.", Source: commonPractice, Trust: TrustMemory, Stop: true},
		{Code: "no_oil", Text: "No oil or grease on any fitting, valve, glove or rag: oil and oxygen under pressure explode. Hands and wrench clean.", Source: "TM 43-0106 (T.O. 1-1A-9), welding precautions, read in a copy", Trust: TrustWeak, Stop: true},
		{Code: "soap", Text: "Use a leak fluid made for oxygen service; a code for vessels allows no household soap, many shop texts say soapy water. Pressure on for 15 minutes before looking, parts between 4 and 52 °C (40 and 125 °F).", Source: words.S("ASME BPVC Section V Article 10 Appendix I; %s", sourceSoap), Trust: TrustRead},
	}
	if g.IsFuel() {
		list = append(list, Note{Code: "fuel_15_psi", Text: "Never above 15 psi (1.03 bar) on the delivery side: the rule is for acetylene, and no test of another fuel needs more.", Source: sourceAcetylene, Trust: TrustRead, Stop: true})
	}
	if n, ok := refills(s, g); ok {
		list = append(list, n)
	}
	return append(list, Note{Code: "unattended", Text: "Close the cylinder valves before you leave the rig alone.", Source: "30 CFR 56.4603", Trust: TrustRead})
}

// refills is the note about fuels that make good what leaks.
func refills(s Section, g gas.Gas) (Note, bool) {
	if s != FuelSupply && s != WholeRig || !g.IsFuel() {
		return Note{}, false
	}
	how := "the cylinder is so large that its gauge would not show the leak for days"
	switch g.Storage() {
	case gas.StoredDissolved:
		how = "acetylene comes out of its solvent and refills what leaks, so the gauge stands still"
	case gas.StoredLiquefied:
		how = "the liquid boils and refills what leaks, so the gauge stands still"
	}
	return Note{
		Code: "refills", Source: "how the gas is kept in its cylinder", Trust: TrustOwn,
		Text: words.S("Only with the cylinder valve closed, on the small volume in the regulator: with it open, %s. Soap the valve and the nut as well.", how),
	}, true
}

// own is a step of common practice, no source.
func own(text, why string) Step { return Step{text, why, commonPractice, TrustMemory} }

// steps are the steps of a preparation, valves in order.
func steps(p Preparation) []Step {
	list := []Step{
		own("Both torch valves shut, both regulator screws backed out, cylinders upright and secured.", "an open seat slams when the cylinder is opened"),
		own("Everything at the temperature of the room for an hour, out of the sun.", "1 °C (1.8 °F) moves the gauge by 0.35 % of the absolute pressure and looks like a leak"),
		openValve(p.Gas),
	}
	switch p.Section {
	case OxygenSupply, FuelSupply:
		list = append(list,
			own("Leave the screw backed out.", "the seat is shut, so that the cylinder gauge stands for the small volume before it"),
			own("Shut the cylinder valve firmly by hand.", "the cylinder would make good what leaks"))
	case WholeRig:
		list = append(list, setStep(p),
			own("Shut the cylinder valve and leave the screw as it is.", "the regulator feeds the hose from the small volume before its seat, so that the cylinder gauge falls for a leak anywhere in the line"))
	case RegulatorCreep:
		list = append(list, setStep(p),
			Step{"Back the screw out; the cylinder valve stays open, the torch valves shut.", "the seat must now hold the cylinder's pressure back by itself; a delivery gauge that rises shows that it does not", sourceCreep, TrustWeak})
	default:
		list = append(list, setStep(p),
			own("Shut the cylinder valve, then back the screw out.", "with the seat shut the hose stands alone, so that the delivery gauge tells of nothing else"))
	}
	return append(list, settle(p))
}

// openValve is how to open the cylinder.
func openValve(g gas.Gas) Step {
	switch {
	case g == gas.Acetylene:
		return Step{"Stand aside and open the cylinder valve slowly, three quarters of a turn, never more than one and a half; leave the wrench on.",
			"so that it can be shut at once", "29 CFR 1926.350(d); WAC 296-307-48019(9)", TrustRead}
	case g.IsFuel():
		return own("Stand aside and open the cylinder valve slowly, a turn or less.", "so that it can be shut at once")
	}
	return Step{"Stand aside and open the cylinder valve slowly, at first by a crack, then all the way.",
		"a sudden rush heats the seat; the valve seals its stem only when fully open", "Navy welding text", TrustRead}
}

// setStep is the step that brings the delivery side to its pressure.
func setStep(p Preparation) Step {
	limit := ""
	if p.GaugeMaximum > 0 {
		limit = words.F(", never above %.0f psi (%.2f bar)", float64(p.GaugeMaximum)/units.PSI, float64(p.GaugeMaximum)/units.Bar)
	}
	return own(words.F("Turn the screw in to about %.0f psi (%.1f bar)%s.", float64(p.Gauge)/units.PSI, float64(p.Gauge)/units.Bar, limit), "")
}

// settle is the last step.
func settle(p Preparation) Step {
	gauge := "delivery gauge"
	switch p.Section {
	case OxygenSupply, FuelSupply:
		gauge = "cylinder gauge"
	case WholeRig:
		gauge = "cylinder gauge and the delivery gauge"
	}
	return own(words.S("Wait five minutes, then read the %s and the thermometer: that is the start. Tap the gauge lightly first.", gauge),
		"gas warms when it is let in and a new hose gives a little; both look like a leak")
}
