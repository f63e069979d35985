package optimizer

import (
	"math"
	"slices"
	"sync"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/hookup"
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
	pairs          []pair
	sharp          tree // of the pairs that no other pair replaces
	tree           tree // of all pairs: see full
	once           sync.Once
	floor          int64   // lowest price of a pair with its rest
	bare           int64   // lowest price of a pair without
	floors         []int64 // of all pairs, rising
	envelopes      []felt  // envelopes[i] covers the pairs of floors[:i+1]
	plain, sparing budget  // of pairs that leave no channels over, and of those that do
	treads         []tread // on a ladder
	row            row     // see rowOf
	rowOnce        sync.Once
	lost           [reasonCount]uint64
}

// pair is an amplifier taken so many times, with the ways of using it.
type pair struct {
	amp    *item
	number int
	price  int64
	bare   int64 // price with the cheapest kit
	floor  int64 // price with the cheapest kit and rest that could go with it
	demand float64
	forced *item // amplifier that must be in the build and is not yet
	ways   []way
	felt   felt    // envelope of the ways
	spare  bool    // for music: some way leaves channels over
	bundle *bundle // kits that carry it
}

// way is one wiring of a pair.
type way struct {
	plan  *hookup.Plan
	drive bass.Drive // without the cable
	felt  felt
	spare bool // at least a stereo pair of channels is left over
}

// felt is the source at one coil.
type felt struct{ voltage, resistance, current, efficiency float64 }

func feel(d bass.Drive) felt {
	s, p := float64(d.Series), float64(d.Parallel)
	return felt{d.Source.OpenVoltage / s, d.Source.Resistance * p / s, d.Source.Current / p, d.Source.Efficiency}
}

// covers says that f is nowhere weaker than g.
func (f felt) covers(g felt) bool {
	return f.voltage >= g.voltage && f.resistance <= g.resistance && f.current >= g.current && f.efficiency >= g.efficiency
}

// join is the weakest that covers both.
func (f felt) join(g felt) felt {
	return felt{max(f.voltage, g.voltage), min(f.resistance, g.resistance), max(f.current, g.current), max(f.efficiency, g.efficiency)}
}

// drive is what gives every one of so many coils exactly this source.
func (f felt) drive(coils int) bass.Drive {
	return bass.Drive{Outputs: coils, Series: 1, Parallel: 1, Source: amplifier.Source{
		OpenVoltage: f.voltage, Resistance: f.resistance, Current: f.current, Efficiency: f.efficiency}}
}

// pairSlots is how many pairs there are on paper: every amplifier, once,
// twice ... as often as the brief allows.
func (t *task) pairSlots() uint64 {
	return uint64(len(t.shelf.kinds[catalog.KindAmplifier])) * uint64(t.brief.Amplifiers)
}

type classKey struct {
	drivers, coils int
	load           float64
}

// class finds or makes the class of so many drivers of one kind.
func (t *task) class(driver *item, drivers int) *class {
	d := t.drivers[driver].driver
	key := classKey{drivers, d.Coils, d.CoilLoad}
	if c := t.classes[key]; c != nil {
		return c
	}
	c := &class{drivers: drivers, coils: d.Coils, load: d.CoilLoad, floor: math.MaxInt64, bare: math.MaxInt64}
	t.classes[key] = c
	t.order = append(t.order, c)
	return c
}

