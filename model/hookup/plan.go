// Package hookup finds every distinct valid wiring of voice coils to amplifier outputs.
package hookup

import "loudfor/model/amplifier"

// Plan is one way of connecting all voice coils to identical outputs.
type Plan struct {
	Mode             amplifier.Mode
	Outputs          int // identical outputs in use
	Series, Parallel int // coils on each output: Parallel strings of Series coils

	// How that is realised: InnerSeries x InnerParallel coils inside a driver,
	// and the drivers so made among each other with the remaining factors.
	InnerSeries, InnerParallel int

	Drivers, Coils int     // drivers altogether, coils of each
	Split          int     // outputs over which the coils of one driver are spread; 1: none
	CoilLoad       float64 // ohm
	Load           float64 // ohm at each output
	Words          string  // what to wire, in plain language
	Caution        string  // what to take care of; empty: nothing special
}

// Network is a series/parallel tree whose leaves are voice coils.
type Network struct {
	Joint  Joint
	Driver int // of a Coil, from 0
	Coil   int // of a Coil, from 0, within its driver
	Parts  []Network
}

// Joint is how the parts of a Network are connected.
type Joint int

const (
	Coil     Joint = iota // a leaf
	Series                // one after the other
	Parallel              // side by side
)

// Networks draws the plan: one network for each output.
func (p Plan) Networks() []Network { return nil }

// Load is the load of the network, ohm, when every coil has coilLoad ohm.
func (n Network) Load(coilLoad float64) float64 { return 0 }

// Enumerate lists every distinct valid wiring, lowest load first.
func Enumerate(drivers, coils int, coilLoad float64, mode amplifier.Mode, outputs int, minimumLoad float64) []Plan {
	return nil
}
