package optimizer

import (
	"cmp"
	"math"
	"slices"
	"sort"
	"sync/atomic"

	"loudfor/optimizer/build"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
)

// For music a block says what it needs: at least so much voltage, whatever the
// current, and at least so much current, whatever the voltage (bass.Glance.Least).
// Nearly all pairs fall short of one or the other, or cost too much, and to find
// the few that do not takes no more than to compare numbers. So pairs stand in a
// row, in columns, by what they leave for a block: those that a block can pay for
// are the first of the row.
//
// In a ranking the money left over is mostly less than what the cap leaves. A
// build has to be louder than the incumbent, or as loud for no more than it costs,
// and the staircases say what the front stages cost that let it be either: of a
// pair that leaves channels over, its own. Where no front stage is louder than the
// incumbent, the incumbent's price is the cap.
//
// A pair stands there twice if rests on channels that it has over cost less than
// those that leave its channels alone: with all its ways and the latter, and with
// the ways that leave some over and the former.

// row is some pairs of a class.
type row struct {
	places   []place
	felts    []drive.CoilSource
	rooms    []int64   // the most that a block may cost beside each, falling
	open2    []float64 // squared voltage of the idle supply for one coil, peak
	current2 []float64
	most2    []float64          // of open2 so far
	flow2    []float64          // of current2 so far
	envelope []drive.CoilSource // of felts so far
	least    float64            // resistance
	measures [][3]float64

	class *drive.CoilLoad
	last  candidate // that tied places are tied to
}

// place is a pair of a class with the room that it leaves. Where that is tied, a
// block that takes all of it has to come early enough beside the pair and a rest.
type place struct {
	pair int
	room int64
	with with
	tied bool
	rest pricing.Set
}

// with says which rests a pair stands in a row with.
type with int8

const (
	withAny   with = iota
	withLean       // that leave its channels alone
	withSpare      // on its spare channels
)

// line puts pairs in a row.
func (t *task) line(c *drive.CoilLoad, places []place) *row {
	n := len(places)
	r := &row{class: c, places: slices.Clone(places), rooms: make([]int64, n), felts: make([]drive.CoilSource, n), envelope: make([]drive.CoilSource, n), measures: make([][3]float64, n)}
	room := make([]float64, 4*n)
	r.open2, r.current2, r.most2, r.flow2 = room[:n], room[n:2*n], room[2*n:3*n], room[3*n:]
	slices.SortFunc(r.places, func(a, b place) int {
		switch {
		case a.room != b.room:
			return cmp.Compare(b.room, a.room)
		case a.tied && b.tied:
			if first := c.Choices[a.pair].CompareWith(a.rest, &c.Choices[b.pair], b.rest); first != 0 {
				return first
			}
		case a.tied:
			return +1
		case b.tied:
			return -1
		}
		return cmp.Or(cmp.Compare(a.pair, b.pair), cmp.Compare(a.with, b.with))
	})
	most, flow := 0.0, 0.0
	var all drive.CoilSource
	for i, x := range r.places {
		p := &c.Choices[x.pair]
		f, open2, current2 := p.AtCoil, p.Open2, p.Current2
		if x.with == withSpare {
			f = p.AtCoilSpare()
			open2, current2 = t.Unloaded(f)
		}
		most, flow = max(most, open2), max(flow, current2)
		if all = all.Join(f); i == 0 {
			all = f
		}
		r.rooms[i], r.felts[i], r.envelope[i], r.measures[i] = x.room, f, all, f.Axes()
		r.open2[i], r.current2[i], r.most2[i], r.flow2[i] = open2, current2, most, flow
	}
	r.least = all.Resistance
	return r
}

// payable is how many of the first pairs of a row the block at hand can have.
func (r *row) payable(w *worker) int {
	upTo := func(most int64) int {
		return sort.Search(len(r.rooms), func(i int) bool { return r.rooms[i] < most })
	}
	from, to := upTo(w.price+1), upTo(w.price)
	return from + sort.Search(to-from, func(i int) bool { return !r.has(w, &r.places[from+i]) })
}

// has says whether the block at hand can have a pair for which it takes all the
// room that there is.
func (r *row) has(w *worker, x *place) bool {
	p := &r.class.Choices[x.pair]
	return !x.tied || !w.behind(&r.last, p, p.KitTier.First, x.rest)
}

// strongest is the envelope of the first n pairs.
func (r *row) strongest(n int) (f drive.CoilSource, ok bool) {
	if n == 0 {
		return drive.CoilSource{}, false
	}
	return r.envelope[n-1], true
}

