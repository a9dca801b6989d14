// Package cylinder tells how much gas a cylinder holds and how fast it may be drawn.
//
// Compressed answers for gases whose gauge tells the contents (oxygen, nitrogen, argon, air, methane, hydrogen), with a
// real-gas equation. Acetylene and Liquefied answer for those that must be weighed; Compressed refuses them and says how.
// Acetylene also gives the withdrawal limits of a WithdrawalRule.
//
// It knows no torch and no clock: minutes of gas are worked out where flows are known. Everything is SI; a StandardVolume is
// mass divided by the gas's real density at 15 °C and 101.325 kPa. Inputs out of range come back as *gas.RangeError.
package cylinder
