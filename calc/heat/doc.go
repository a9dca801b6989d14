// Package heat answers how long a flame needs to bring a zone of a bar or a plate to a temperature, and how hot the rest gets.
//
// Call [Compute] with an [Input]: it returns a [Result], or a *gas.RangeError that names the field, what was read and what is
// allowed. Beside it stand the tables a person at the anvil asks for: [GlowAt], [TemperAt], [WorkingRange], bend allowance by
// [Bend.Work], preheat by [Steel.Preheat].
//
// # The model
//
// Heat flows along the bar only: finite volumes on half of it, implicit in time, with heat content and conductivity that follow
// the temperature, and loss to still air by convection and radiation over the whole surface. The flame gives the zone an even
// flow of heat, its power × efficiency. The temperature is taken as even over the cross section; [Result] says when it is not.
//
// # What it does not do
//
// It sees no flame: the efficiency is the owner's guess, and the time is a band because of it. Draught, a vice, water and scale are
// not in it. A plate is heated in a band over its whole width.
//
// Temperatures are in K, powers in W, energies in J.
package heat
