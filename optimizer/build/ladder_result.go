package build

import (
	"sort"

	"loudfor/catalog"
)

// LadderResult is the answer of Ladder. It answers for every cap up to the one
// that it was made for: At only looks among the steps, where another cap would
// otherwise be another search. It stands on nothing that changes, so it may be kept as long
// as catalogue, brief and vehicle are what they were, and asked by several
// goroutines at once. Steps carry no curve and no notes; Predict gives those of
// one step's parts when somebody wants to see them:
//
//	ladder, err := optimizer.Ladder(ctx, p) // once, with the highest cap
//	...
//	b := ladder.At(sum) // for every move of the budget
//	if b != nil {
//		full, err := optimizer.Predict(ctx, p, optimizer.Mentions(b.Lines), "", 0)
//	}
type LadderResult struct {
	Outcome Outcome
	Stop    Stop
	Steps   []Step // cheapest first; price and objective rise from each to the next
	Rough   bool   // stopped, and so their bands are of fewer draws than usual
	Proof   Proof  // its gap is the widest of the steps' gaps

	// Complete is the cheapest system whose front stage is new as well: the
	// loudest of the builds with the lowest price under the rule "replace",
	// whatever the cap. Nil when there is none, or the search was stopped.
	Complete *Build

	// Below, of a search that was stopped, is a price from which on there may
	// be builds cheaper than the first step; zero when there are none.
	Below catalog.Money

	Conflicts [][]Requirement // as in Result

	OpenFront []OpenPoint // of a search that was stopped
}

// OpenPoint is what builds that a stopped search has not seen could be: for no less
// than a price, no louder than a level.
type OpenPoint struct {
	Cost  int64 // minor units, everything included
	Level Level
}

// Step is the best build from its own price up to the next step's.
type Step struct {
	Build Build // without curve and notes. Rank counts the steps from 1

	// Over the step below; zero for the first.
	Rise  float64 // dB of the objective
	Extra catalog.Money

	// Band is the half-width of the 90 % interval of Rise, dB. The steps stand
	// in one car, so it is much smaller than that of either level. Chance and
	// Tie are those of a Difference.
	Band   float64
	Chance float64
	Tie    bool

	// Next is what LadderRise more would cost, by the first step that is so
	// much louder. Where there is none up to the cap (Open), it costs more
	// than Next, which is what the cap leaves; with no cap Next is zero.
	Next catalog.Money
	Open bool

	Gap float64 // dB that an unseen build for less than the next step could be louder

	Draws []float64 // of the objective, dB; nil: no band was drawn
}

// LadderRise is the step in dB for which Step.Next gives the price: what most
// people notice, and about what twice the power buys (common practice, no
// source).
const LadderRise = 2.0

// Over is the difference to the step below.
func (s *Step) Over() Difference { return Difference{DB: s.Rise, Band: s.Band, Chance: s.Chance} }

// Steep says whether LadderRise more costs more than a stated amount.
func (s *Step) Steep(worth catalog.Money) bool {
	if s.Open {
		return s.Next.Minor >= worth.Minor
	}
	return s.Next.Minor > worth.Minor
}

// WorthUpTo is the place of the first step from which LadderRise more costs
// more than a stated amount; -1 when it never is known to.
func (r *LadderResult) WorthUpTo(worth catalog.Money) int {
	for i := range r.Steps {
		if r.Steps[i].Steep(worth) {
			return i
		}
	}
	return -1
}

// At is the best build for a sum, tax included; nil when there is none.
func (r *LadderResult) At(sum catalog.Money) *Build {
	dearer := sort.Search(len(r.Steps), func(i int) bool { return r.Steps[i].Build.Cost.Minor > sum.Minor })
	if dearer == 0 {
		return nil
	}
	return &r.Steps[dearer-1].Build
}
