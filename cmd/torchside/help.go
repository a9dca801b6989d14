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
     withdrawal_rule, withdrawal_source, notes
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
`

const helpHose = `hose: pressure at the end of a hose, isothermal compressible flow

in   gas, inside_diameter_m, length_m
     roughness_m       0 for a smooth bore
     flow_std_m3_s     at 15 °C and 101.325 kPa
     inlet_abs_pa
     temperature_k
     loss_coefficient  optional, 0 when missing: fittings and valves, in velocity heads of the bore
out  outlet_abs_pa, reynolds, friction_factor_darcy
`
