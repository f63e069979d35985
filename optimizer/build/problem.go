package build

import (
	"math"

	"loudfor/catalog"
	"loudfor/optimizer/memo"
)

// Problem is one question: the loudest builds of this catalogue for this brief
// in this vehicle.
type Problem struct {
	Catalogue *catalog.Catalogue
	Brief     catalog.Brief
	Vehicle   catalog.Vehicle

	// With is the SKU of a part that every build has to hold, and to have a use
	// for: unlike a part that the brief's must names, it may not be idle. Empty:
	// none. Formulate and conflicts know nothing of it.
	With string

	// Aside, if set, is what has to be left over of the cap beside a build with some
	// bass, in millionths of a minor unit; NoAside where there must be no such build. It
	// is asked of parts of a core as well, the rest left out: for no more than any core
	// with them. Pick and First know of it; sums are for
	// catalogues without deals and shops.
	Aside func(Core) int64

	// FrontShares leaves the front speakers without an amplifier of their own: they play
	// on the source, or on channels that the bass leaves over. Formulate, conflicts and
	// the count of combinations know nothing of it.
	FrontShares bool

	Top      int      // how many builds to rank; 0: DefaultTop
	Distinct Distinct // what makes two builds different enough to be ranked apart
	Workers  int      // goroutines; 0: one for each processor. Never changes the result
	Memory   int64    // bytes that the program may take, roughly; 0: DefaultMemory. A search that would take more stops
	Seed     uint64   // of the Monte Carlo draws behind the bands

	// Bare leaves out curves, bands and notes: for callers that need only
	// the ranking, such as a sweep over caps.
	Bare bool

	// Known, if set, is a build that may be among the best already, such as
	// the one that was quoted last. Never changes the answer.
	Known []catalog.Mention

	// Shared, if set, remembers what this problem has in common with others.
	// Never changes the answer.
	Shared *memo.Shared

	// Shops, if set, are the only ones that are gone to. Callers leave it unset:
	// where shops have to be chosen, the optimizer makes each set of them such a
	// problem.
	Shops *ShopSet

	// Progress, if set, is called now and then during the search, from any
	// goroutine, but never twice at once. It may miss some news.
	Progress func(Progress)
}

// Core is what makes the bass of a build. Box is nil beside a loaded enclosure.
type Core struct {
	Driver, Box, Amp, Kit *catalog.Part
	Drivers, Boxes, Amps  int
}

// NoAside is more than any cap.
const NoAside = math.MaxInt64 / 8

// DefaultTop is how many builds are ranked when the problem does not say.
const DefaultTop = 10

// DefaultMemory is what a problem may take that does not say, bytes.
const DefaultMemory = 1e9

// MostMemory is what a problem may take, bytes.
func (p *Problem) MostMemory() int64 {
	if p.Memory <= 0 {
		return DefaultMemory
	}
	return p.Memory
}

// Distinct says when two builds are ranked as two.
type Distinct int

const (
	// DistinctParts: as soon as one part differs.
	DistinctParts Distinct = iota
	// DistinctBass: only when the bass amplifier or the bass driver (the
	// subwoofer, or the loaded enclosure) is another part. Only the best
	// build of each pair is ranked, and of a set of parts that is the best
	// of two pairs only the better way of connecting it.
	DistinctBass
)

// Progress says how far a search has come.
type Progress struct {
	Done, Blocks int     // bass blocks settled, and all of them
	Best         float64 // objective of the best build so far, dB; 0: none yet
}

// Outcome is what the search can say. The reason why it stopped is Stop.
type Outcome int

const (
	Unknown    Outcome = iota // nothing found, nothing proved
	Optimal                   // the ranking is proved
	Feasible                  // builds found, better ones not excluded beyond Proof.GapDB
	Infeasible                // proved that no build exists
)

func (o Outcome) String() string {
	return [...]string{"unknown", "optimal", "feasible", "infeasible"}[o]
}

// Stop is why the search ended.
type Stop int

const (
	StopComplete  Stop = iota // everything was covered
	StopDeadline              // the context's deadline passed
	StopCancelled             // the context was cancelled
	StopMemory                // what the search keeps would have taken more than Problem.Memory
)

func (s Stop) String() string {
	return [...]string{"complete", "time limit", "cancelled", "memory limit"}[s]
}

// Result is the answer to a Problem.
type Result struct {
	Outcome Outcome
	Stop    Stop
	Builds  []Build // best first; ranks from 1
	Rough   bool    // stopped, and so their bands are of fewer draws than usual
	Proof   Proof

	OpenBound Level // of a search that was stopped: nothing that it has not met is louder

	// Conflicts, when Infeasible, are sets of requirements, smallest first,
	// that block by themselves; none of their members can be spared: with
	// any one dropped, the others of the set can be met. To get a build, one
	// member of each set has to give way.
	Conflicts [][]Requirement
}
