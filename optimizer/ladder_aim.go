package optimizer

import (
	"math"
	"sync"
	"sync/atomic"

	"loudfor/model/bass"
	"loudfor/optimizer/build"
)

// What a ladder asks of the boxes. In a ranking there is one level to be beaten
// (aim.go), on a ladder another one at each price. But what cannot reach a level
// cannot reach a higher one. So levels are rounded down to tiers, and what a box
// asks of a driver to reach a tier is worked out when it is first asked for and
// shared by all drivers of one size. As a tier does not depend on what was found,
// what was worked out stays right to the end of the search.

const (
	// aimStep is from one tier to the next: half a decibel.
	aimStep = build.Level(build.StepsPerDB / 2)
	// screenRun is how many treads are held against a box together at first.
	screenRun = 8
)

// tierOf is the tier at or below a level.
func tierOf(l build.Level) build.Level { return l - (l%aimStep+aimStep)%aimStep }

// tier is an aim for a number of drivers.
type tier struct {
	level build.Level
	aim   bass.Aim
	list  []atomic.Pointer[bass.Target] // by the place of the box; empty where none are kept
}

// tiers are those of the groups that share targets; or of all that share none and
// have one number of drivers.
type tiers struct {
	mutex sync.Mutex
	of    map[build.Level]*tier
}

// tier finds or makes the tier of a group for a level.
func (s *search) tier(g *group, l build.Level) *tier {
	all, boxes := &s.aims.alone[g.Drivers()], 0
	if g.targets != nil {
		all, boxes = &g.targets.tiers, len(g.housing)
	}
	l = tierOf(l)
	all.mutex.Lock()
	defer all.mutex.Unlock()
	t := all.of[l]
	if t == nil {
		t = &tier{level: l, list: make([]atomic.Pointer[bass.Target], boxes)}
		t.aim.Take(lowest(l), g.Drivers(), s.Room)
		if all.of == nil {
			all.of = make(map[build.Level]*tier)
		}
		all.of[l] = t
	}
	return t
}

// outlook is what a tread looks like from the blocks of a group.
type outlook struct {
	horizon  bass.Horizon // of the strongest amplifier
	prospect bass.Prospect
	looked   bool // the horizon is that of the group
	faced    bool // and so is the prospect

	until      int64   // builds for less have this to beat:
	free       bool    // nothing
	hopeful    bool    // not out of the question with the widest mouth
	tier       *tier   // if it is
	open, shut float64 // with less port a box does not reach the tier: see sight
}

// survey turns the outlooks to a group.
func (w *worker) survey(g *group) {
	for len(w.outlooks) < len(g.lids) {
		w.outlooks = append(w.outlooks, outlook{})
	}
	for i := range g.lids {
		o := &w.outlooks[i]
		o.looked, o.faced, o.until, o.tier = false, false, math.MinInt64, nil
	}
	w.knows = len(w.find.found)
}

// outlook is that of tread i for builds that cost at least floor. It stays as it
// is until they cost as much as the next step of what is held: the blocks of a
// group get dearer and dearer.
func (w *worker) outlook(g *group, i int, floor int64) *outlook {
	o := &w.outlooks[i]
	if floor < o.until {
		return o
	}
	incumbent, until := w.ranking.span(floor)
	o.until, o.free, o.hopeful = until, incumbent == nil, true
	if o.free {
		o.open, o.shut = 0, 0
		return o
	}
	toBeat := incumbent.toBeat(floor)
	if floor == incumbent.price {
		o.until = floor + 1 // for more it has to be louder
	}
	if o.hopeful = g.lids[i] >= toBeat; !o.hopeful {
		return o
	}
	if !o.looked {
		o.looked = true
		w.lookAs(&o.horizon, g, g.class.Tiers[i].AtCoil)
	}
	if o.tier == nil || o.tier.level != tierOf(toBeat) {
		o.tier = w.tier(g, toBeat)
		o.open, o.shut = o.horizon.Narrow(&o.tier.aim)
	}
	return o
}

// screen appends to kept those of a run of treads on which box i of a group is not
// out of reach. No tread of a run is stronger than the last, and none has less to
// beat than the first: when the last is too weak for the first one's level, all
// of them are too weak.
func (w *worker) screen(g *group, i int, run, kept []int) []int {
	first, last := run[0], run[len(run)-1]
	switch n := len(run); {
	case w.outOfReach(g, i, &w.outlooks[first], last):
		return kept
	case n == 1:
		return append(kept, first)
	default:
		return w.screen(g, i, run[n/2:], w.screen(g, i, run[:n/2], kept))
	}
}

// outOfReach says that box i of a group, driven by a tread, cannot reach what has
// to be beaten at an outlook.
func (w *worker) outOfReach(g *group, i int, at *outlook, tread int) bool {
	if at.free {
		return false
	}
	o := &w.outlooks[tread]
	t := w.asks(g, i, &at.tier.aim, at.tier.list, &o.horizon)
	if t == nil {
		return false
	}
	if !o.faced {
		o.faced = true
		o.prospect.Look(&w.Drivers[g.Driver].Driver, &o.horizon, &at.tier.aim, nil, w.throughCable(g.class.Tiers[tread].AtCoil, g.class.Tiers[tread].Cable), w.task.Reading)
	}
	return o.prospect.HopelessFor(t, &at.tier.aim)
}
