package hookup

import (
	"math"
	"slices"

	"loudfor/model/amplifier"
)

// maximumCoils is more than any car holds; it keeps a slip of the pen from
// being searched for hours.
const maximumCoils = 1024

// Enumerate lists every distinct valid wiring of drivers of coils voice coils,
// coilLoad ohm each, over a number of identical outputs: each load once, the
// lowest first. A load below minimumLoad, less amplifier.LoadTolerance, is not
// valid. Numbers that describe no system (none of something, a load that is
// not positive, more than a thousand coils) have no wiring; nor has a number of coils that cannot be
// shared alike among the outputs.
//
// Of several wirings with the same load, the one listed is the simplest, in
// this order:
//
//  1. drivers spread over fewest outputs: best, each driver on one output;
//  2. fewest drivers in series: a driver in series with another is fed through
//     its neighbour, and falls silent with it.
func Enumerate(drivers, coils int, coilLoad float64, mode amplifier.Mode, outputs int, minimumLoad float64) []Plan {
	plans := Silent(drivers, coils, coilLoad, mode, outputs, minimumLoad)
	for i := range plans {
		plans[i].Say()
	}
	return plans
}

// Silent is Enumerate without the words of the plans: most plans are never read.
func Silent(drivers, coils int, coilLoad float64, mode amplifier.Mode, outputs int, minimumLoad float64) []Plan {
	if drivers < 1 || coils < 1 || outputs < 1 || drivers > maximumCoils/coils {
		return nil
	}
	if !(coilLoad > 0) || math.IsInf(coilLoad, 0) || math.IsNaN(minimumLoad) || drivers*coils%outputs != 0 {
		return nil
	}
	best := map[int]Plan{} // by Series: the load is coilLoad x Series^2 / coils on the output
	for _, split := range divisors(coils) {
		if outputs%split != 0 || drivers%(outputs/split) != 0 {
			continue
		}
		inner, units := coils/split, drivers/(outputs/split)
		for _, innerSeries := range divisors(inner) {
			for _, outerSeries := range divisors(units) {
				p := Plan{
					Mode: mode, Outputs: outputs,
					Series:      innerSeries * outerSeries,
					Parallel:    inner / innerSeries * (units / outerSeries),
					InnerSeries: innerSeries, InnerParallel: inner / innerSeries,
					Drivers: drivers, Coils: coils, Split: split, CoilLoad: coilLoad,
				}
				p.Load = coilLoad * float64(p.Series) / float64(p.Parallel)
				if p.Load < minimumLoad*(1-amplifier.LoadTolerance) {
					continue
				}
				if other, taken := best[p.Series]; !taken || simpler(p, other) {
					best[p.Series] = p
				}
			}
		}
	}

	plans := make([]Plan, 0, len(best))
	for _, p := range best {
		plans = append(plans, p)
	}
	slices.SortFunc(plans, func(a, b Plan) int { return a.Series - b.Series })
	return plans
}

// Say fills in the words of a plan.
func (p *Plan) Say() { p.Words, p.Caution = p.words(), p.caution() }

// simpler is the order of Enumerate's documentation. Two wirings of one load
// that agree in both are the same wiring.
func simpler(a, b Plan) bool {
	if a.Split != b.Split {
		return a.Split < b.Split
	}
	return a.outerSeries() < b.outerSeries()
}

// divisors of n, rising.
func divisors(n int) []int {
	var all []int
	for d := 1; d <= n; d++ {
		if n%d == 0 {
			all = append(all, d)
		}
	}
	return all
}
