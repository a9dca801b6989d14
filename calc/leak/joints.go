package leak

import "torchside/calc/gas"

// Joint is one place to put the soap.
type Joint struct {
	Code, Name string
	Hint       string // what to do about it, always with the pressure let off first
	Source     string
	Trust      Trust
}

// joint is a row of the lists below: order and hints are common practice, no source.
func joint(code, name, hint string) Joint {
	return Joint{code, name, hint, commonPractice, TrustMemory}
}

// The joints in order of likelihood, by side.
var (
	supplyJoints = []Joint{
		joint("inlet_nut", "regulator nut at the cylinder valve", "clean both faces, tighten; a scored face or a missing washer wants a new one"),
		joint("valve_stem", "cylinder valve stem", "a double-seating oxygen valve seals its stem only when fully open; else call the supplier"),
		joint("cylinder_gauge", "cylinder gauge where it screws in", "have the gauge or its seal renewed"),
		joint("valve_neck", "cylinder valve where it screws into the cylinder, and its relief device", "leave it alone: set the cylinder aside in the open and call the supplier"),
		joint("regulator_body_inlet", "regulator body and bonnet", "have the regulator repaired"),
	}
	deliveryJoints = []Joint{
		joint("hose_torch", "hose nut at the torch", "tighten with the right wrench, or renew the hose end"),
		joint("hose_regulator", "hose nut at the regulator", "tighten with the right wrench, or renew the hose end"),
		joint("hose_clamps", "hose at its clamps and nipples", "cut the end off and fit it anew with a proper ferrule"),
		joint("arrestor_joints", "both ends of the flashback arrestor or check valve", "tighten; renew one that has seen a flashback"),
		joint("torch_stem", "torch valve stem", "tighten the packing nut a little, no oil; else have it repacked"),
		joint("torch_valve", "torch valve seat: film over the tip, bubbles with the valve shut", "blow it through once; else have the seat renewed, and never force the stem"),
		joint("hose_cover", "hose all along, in a bucket of water or with soap: cracks, burns, soft spots", "renew the hose; tape is no repair"),
		joint("delivery_gauge", "delivery gauge and relief valve of the regulator", "have the regulator repaired"),
	}
	seatJoints = []Joint{
		joint("regulator_seat", "regulator seat: delivery gauge rises with the torch shut", "take it out of service and have it repaired"),
	}
	mixerJoint = joint("mixer", "tip nut and mixer nut: not part of the closed volume, look at them with a little gas flowing and no flame near", "tighten cold; renew worn O-rings or seats")
)

// Joints returns where to look in a section, likeliest first; the slice is the caller's. The tip and the mixer come last in the
// delivery list: beyond the torch valves they are not part of the closed volume. Errors: *UnknownSectionError, *WrongSectionError, gas.ErrUnknown.
func Joints(s Section, g gas.Gas) ([]Joint, error) {
	if err := checkSection(s, g); err != nil {
		return nil, err
	}
	var list []Joint
	switch s {
	case OxygenSupply, FuelSupply:
		list = append(list, supplyJoints...)
	case RegulatorCreep:
		list = append(list, seatJoints...)
	case WholeRig:
		list = append(append(append(list, deliveryJoints...), supplyJoints...), mixerJoint)
	default:
		list = append(append(list, deliveryJoints...), mixerJoint)
	}
	return list, nil
}
