package record

// SheetHelp is the part of Help about sheets; the shape itself stands beside
// what it is made of, in package install.
const SheetHelp = `
loudfor sheet --json
  schema        "loudfor/sheet/1"
  currency, vehicle, demo, and build as in pick, then
  wiring        the drawn network on one bass amplifier: {amplifiers, mode,
                load_ohm, outputs: [{output, plus, minus}], coils: [{output,
                driver, coil, plus, minus}], points: [{where, load_ohm,
                direct_ohm}]}; plus and minus are nodes: what has the same number
                is connected
  power         {demand_a, run_m, cable_mm2, copper_clad, ampacity_a, drop_v,
                fuse_a, branches: [{sku, cable_mm2, fuse_a}], alternator_a,
                reserve_a, alternator_needed_a, short}; branches only with
                several amplifiers
  gain          {tone_hz, tone_dbfs, target_v, loads: [{load, ohm, volts, watts}],
                front_tone_hz, front_target_v}: volts at one output
  filters       {low_pass_hz, front_high_pass_hz, front_blocker_f,
                front_blocker_hz, subsonic_hz, travel_exceeded_below_hz,
                tuning_hz}; what is not needed, or not in the build, is 0
  expected      [{place, openings, db, band_db, hz, volts, volts_band, amps,
                amps_band}] for each place and set of openings, at the loudest tone
                that the filters pass; [] on open ground
  fit           [{what, needs, has, verdict, bad}]
  sections      [{title, blocks}] as printed; a block is a paragraph, a warning,
                list, steps, a table (its first row the header), or a drawing
                with caption, text and svg
  Where no build exists for a brief: the document of pick, exit status 3.
`
