package optimizer

import (
	"math"
	"sync"

	"loudfor/catalog"
	"loudfor/model/parallel"
	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
)

// What a driver feels of everything before it is the source at one of its
// coils. An output of open voltage E, resistance R and current limit I that
// feeds s coils in series in each of p strings gives every coil the source
//
//	E/s behind R p/s, at most I/p
//
// whatever amplifier, mode and wiring it comes from. So all ways of driving
// equal coils (same number, same load: a class) can be compared by these
// figures alone, and the model's level never falls when E, I or the efficiency
// rises or R falls.
//
// See tree.go for how they are searched.

// class is a number of equal coils, all in use.
type class struct {
	drivers, coils int // drivers altogether, coils of each
	load           float64
	number         int // among the classes
	pairs          []pair
	tree           tree // of all pairs: see full
	once           sync.Once
	offerings      []offering
	offeringsOnce  sync.Once
	floor          int64        // lowest price of a pair with its rest
	bare           int64        // lowest price of a pair without
	first, barest  *pair        // of those that cost no more, the first: see tied.go
	floors         []int64      // of all pairs, rising
	envelopes      []coilSource // envelopes[i] covers the pairs of floors[:i+1]
	treads         []tread      // on a ladder
	wardrobe       wardrobe     // on a ladder of readings
	re             float64      // the least of the drivers' coils, cold, ohm
	lost           [build.ReasonCount]uint64
}

// pair is an amplifier taken so many times, with the ways of using it.
type pair struct {
	amp             *pricing.Item
	number          int
	price           int64
	bare            int64       // price with the cheapest kit
	floor           int64       // price with the cheapest kit and rest that could go with it
	rest            pricing.Set // of that, the first; or parts of it
	demand          float64
	forced          *pricing.Item // amplifier that must be in the build and is not yet
	ways            []way
	felt            coilSource // envelope of the ways
	open2, current2 float64    // for music: see unloaded
	spare           bool       // for music: some way leaves channels over
	lean            int        // for music: the place in search.bases of the rests that leave its channels alone
	kitTier         *kitTier   // kits that carry it
}

// pairSlots is how many pairs there are on paper: every amplifier, once,
// twice ... as often as the brief allows.
func (t *gear) pairSlots() uint64 {
	return uint64(len(t.Shelf.Kinds[catalog.KindAmplifier])) * uint64(t.Brief.Amplifiers)
}

type classKey struct {
	drivers, coils int
	load           float64
}

// class finds or makes the class of so many drivers of one kind.
func (t *gear) class(driver *pricing.Item, drivers int) *class {
	d := t.drivers[driver].driver
	key := classKey{drivers, d.Coils, d.CoilLoad}
	if c := t.classes[key]; c != nil {
		c.re = min(c.re, d.Re)
		return c
	}
	c := &class{number: len(t.order), drivers: drivers, coils: d.Coils, load: d.CoilLoad, re: d.Re, floor: math.MaxInt64, bare: math.MaxInt64}
	t.classes[key] = c
	t.order = append(t.order, c)
	return c
}

// filler is what filling a class needs beside it.
type filler struct {
	*gear
	class   *class
	scratch []way       // all wirings of a pair
	kept    []way       // room for those that stay, of one pair after the other
	plans   []wiredPlan // those met so far
}

// A restFloor is the least that the rest of a build costs beside an amplifier, with one
// that has to be the front's own, and with channels left over or not, and the first
// parts for that; ok is false when there is none.
type restFloor func(amp, forced *pricing.Item, spare bool) (floor int64, parts pricing.Set, ok bool)

// fill finds the pairs of a class.
func (t *gear) fill(c *class, restFloor restFloor) {
	f := filler{gear: t, class: c}
	amps := t.Shelf.Kinds[catalog.KindAmplifier]
	c.pairs = make([]pair, 0, len(amps)*t.Brief.Amplifiers)
	for _, amp := range amps {
		if t.Ended() {
			return
		}
		power := t.amps[amp]
		for k := 1; k <= t.Brief.Amplifiers; k++ {
			if k > amp.Most {
				c.lost[build.DropNotOffered]++
				continue
			}
			p := pair{amp: amp, number: k, price: amp.Lower(k), demand: float64(k) * power.demand}
			var possible bool
			if p.forced, possible = t.forcedBeside(amp, k); !possible {
				c.lost[build.DropMust]++
				continue
			}
			if p.price > t.Limit {
				c.lost[build.DropCap]++
				continue
			}
			if p.ways = f.ways(amp, power, k); len(p.ways) == 0 {
				c.lost[build.DropHookup]++
				continue
			}
			p.felt = p.ways[0].felt
			spare := false
			for _, w := range p.ways {
				p.felt, spare = p.felt.join(w.felt), spare || w.spare
			}
			floor, rest, ok := restFloor(amp, p.forced, spare)
			if p.rest = rest; !ok {
				c.lost[build.DropRest]++
				continue
			}
			if p.kitTier = t.carrying(p.demand); p.kitTier == nil {
				c.lost[build.DropKit]++
				continue
			}
			if t.Music() {
				p.open2, p.current2 = t.unloaded(p.felt)
			}
			p.bare, p.spare = p.price+p.kitTier.floor, spare && t.Music()
			p.floor = p.bare + floor
			if p.floor > t.Limit {
				c.lost[build.DropCap]++
				continue
			}
			c.floor, c.bare = min(c.floor, p.floor), min(c.bare, p.bare)
			c.pairs = append(c.pairs, p)
		}
	}
	c.plant()
}

// fillClasses fills all classes that were asked for, each with its offerings where
// those are wanted.
func (t *gear) fillClasses(restFloor restFloor, offerings bool) {
	parallel.Each(t.Workers(), len(t.order), func(i int) {
		c := t.order[i]
		if t.fill(c, restFloor); offerings {
			c.offeringsOnce.Do(c.offer)
		}
	})
}

// forcedBeside is the amplifier that must still come in as the front's own
// when the bass has amp k times; possible is false when more than one piece is
// still missing.
func (t *gear) forcedBeside(amp *pricing.Item, k int) (forced *pricing.Item, possible bool) {
	for _, it := range t.Musts {
		if it.Part.Kind != catalog.KindAmplifier {
			continue
		}
		missing := it.Must
		if it == amp {
			missing -= k
		}
		if missing <= 0 {
			continue
		}
		if missing > 1 || forced != nil {
			return nil, false
		}
		forced = it
	}
	return forced, true
}
