package drive

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

// CoilLoad is a number of equal coils, all in use: a class.
type CoilLoad struct {
	Drivers, Coils int // drivers altogether, coils of each
	Ohm            float64
	Number         int // among the classes
	Choices        []AmpChoice
	tree           Tree // of all pairs: see Full
	once           sync.Once
	driveSets      []driveSet
	driveSetsOnce  sync.Once
	Floor          int64        // lowest price of a pair with its rest
	Bare           int64        // lowest price of a pair without
	First, Barest  *AmpChoice   // of those that cost no more, the first: see order.go
	Floors         []int64      // of all pairs, rising
	Envelopes      []CoilSource // envelopes[i] covers the pairs of floors[:i+1]
	Tiers          []PriceTier  // on a ladder
	Feeds          Feeds        // on a ladder of readings
	re             float64      // the least of the drivers' coils, cold, ohm
	Lost           [build.ReasonCount]uint64
}

// AmpChoice is an amplifier taken so many times, with the ways of using it: a pair, in
// what follows.
type AmpChoice struct {
	Amp             *pricing.Item
	Number          int
	Price           int64
	Bare            int64       // price with the cheapest kit
	Floor           int64       // price with the cheapest kit and rest that could go with it
	Rest            pricing.Set // of that, the first; or parts of it
	Demand          float64
	Forced          *pricing.Item // amplifier that must be in the build and is not yet
	Wirings         []Wiring
	AtCoil          CoilSource // envelope of the ways
	Open2, Current2 float64    // for music: see Gear.Unloaded
	Spare           bool       // for music: some way leaves channels over
	Lean            int        // for music: the search's number of the rests that leave its channels alone
	KitTier         *KitTier   // kits that carry it
}

// ChoiceSlots is how many pairs there are on paper: every amplifier, once,
// twice ... as often as the brief allows.
func (t *Gear) ChoiceSlots() uint64 {
	return uint64(len(t.Shelf.Kinds[catalog.KindAmplifier])) * uint64(t.Brief.Amplifiers)
}

type loadKey struct {
	drivers, coils int
	load           float64
}

// Load finds or makes the class of so many drivers of one kind.
func (t *Gear) Load(driver *pricing.Item, drivers int) *CoilLoad {
	d := t.Drivers[driver].Driver
	key := loadKey{drivers, d.Coils, d.CoilLoad}
	if c := t.loads[key]; c != nil {
		c.re = min(c.re, d.Re)
		return c
	}
	c := &CoilLoad{Number: len(t.Loads), Drivers: drivers, Coils: d.Coils, Ohm: d.CoilLoad, re: d.Re, Floor: math.MaxInt64, Bare: math.MaxInt64}
	t.loads[key] = c
	t.Loads = append(t.Loads, c)
	return c
}

// filler is what filling a class needs beside it.
type filler struct {
	*Gear
	load    *CoilLoad
	scratch []Wiring    // all wirings of a pair
	kept    []Wiring    // room for those that stay, of one pair after the other
	plans   []wiredPlan // those met so far
}

// A RestFloor is the least that the rest of a build costs beside an amplifier, with one
// that has to be the front's own, and with channels left over or not, and the first
// parts for that; ok is false when there is none.
type RestFloor func(amp, forced *pricing.Item, spare bool) (floor int64, parts pricing.Set, ok bool)

// FillPairs finds the pairs of a class that cost no more than a sum, as pairs alone:
// what only a search for the loudest looks at is not made of them.
func (t *Gear) FillPairs(c *CoilLoad, restFloor RestFloor, most int64) {
	f := filler{Gear: t, load: c}
	amps := t.Shelf.Kinds[catalog.KindAmplifier]
	numbers := 0 // that share the drivers evenly
	for k := 1; k <= t.Brief.Amplifiers; k++ {
		if c.Drivers%k == 0 {
			numbers++
		}
	}
	c.Choices = make([]AmpChoice, 0, len(amps)*numbers)
	for _, amp := range amps {
		if t.Ended() {
			return
		}
		power := t.Amps[amp]
		for k := 1; k <= t.Brief.Amplifiers; k++ {
			if k > amp.Most {
				c.Lost[build.DropNotOffered]++
				continue
			}
			p := AmpChoice{Amp: amp, Number: k, Price: amp.Lower(k), Demand: float64(k) * power.Demand}
			var possible bool
			if p.Forced, possible = t.forcedBeside(amp, k); !possible {
				c.Lost[build.DropMust]++
				continue
			}
			if p.Price > most || t.Problem.Aside != nil && t.Problem.Aside(build.Core{Amp: amp.Part, Amps: k}) >= build.NoAside {
				c.Lost[build.DropCap]++
				continue
			}
			if p.Wirings = f.wirings(amp, power, k); len(p.Wirings) == 0 {
				c.Lost[build.DropHookup]++
				continue
			}
			p.AtCoil = p.Wirings[0].AtCoil
			spare := false
			for _, w := range p.Wirings {
				p.AtCoil, spare = p.AtCoil.Join(w.AtCoil), spare || w.Spare
			}
			floor, rest, ok := restFloor(amp, p.Forced, spare)
			if p.Rest = rest; !ok {
				c.Lost[build.DropRest]++
				continue
			}
			if p.KitTier = t.carrying(p.Demand); p.KitTier == nil {
				c.Lost[build.DropKit]++
				continue
			}
			if t.Music() {
				p.Open2, p.Current2 = t.Unloaded(p.AtCoil)
			}
			p.Bare, p.Spare = p.Price+p.KitTier.Floor, spare && t.Music()
			p.Floor = p.Bare + floor
			if p.Floor > most {
				c.Lost[build.DropCap]++
				continue
			}
			c.Floor, c.Bare = min(c.Floor, p.Floor), min(c.Bare, p.Bare)
			c.Choices = append(c.Choices, p)
		}
	}
}

// FillLoads fills all classes that were asked for, each with its drive sets where
// those are wanted.
func (t *Gear) FillLoads(restFloor RestFloor, driveSets bool) {
	parallel.Each(t.Workers(), len(t.Loads), func(i int) {
		c := t.Loads[i]
		t.FillPairs(c, restFloor, t.Limit)
		if !t.Ended() {
			c.plant()
		}
		if driveSets {
			c.driveSetsOnce.Do(c.buildDriveSets)
		}
	})
}

// forcedBeside is the amplifier that must still come in as the front's own
// when the bass has amp k times; possible is false when more than one piece is
// still missing.
func (t *Gear) forcedBeside(amp *pricing.Item, k int) (forced *pricing.Item, possible bool) {
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
