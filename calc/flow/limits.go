package flow

import (
	"errors"

	"torchside/calc/gas"
	"torchside/calc/units"
)

// Limits of the inputs, inclusive. They mark where the formulas stop being good, not where a rig stops being safe.
const (
	// MinPressure guards against a gauge pressure given where an absolute one is meant: ambient is near 100 kPa.
	MinPressure units.AbsolutePressure = 1e3
	// MaxOrificePressure is where the ideal-gas nozzle formula is about 2.5 % low for oxygen (0.6 % at 8 bar, in proportion).
	MaxOrificePressure units.AbsolutePressure = 3e6
	// MaxHosePressure is above the 20 bar working pressure of a gas-welding hose (ISO 3821:2019, scope).
	MaxHosePressure units.AbsolutePressure = 3e6
	// MinTemperature and MaxTemperature hold every hose (ISO 3821:2019: −20 to 60 °C) and a garage in winter with room to
	// spare; the heat capacities used begin at 200 K.
	MinTemperature units.Temperature = 223.15
	MaxTemperature units.Temperature = 373.15
	// MinOrificeDiameter and MaxOrificeDiameter hold every tip: the finest numbered drill, no. 80, is 0.34 mm.
	MinOrificeDiameter units.Length = 20e-6
	MaxOrificeDiameter units.Length = 0.05
	// MinDischargeCoefficient and MaxDischargeCoefficient: no clean hole passes less than a tenth of an ideal nozzle, none more.
	MinDischargeCoefficient = 0.1
	MaxDischargeCoefficient = 1.0
	// MinHoseDiameter and MaxHoseDiameter: gas-welding hoses run from about 3 to 25 mm.
	MinHoseDiameter units.Length = 1e-3
	MaxHoseDiameter units.Length = 0.06
	// MinHoseLength and MaxHoseLength: shorter is a fitting, longer is a pipeline.
	MinHoseLength units.Length = 0.05
	MaxHoseLength units.Length = 500
	// MaxRelativeRoughness is the end of the Colebrook equation on the Moody chart (Moody 1944).
	MaxRelativeRoughness = 0.05
	// MaxLossCoefficient: a nearly shut valve; beyond, the loss is no longer one of a hose.
	MaxLossCoefficient = 1e5
)

const (
	pressureWhy    = "pressures here are absolute (gauge plus about 1 bar (15 psi) of air), and the formulas hold up to 30 bar (435 psi)"
	temperatureWhy = "gas at a torch is near the temperature of the room; the gas data are checked there"
	diameterWhy    = "a hole has a diameter, and tips are drilled within these sizes"
	coefficientWhy = "a hole passes some of what an ideal nozzle passes, and never more"
	downstreamWhy  = "gas does not flow from the lower to the higher pressure: downstream must not be above upstream"
	largestFlowWhy = "the flow cannot be below zero, and the most this hole passes at 30 bar (435 psi) absolute is the upper limit"
	hoseBoreWhy    = "gas-welding hoses are made within these bores"
	hoseLengthWhy  = "a hose has a length; shorter is a fitting, longer is a pipeline"
	roughnessWhy   = "the friction law holds for a wall roughness of zero (smooth) to 5 % of the bore"
	lossWhy        = "fittings, valves and arrestors lose pressure, they add none"
	hoseFlowWhy    = "a flow is zero or more, and none of a hose is above 3600 m³/h (130\u00a0000 ft³/h)"
)

// check tests all inputs of an orifice but Upstream, which UpstreamFor does not use.
func (o Orifice) check() error {
	if err := o.Mixture.Check(); err != nil {
		return err
	}
	return firstError(
		inRange("diameter_m", o.Diameter, MinOrificeDiameter, MaxOrificeDiameter, "m", diameterWhy),
		inRange("discharge_coefficient", o.DischargeCoefficient, MinDischargeCoefficient, MaxDischargeCoefficient, "", coefficientWhy),
		inRange("temperature_k", o.Temperature, MinTemperature, MaxTemperature, "K", temperatureWhy),
		inRange("downstream_abs_pa", o.Downstream, MinPressure, MaxOrificePressure, "Pa", pressureWhy),
	)
}

func (o Orifice) checkUpstream() error {
	return firstError(
		inRange("upstream_abs_pa", o.Upstream, MinPressure, MaxOrificePressure, "Pa", pressureWhy),
		inRange("downstream_abs_pa", o.Downstream, MinPressure, o.Upstream, "Pa", downstreamWhy),
	)
}

func (h Hose) check(flow units.StandardFlow) error {
	roughest := h.InsideDiameter * MaxRelativeRoughness
	return firstError(
		inRange("inside_diameter_m", h.InsideDiameter, MinHoseDiameter, MaxHoseDiameter, "m", hoseBoreWhy),
		inRange("length_m", h.Length, MinHoseLength, MaxHoseLength, "m", hoseLengthWhy),
		inRange("roughness_m", h.Roughness, 0, roughest, "m", roughnessWhy),
		inRange("loss_coefficient", h.LossCoefficient, 0, MaxLossCoefficient, "", lossWhy),
		inRange("temperature_k", h.Temperature, MinTemperature, MaxTemperature, "K", temperatureWhy),
		inRange("flow_std_m3_s", flow, 0, 1, "m³/s", hoseFlowWhy),
	)
}

func inRange[T ~float64](field string, value, low, high T, unit, why string) error {
	return gas.InRange(field, float64(value), float64(low), float64(high), unit, why)
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// renamed makes a range error about a pressure name the field that the caller knows, such as "inlet_abs_pa".
func renamed(err error, field string) error {
	var limit *gas.RangeError
	if !errors.As(err, &limit) || limit.Unit != "Pa" {
		return err
	}
	named := *limit
	named.Field = field
	return &named
}
