// Package leak turns two or more pressure readings of a closed part of a rig into a leak rate with its uncertainty, a verdict,
// and what the leak means in the owner's room.
//
// Start with Test and its Result. Plan tells beforehand how long a test must run. Line gives the closed volume of a Section,
// Prepare the steps before its test, Locate the side that leaks, Joints where to put the soap. Bubbles is a second estimate,
// Exposure the gas in the room's air, Losses the gas and the money gone.
//
// The rate is V (ρ(p₁,T₁) − ρ(p₂,T₂)) / (ρ_std t), real gas and absolute pressures: 40 CFR 1065.644 with the ideal n = pV/RT
// replaced by the real density. An ideal gas would call a tight oxygen cylinder at 150 bar leaking when it only cools. A positive
// rate is gas lost.
//
// How errors combine: every reading may be off by its full error in the worse direction, independently of the others, and all
// are added, never averaged; the band is what the readings cannot exclude. With three readings or more the scatter about the
// straight line widens the band where it is larger than the stated errors explain.
//
// What it does not do: it keeps no clock, it does not know whether the valves are really shut, and it gives no rate for the
// cylinder side of acetylene or of a liquefied fuel. All is SI. Input out of range is a *gas.RangeError.
package leak
