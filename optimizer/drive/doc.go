// Package drive says in which ways the bass can be driven: what each part is worth as a
// cone, a source or a cable, and for every number of equal coils that drivers may have
// together (a CoilLoad) all amplifiers, taken once or more (an AmpChoice), with all modes
// and wirings, and all kits behind them.
//
//	g := drive.New(book, 5, nil)          // the parts, rated
//	c := g.Load(driver, 2)                // two of a driver
//	g.FillLoads(floor, false)             // everything that can feed them
//	strongest, ok := c.Under(sum)         // what money buys, at most
//
// What counts is the source at one coil, a CoilSource: voltage, resistance, current and
// efficiency. One that is nowhere weaker than another drives every block at least as
// loud, so the envelope of a set of sources bounds all of them; choices are kept in
// trees of envelopes (tree.go), by price (tier.go), and for a ladder of readings with
// their kits (feed.go), compared by what a source can do for the coils at hand
// (dominance.go).
//
// What a build costs beside bass and kit is not known here: FillLoads is told the least.
//
// Limits: all amplifiers of a choice are alike, and share the coils evenly.
package drive
