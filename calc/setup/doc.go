// Package setup answers the question asked at the torch: which tip, which pressures, how much gas, for how long, and with
// which cautions, for one piece of work on one rig.
//
// Call [Compute] with an [Input]; it returns a [Card] or a [*Refusal]. A refusal is an answer too: it says what was read, what
// is allowed, why, and the way out. A card never shows a setting over a hard limit (acetylene pressure, withdrawal) as usable.
//
// # Which source wins
//
// The torch maker's chart, typed in by the owner, beats the handbook, the handbook beats physics, and physics beats common
// practice. What was passed over is kept in the [Provenance] of the number as an alternative, and a disagreement over 30 % is
// a warning, not a secret. Every number of a card carries a Provenance.
//
// # What it does not do
//
// It sees no rig. It does not know the inside of the torch, so the pressure lost in its valves and mixer is a wide band. It
// works out welding of mild steel from 0.5 to 6 mm with acetylene, brazing at the level of flow, pressures, gas and cautions,
// heating and bending with calc/heat, and cutting with calc/cut.
//
// Pressures are gauge pressures in Pa unless a name says abs; flows and volumes are at 15 °C and 101.325 kPa; the ratio is
// moles of torch oxygen to moles of fuel.
package setup
