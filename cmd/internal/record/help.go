package record

// Help is the text of "loudfor help json".
const Help = `With --json the answer is one JSON document on standard output, and nothing
else. An error is a JSON document too; the same words go to standard error. Where
no build exists for a brief, commands that need one (versus, sheet, box, book add)
answer with the document of pick; where no box can be built, with that of an error.

An interrupt, or a time limit, never makes a false answer: pick, ladder and why
answer with what was proven until then and say so in "stop", "stopped" or, of the
answers beside the first, in "whole"; all other commands, and these before there is
anything to tell, end with status 1 and the document of an error. What runs until
it is interrupted (serve, --watch) ends with status 0.

Each document names its shape in "schema". Under one number keys may be added;
none is renamed, removed or given another meaning. Money is an exact decimal
number in the document's currency. Levels are decibels re 20 uPa, rounded to
0.001; other figures have six significant digits. Units are in the key names.

loudfor pick --json
  schema        "loudfor/pick/1"
  currency      ISO 4217 code of every sum in the document
  cap           the most that a build may cost, everything included
  outcome       "optimal": proven best; "feasible": found, with proof.gap_db left
                open; "infeasible": proven that no build exists; "unknown"
  stop          why the search ended: "complete", "time limit", "cancelled"
                or "memory limit"
  goal          "reading" or "music"
  vehicle       name of the vehicle
  demo          true where the catalogue is the invented demo; else left out
  outdated      why what readings taught about the car is not used, and what to do;
                left out where it is used. The other answers about one car that
                have demo have it too; in predict it is a warning
  proof
    combinations  how many builds the catalogue could make
    evaluated     how many of them were computed
    dropped       {reason: count} of the others; with evaluated they add up to
                  combinations; counts may exceed 2^53. Reasons: not_offered,
                  does_not_fit, no_valid_hookup, over_the_cap,
                  required_part_missing, cable_current, incomplete_or_outranked,
                  bound, dominated, not_reached
    gap_db        by how much an unseen build could still be louder; 0: none can
  builds        ranked; [] when there is none
    rank          from 1
    cost          all in, tax included
    reading       {db, band_db, hz, place, openings}: the highest level on a
                  meter, half the width of its 90 % interval, its frequency,
                  where the meter stands and what is open
    music         {db, band_db, bass_db, bass_band_db, front_db, front_band_db}:
                  the loudest balanced playback; what the bass reaches over the
                  bands from 31.5 to 80 Hz, the wanted lift included; what the
                  front reaches, left out where nothing drives it; each with half
                  the width of its 90 % interval
    limit         what keeps the reading from being higher
    clamp         {volts, amps, ohms, watts}: what meters show at the peak:
                  volts, amps and ohms at one output, watts of all together
    hookup        the wiring in words
    load_ohm      nominal load at one output
    parts         [{sku, count, price}]: price of one piece before tax, 0 for a
                  part that the customer owns, which also has "owned": true;
                  "store" where a part could be bought at several
    deals         [{name, times, saving}]: deals in the cost, with all that they
                  save before tax; left out where there are none
    labour        [{name, count, price}]: work in the cost, price of one time
                  before tax; left out where there is none
    taxes         [{rate_percent, sum, tax}]: what is taxed at each rate; all sums
                  and taxes add up to the cost
    tie           true where the difference to rank 1 lies within its band and
                  is not above 1 dB, about what a listener notices
    difference    {db, band_db, chance}: this build's level less that of rank 1,
                  half the width of its 90 % interval, and how likely its sign is
                  right (0 to 1); not on rank 1
    assumed       what no card or file states and was assumed
    warnings      what to look at before buying
  answers       the builds that are answered first beside builds[0], the best by
                the goal; left out when there is none
    within_db     how far the best value may be below builds[0]
    whole         false where a stopped search may have missed a better one
    best_value    {reading_difference, music_difference, build}: the cheapest
                  build of the catalogue that is within; differences to builds[0]
                  as above, for both goals; build has the keys of one build
    best_by_the_other_goal
                  the same of the best build by music where the goal is reading,
                  and the other way round
    before        {music_db, music_band_db}: what the owned source does with the
                  front speakers that are in the car; left out where no source
                  is owned
  conflicts     only when no build exists: [{requirements, unblock}], the
                smallest sets that block, and what would free each; left out
                where the search for them was stopped
` + LadderHelp + WhyHelp + VersusHelp + RepriceHelp + BookHelp + BoxHelp + MeterHelp + SheetHelp + `
loudfor predict --json
  schema        "loudfor/predict/1"
  currency, vehicle, and the keys of one build as above, then
  asked         as for why; left out under --volts
  curve         [{frequency_hz, impedance_ohm, impedance_phase_deg, excursion_mm,
                port_speed_m_s, level_db, limit}], lowest frequency first; the
                same keys are the columns of --curve

  files         which files were taken that nobody named, in words; left out where
                all were named. The other answers have it too

loudfor new --json
  schema        "loudfor/new/1"
  folder        the folder that was made
  written       its files
  samples       true where the parts are samples; parts: how many of the list

loudfor check --json
  schema        "loudfor/check/1"
  parts         how many parts the catalogue holds
  problems      [{severity, file, line, column, text, summary, remedy, related}]

loudfor audit --json
  schema        "loudfor/audit/2"
  currency, cap, goal, vehicle, demo, outcome as above, then
  level_db      of the best build by this program's search: what the goal ranks
                by; not there when no build exists
  cost, parts   of that build, all in; [{sku, count}]
  verdict       "confirmed", "refuted" or "not settled", by a look at every block
                that fits (a driver, so many times, in so many of one box); it and
                all to "trusted" are left out with --lp
  blocks        how many fit
  settled       {step: blocks} over_the_cap, no_wiring, itself (cone, coil or port
                do not stand the level), envelope (of all sources that the money
                left over buys), one_by_one, as_loud (but no build of it comes
                before), better, not_settled; they add up to blocks
  as_loud       complete builds as loud and no dearer that were met, it included
  better        {level_db, cost, parts} a build that comes before; only if refuted
  fault         what is wrong with the build itself; only if refuted
  left          why it is not settled, in words
  trusted       what a confirmation still rests on, in words
  drivers       with --each-driver: [{sku, level_db, cost, parts}] the loudest build
                of each; sku alone where there is none
  unknowns, rows  size of the integer program; with --solver or --lp
  solvers       with --solver: [{name, version, status, level_db, cost, parts:
                [{sku, count}], agree}] of each that is installed; status:
                "optimal", "infeasible", or "stopped" (perhaps with "error"), which
                proves nothing
  agree         true where every solver found the same level and price, or that
                no build exists; not there when none was asked
` + ImportHelp + ServeHelp + `
any error
  schema        "loudfor/error/1"
  status        the exit status: 1 bad input, 2 wrong usage, 3 no build exists
  error         what is wrong
  problems      as above, where files are at fault
`
