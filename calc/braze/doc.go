// Package braze answers how two metals are joined below their melting point: which filler, which flux, how wide the gap, how to heat, and
// how much rod and flux the joint takes.
//
// Call [Compute] with an [Input]: it returns a [Result], or a *[Refusal] that says what was read, what is allowed, why, and the way out.
// [Fillers] is the table of filler metals, [Choose] only the choice.
//
// # The model
//
// A filler suits when its source lists the metal and when it flows before either metal begins to melt. A close joint holds its area times
// the gap; how much more is used follows the handbook of the copper trade. A braze weld is the triangle or the V that is built up.
//
// # What it does not do
//
// It knows no alloy beyond its metal's name, no strength, and not the air of the room. Flux is weighed by rules from memory.
//
// Lengths are in m, temperatures in K, masses in kg; tables keep the °F their source prints.
package braze
