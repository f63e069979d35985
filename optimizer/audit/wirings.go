package audit

import (
	"cmp"
	"slices"
	"sort"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/hookup"
)

// Every way to feed so many coils of one load: amplifiers, mode, outputs, wiring.

// coils are all coils of a block.
type coils struct {
	drivers, coils int
	load           float64
}

// wiring is one way to feed them.
type wiring struct {
	source
	amp      *piece
	number   int
	outputs  int              // of all amplifiers together
	series   int              // coils on each output: so many in series
	parallel int              // and so many strings of them
	src      amplifier.Source // one output
	spare    bool             // two stereo channels are left over on each amplifier
	speaker  int              // 1: takes speaker wires
	demand   float64          // A
	price    int64            // of the amplifiers at least
	rest     int64            // and of source and front beside them
	envelope source           // the best of each of those up to here, cheapest first
}

// feeds lists the wirings of some coils, cheapest first.
func (a *auditor) feeds(c coils) []wiring {
	a.lock.Lock()
	defer a.lock.Unlock()
	if known, ok := a.wirings[c]; ok {
		return known
	}
	all := []wiring{}
	for _, p := range a.kinds[catalog.KindAmplifier] {
		spec := p.part.Amplifier.Spec
		for k := 1; k <= min(a.brief.Amplifiers, p.most); k++ {
			if c.drivers%k != 0 {
				continue
			}
			for _, mode := range spec.Modes() {
				src, lowest, _, ok := spec.Source(mode)
				for g := 1; ok && g <= spec.Outputs(mode); g++ {
					for _, plan := range hookup.Silent(c.drivers/k, c.coils, c.load, mode, g, lowest) {
						w := wiring{amp: p, number: k, outputs: k * g, series: plan.Series, parallel: plan.Parallel, src: src, demand: float64(k) * p.demand, price: p.lower(k), speaker: speakers(p)}
						left := spec.Outputs(amplifier.Stereo)
						if mode != amplifier.Mono {
							left -= g * mode.Channels()
						}
						w.spare = left >= 2
						if w.rest = a.rest[w.speaker]; w.spare {
							w.rest = min(w.rest, a.spare[p])
						}
						s, n := float64(plan.Series), float64(plan.Parallel)
						w.source = source{2 * square(src.OpenVoltage/s), 2 * square(src.Current/n), src.Resistance * n / s, src.Efficiency}
						all = append(all, w)
					}
				}
			}
		}
	}
	slices.SortStableFunc(all, func(v, w wiring) int { return cmp.Compare(v.price+v.rest, w.price+w.rest) })
	for i := range all {
		e := all[i].source
		if i > 0 {
			e = e.best(all[i-1].envelope)
		}
		all[i].envelope = e
	}
	a.wirings[c] = all
	return all
}

// within is how many of the wirings a sum buys.
func within(all []wiring, sum int64) int {
	return sort.Search(len(all), func(i int) bool { return all[i].price+all[i].rest > sum })
}
