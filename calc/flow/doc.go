// Package flow relates pressure to flow in the two narrow places of a torch: the drilled hole of a tip and the hose before it.
//
// Start with Orifice for a hole (Flow from pressures, UpstreamFor from a flow) and Hose for a hose (Outlet, Inlet, DropBand).
// FrictionFactor, ChokingRatio and CriticalFlowFactor are the formulas beneath them.
//
// Both are steady. A hole is an ideal-gas nozzle with a discharge coefficient; a hose is isothermal and takes fittings,
// check valves and flashback arrestors only as one loss coefficient. Neither mixes gases nor knows an injector. All pressures
// are absolute; a flow is a standard volume per second, mass over the real gas density at 15 °C and 101.325 kPa.
//
// Input outside what the formulas hold for is a *gas.RangeError; a flow that no pressure can drive is a *ChokedError.
package flow
