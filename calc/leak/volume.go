package leak

import (
	"fmt"
	"math"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// Part is one closed volume of a section. The owner may change any of them.
type Part struct {
	Code          string // stable name
	Name          string
	Volume, Error units.Volume
	Source        string
	Trust         Trust
}

// What is taken for volumes that nobody measured. All from memory and rough: each is wide by half of itself, and a verdict of
// tight is made against the large end, so that they can only make it stricter.
const (
	regulatorInletVolume  units.Volume = 10e-6 // filter, seat and the tube of the cylinder gauge
	regulatorOutletVolume units.Volume = 60e-6 // chamber under the diaphragm and the tube of the delivery gauge
	arrestorVolume        units.Volume = 15e-6
	torchVolume           units.Volume = 5e-6 // hose nipple to the torch valve
	rememberedError                    = 0.5  // share
	// hoseError is the share by which a hose's volume may be off: 0.4 mm in the bore of a 6.3 mm hose makes 13 %, and it gives a little under
	// pressure. The bore tolerance is from memory (ISO 3821).
	hoseError = 0.15
)

// remembered is a part whose volume is from memory.
func remembered(code, name string, v units.Volume) Part {
	return Part{code, name, v, rememberedError * v, "from memory, no source; measure it to do better", TrustMemory}
}

// Hose is a hose as far as its volume goes.
type Hose struct {
	InsideDiameter, Length units.Length
}

// Part returns the hose's volume, a cylinder of its bore. Errors: *gas.RangeError.
func (h Hose) Part(code, name string) (Part, error) {
	err := firstError(
		inRange("inside_diameter_m", h.InsideDiameter, 1e-3, 0.06, "m", "gas-welding hoses have bores from about 3 to 25 mm (1/8 to 1 in)"),
		inRange("length_m", h.Length, 0.05, 500, "m", "a hose has a length; shorter is a fitting, longer is a pipeline"),
	)
	v := units.Volume(math.Pi / 4 * float64(h.InsideDiameter*h.InsideDiameter*h.Length))
	return Part{code, name, v, hoseError * v, "bore and length of the rig's hose; the bore tolerance from memory", TrustOwn}, err
}

// Line is one gas of the rig, from the cylinder valve to the torch valve.
type Line struct {
	Hoses     []Hose
	Arrestors int // flashback arrestors and check valves of that size
}

// Parts returns the closed volume behind the gauge that a section is tested by, for the owner to change, and Sum to add up. A creep
// test has the volume of the delivery side. The whole rig is tested by the cylinder gauge: while the regulator holds the delivery
// pressure, all that is lost anywhere comes out of the volume before its seat. When the delivery gauge falls as well, add the two
// sides with Together. Errors: *gas.RangeError, *UnknownSectionError.
func (l Line) Parts(s Section) ([]Part, error) {
	if _, err := ParseSection(string(s)); err != nil {
		return nil, err
	}
	if s == OxygenSupply || s == FuelSupply || s == WholeRig {
		return []Part{remembered("regulator_inlet", "regulator, cylinder side", regulatorInletVolume)}, nil
	}
	return l.delivery()
}

// delivery lists the parts from the regulator's outlet to the torch valve.
func (l Line) delivery() ([]Part, error) {
	if err := gas.InRange("arrestors", float64(l.Arrestors), 0, 10, "", "arrestors and check valves in one line"); err != nil {
		return nil, err
	}
	parts := []Part{remembered("regulator_outlet", "regulator, delivery side", regulatorOutletVolume)}
	for i, h := range l.Hoses {
		p, err := h.Part(fmt.Sprintf("hose_%d", i+1), "hose")
		if err != nil {
			return nil, err
		}
		parts = append(parts, p)
	}
	for i := range l.Arrestors {
		parts = append(parts, remembered(fmt.Sprintf("arrestor_%d", i+1), "flashback arrestor or check valve", arrestorVolume))
	}
	return append(parts, remembered("torch", "torch, up to its valve", torchVolume)), nil
}

// Sum adds the parts up: volume and error, errors added.
func Sum(parts []Part) (volume, err units.Volume) {
	for _, p := range parts {
		volume, err = volume+p.Volume, err+p.Error
	}
	return volume, err
}
