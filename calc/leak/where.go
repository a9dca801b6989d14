package leak

import (
	"torchside/calc/units"
)

// Movement is what the gas behind a gauge did, changes of temperature allowed for.
type Movement string

// The movements. Held means that neither of the others is certain.
const (
	Fell Movement = "fell"
	Held Movement = "held"
	Rose Movement = "rose"
)

// MovedByGauge judges a gauge alone, for sections without a rate (Section.GaugeOnly): it moved when the readings differ by more than
// twice the reading error. It answers only when the temperature stayed within what the thermometer can tell; ok is false otherwise,
// for vapour over a liquid and gas over a solution follow the temperature far more than a dry gas.
func MovedByGauge(start, end units.GaugePressure, readingError units.AbsolutePressure, temperatureStayed bool) (m Movement, ok bool) {
	change, seen := float64(end-start), 2*float64(readingError)
	switch {
	case !temperatureStayed:
		return Held, false
	case change < -seen:
		return Fell, true
	case change > seen:
		return Rose, true
	}
	return Held, true
}

// Side is where in one gas's line a finding points.
type Side string

// The sides.
const (
	Nowhere      Side = "nowhere"
	SupplySide   Side = "supply"   // cylinder valve to regulator seat
	DeliverySide Side = "delivery" // regulator outlet to torch valve
	Seat         Side = "seat"     // through the regulator
	Valve        Side = "valve"    // the cylinder valve does not shut
)

// Finding is what the two gauges of a line say together. The cylinder valve and the torch valves are shut.
type Finding struct {
	Code   string // stable name
	Sides  []Side
	Text   string
	Next   string // what to do now
	Source string
	Trust  Trust
	Stop   bool // do not use the rig until it is put right
}

// pattern is one row of the decision table.
type pattern struct {
	backedOut        bool // regulator screw: backed out shuts the seat, so that each gauge stands for its own side
	supply, delivery Movement
}

const (
	nextSoapSupply   = "Soap from the cylinder valve to the regulator, in the order of the list."
	nextSoapDelivery = "Soap from the regulator outlet to the torch, in the order of the list."
	nextBackOut      = "Back the screw out, so that the seat shuts, and test again: then each gauge stands for its own side."
	nextRepair       = "Take the regulator out of service and have it repaired."
	nextTemperature  = "Let everything come to the temperature of the room, check that the cylinder valve is shut, and test again."
)

