package workshop

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/optimize"

	"loudfor/model/bass"
)

// Refinement: the box of one build, for its own amplifier, cable and money. A
// fine grid shows in which valley the best box lies, at every price; the simplex
// of Nelder and Mead goes to its bottom. It needs no derivatives, and there are
// none: a level has kinks wherever another limit takes over, and what cannot be
// built has no level at all.

const (
	// Tolerance is the gain below which nothing is refined further, dB: a
	// hundredth is far below what any meter shows.
	Tolerance = 0.01

	// GridTolerance is how far behind the best box of a fine grid the refined
	// one may be, dB: what the simplex leaves and the whole millimetres cost.
	GridTolerance = 0.05

	// priceGain is what a dearer box has to win to be offered beside a
	// cheaper one, dB: less is a tie to anyone who listens.
	priceGain = 0.5

	mostCalls   = 160 // of one simplex
	starts      = 2   // simplexes for each price
	unbuildable = 1e3 // height of what cannot be built, in dB below a level of 0
	firstStep   = 0.08
)

// refine gives the best boxes of a pair with a drive, one for every price up to
// most at which there is a louder one.
func (b *bench) refine(of pair, d bass.Drive, most int64) []trial {
	all, _ := b.trials(of, []bass.Drive{d}, fine)
	steps := worthwhile(all, 0, most, priceGain)
	for _, step := range steps {
		limit := step.price()
		for _, from := range loudest(all, limit) {
			if t, ok := b.descend(of, d, from, limit); ok {
				all = append(all, t)
			}
		}
	}
	return worthwhile(all, 0, most, priceGain)
}

// loudest are the starts: the loudest sealed boxes and the loudest ported ones
// within a price.
func loudest(all []trial, limit int64) (out []trial) {
	order := make([]int, 0, len(all))
	for k := range all {
		if all[k].price() <= limit {
			order = append(order, k)
		}
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(all[y].levels[0], all[x].levels[0]) })
	count := map[bool]int{}
	for _, k := range order {
		if vented := all[k].box.Joinery.Design.Vented(); count[vented] < starts {
			count[vented]++
			out = append(out, all[k])
		}
	}
	return out
}

// descend runs one simplex from a box.
func (b *bench) descend(of pair, d bass.Drive, from trial, limit int64) (best trial, ok bool) {
	design := from.box.Joinery.Design
	start := []float64{math.Log(from.gross)}
	if design.Vented() {
		start = append(start, math.Log(design.Slot), math.Log(design.PortLength))
	}
	at := func(x []float64) point {
		p := point{gross: math.Exp(x[0])}
		if len(x) > 1 {
			p.slot, p.length = math.Exp(x[1]), math.Exp(x[2])
		}
		return p
	}
	best = from
	problem := optimize.Problem{Func: func(x []float64) float64 {
		for i := range x { // far out nothing can be built, and Exp overflows
			if math.Abs(x[i]-start[i]) > 3 {
				return unbuildable
			}
		}
		t, err := b.try(of, at(x), from.with, []bass.Drive{d})
		if err != nil || t.price() > limit {
			return unbuildable
		}
		if t.levels[0] > best.levels[0] {
			best, ok = t, true
		}
		return -t.levels[0]
	}}
	settings := &optimize.Settings{FuncEvaluations: mostCalls, Converger: &optimize.FunctionConverge{Absolute: Tolerance / 20, Iterations: 25}}
	// What stops it does not matter: the best box that was met is kept.
	_, _ = optimize.Minimize(problem, start, settings, &optimize.NelderMead{SimplexSize: firstStep})
	return best, ok
}