// fill finds the pairs of a class.
func (t *task) fill(c *class) {
	var scratch []way
	for _, amp := range t.shelf.kinds[catalog.KindAmplifier] {
		for k := 1; k <= t.brief.Amplifiers; k++ {
			if k > amp.most {
				c.lost[DropNotOffered]++
				continue
			}
			p := pair{amp: amp, number: k, price: amp.cost(k), demand: float64(k) * t.amps[amp].demand}
			var possible bool
			if p.forced, possible = t.forcedBeside(amp, k); !possible {
				c.lost[DropMust]++
				continue
			}
			if p.price > t.limit {
				c.lost[DropCap]++
				continue
			}
			if p.ways, scratch = t.ways(c, amp, k, scratch[:0]); len(p.ways) == 0 {
				c.lost[DropHookup]++
				continue
			}
			p.felt = p.ways[0].felt
			spare := false
			for _, w := range p.ways {
				p.felt, spare = p.felt.join(w.felt), spare || w.spare
			}
			floor, ok := t.restFloor(amp, p.forced, spare)
			if !ok {
				c.lost[DropRest]++
				continue
			}
			if p.bundle = t.carrying(p.demand); p.bundle == nil {
				c.lost[DropKit]++
				continue
			}
			p.bare, p.spare = p.price+p.bundle.floor, spare && t.music()
			p.floor = p.bare + floor
			if p.floor > t.limit {
				c.lost[DropCap]++
				continue
			}
			c.floor, c.bare = min(c.floor, p.floor), min(c.bare, p.bare)
			c.pairs = append(c.pairs, p)
		}
	}
	c.plant()
}

// fillClasses fills all classes that groups asked for.
func (t *task) fillClasses() {
	each(t.workers(), len(t.order), func(i int) { t.fill(t.order[i]) })
}

// under is the envelope of all pairs that cost no more than a sum with the
// cheapest kit and rest; ok is false when none does.
func (c *class) under(sum int64) (f felt, ok bool) {
	return covering(c.floors, c.envelopes, sum)
}

// forcedBeside is the amplifier that must still come in as the front's own
// when the bass has amp k times; possible is false when more than one piece is
// still missing.
func (t *task) forcedBeside(amp *item, k int) (forced *item, possible bool) {
	for _, it := range t.musts {
		if it.part.Kind != catalog.KindAmplifier {
			continue
		}
		missing := it.must
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

// ways lists the wirings of amp taken k times, without those that another one
// replaces: one that is nowhere weaker and leaves channels over where the other
// does. Of two that replace each other the first listed stays.
func (t *task) ways(c *class, amp *item, k int, all []way) (kept, scratch []way) {
	if c.drivers%k != 0 {
		return nil, all
	}
	spec := amp.part.Amplifier.Spec
	for _, m := range t.amps[amp].modes {
		for g := 1; g <= m.outputs; g++ {
			spare := leftover(spec, m.mode, g) >= 2
			plans := t.plans(c.drivers/k, c.coils, c.load, m, g)
			for i := range plans {
				plan := &plans[i]
				d := bass.Drive{Outputs: k * plan.Outputs, Series: plan.Series, Parallel: plan.Parallel, Source: m.source, Feed: t.feed}
				all = append(all, way{plan: plan, drive: d, felt: feel(d), spare: spare})
			}
		}
	}
	for i, w := range all {
		if !slices.ContainsFunc(kept, func(v way) bool { return v.replaces(w) }) &&
			!slices.ContainsFunc(all[i+1:], func(v way) bool { return v.replaces(w) && !w.replaces(v) }) {
			kept = append(kept, w)
		}
	}
	return kept, all
}

// replaces says that w is not needed beside v.
func (v way) replaces(w way) bool { return v.felt.covers(w.felt) && (v.spare || !w.spare) }

type planKey struct {
	drivers, coils int
	load           float64
	mode           amplifier.Mode
	outputs        int
	minimum        float64
}

// plans is hookup.Enumerate, remembered: a distributor's amplifiers have few
// different minimum loads.
func (t *task) plans(drivers, coils int, load float64, m modePower, outputs int) []hookup.Plan {
	minimum := m.minimum
	if t.relaxed.load {
		minimum = min(minimum, t.relaxed.least)
	}
	key := planKey{drivers, coils, load, m.mode, outputs, minimum}
	t.mutex.Lock()
	defer t.mutex.Unlock()
	list, known := t.wirings[key]
	if !known {
		list = hookup.Enumerate(drivers, coils, load, m.mode, outputs, minimum)
		t.wirings[key] = list
	}
	return list
}
