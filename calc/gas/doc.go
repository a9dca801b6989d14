// Package gas holds the gases of a torch and of the cylinders beside it: name, molar mass, ideal-gas heat capacity,
// viscosity and real density, each datum with its source next to it.
//
// Start with Parse or one of the Gas constants, then ask Density, StandardDensity, HeatCapacityRatio or Viscosity. A Mixture
// answers the same questions for what flows through a torch.
//
// It knows no liquids, no flames and no solvent: liquefied fuels and dissolved acetylene are handled as gas at the pressures
// downstream of a regulator, and Density refuses states beyond that with a *RangeError. Everything is SI; densities at the two
// standard states are those of the real gas, because a standard volume is a mass divided by the gas's real density there.
package gas
