// Package hookup finds every distinct valid wiring of voice coils to amplifier
// outputs, and says in plain language what to connect to what.
//
//	plans := hookup.Enumerate(2, 2, 4, amplifier.Bridged, 1, 4)
//	// two drivers of two 4 ohm coils on one bridged output that must not see
//	// less than 4 ohm: 4 ohm and 16 ohm, of 1, 4 and 16 that can be made
//	plans[0].Words
//	// wire each driver's two 4 ohm coils in series (8 ohm); wire the two
//	// drivers in parallel: 4 ohm on the bridged output
//
// # Why this is all
//
// Every coil is used and every coil is treated alike: the same voltage across
// it, the same current through it. Then each output sees a whole number s of
// coil voltages and a whole number p of coil currents, and by the balance of
// power s p is the number of its coils. So the load is coil load x s/p, and
// the divisors s of that number are all the loads there are, however the
// coils may be braided. Each is realised inside the drivers first and between
// drivers second: a driver is then a part with two terminals again.
//
// Limits: all drivers and all coils alike, all outputs alike. Loads are
// nominal; what the amplifier really meets is the box's business.
package hookup

import "loudfor/model/amplifier"

// Plan is one way of connecting all voice coils to identical outputs. Outputs
// x Series x Parallel is the number of all coils.
type Plan struct {
	Mode             amplifier.Mode
	Outputs          int // identical outputs in use
	Series, Parallel int // coils on each output: as if Parallel strings of Series coils

	// How it is realised: first InnerSeries x InnerParallel of a driver's
	// coils, then the units so made among each other by the remaining factors
	// Series/InnerSeries and Parallel/InnerParallel.
	InnerSeries, InnerParallel int

	Drivers, Coils int // drivers altogether, coils of each

	// Split is the number of outputs over which the coils of each driver are
	// spread: 1 where every driver belongs to one output.
	Split int

	CoilLoad float64 // nominal, ohm
	Load     float64 // nominal at each output, ohm
	Words    string  // what to wire, in plain language
	Caution  string  // what to take care of; empty: nothing special
}

// outerSeries and outerParallel are the factors between the drivers.
func (p Plan) outerSeries() int   { return p.Series / p.InnerSeries }
func (p Plan) outerParallel() int { return p.Parallel / p.InnerParallel }

// units is the number of drivers, or parts of drivers, on each output.
func (p Plan) units() int { return p.outerSeries() * p.outerParallel() }
