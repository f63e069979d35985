package completion

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

// Speakers is one pair of front speakers; Item is nil for those that the car
// came with.
type Speakers struct {
	Item  *pricing.Item
	Fresh bool // the rule for new speakers binds
	Load  float64
}

func (c Speakers) Price() int64 { return c.Lower(1) }

// Lower is that of so many pairs; see priced.
func (c Speakers) Lower(n int) int64 {
	if c.Item == nil {
		return 0
	}
	return c.Item.Lower(n)
}

func (c Speakers) List(n int) int64 {
	if c.Item == nil {
		return 0
	}
	return c.Item.List(n)
}

func (c Speakers) Marginal() int64 { return c.Item.Marginal() }

func (c Speakers) place() int {
	if c.Item == nil {
		return -1
	}
	return c.Item.ID
}

func (c Speakers) unsure() (*pricing.Item, bool) { return nil, true }

// ListSpeakers lists the pairs that the brief allows, cheapest first: under keep
// the customer's own pairs, or the car's if none is owned; under replace every
// pair to be had; under either both, an owned pair counting as kept.
func (r *Lists) ListSpeakers() []Speakers {
	var all []Speakers
	owned, forced := false, false
	for _, it := range r.Shelf.Kinds[catalog.KindFront] {
		owned = owned || it.Owned > 0 && it.Offered()
		forced = forced || it.Must > 0
	}
	rule := r.Brief.Front
	if r.Relaxed.Front {
		rule = catalog.FrontEither
	}
	if rule != catalog.FrontReplace && !owned && !forced {
		all = append(all, r.Chosen(nil))
	}
	for _, it := range r.Slot(catalog.KindFront) {
		if rule == catalog.FrontKeep && it.Owned == 0 {
			continue
		}
		all = append(all, r.Chosen(it))
	}
	return all
}

// FrontLoad is the load of a pair, ohm: as stated, or else as usual.
func FrontLoad(f *catalog.FrontSpeakers) float64 {
	if f.Load > 0 {
		return f.Load
	}
	return build.StockLoad
}

// Stage is the pair as the model takes it.
func (c Speakers) Stage(watts, highPass float64, order int) front.Stage {
	s := front.Stage{Load: c.Load, Size: build.StockSize, Watts: watts, HighPass: highPass, Order: order}
	if c.Item != nil {
		f := c.Item.Part.Front
		s.Sensitivity, s.Power, s.Size = f.Sensitivity, f.Power, f.Size
		s.Fs, s.Sd, s.Xmax = f.Fs, f.Sd, f.Xmax
	}
	return s
}

// HighPass is a high-pass before the front speakers; the zero value is none.
type HighPass struct {
	Hz    float64
	Order int  // 1: a blocker's
	free  bool // a built-in one, whose setting is free, is in the way as well
}

// BuiltIn is the high-pass of a head unit or an amplifier. It is set where the
// pair at hand plays loudest with what drives it: too low, and the bass takes up
// the cones' travel; too high, and a hole is left above the bass. Beside a blocker
// the higher of the two counts, and it stays below where that is better.
var BuiltIn = HighPass{free: true}

// Beside is a blocker's filter with a built-in one in the way.
func (f HighPass) Beside() HighPass {
	f.free = true
	return f
}

// settings are those of built-in filters, Hz.
var settings = front.Settings()

// each calls for every filter that one can be, lowest first: itself, or where a
// setting is free, each setting above it, and a blocker that stays the higher.
// What a free filter makes of a power is the best of them, so it is no less for
// more power, as with each of them.
func (f HighPass) each(visit func(HighPass)) {
	if !f.free {
		visit(f)
		return
	}
	if f.Order == 1 {
		visit(HighPass{Hz: f.Hz, Order: 1})
	}
	for _, hz := range settings {
		if hz > f.Hz {
			visit(HighPass{Hz: hz})
		}
	}
}

// Tuned is what a filter is set to for a pair and a power: the loudest of those
// that the rule for new speakers allows, or else the loudest; then the lowest.
func (r *Lists) Tuned(c Speakers, watts float64, f HighPass) (best HighPass) {
	loudest, allowed, first := build.Silent, false, true
	f.each(func(g HighPass) {
		db, usable, _ := c.Stage(watts, g.Hz, g.Order).Play(r.Cabin)
		fine := !c.Fresh || usable >= r.Brief.FrontWatts*(1-build.WattsTolerance)
		if l := build.Round(db); first || fine && !allowed || fine == allowed && l > loudest {
			best, loudest, allowed, first = g, l, fine, false
		}
	})
	return best
}

// BlockerHighPass is the high-pass that a pair of capacitors makes before a
// load: f = 1/(2 pi R C), first order.
func BlockerHighPass(b *catalog.BassBlocker, load float64) HighPass {
	if !(b.Capacitance > 0) {
		return HighPass{}
	}
	return HighPass{Hz: 1 / (2 * math.Pi * load * b.Capacitance), Order: 1}
}

// Play is what a pair does with so much power: the level at the seat, and
// whether the rule for new speakers holds.
func (r *Lists) Play(c Speakers, watts float64, f HighPass) (build.Level, bool) {
	if r.Brief.Goal == catalog.GoalReading && !c.Fresh {
		return 0, watts > 0
	}
	f = r.Tuned(c, watts, f)
	db, usable, _ := c.Stage(watts, f.Hz, f.Order).Play(r.Cabin)
	if c.Fresh && usable < r.Brief.FrontWatts*(1-build.WattsTolerance) {
		return build.Silent, false
	}
	if r.Brief.Goal == catalog.GoalReading {
		return 0, watts > 0
	}
	return build.Round(db), watts > 0
}

// SourcePower is what a head unit's own channels give one side of a pair, W;
// 0 when it has none or may not drive the load. Whatever the card says, a
// channel without a converter gives no more than its supply voltage allows.
func SourcePower(s *catalog.Source, load float64) float64 {
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

// StereoPower is what an amplifier's stereo mode gives one side, W; 0 when it
// has none or may not drive the load.
func (r *Lists) StereoPower(amp *pricing.Item, load float64) float64 {
	m, ok := r.Amps[amp].Stereo()
	if !ok || m.Outputs < 2 || load < m.Minimum*(1-loadTolerance) {
		return 0
	}
	return m.Source.Power(load)
}

// Chosen is the pair that a set holds, whether or not it is on offer.
func (r *Lists) Chosen(it *pricing.Item) Speakers {
	if it == nil {
		return Speakers{Load: build.StockLoad}
	}
	fresh := r.Brief.Front == catalog.FrontReplace || it.Owned == 0
	return Speakers{Item: it, Fresh: fresh && !r.Relaxed.Front, Load: FrontLoad(it.Part.Front)}
}
