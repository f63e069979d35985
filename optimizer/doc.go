// Package optimizer finds the loudest complete builds for a brief, exactly, and
// can show that there are none louder.
//
//	r, err := optimizer.Pick(ctx, optimizer.Problem{Catalogue: parts, Brief: brief, Vehicle: car})
//	if err != nil {
//		return err
//	}
//	for _, b := range r.Builds {
//		fmt.Println(b.Rank, b.Cost, b.Reading.DB, b.Plan.Words)
//	}
//
// Ladder finds the best build at every price up to the cap in one such search;
// the proof is in ladder.go. Predict computes one given build instead,
// SmallSignal its linear response.
// The package does no input or output and reads no clock. What questions and answers
// are made of is in package build, what car and brief fix in setting, what parts cost
// in pricing, in which ways the bass can be driven in drive, what completes it in completion, the
// bands in uncertainty, the second look at every answer in verify.
//
// # Terms
//
// In the order in which each needs those before it; what optimization calls it stands
// in brackets where the code says something else.
//
//   - level: decibels in whole thousandths. The objective of a build is the level
//     that the brief's goal ranks by.
//   - item: a part as this customer meets it, with how many may be in a build. A set
//     is items with how many of each (package pricing).
//   - block: a driver in so many boxes of one kind, filled; a loaded enclosure is both.
//     A group is the blocks that differ in the box alone, its housings.
//   - pair [drive.AmpChoice]: an amplifier for the bass, so many times. A wiring is one
//     mode, outputs and way to connect of a pair; a feed is a wiring with a wiring kit.
//   - coil source: what all that is before a coil does to it, as a voltage behind a
//     resistance, with a limit of the current and an efficiency. An envelope is the
//     best of each of these over several sources, so no weaker than any of them.
//   - class [drive.CoilLoad]: the pairs that can drive so many coils of one load, by
//     price. A price tier is those between two prices, under one envelope. A span is what
//     lies between two steps of a ladder.
//   - kit tier: the wiring kits that carry at least so much current.
//   - front stage: a pair of speakers, what drives it, and a bass blocker if there is
//     one. A completion, or rest, is that with a source, and a line converter if there is
//     one: all that a block, a pair and a kit still need.
//   - cost to reach: what reaching a level costs at least, as a rising step function.
//   - ranking: the best builds found so far. The incumbent is the one that a new build
//     has to come before: the last of a full ranking, on a ladder the best that costs
//     no more.
//   - bound: a level that nothing of some kind exceeds. The ceiling of a group is one
//     of all its blocks; a horizon [relaxation] is one over all boxes whatever.
//   - to outrank [to dominate]: to do all that another part does, for less.
//   - round: groups that are worked off against one frozen ranking.
//   - ledger: how many combinations were left out for which reason; the proof is made
//     of it. What is open was not reached before the context ended.
//
// # The build space
//
// A combination is a choice of parts:
//
//	(a subwoofer and an enclosure, or a loaded enclosure)  x  1, 2 ... Brief.Boxes boxes
//	x  a bass amplifier  x  1, 2 ... Brief.Amplifiers of it
//	x  a wiring kit  x  a source
//	x  a pair of front speakers, or those that came with the car
//	x  an amplifier of the front's own, or none
//	x  a line converter, or none  x  a bass blocker, or none
//
// of everything in the catalogue, fitting or not; so Proof.Combinations is a
// product of counts. The boxes of a build are alike and full of alike drivers,
// so the number of boxes gives the number of drivers; the bass amplifiers are
// alike and share the drivers evenly. How a combination is put together (mode,
// outputs, wiring, what drives the front) is no part of it: each set of parts
// stands for its best arrangement.
//
// The rules, each written down once more in the recheck and in the oracle of
// the tests:
//
//   - Shelf: pieces beyond those owned need a price, a store that is allowed,
//     stock, and room in the limit for a customer. What must never be used is
//     not used even if it is owned. What must be used is, at least so often.
//   - Price: what is taxed at one rate is summed and taxed, and the total is
//     rounded half up, once; owned pieces are free; labour is included, for
//     pieces of a kind or for the build; of all ways of applying the
//     catalogue's deals to the pieces that are bought, each piece in one at
//     most, the one that costs least. Within the cap.
//   - Block: a driver of the hole's nominal size, no larger than its cutout and
//     depth where both sides state them; net volume above zero (package
//     enclosure); at most Brief.Drivers drivers; the boxes in one row, all in
//     the same position, along some edge of the space; each through the opening
//     of the boot, one of its faces ahead.
//   - Hookup: package hookup's plans, at or above the load rated for the mode.
//   - Front: under keep the customer's own pairs, or the car's if none is
//     owned; under replace every pair; under either both. A new pair (any under
//     replace, one not owned under either) must have at least Brief.FrontWatts
//     a side of use: of what drives it, held under its rating and under what its
//     travel stands, the more the higher a high-pass keeps the bass away. Other pairs
//     need only be driven, by the source's own channels, by at least two stereo
//     channels that the bass leaves over on each bass amplifier, or by an
//     amplifier of their own.
//   - High-pass: the source's, else that of the amplifier that drives the
//     front, else a bass blocker. A built-in one is set in steps of 10 Hz from
//     50 to 250 Hz where the pair plays loudest with what drives it, by the
//     rule for new ones. Each setting by itself is no quieter for more power,
//     so neither is the best of them, and a bound over all settings bounds it.
//   - Signal: one pair of line outputs feeds everything (by Y-leads); without
//     one, every amplifier needs a speaker-level input or a line converter
//     with channels enough (two when it feeds the front as well).
//   - Current: one kit reaches and carries the ratings of all amplifiers, all
//     channels driven (supply.Kit.Carries). Its resistance is in the supply,
//     so the kit also decides how loud it gets. The alternator is no rule: the
//     battery helps out, with less voltage, and a warning.
//   - No idle parts: a line converter only where the signal path needs it. For
//     a reading an amplifier of the front's own only where the source cannot
//     drive the pair by the rule, and a blocker only where the rule fails
//     without; for music both may be there to make the front louder, a blocker
//     only where there is no other high-pass. What the brief's must names may
//     be idle.
//
// # The order
//
// Builds are ranked by objective (the reading; or for music the lower of the
// bass's level less Brief.BassLift and the front's level), rounded to 0.001 dB;
// then the lower price; then fewer pieces; then the list of SKUs, repeats
// written out, that is first alphabetically. That is a total order, so the
// ranking is the same whatever the order of files and parts. Among the
// arrangements of one set the other goal's level decides, then the order of
// listing. With DistinctBass, only the best build of each pair of bass
// amplifier and bass driver is ranked, and no set of parts twice (repeats.go).
//
// # How it is searched, and why nothing is missed
//
// Let K be the length of the ranking, and the incumbent the K-th best found so far.
// Something is left out for one of these reasons only.
//
//  1. Price. Each bound on a price adds lower bounds of its parts: Lower is
//     convex in the number of pieces (owned ones first), so that of all pieces
//     of a part is never below the sum of those of its two uses; where a part is used
//     twice, stock and price are computed for both together before a build is
//     accepted (settle.go).
//  2. und. A level that is proved not to reach the incumbent's, or to equal it
//     only at a higher price, or at the same price with parts that come later.
//     Such a combination is behind K others. Bounds come from five sources. (a)
//     bass.Horizon, over all boxes, before anything is computed about one, and
//     bass.Prospect, which holds a driver against what a box, or a cluster of like
//     boxes, asks of it to equal the incumbent of the round, or on a ladder those
//     of all prices (proofs there; aim.go, cluster.go, ladder_aim.go). (b)
//     Envelopes: whatever the amplifier, mode and wiring, a coil feels a source of
//     some voltage, resistance, current limit and efficiency (package drive), and the
//     model's level never falls when the first and the last two rise and the
//     second falls (proof in package bass, held by its property tests); so the
//     level of the strongest of each bounds a whole set of amplifiers, and that of
//     the best conductor all kits. (c) For music, the front: no objective exceeds
//     what the front stages reach, and the cost to reach (package completion) says
//     what reaching a level costs. What of the bass is then left open is asked the
//     other way round: how loud has it to be at least for what it costs (bar.go)?
//     Whether a block can be that loud is told by a glance at it, and what voltage
//     and current it takes, without computing a level (song.go, row.go; proof in
//     package bass); the pairs that have both are parted until the envelope of a
//     part falls short, or one pair is left (winnow.go, by (b)). On a ladder that is
//     asked between each step and the next (ladder_span.go). (d) Money. What drives a
//     block, and the kit, are bounded by what the money left over buys, and for music
//     by the incumbent's price less that of a front as loud as the incumbent (row.go,
//     rise.go): a build that is no louder has to be no dearer. Pairs that leave
//     channels over are kept
//     apart, since the bass can drive the front in none but those. (e) For a
//     reading, all wirings of all amplifiers that the money left over buys, sorted
//     by current and resistance (drive/drive_set.go; bass.Choice): what reaches a level
//     takes so much current, and so much voltage behind so much resistance, and
//     the envelope of everything, which has them all, is like no amplifier. On a
//     ladder each wiring with each kit goes by itself (drive/feed.go), by what a
//     source can do for the coils at hand (drive/dominance.go).
//  3. pth. In a slot that holds one part (source, speakers, kit, converter,
//     blocker, the front's own amplifier) a part is left out when K others do all
//     that it does (package completion) and are cheaper, or cost as much and have an earlier
//     SKU: putting each of them in its place gives K builds that rank before. It
//     does all that the part does only if no other part is left without a use by
//     it (completion/unused.go). The same for whole rests, which also must not draw more
//     current. Of amplifiers of which pieces are owned, or that are short in
//     stock, one may fail to count among the K, since the bass may need it
//     (standing in completion/list_filter.go).
//
// Where levels and prices are equal, pieces and SKUs decide, and bounds go on to them:
// price, pieces and SKUs are one order, which adding parts on both sides keeps
// (tied.go). So of parts that are alike the K with the earliest SKUs stand for all, and
// a plateau, which is all that is as loud as the front or the end of a stage lets it
// be, is searched like a price. That is also how the least money for a level is found
// (least_money.go).
//
// A search that has to end, at its context or at its bound of memory, leaves open what
// it did not settle, wherever it is (halt.go).
//
// Work goes by groups (one driver, so many boxes of so many holes), in the order
// of their horizons. Groups are worked off in rounds; during a round the ranking
// to beat is frozen, and finds are merged in the order of the groups. So the
// result and every count of the proof are the same for any number of workers.
// Before the rounds, and between them, the ranking is bettered by first looks
// (probe.go, polish.go), which prove nothing and are not booked.
//
// The proof counts each combination once, under the first reason that met it.
// When the context ends, what was not reached is counted too, and the highest
// bound of the groups that are left gives the gap.
//
// # Prices that do not add up
//
// Tax and labour do: each piece has a weighted price, an integer with its tax and
// its labour in it (package pricing), and labour for the build is the same for all.
// Of two builds with one price at the till the one that is cheaper before rounding
// ranks first. Deals do not add up. Instead of a price, a part in one has three
// figures, Marginal <= Lower <= List; package pricing proves that for every set S
//
//	(A) Exact(S) >= the sum of Lower over S
//	(B) Exact(S + q) <= Exact(S) + List(q)
//	(C) Exact(S + p) >= Exact(S) + Marginal(p)
//
// With no deals all three are one and the search is the one without deals. Each
// rule in turn:
//
//   - Price, bound, envelopes, tiers, costs to reach, horizons: prices in them are
//     sums of Lower, lower bounds by (A), held against the cap and against exact
//     prices of builds found. What passes all of them is a set of parts, whose
//     exact price is worked out before it is held against the cap and ranked.
//   - Depth: for a single part, a front stage or a rest p in the place of which q
//     can stand, List(q) < Marginal(p) gives Exact(S + q) <= Exact(S) + List(q) <
//     Exact(S) + Marginal(p) <= Exact(S + p), by (B) and (C), whatever S; where List(q)
//     is Marginal(p), S + q costs no more, and comes first if q does. Marginal and
//     list prices of several parts add, by using (B) and (C) for one after the
//     other. Before the parts of a rest are all known, what is still to come can
//     have a Marginal below zero, down to -lineSaving and -stageSaving;
//     the tests made then allow for that. Kits likewise. Where parts with the same
//     features are told apart (pricing.KeepUndominated), parts in deals neither count nor
//     go.
//   - Lists are in the order of Lower. A scan for parts that outrank p stops
//     where Lower reaches Marginal(p), since no List is below its Lower.
//   - The cheapest build, for conflicts, is searched for by Lower (A) among the
//     cheapest of blocks that are alike in what is in deals (cheapest_deal.go).
//
// The recheck (package verify) tries every deal of the catalogue, without tables.
//
// # Where to buy
//
// A part may be sold in several shops, going to a shop may cost a trip, and a brief
// may say how many shops there may be. Each set of shops is a problem without any
// of that: a trip is labour for the build, and a shop cheaper than the dearest that
// is needed makes as many pieces cheaper as it has (package pricing). The answers of the
// sets, put together, are the answer (tours.go has the proof); the proof of the
// search then counts every combination once for each set.
//
// A deal of a shop takes pieces of that shop, no more than it has; one of no shop
// takes them from wherever they are. A piece that a deal makes no cheaper costs what
// its shop asks. Where taxes differ, a set's price stands for its parts in
// proportion to what their own shops ask.
//
// # What is shown
//
// Each winner is put together again from its bare set of parts (arrange.go),
// which must give the level at which it was found, and then held against the
// brief from the catalogue's own figures by code that knows nothing of shelves,
// lists and bounds (package verify). A difference is an internal error, never a row
// in a table.
//
// When nothing can be built, conflicts.go finds the sets of requirements that
// block, each proved minimal.
//
// Bands come from Monte Carlo draws (package uncertainty): the car's are shared by all
// builds, a part's by all builds with that part.
//
// Formulate writes the same choice as an integer program (package program), with the
// model's levels in a table, for solvers that know nothing of this search.
//
// # Limits
//
// One source, one pair of front speakers, one kit; all bass drivers, boxes and
// bass amplifiers alike; boxes in one row only. Nothing is bought to be left out
// of the build, even where a deal with it would cost less. Front speakers and
// bass share the alternator with music, which is left out. The time grows with
// the number of drivers times trees of boxes (cluster.go).
package optimizer