// decisions is the whole table: all nine pairs of movements, screw backed out or left in.
var decisions = map[pattern]Finding{
	{true, Held, Held}: {"none", []Side{Nowhere}, "Neither side lost gas as far as this test could see.", "Nothing to look for; note the smallest leak it could have seen.", commonPractice, TrustMemory, false},
	{true, Fell, Held}: {"supply", []Side{SupplySide}, "The leak is on the cylinder side: cylinder valve, inlet nut or cylinder gauge.", nextSoapSupply, commonPractice, TrustMemory, true},
	{true, Held, Fell}: {"delivery", []Side{DeliverySide}, "The leak is between the regulator and the torch.", nextSoapDelivery, sourceDelivery, TrustWeak, true},
	{true, Fell, Fell}: {"both", []Side{SupplySide, DeliverySide}, "Both sides lose gas: two leaks, or one in the regulator's body.", "Soap both sides, the regulator first.", commonPractice, TrustMemory, true},
	{true, Fell, Rose}: {"creep", []Side{Seat}, "Gas passes the shut seat: a creeping regulator.", nextRepair, sourceCreep, TrustWeak, true},
	{true, Held, Rose}: {"creep_fed", []Side{Seat}, "The delivery side gains gas with the screw backed out: a creeping regulator, fed from a supply too large to show it.", nextRepair, sourceCreep, TrustWeak, true},
	{true, Rose, Held}: {"valve_passes", []Side{Valve}, "The cylinder side gains gas: the cylinder valve is not shut, or does not shut.", "Shut it by hand and test again; if it still passes, set the cylinder aside in the open and call the supplier.", commonPractice, TrustMemory, true},
	{true, Rose, Fell}: {"valve_passes_and_delivery", []Side{Valve, DeliverySide}, "The cylinder valve passes gas, and the delivery side leaks.", nextSoapDelivery, commonPractice, TrustMemory, true},
	{true, Rose, Rose}: {"both_rose", []Side{Valve, Seat}, "Both sides gain gas: the cylinder valve and the seat pass, or the temperatures are wrong.", nextTemperature, commonPractice, TrustMemory, true},

	{false, Held, Held}: {"none", []Side{Nowhere}, "The whole line lost nothing as far as this test could see.", "Nothing to look for; note the smallest leak it could have seen.", commonPractice, TrustMemory, false},
	{false, Fell, Held}: {"open_fell", []Side{SupplySide, DeliverySide}, "The line leaks somewhere. With the screw in, the regulator makes good what the delivery side loses, so the cylinder gauge falls for a leak on either side.", nextBackOut, commonPractice, TrustMemory, true},
	{false, Fell, Fell}: {"open_fell", []Side{SupplySide, DeliverySide}, "The line leaks somewhere; with the screw in, both sides are one.", nextBackOut, commonPractice, TrustMemory, true},
	{false, Held, Fell}: {"delivery", []Side{DeliverySide}, "The leak is between the regulator and the torch; the supply is too large to show it.", nextSoapDelivery, sourceDelivery, TrustWeak, true},
	{false, Fell, Rose}: {"creep", []Side{Seat}, "The delivery pressure rises after it was set: a creeping regulator.", nextRepair, sourceCreep, TrustWeak, true},
	{false, Held, Rose}: {"creep_fed", []Side{Seat}, "The delivery pressure rises after it was set: a creeping regulator.", nextRepair, sourceCreep, TrustWeak, true},
	{false, Rose, Held}: {"valve_passes", []Side{Valve}, "The cylinder side gains gas: the cylinder valve is not shut, or does not shut.", "Shut it by hand and test again; if it still passes, set the cylinder aside in the open and call the supplier.", commonPractice, TrustMemory, true},
	{false, Rose, Fell}: {"valve_passes_and_delivery", []Side{Valve, DeliverySide}, "The cylinder valve passes gas, and the delivery side leaks.", nextSoapDelivery, commonPractice, TrustMemory, true},
	{false, Rose, Rose}: {"both_rose", []Side{Valve, Seat}, "The line gains gas: the cylinder valve passes, or the temperatures are wrong.", nextTemperature, commonPractice, TrustMemory, true},
}

// Locate says where the gas goes from how the two gauges of one line moved, with the cylinder valve and the torch valves shut and the
// regulator screw backed out or left in. ok is false for a movement that is none of the three.
func Locate(backedOut bool, supply, delivery Movement) (f Finding, ok bool) {
	f, ok = decisions[pattern{backedOut, supply, delivery}]
	f.Sides = append([]Side(nil), f.Sides...)
	return f, ok
}

// Crossing looks at the delivery gauges of both lines: one falling while the other rises, all torch valves shut, means that gas passes from
// one line into the other through the torch. ok is false when they do not say so.
func Crossing(oxygen, fuel Movement) (f Finding, ok bool) {
	if !(oxygen == Fell && fuel == Rose || oxygen == Rose && fuel == Fell) {
		return Finding{}, false
	}
	return Finding{
		Code: "crossing", Sides: []Side{DeliverySide}, Trust: TrustMemory, Source: commonPractice, Stop: true,
		Text: "One delivery gauge falls while the other rises: gas may pass from one hose into the other through the torch, and mixed gas in a hose explodes.",
		Next: "No flame. Close both cylinders, let both hoses off in the open one after the other, and have torch and check valves seen to.",
	}, true
}
