// Package cut answers how to cut steel with oxygen: orifice, pressure, flows, speed, kerf, time, gas, and what of the heat the iron
// itself gives.
//
// Call [Compute] with an [Input] for one cut and [List.Compute] for pieces to be cut from what two cylinders hold. [Balance] is the
// heat of a started cut. Bad input is a *gas.RangeError, which names the field, what was read and what is allowed, or a *MetalError
// for a metal that oxygen does not cut.
//
// # The model
//
// Orifice, pressure and speed follow printed cutting data between 6 and 100 mm, straight in logarithms between the rows; thinner and
// thicker they go on to end points that are from memory, and the result says so. The flow is choked flow through the orifice. The fuel
// is a printed share of the oxygen. Kerf, drag and starting time are from memory.
//
// # What it does not do
//
// It knows no scale, rust or skill, no bevel and no stack of plates, and no torch: pressures are those of the orifice, without what
// is lost inside the torch.
package cut
