package optimizer

import (
	"slices"
	"sync"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/driver"
	"loudfor/model/parallel"
	"loudfor/model/supply"
	"loudfor/optimizer/pricing"
)

// What follows from one part alone, computed once for each: drivers completed,
// amplifiers turned into sources, kits into resistances and capacities.

// cone is the driver of a subwoofer or of a loaded enclosure, without its spreads.
type cone struct {
	driver driver.Driver
	fault  error // the card is impossible: the part is not used

	once  sync.Once
	whole driver.Driver // with them
	notes []driver.Note
}

// described is a driver with its spreads, and what is to be said of it.
func (t *gear) described(it *pricing.Item) (driver.Driver, []driver.Note) {
	c := t.drivers[it]
	c.once.Do(func() {
		c.whole = c.driver
		if d, notes, err := driver.Complete(*cardOf(it), t.Air); err == nil {
			c.whole, c.notes = d, notes
		}
	})
	return c.whole, c.notes
}

// completeDrivers completes the cards of all drivers.
func (t *gear) completeDrivers() {
	all := slices.Concat(t.Shelf.Kinds[catalog.KindSubwoofer], t.Shelf.Kinds[catalog.KindLoaded])
	cones := make([]*cone, len(all))
	parallel.Each(t.Workers(), len(all), func(i int) { cones[i] = t.completeDriver(all[i]) })
	for i, it := range all {
		t.drivers[it] = cones[i]
	}
}

func (t *gear) completeDriver(it *pricing.Item) *cone {
	c := new(cone)
	if !it.Offered() {
		return c
	}
	c.driver, c.fault = t.Problem.Shared.Complete(cardOf(it), t.Air)
	return c
}

// cardOf is the card of a driver, sold by itself or in its box.
func cardOf(it *pricing.Item) *driver.Card {
	if it.Part.Kind == catalog.KindLoaded {
		return &it.Part.Loaded.Card
	}
	return &it.Part.Subwoofer.Card
}

// power is what an amplifier is as a source, mode by mode.
type power struct {
	modes  []modePower
	demand float64 // A that it can draw, all channels at their ratings
	fuse   float64 // A, 0: not stated
}

type modePower struct {
	mode    amplifier.Mode
	source  amplifier.Source
	minimum float64 // lowest rated load, ohm
	outputs int
}

func ratePower(s amplifier.Spec) *power {
	p := &power{fuse: s.Fuse}
	watts := map[amplifier.Mode]float64{}
	for _, m := range s.Modes() {
		src, minimum, _, ok := s.Source(m)
		if !ok {
			continue
		}
		p.modes = append(p.modes, modePower{m, src, minimum, s.Outputs(m)})
		watts[m] = s.Most(m) * float64(s.Outputs(m))
	}
	// A single channel for bass plays beside the pairs; the modes of the
	// pairs exclude each other.
	most := watts[amplifier.Mono] + max(watts[amplifier.Stereo], watts[amplifier.Bridged], watts[amplifier.Paralleled])
	if ceiling, known := s.Ceiling(); known {
		most = min(most, ceiling)
	}
	p.demand = supply.Demand(most, s.Efficiency())
	return p
}

// stereo is the amplifier's stereo mode, if it is rated.
func (p *power) stereo() (modePower, bool) {
	for _, m := range p.modes {
		if m.mode == amplifier.Stereo {
			return m, true
		}
	}
	return modePower{}, false
}

// leftover is how many stereo channels remain when outputs of a mode are in
// use for the bass.
func leftover(s amplifier.Spec, m amplifier.Mode, outputs int) int {
	left := s.Outputs(amplifier.Stereo)
	if m != amplifier.Mono {
		left -= outputs * m.Channels()
	}
	return left
}

// cable is a wiring kit as the search meets it.
type cable struct {
	resistance float64 // ohm, go and return
	capacity   float64 // A; negative: the kit must not be used at all
	short      bool    // does not reach from the battery to the boot
}

func supplyKit(k *catalog.WiringKit) supply.Kit {
	return supply.Kit{Area: k.Area, Length: k.Length, CopperClad: k.CopperClad, Fuse: k.Fuse}
}

// layCable lays a kit in the car. Its cable is cut to the run, so the run's
// length counts for the loss; a kit that is shorter than the run is no use.
func (t *gear) layCable(it *pricing.Item) *cable {
	k := it.Part.Kit
	run := t.Vehicle.CableRun
	if run <= 0 {
		run = k.Length
	}
	c := &cable{
		resistance: supply.Resistance(k.Area, run, k.CopperClad),
		short:      k.Length > 0 && k.Length < run*(1-reachTolerance),
	}
	v := supplyKit(k).Carries(0, 0)
	c.capacity = -1
	if v.OK && !c.short {
		c.capacity = min(v.Ampacity, supply.LargestFuse(v.Ampacity))
		if k.Fuse > 0 {
			c.capacity = min(c.capacity, k.Fuse)
		}
	}
	return c
}

// reachTolerance lets a kit pass that a rounded figure makes too short.
const reachTolerance = 0.02

// Draw is the current, A, that an amplifier can draw with all its channels at
// their ratings, honestly counted: what its cable and fuse have to stand.
func Draw(s amplifier.Spec) float64 { return ratePower(s).demand }

// fed is the supply through a kit.
func (t *gear) fed(kit *pricing.Item) supply.Feed {
	f := t.Feed
	f.CableResistance = t.kits[kit].resistance
	return f
}
