package leak

import (
	"torchside/calc/gas"
	"torchside/calc/words"
)

const sourceHazard = "29 CFR 1910.146(b)"

// notes says what the air means, cautions first.
func (e Exposure) notes(a Air) []Note {
	var notes []Note
	switch {
	case a.ToLimit != nil:
		notes = append(notes, noteExplosive)
	case a.ToTenth != nil:
		notes = append(notes, noteHazardous)
	case a.ToOxygen != nil:
		notes = append(notes, noteOxygenRich)
	case e.Gas.IsFuel() || e.Gas == gas.Oxygen:
		notes = append(notes, noteBelow)
	}
	if e.Room.AirChanges == 0 && e.Leak > 0 {
		notes = append(notes, noteSealed)
	}
	return append(notes, noteMixed(e.Gas))
}

var (
	noteExplosive = Note{
		Code: "explosive", Source: sourceHazard, Trust: TrustRead, Stop: true,
		Text: "The whole room can come to explode: close the cylinder valve, touch no switch, no flame, open up and stay out until it is aired.",
	}
	noteHazardous = Note{
		Code: "tenth_of_limit", Source: sourceHazard, Trust: TrustRead, Stop: true,
		Text: "The room passes a tenth of the lower flammable limit, where air counts as hazardous: close the cylinder valve, no flame, air it.",
	}
	noteOxygenRich = Note{
		Code: "oxygen_rich", Source: sourceHazard, Trust: TrustRead, Stop: true,
		Text: "The air comes above 23.5 % oxygen: cloth, hair and oil then burn fiercely. Close the cylinder valve, no flame, air the place and your clothes.",
	}
	noteBelow = Note{
		Code: "mixed_air_below", Source: sourceHazard, Trust: TrustRead,
		Text: "Mixed with the air of the room it stays below what counts as hazardous; near the leak it does not.",
	}
	noteSealed = Note{
		Code: "sealed", Source: "arithmetic", Trust: TrustOwn,
		Text: "Without fresh air any leak gathers for as long as it lasts.",
	}
)

// noteMixed says where the gas really is.
func noteMixed(g gas.Gas) Note {
	where := "near the leak"
	switch air := gas.Air.MolarMass(); {
	case g.MolarMass() < 0.95*air: // acetylene, 10 % lighter than air, rises a little
		where += words.T(" and under the ceiling")
	case g.MolarMass() > 1.05*air: // oxygen is 10 % heavier
		where += words.T(", on the floor and in pits")
	}
	return Note{
		Code: "well_mixed", Source: "well-mixed dilution", Trust: TrustOwn,
		Text: words.S("Reckoned as if it mixed with all the air at once. No room does: %s there is much more.", where),
	}
}
