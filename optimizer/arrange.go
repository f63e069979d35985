package optimizer

import (
	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/front"
	"loudfor/model/hookup"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
)

// A set of parts can be put together in several ways: which amplifier drives
// the bass, in which mode and wiring, and what drives the front. Arranging
// tries them all and keeps the best: the highest objective, then the highest
// of the other goal, then the first in the order of listing (amplifiers by
// SKU, modes, outputs, loads from the lowest, front power from the source
// upwards). The search finds sets; this puts them on the wall, and works for
// sets that someone else has chosen as well.

// arrangement is one way of putting a set of parts together.
type arrangement struct {
	parts    pricing.Set
	prepared *bass.Prepared
	block    *drive.Block
	box      *pricing.Item
	amp      *pricing.Item
	number   int
	plan     hookup.Plan
	drive    bass.Drive
	kit      *pricing.Item // nil: none
	source   *pricing.Item // nil: none
	own      *pricing.Item
	convert  *pricing.Item
	blocker  *pricing.Item
	choice   completion.Speakers
	power    FrontPower
	given    float64
	filter   completion.HighPass

	reading   bass.Operation
	bassMusic float64
	front     float64
	usable    float64
	stops     front.Limit
	music     float64
}

// outside is the size of each box; zero: not stated.
func (a *arrangement) outside() catalog.Size3 {
	if a.block.Loaded() {
		return a.block.Driver.Part.Loaded.Outside
	}
	return a.box.Part.Enclosure.Outside
}

// demands narrow what an arrangement may be.
type demands struct {
	bass    *pricing.Item // the amplifier that has to drive the bass; nil: any
	lenient bool          // a given build: missing small parts are no obstacle
	mode    string
	load    float64
}

// arrange finds the best arrangement of a set; ok is false when none is valid.
func (t *task) arrange(parts pricing.Set, g *drive.Block, box *pricing.Item, want demands) (best arrangement, ok bool, err error) {
	by := parts.Kinds()
	base := arrangement{parts: parts, block: g, box: box, kit: by[catalog.KindKit].Only(), source: by[catalog.KindSource].Only(),
		convert: by[catalog.KindConverter].Only(), blocker: by[catalog.KindBlocker].Only()}
	prepared, err := drive.Prepare(t.Setup(g, box), t.Room)
	if err != nil {
		return base, false, err
	}
	base.prepared = prepared
	base.choice = t.rests.Chosen(by[catalog.KindFront].Only())
	for _, u := range by[catalog.KindAmplifier] {
		if want.bass != nil && u.Item != want.bass {
			continue
		}
		most := min(u.Count, t.Brief.Amplifiers)
		if want.lenient {
			most = u.Count
		}
		for k := 1; k <= most; k++ {
			a := base
			a.amp, a.number = u.Item, k
			var fine bool
			if a.own, fine = remaining(by[catalog.KindAmplifier], u.Item, k); !fine {
				continue
			}
			if !want.lenient && !t.carries(&a) {
				continue
			}
			t.wire(a, want, func(b arrangement) {
				if !ok || t.better(&b, &best) {
					best, ok = b, true
				}
			})
		}
	}
	return best, ok, nil
}

// carries says whether the kit carries all amplifiers.
func (t *task) carries(a *arrangement) bool {
	return a.kit != nil && t.demand(a) <= t.CapacityOf(a.kit)
}

// demand is the current that all amplifiers of an arrangement can draw, A.
func (t *task) demand(a *arrangement) float64 {
	d := float64(a.number) * t.Amps[a.amp].Demand
	if a.own != nil {
		d += t.Amps[a.own].Demand
	}
	return d
}

// wire tries every mode and wiring of the bass, and what can drive the front
// beside it.
func (t *task) wire(a arrangement, want demands, try func(arrangement)) {
	g, spec := a.block, a.amp.Part.Amplifier.Spec
	d := t.Drivers[g.Driver].Driver
	if g.Drivers()%a.number != 0 {
		return
	}
	for _, m := range t.Amps[a.amp].Modes {
		if want.mode != "" && want.mode != m.Mode.String() {
			continue
		}
		for n := 1; n <= m.Outputs; n++ {
			for _, plan := range t.Plans(g.Drivers()/a.number, d.Coils, d.CoilLoad, m, n) {
				if want.load > 0 && !sameLoad(want.load, plan.Load) {
					continue
				}
				b := a
				b.plan = plan
				b.drive = bass.Drive{Outputs: a.number * plan.Outputs, Series: plan.Series, Parallel: plan.Parallel, Source: m.Source, Feed: t.Feed}
				if a.kit != nil {
					b.drive.Feed = t.Fed(a.kit)
				}
				b.reading = a.prepared.Loudest(b.drive, t.Reading)
				b.bassMusic = bass.MusicLevel(a.prepared, b.drive)
				t.driveFront(b, drive.Leftover(spec, m.Mode, n) >= 2, want, try)
			}
		}
	}
}

// sameLoad compares nominal loads, which are rounded.
func sameLoad(a, b float64) bool {
	const rounding = 0.05
	return a <= b*(1+rounding) && b <= a*(1+rounding)
}

// better compares two arrangements of one set.
func (t *task) better(a, b *arrangement) bool {
	a1, a2 := t.merits(a)
	b1, b2 := t.merits(b)
	return a1 > b1 || a1 == b1 && a2 > b2
}

// merits are the objective and the other goal.
func (t *task) merits(a *arrangement) (objective, other build.Level) {
	reading, music := build.Round(a.reading.Level), build.Round(a.music)
	if t.Music() {
		return music, reading
	}
	return reading, music
}

// modeNamed checks the name of a mode.
func modeNamed(name string) bool {
	for m := amplifier.Mono; m <= amplifier.Paralleled; m++ {
		if m.String() == name {
			return true
		}
	}
	return name == ""
}
