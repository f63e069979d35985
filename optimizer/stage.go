package optimizer

import (
	"math"

	"loudfor/catalog"
	"loudfor/model/front"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
)

// The front stage: which speakers, what drives them, and whether the brief's
// rule for new ones holds.
//
// The rule: a pair that is new to the car can use at least Brief.FrontWatts a
// side. What it can use is what its power offers, held under its rating and under
// what its travel stands, the more the higher a high-pass keeps the bass away. So a
// pair without a high-pass passes only if its cones can take it. Speakers that
// stay in the car are the customer's own affair and need only be driven.

// headUnitLoad is what a head unit's power is rated into when its card does not
// say (common practice, no source).
const headUnitLoad = 4.0

// choice is one pair of front speakers; item is nil for those that the car
// came with.
type choice struct {
	item  *pricing.Item
	fresh bool // the rule for new speakers binds
	load  float64
}

func (c choice) price() int64 { return c.Lower(1) }

// Lower is that of so many pairs; see item.
func (c choice) Lower(n int) int64 {
	if c.item == nil {
		return 0
	}
	return c.item.Lower(n)
}

func (c choice) List(n int) int64 {
	if c.item == nil {
		return 0
	}
	return c.item.List(n)
}

func (c choice) Marginal() int64 { return c.item.Marginal() }

func (c choice) place() int {
	if c.item == nil {
		return -1
	}
	return c.item.ID
}

func (c choice) unsure() (*pricing.Item, bool) { return nil, true }

// listChoices lists the pairs that the brief allows, cheapest first: under keep
// the customer's own pairs, or the car's if none is owned; under replace every
// pair to be had; under either both, an owned pair counting as kept.
func (t *rests) listChoices() []choice {
	var all []choice
	owned, forced := false, false
	for _, it := range t.Shelf.Kinds[catalog.KindFront] {
		owned = owned || it.Owned > 0 && it.Offered()
		forced = forced || it.Must > 0
	}
	rule := t.Brief.Front
	if t.Relaxed.Front {
		rule = catalog.FrontEither
	}
	if rule != catalog.FrontReplace && !owned && !forced {
		all = append(all, t.chosen(nil))
	}
	for _, it := range t.Slot(catalog.KindFront) {
		if rule == catalog.FrontKeep && it.Owned == 0 {
			continue
		}
		all = append(all, t.chosen(it))
	}
	return all
}

func frontLoad(f *catalog.FrontSpeakers) float64 {
	if f.Load > 0 {
		return f.Load
	}
	return build.StockLoad
}

// stage is the pair as the model takes it.
func (c choice) stage(watts, highPass float64, order int) front.Stage {
	s := front.Stage{Load: c.load, Size: build.StockSize, Watts: watts, HighPass: highPass, Order: order}
	if c.item != nil {
		f := c.item.Part.Front
		s.Sensitivity, s.Power, s.Size = f.Sensitivity, f.Power, f.Size
		s.Fs, s.Sd, s.Xmax = f.Fs, f.Sd, f.Xmax
	}
	return s
}

// filter is a high-pass before the front speakers; the zero value is none.
type filter struct {
	hz    float64
	order int  // 1: a blocker's
	free  bool // a built-in one, whose setting is free, is in the way as well
}

// builtIn is the high-pass of a head unit or an amplifier. It is set where the
// pair at hand plays loudest with what drives it: too low, and the bass takes up
// the cones' travel; too high, and a hole is left above the bass. Beside a blocker
// the higher of the two counts, and it stays below where that is better.
var builtIn = filter{free: true}

// beside is a blocker's filter with a built-in one in the way.
func (f filter) beside() filter {
	f.free = true
	return f
}

// settings are those of built-in filters, Hz.
var settings = front.Settings()

// each calls for every filter that one can be, lowest first: itself, or where a
// setting is free, each setting above it, and a blocker that stays the higher.
// What a free filter makes of a power is the best of them, so it is no less for
// more power, as with each of them.
func (f filter) each(visit func(filter)) {
	if !f.free {
		visit(f)
		return
	}
	if f.order == 1 {
		visit(filter{hz: f.hz, order: 1})
	}
	for _, hz := range settings {
		if hz > f.hz {
			visit(filter{hz: hz})
		}
	}
}

// tuned is what a filter is set to for a pair and a power: the loudest of those
// that the rule for new speakers allows, or else the loudest; then the lowest.
func (t *rests) tuned(c choice, watts float64, f filter) (best filter) {
	loudest, allowed, first := build.Silent, false, true
	f.each(func(g filter) {
		db, usable, _ := c.stage(watts, g.hz, g.order).Play(t.Cabin)
		fine := !c.fresh || usable >= t.Brief.FrontWatts*(1-build.WattsTolerance)
		if l := build.Round(db); first || fine && !allowed || fine == allowed && l > loudest {
			best, loudest, allowed, first = g, l, fine, false
		}
	})
	return best
}

// blockerFilter is the high-pass that a pair of capacitors makes before a
// load: f = 1/(2 pi R C), first order.
func blockerFilter(b *catalog.BassBlocker, load float64) filter {
	if !(b.Capacitance > 0) {
		return filter{}
	}
	return filter{hz: 1 / (2 * math.Pi * load * b.Capacitance), order: 1}
}

// play is what a pair does with so much power: the level at the seat, and
// whether the rule for new speakers holds.
func (t *rests) play(c choice, watts float64, f filter) (build.Level, bool) {
	if t.Brief.Goal == catalog.GoalReading && !c.fresh {
		return 0, watts > 0
	}
	f = t.tuned(c, watts, f)
	db, usable, _ := c.stage(watts, f.hz, f.order).Play(t.Cabin)
	if c.fresh && usable < t.Brief.FrontWatts*(1-build.WattsTolerance) {
		return build.Silent, false
	}
	if t.Brief.Goal == catalog.GoalReading {
		return 0, watts > 0
	}
	return build.Round(db), watts > 0
}

// sourcePower is what a head unit's own channels give one side of a pair, W;
// 0 when it has none or may not drive the load. Whatever the card says, a
// channel without a converter gives no more than its supply voltage allows.
func sourcePower(s *catalog.Source, load float64) float64 {
	rated := s.Load
	if rated <= 0 {
		rated = headUnitLoad
	}
	lowest := s.MinimumLoad
	if lowest <= 0 {
		lowest = rated
	}
	if s.Channels < 2 || load < lowest*(1-loadTolerance) {
		return 0
	}
	volts := s.SupplyVolts
	if volts <= 0 {
		volts = supply.RunningVolts
	}
	ceiling := front.HeadUnitCeiling(volts, load, s.Channels)
	if s.Power <= 0 {
		return ceiling
	}
	return min(s.Power*rated/load, ceiling)
}

// loadTolerance is how far a load may lie below a rated minimum by rounding.
const loadTolerance = 0.01

// stereoPower is what an amplifier's stereo mode gives one side, W; 0 when it
// has none or may not drive the load.
func (t *rests) stereoPower(amp *pricing.Item, load float64) float64 {
	m, ok := t.Amps[amp].Stereo()
	if !ok || m.Outputs < 2 || load < m.Minimum*(1-loadTolerance) {
		return 0
	}
	return m.Source.Power(load)
}

// chosen is the pair that a set holds, whether or not it is on offer.
func (t *rests) chosen(it *pricing.Item) choice {
	if it == nil {
		return choice{load: build.StockLoad}
	}
	fresh := t.Brief.Front == catalog.FrontReplace || it.Owned == 0
	return choice{item: it, fresh: fresh && !t.Relaxed.Front, load: frontLoad(it.Part.Front)}
}
