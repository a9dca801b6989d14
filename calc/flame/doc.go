// Package flame says what burns in a torch flame and in which proportion: balanced equations, oxygen to fuel ratios and flame
// classes, heating values, burning velocities and an estimate of whether the flame stays on the tip.
//
// Start with NeutralRatio and Classify for a ratio, Balance for the chemistry, HeatingValue for the heat, HoldOn for the tip.
// Every ratio is a volume of oxygen to a volume of fuel, the same as mol to mol. The fuels are those of gas.Fuels.
//
// It does not compute a flame temperature or composition. Burning velocities are tabulated from published models at 25 °C and
// 1 atm; the older measurements beside them, flash-back gradients, exit velocity classes and the usual ratios of propane,
// propylene and hydrogen are from memory and marked so. A number from memory may make advice stricter, it never permits.
package flame