// window is from where and up to where of the first pairs of a row there can be some
// with a voltage and a current.
func (r *row) window(open2, current2 float64, to int) (int, int) {
	if to == 0 || r.most2[to-1] < open2 || r.flow2[to-1] < current2 {
		return to, to
	}
	from, _ := slices.BinarySearch(r.most2[:to], open2)
	at, _ := slices.BinarySearch(r.flow2[:to], current2)
	return max(from, at), to
}

// atClass is what a search keeps for a class of coils.
type atClass struct {
	group  *group                 // with the first of the blocks that cost no more than any
	tariff atomic.Pointer[tariff] // see rowOf
}

func (t *task) at(c *drive.CoilLoad) *atClass { return &t.atClass[c.Number] }

// block is below the price of no block of the class.
func (a *atClass) block() int64 {
	if a.group == nil {
		return math.MaxInt64
	}
	return a.group.Price(a.group.housing[0])
}

// tariff is the row of the pairs of a class that could enter a ranking whose
// last is an incumbent.
type tariff struct {
	last candidate
	row  *row
}

// rowOf is the row of the pairs of a class for the ranking that the worker
// is tuned to.
//
// What a block may cost beside a pair follows from bar.go: with the incumbent at level
// L and price P, a build of it is as loud as L for no more than P, or louder for
// no more than the cap; and the front stages that it can have, on spare channels
// of its own or on none, say what either takes. Ranks only rise, so a row that was
// made for an earlier incumbent leaves out nothing that a later one would let in.
func (w *worker) rowOf(c *drive.CoilLoad) *row {
	now := tariff{last: candidate{level: build.Silent, price: w.Limit}}
	incumbent := w.ranking.last()
	if incumbent != nil {
		now.last = *incumbent
	}
	if t := w.at(c).tariff.Load(); t != nil && t.last.level == now.last.level && t.last.price == now.last.price && t.last.parts.CompareSKUs(now.last.parts) == 0 {
		return t.row
	}
	if incumbent == nil {
		places := make([]place, len(c.Choices))
		for i := range places {
			places[i] = place{pair: i, room: w.Limit - c.Choices[i].Floor}
		}
		now.row = w.line(c, places)
	} else {
		now.row = w.rowBefore(c, incumbent, w.lean, &w.allGoals, w.goalsBeside)
	}
	// Another worker may have been as quick, with the same.
	w.at(c).tariff.Store(&now)
	return now.row
}

// rowBefore is the row of the pairs of a class that leave room for a block of it in a
// build that comes before a candidate, with what can be aimed at with rests that lean
// on no pair, with any, and on the spare channels of an amplifier.
func (w *worker) rowBefore(c *drive.CoilLoad, last *candidate, lean []goals, all *goals, beside func(*pricing.Item) *goals) *row {
	places, block := w.places[:0], w.at(c).block()
	add := func(x place) {
		// Beside the first block of all there has to be room.
		if x.room > block || x.room == block && (!x.tied || !w.blockBehind(c, last, x)) {
			places = append(places, x)
		}
	}
	most := w.Limit
	if all.louder == pricing.Boundless {
		most = last.price
	}
	for i := range c.Choices {
		if c.Floors[i] > most-block {
			break
		}
		p := &c.Choices[i]
		lean, spare := w.leaves(&lean[p.Lean], i, p, last), place{room: -pricing.Boundless}
		// Of the rests beside one amplifier more is known than of all.
		if p.Spare && w.leaves(all, i, p, last).room >= block {
			spare = w.leaves(beside(p.Amp), i, p, last)
		}
		switch {
		case spare.room < lean.room, spare.room == lean.room && !lean.tied:
			add(lean) // all ways for any rests: the one place does for both
		default:
			spare.with = withSpare
			add(spare)
			lean.with = withLean
			add(lean)
		}
	}
	w.places = places
	r := w.line(c, places)
	r.last = *last
	return r
}

// blockBehind says that even the first block of a class comes too late for a place.
func (w *worker) blockBehind(c *drive.CoilLoad, incumbent *candidate, x place) bool {
	g, box := w.group, w.box
	w.group = w.at(c).group
	w.box = w.group.housing[0]
	p := &c.Choices[x.pair]
	late := w.behind(incumbent, p, p.KitTier.First, x.rest)
	w.group, w.box = g, box
	return late
}

// leaves is a pair with the most that a block may cost beside it with rests that
// goals stand on; see bar.
func (w *worker) leaves(g *goals, i int, p *drive.AmpChoice, incumbent *candidate) place {
	equal, louder := incumbent.price-max(p.Floor, p.Bare+g.equal), w.Limit-p.Bare-g.louder
	x := place{pair: i, room: min(w.Limit-p.Floor, max(equal, louder))}
	if x.room == equal && louder < equal && p.Floor <= p.Bare+g.equal {
		x.tied, x.rest = true, g.first
	}
	return x
}
