package optimizer

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// How far a requirement would have to give way, exactly. "Make more room" is no
// help at a counter; "38 mm more height" is. Every amount is found by asking
// whether the problem can be solved with the requirement eased by so much, which
// is monotone: what is solved with less room is solved with more. So the least
// amount is found by halving, and one unit less is known not to do.
//
// Units: minor units of money, millimetres, whole amperes, tenths of a watt,
// pieces. Loads go by the wirings that the coils of the catalogue allow.

const (
	// mostRoom is more than any car can be made larger by, mm.
	mostRoom = 3000
	// mostAmps is more than any cable of a car carries.
	mostAmps = 2000
	// mostStores is how many are tried one by one, and named.
	mostStores, namedStores = 40, 3
	tenths                  = 10 // of a watt in one
	millimetres             = 1000
)

// mend fills in how far a requirement would have to give way, with some rules
// dropped; its words for the remedy stay where there is no way but altogether.
func (c *conflictSearch) mend(q *Requirement, dropped []int) {
	switch q.Kind {
	case RequireCap:
		q.Fixes = c.moreMoney(dropped)
	case RequireSpace:
		q.Fixes = c.moreRoom(dropped)
	case RequireBoot:
		q.Fixes = c.largerBoot(dropped)
	case RequireLoad:
		q.Fixes = c.lowerLoad(dropped)
	case RequireStores:
		q.Fixes = c.moreStores(dropped)
	case RequireBoxes, RequireDrivers, RequireAmplifiers, RequireMostStores:
		q.Fixes = c.moreOf(q.Kind, dropped)
	case RequireFront:
		q.Fixes = c.easierFront(dropped)
	case RequireCable:
		q.Fixes = c.thickerCable(dropped)
	case RequireStock:
		q.Fixes = c.moreStock(dropped)
	case RequireMust:
		q.Fixes = c.fewerOf(q.Subject, dropped)
	}
	if len(q.Fixes) == 0 || c.stop != StopComplete { // what is found in haste may be nothing
		return
	}
	var words []string
	for _, f := range q.Fixes {
		words = append(words, f.Words)
	}
	q.Remedy = strings.Join(words, ", or ")
	if first := q.Remedy[0]; !q.Alone && first >= '0' && first <= '9' { // an amount
		q.Remedy = "at least " + q.Remedy
	}
}

// can says whether the problem with some rules dropped and one eased can be solved.
func (c *conflictSearch) can(dropped []int, ease func(p *Problem, r *setting.Relaxation)) bool {
	p, r := c.eased(dropped)
	ease(&p, &r)
	return c.judge(p, r).ok
}

// least is the smallest number from low to high that will do; ok is false when
// even high does not.
func least(low, high int, will func(n int) bool) (n int, ok bool) {
	if low > high || !will(high) {
		return 0, false
	}
	for low < high {
		middle := (low + high) / 2
		if will(middle) {
			high = middle
		} else {
			low = middle + 1
		}
	}
	return low, true
}

// lowerLoad finds the highest load that would have to be allowed, among those
// that the coils on the shelf can make.
func (c *conflictSearch) lowerLoad(dropped []int) []Fix {
	coils := map[float64]bool{}
	for _, p := range c.p.Catalogue.Parts {
		switch p.Kind {
		case catalog.KindSubwoofer:
			coils[p.Subwoofer.Card.CoilLoad] = true
		case catalog.KindLoaded:
			coils[p.Loaded.Card.CoilLoad] = true
		}
	}
	var loads []float64
	for load := range coils {
		for series := 1; series <= 2*build.AnyDrivers; series++ {
			for parallel := 1; series*parallel <= 2*build.AnyDrivers; parallel++ {
				loads = append(loads, load*float64(series)/float64(parallel))
			}
		}
	}
	slices.SortFunc(loads, func(a, b float64) int { return cmp.Compare(b, a) })
	loads = slices.CompactFunc(loads, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 })
	n, ok := least(0, len(loads)-1, func(n int) bool {
		return c.can(dropped, func(_ *Problem, r *setting.Relaxation) { r.Load, r.Least = true, loads[n] })
	})
	if !ok {
		return nil
	}
	return []Fix{{Words: fmt.Sprintf("allow a %.3g ohm load, with an amplifier rated for it", loads[n]), Load: loads[n]}}
}

// easierFront keeps the speakers, or asks for less power.
func (c *conflictSearch) easierFront(dropped []int) (fixes []Fix) {
	if c.can(dropped, func(p *Problem, _ *setting.Relaxation) { p.Brief.Front = catalog.FrontKeep }) {
		fixes = append(fixes, Fix{Words: "keep the front speakers (front: keep)", Front: catalog.FrontKeep})
	}
	// The most that may be asked for is found as the least that is given up.
	now := int(c.p.Brief.FrontWatts * tenths)
	// A tenth of a watt is the end: every pair uses that much.
	n, ok := least(1, now-1, func(n int) bool {
		return c.can(dropped, func(p *Problem, _ *setting.Relaxation) { p.Brief.FrontWatts = float64(now-n) / tenths })
	})
	if ok {
		w := float64(now-n) / tenths
		fixes = append(fixes, Fix{Words: fmt.Sprintf("ask for no more than %.1f W a side", w), FrontWatts: w, Front: c.p.Brief.Front})
	}
	return fixes
}

func (c *conflictSearch) thickerCable(dropped []int) []Fix {
	n, ok := least(1, mostAmps, func(n int) bool {
		return c.can(dropped, func(_ *Problem, r *setting.Relaxation) { r.Cable, r.Amps = true, float64(n) })
	})
	if !ok {
		return nil
	}
	return []Fix{{Words: fmt.Sprintf("offer a wiring kit that carries %d A", n), Amps: float64(n)}}
}
