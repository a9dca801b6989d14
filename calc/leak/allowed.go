package leak

import (
	"torchside/calc/gas"
	"torchside/calc/units"
)

// DefaultAllowed is 0.2 L/h at 15 °C, the allowed leak until the owner sets one; DefaultAllowedReason says why.
const DefaultAllowed units.StandardFlow = 0.2 * litre / units.Hour

// DefaultAllowedReason is the reason of DefaultAllowed, for a person. A test works it out again for every fuel.
const DefaultAllowedReason = "0.2 L/h (0.007 ft³/h) keeps a small shop that is shut up (15 m³ (530 ft³), one change of air in ten hours) below a hundredth of the lower " +
	"flammable limit of every fuel here when mixed: a tenth of the limit is where air counts as hazardous (29 CFR 1910.146(b)), and another " +
	"factor of ten is ours, for gas that gathers near the leak; it is about four bubbles of 3 mm (1/8 in) a second, which soap shows"

// PocketFactor is how much richer the air near a leak may be than that of the mixed room, as we reckon it: ours, no source.
const PocketFactor = 10

// ShutShop is the room behind DefaultAllowed: small and shut up. Ours, no source.
func ShutShop() Room { return Room{Volume: 15, AirChanges: 0.1} }

// AllowedIn returns the leak that keeps a room's mixed air below a tenth of what counts as hazardous: a tenth of the lower
// flammable limit, or 23.5 % oxygen (29 CFR 1910.146(b)), each with PocketFactor to spare. An inert gas has no such limit and
// gives nil, and so does a room without fresh air, in which any leak gathers. Errors: *gas.RangeError, gas.ErrUnknown.
func AllowedIn(g gas.Gas, r Room) (*units.StandardFlow, error) {
	e := Exposure{Gas: g, Room: r}
	if err := e.check(); err != nil {
		return nil, err
	}
	hazard := e.hazard() / PocketFactor
	if hazard == 0 || e.Room.fresh() == 0 {
		return nil, nil
	}
	q := units.StandardFlow(e.Room.fresh() * hazard / (1 - hazard) / e.Room.expansion())
	return &q, nil
}
