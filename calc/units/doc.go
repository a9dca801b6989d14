// Package units holds the quantities of the trade as defined Go types, reads what a person types into one of them, and
// writes them for a person.
//
// Inside, every number is SI. A person never sees that: each input is a [Field], whose Parse turns typed text into an SI
// number or a readable [ParseError]; each output goes through [Format] in the unit the owner chose ([System]).
//
// Policy:
//
//   - Gauge and absolute pressure, standard and actual flow, a temperature and a difference of temperatures are different
//     types. The unit text says neither: "psi" and "psig" read the same, and the field it was typed into decides the type.
//   - A standard volume or flow is held at 15 °C and 101.325 kPa, the metric state. Cubic feet are stated at 70 °F and
//     101.325 kPa. The step between the two is the ratio of the gas's real densities at both states ([StandardRatio]), not
//     the ideal-gas ratio of temperatures, so ft³ cannot be read or written without knowing the gas.
//   - A dot is always a decimal point. A comma before exactly three digits may be a thousand mark or a decimal comma: it
//     is refused with both readings offered, unless the limits of the field rule one of them out.
//   - A sheet gauge means nothing without its metal. Each metal has its own [SheetTable]; the millimetres understood are
//     always shown in [Parsed].
//
// What it does not do: it keeps no clock, knows no language but English, and does not check physics beyond the limits it
// is handed.
package units
