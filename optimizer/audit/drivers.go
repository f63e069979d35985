package audit

import (
	"context"
	"math"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// The best of each driver, as a table that a person checks by eye.

// Best is the loudest complete build of one driver.
type Best struct {
	Driver *catalog.Part
	Found  *Found        // nil: the money, or the rules, allow none
	Box    *catalog.Part // nil: of a loaded enclosure
	Boxes  int
}

// EachDriver finds it for every driver, in the order of prices: block
// after block is asked whether a build of it comes before those found so far. done is
// false when the context ended, or builds were too many to be tried.
func EachDriver(ctx context.Context, q Question) (all []Best, done bool) {
	q.Claim = &build.Build{} // of no parts and no level: everything comes before it
	a := newAuditor(q)
	a.report.Fault = ""
	drivers := append(append([]*piece{}, a.kinds[catalog.KindSubwoofer]...), a.kinds[catalog.KindLoaded]...)
	for k, d := range drivers {
		a.claimed, a.target = &Found{Level: build.Silent, due: boundless}, math.Inf(-1)
		best := Best{Driver: d.part}
		for n := 1; n <= a.brief.Boxes; n++ {
			rooms := []box{{}}
			if d.part.Kind == catalog.KindSubwoofer {
				rooms = a.rooms(n)
			}
			for i := range rooms {
				for { // until nothing of the block comes before what was found
					var t tally
					if a.group(ctx, group{d, n}, rooms[i:i+1], &t); t.better == nil {
						if t.settled[Open] > 0 {
							a.leave(untried)
						}
						break
					}
					a.claimed, best.Found = t.better, t.better
					a.aim()
					best.Found.Cost, best.Box, best.Boxes = a.money(best.Found.due), nil, n
					if rooms[i].piece != nil {
						best.Box = rooms[i].part
					}
				}
			}
		}
		if ctx.Err() != nil || len(a.report.Left) > 0 {
			return all, false
		}
		if all = append(all, best); a.Progress != nil {
			a.Progress(build.Progress{Done: k + 1, Blocks: len(drivers)})
		}
	}
	return all, true
}
