package main

const helpCylinder = `cylinder: contents of a cylinder of compressed gas, real gas

in   gas                oxygen, nitrogen, argon, air, hydrogen or methane; acetylene and liquefied fuels must be weighed
     water_volume_m3    inside volume, 0.0001 to 10
     gauge_pressure_pa  0 to 30e6
     temperature_k      of the gas, 253.15 to 323.15
     ambient_abs_pa     optional, 101325 when missing
out  mass_kg            all of the gas
     contents_std_m3    all of the gas, at 15 °C and 101.325 kPa
     deliverable_std_m3 less what stays at 0 gauge
     density_kg_m3, compressibility
     ideal_gas_error    ideal ÷ real density − 1

A rounded example: {"gas":"oxygen","water_volume_m3":0.02,"gauge_pressure_pa":150e5,"temperature_k":288.15}
`

const helpAcetylene = `acetylene: contents by weight and how fast they may be drawn

in   gross_mass_kg      on the scale
     tare_mass_kg       stamped, shell, porous mass and solvent
     full_mass_kg       gas in a full cylinder
     gauge_pressure_pa  optional: also tells what the gauge suggests
     temperature_k      optional, 293.15 when missing; below 288.15 the limits shrink
     withdrawal_rule    optional: tenth_fifteenth (the strictest, when missing) or seventh
out  mass_kg, contents_std_m3, fraction_full, fraction_full_band
     fraction_by_pressure         null without a gauge reading
     intermittent_limit_std_m3_s  of one cylinder as full as this
     continuous_limit_std_m3_s    the same, drawn all the time
     withdrawal_rule, withdrawal_source
     notes [ {code, text, source} ], cautions first: also that the older rule was chosen, and that scale and gauge disagree
`

const helpOrifice = `orifice: gas through a hole, subsonic or choked

in   mixture                {gas: mole fraction}, summing to 1 within 1e-6
     diameter_m
     discharge_coefficient  0.1 to 1
     upstream_abs_pa        at rest before the hole
     downstream_abs_pa      not above upstream
     temperature_k          upstream
out  mass_flow_kg_s
     flow_std_m3_s          at 15 °C and 101.325 kPa
     choked                 true when the throat is at the speed of sound
     exit_velocity_m_s      of the jet in the throat, at the state there
     warnings [ {code, level, text, source, concerns} ], [] without any: acetylene above 15 psi (103 kPa) gauge, counted
       from 101325 Pa, or above 30 psi (207 kPa) absolute before the hole, also in a mixture
`

const helpHose = `hose: pressure at the end of a hose, isothermal compressible flow

in   gas, inside_diameter_m, length_m
     roughness_m       0 for a smooth bore
     flow_std_m3_s     at 15 °C and 101.325 kPa
     inlet_abs_pa
     temperature_k
     loss_coefficient  optional, 0 when missing: fittings and valves, in velocity heads of the bore
out  outlet_abs_pa, reynolds, friction_factor_darcy
     warnings [ {code, level, text, source, concerns} ], [] without any: acetylene above 15 psi (103 kPa) gauge, counted
       from 101325 Pa, or above 30 psi (207 kPa) absolute at the inlet
`

const helpFlame = `flame: chemical equilibrium at constant enthalpy and pressure, heat and burning velocity

in   fuel                 acetylene, propane, propylene, methylacetylene, propadiene, methane or hydrogen
     fuel_mixture         in place of fuel: {fuel: mole fraction}, summing to 1 within 1e-6
     oxidizer             oxygen or air
     oxidizer_fuel_ratio  mol of O2 to one mol of fuel, also with air; 0.01 to 100
     oxygen_purity        optional, mole fraction of O2 in oxygen, the rest argon; 0.2 to 1, 1 when missing; with air only 1
     temperature_k        of the gas before burning, 220 to 400
     abs_pressure_pa      10e3 to 1000e3
     graphite             optional, whether soot may form; true when missing
out  temperature_k        an upper bound: no heat is lost
     mole_fractions       {species: x} over gas and graphite together; formulas, graphite is C(gr)
     flame_class          carburizing, neutral or oxidizing by the ratios torches are set to; of a mixture by the ranges of its
                          fuels, weighted by mole
     flame_class_source
     burns                false outside published limits of flammability; the equilibrium is given all the same
     burns_source         share of fuel, limits and where they are from
     primary_heat_j_mol   what the torch oxygen can release per mol of fuel, to CO and H2 first; lower heat at 298.15 K
     total_heat_j_mol     lower heat at 298.15 K, envelope included
     burning_velocity_m_s {value, low, high, source} at 25 °C and 1 atm, or null: with air, with oxygen below 99.5 %, for a
                          fuel_mixture, for propadiene, and outside the ratios of the flame models
`
