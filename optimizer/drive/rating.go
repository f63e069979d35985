package drive

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

// Cone is the driver of a subwoofer or of a loaded enclosure, without its spreads.
type Cone struct {
	Driver driver.Driver
	Fault  error // the card is impossible: the part is not used

	once  sync.Once
	whole driver.Driver // with them
	notes []driver.Note
}

// Described is a driver with its spreads, and what is to be said of it.
func (t *Gear) Described(it *pricing.Item) (driver.Driver, []driver.Note) {
	c := t.Drivers[it]
	c.once.Do(func() {
		c.whole = c.Driver
		if d, notes, err := driver.Complete(*cardOf(it), t.Air); err == nil {
			c.whole, c.notes = d, notes
		}
	})
	return c.whole, c.notes
}

// completeDrivers completes the cards of all drivers.
func (t *Gear) completeDrivers() {
	all := slices.Concat(t.Shelf.Kinds[catalog.KindSubwoofer], t.Shelf.Kinds[catalog.KindLoaded])
	cones := make([]*Cone, len(all))
	parallel.Each(t.Workers(), len(all), func(i int) { cones[i] = t.CompleteDriver(all[i]) })
	for i, it := range all {
		t.Drivers[it] = cones[i]
	}
}

// CompleteDriver completes the card of one driver; that of one not on offer stays empty.
func (t *Gear) CompleteDriver(it *pricing.Item) *Cone {
	c := new(Cone)
	if !it.Offered() {
		return c
	}
	c.Driver, c.Fault = t.Problem.Shared.Complete(cardOf(it), t.Air)
	return c
}

// cardOf is the card of a driver, sold by itself or in its box.
func cardOf(it *pricing.Item) *driver.Card {
	if it.Part.Kind == catalog.KindLoaded {
		return &it.Part.Loaded.Card
	}
	return &it.Part.Subwoofer.Card
}

// Power is what an amplifier is as a source, mode by mode.
type Power struct {
	Modes  []ModePower
	Demand float64 // A that it can draw, all channels at their ratings
	Fuse   float64 // A, 0: not stated
}

// ModePower is what an output of an amplifier is in one mode.
type ModePower struct {
	Mode    amplifier.Mode
	Source  amplifier.Source
	Minimum float64 // lowest rated load, ohm
	Outputs int
}

func ratePower(s amplifier.Spec) *Power {
	p := &Power{Fuse: s.Fuse}
	watts := map[amplifier.Mode]float64{}
	for _, m := range s.Modes() {
		src, minimum, _, ok := s.Source(m)
		if !ok {
			continue
		}
		p.Modes = append(p.Modes, ModePower{m, src, minimum, s.Outputs(m)})
		watts[m] = s.Most(m) * float64(s.Outputs(m))
	}
	// A single channel for bass plays beside the pairs; the modes of the
	// pairs exclude each other.
	most := watts[amplifier.Mono] + max(watts[amplifier.Stereo], watts[amplifier.Bridged], watts[amplifier.Paralleled])
	if ceiling, known := s.Ceiling(); known {
		most = min(most, ceiling)
	}
	p.Demand = supply.Demand(most, s.Efficiency())
	return p
}

// Stereo is the amplifier's stereo mode, if it is rated.
func (p *Power) Stereo() (ModePower, bool) {
	for _, m := range p.Modes {
		if m.Mode == amplifier.Stereo {
			return m, true
		}
	}
	return ModePower{}, false
}

// Leftover is how many stereo channels remain when outputs of a mode are in
// use for the bass.
func Leftover(s amplifier.Spec, m amplifier.Mode, outputs int) int {
	left := s.Outputs(amplifier.Stereo)
	if m != amplifier.Mono {
		left -= outputs * m.Channels()
	}
	return left
}

// Cable is a wiring kit as the search meets it.
type Cable struct {
	Resistance float64 // ohm, go and return
	Capacity   float64 // A; negative: the kit must not be used at all
	Short      bool    // does not reach from the battery to the boot
}

// SupplyKit is a kit as the model takes it.
func SupplyKit(k *catalog.WiringKit) supply.Kit {
	return supply.Kit{Area: k.Area, Length: k.Length, CopperClad: k.CopperClad, Fuse: k.Fuse}
}

// layCable lays a kit in the car. Its cable is cut to the run, so the run's
// length counts for the loss; a kit that is shorter than the run is no use.
func (t *Gear) layCable(it *pricing.Item) *Cable {
	k := it.Part.Kit
	run := t.Vehicle.CableRun
	if run <= 0 {
		run = k.Length
	}
	c := &Cable{
		Resistance: supply.Resistance(k.Area, run, k.CopperClad),
		Short:      k.Length > 0 && k.Length < run*(1-reachTolerance),
	}
	v := SupplyKit(k).Carries(0, 0)
	c.Capacity = -1
	if v.OK && !c.Short {
		c.Capacity = min(v.Ampacity, supply.LargestFuse(v.Ampacity))
		if k.Fuse > 0 {
			c.Capacity = min(c.Capacity, k.Fuse)
		}
	}
	return c
}

// reachTolerance lets a kit pass that a rounded figure makes too short.
const reachTolerance = 0.02

// Draw is the current, A, that an amplifier can draw with all its channels at
// their ratings, honestly counted: what its cable and fuse have to stand.
func Draw(s amplifier.Spec) float64 { return ratePower(s).Demand }

// Fed is the supply through a kit.
func (t *Gear) Fed(kit *pricing.Item) supply.Feed {
	f := t.Feed
	f.CableResistance = t.Kits[kit].Resistance
	return f
}
