// Package flame says what burns in a torch flame, in which proportion, how hot it can get and what is in it: balanced equations,
// oxygen to fuel ratios and flame classes, chemical equilibrium, heating values, burning velocities and an estimate of whether
// the flame stays on the tip.
//
// Start with NeutralRatio and Classify for a ratio, Solve for temperature and composition (NewSolver for a slider), Burns for
// published limits, Balance for the chemistry, HeatingValue and HeatsAt for the heat, HoldOn and LowestFlowAdvised for the tip.
// Every ratio is a volume of oxygen to a volume of fuel, the same as mol to mol, also with air. The fuels are those of gas.Fuels.
//
// An equilibrium is an upper bound: no heat is lost, no air mixed in, and soot forms as fast as it can. A rich flame may be
// hotter than its equilibrium by up to 300 K for some centimetres, by computed flames. Burning velocities are tabulated from
// published models at 25 °C and 1 atm; the older measurements beside them, flash-back gradients, exit velocity classes, limits
// in oxygen and the usual ratios of propane, propylene and hydrogen are from memory and marked so. A number from memory may make
// advice stricter, it never permits.
package flame
