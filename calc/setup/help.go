package setup

// Help documents the question and the answer of this package in their JSON form. A test holds it to the types.
const Help = `setup: one settings card for one piece of work on one rig

in   work            weld, braze, heat, bend, cut
     metal           mild_steel, galvanised_steel, stainless_steel, cast_iron, copper, brass, aluminium
     thickness_m     weld 0.0005 to 0.006, braze 0.0003 to 0.012, heat and bend 0.001 to 0.025, cut 0.0015 to 0.3
     joint           butt, corner, lap, tee, edge; needed for weld
     temperature_k   of the shop, 253.15 to 323.15
     ambient_abs_pa  60000 to 110000
     tip_label       optional: this tip and no other
     ratio           optional: moles of torch oxygen to one of fuel, 0.3 to 6; the neutral flame when missing
     cut             optional, what cutting is asked besides {
       oxygen_purity      optional: 0.95 to 1, 0.995 when missing
       start              optional: edge (when missing) or pierce
       painted            optional: true for paint, grease or an unknown coating
     }
     process         optional, for braze: braze (when missing), braze_weld or solder
     other_metal     optional, for braze: of the other part; the same when missing
     filler          optional, for braze: a class, see compute braze; the best when missing
     rig             {
       fuel_cylinder {
         fuel               acetylene, propane, propylene, methylacetylene, propadiene, methane, hydrogen
         gross_mass_kg, tare_mass_kg, full_mass_kg    optional: weights, and the gas in a full cylinder
         gauge_pressure_pa  optional: rough for acetylene; with water_volume_m3 for compressed fuels
         water_volume_m3    optional
         reserve_fraction   optional: share of full_mass_kg left in it, 0.1 when missing (from memory)
         price_per_std_m3   optional, the owner's currency
         count              optional: like cylinders on a manifold
       }
       oxygen_cylinder {    optional
         water_volume_m3, gauge_pressure_pa
         reserve_gauge_pa   optional: 345 kPa (50 psi) when missing (from memory)
         price_per_std_m3, count                      optional
       }
       oxygen_regulator, fuel_regulator {             optional
         max_gauge_pa       end of the delivery gauge
       }
       oxygen_hose, fuel_hose {                       optional
         inside_diameter_m, length_m
         roughness_m, loss_coefficient                optional
         check_valves, arrestors                      optional: how many in the line
         grade              optional, fuel hose: R, RM, T, acetylene, all_fuels
       }
       torch {
         mixing             equal_pressure or injector
         injector_diameter_m                          optional: bore of the oxygen jet
       }
       tips [ {
         label              as stamped
         orifice_diameter_m optional when a chart row is given
         orifice_count      optional, 1 when missing
         fuels, works       optional lists: acetylene and all flame works when missing; a cutting tip names cut, and
                            orifice_diameter_m is then that of its cutting oxygen
         preheat_diameter_m, preheat_count            optional: holes of the preheat flame of a cutting tip
         chart [ {          optional: rows of the maker's chart, every field optional, ranges {low, high}
           work, metal, fuel
           thickness_m, oxygen_gauge_pa, fuel_gauge_pa
           oxygen_flow_std_m3_s, fuel_flow_std_m3_s   of a row for cutting: the cutting oxygen alone, the preheat's fuel
           pressures_at     regulator (when missing) or torch
           mixing           torch the row is for: equal_pressure or injector
           note
         } ]
       } ]
       prices {             optional, every field: the owner's currency
         oxygen, fuel {
           per_std_m3       price of the gas; goes before fill_price, and before price_per_std_m3 of the cylinder
           fill_price, full_std_m3, reserve_fraction     one fill, the gas in it, the share that goes back unused
           rent_per_month, fills_per_year                of the cylinder: spread over the gas, it is part of cost_per_h
         }
         silver_per_kg, brass_per_kg, filler_per_kg, flux_per_kg    fillers and flux, for the cost of a joint on the card of the app
       }
       withdrawal_rule      optional: tenth_fifteenth (the strictest, when missing) or seventh
     }
out  work, metal, tip, tip_detail {orifice_diameter_m, orifice_count, preheat_diameter_m, preheat_count}
     tips [ {label, fits, best, chosen, makers_row, fuel_flow_std_m3_s, exit_class, code, why} ]   every tip of the rig
     oxygen, fuel    {regulator_gauge_pa, torch_gauge_pa, flow_std_m3_s, contents_std_m3, endurance_s, ended_by, end,
                     without_pause_s, regulator_max_pa}
                     endurance_s ends by ended_by: reserve, or withdrawal (the flow is then more than the intermittent share of
                     the acetylene left); without_pause_s the same by the continuous share
     fuel_name, mixing, ratio, flame_class
     power_w, primary_power_w (what the torch oxygen can release), envelope_power_w (what the air adds)
     net_heat_w {low, high}  what reaches the work: a wide band, from memory
     flame_temperature_k     of chemical equilibrium, an upper bound
     printed_heat_split      how handbooks split the heat, and why that differs from primary and envelope power here
     printed_temperature     what handbooks print, when there is a figure for the class
     exit_velocity_m_s, exit_class, cone_length_m
     hold_on_margin  pop-back estimate, an order of magnitude; never above the maker's smallest flow
     endurance_s, limited_by, without_pause_s, cost_per_h
                     all but cost only when the contents of both gases are known
     shade {minimum, recommended_low, recommended_high}
     filler {classes, diameter_m, melts_k}, flux, speed_m_s {low, high}
     cutting         for cutting only {cutting_oxygen_std_m3_s, preheat_oxygen_std_m3_s, hand_speed_m_s {low, high},
                     machine_speed_m_s {low, high}, kerf_m, drag_m, start_time_s, oxygen_std_m3_m, fuel_std_m3_m (a metre of cut),
                     iron_heat_share, heat_ratio, sustains (sustains, fails, undecided), sustained_m {low, high}, start}
     warnings [ {code, level, text, source, concerns} ]
     provenance {field: {kind, source, from_memory, formula, inputs [ {name, quantity, si, gas} ], low, high, reason,
                 others [ {kind, source, from_memory, value} ]}}
     kind is maker's chart, handbook, computed or common practice

Without a card the answer is one line: field, what was read, what is allowed, why, and the ways out.
`
