package optimizer

import (
	"fmt"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/front"
	"loudfor/model/hookup"
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
	parts    set
	prepared *bass.Prepared
	group    *group
	box      *item
	amp      *item
	number   int
	plan     hookup.Plan
	drive    bass.Drive
	kit      *item // nil: none
	source   *item // nil: none
	own      *item
	convert  *item
	blocker  *item
	choice   choice
	power    FrontPower
	given    float64
	filter   filter

	reading   bass.Operation
	bassMusic float64
	front     float64
	usable    float64
	stops     front.Limit
	music     float64
}

// outside is the size of each box; zero: not stated.
func (a *arrangement) outside() catalog.Size3 {
	if a.group.loaded() {
		return a.group.driver.part.Loaded.Outside
	}
	return a.box.part.Enclosure.Outside
}

// demands narrow what an arrangement may be.
type demands struct {
	bass    *item // the amplifier that has to drive the bass; nil: any
	lenient bool  // a given build: missing small parts are no obstacle
	mode    string
	load    float64
}

// kinds sorts a set of parts by kind.
func (s set) kinds() (by [catalog.KindCount]set) {
	for _, u := range s {
		by[u.item.part.Kind] = append(by[u.item.part.Kind], u)
	}
	return by
}

// only is the single item of a set, or nil.
func (s set) only() *item {
	if len(s) == 0 {
		return nil
	}
	return s[0].item
}

// arrange finds the best arrangement of a set; ok is false when none is valid.
func (t *task) arrange(parts set, g *group, box *item, want demands) (best arrangement, ok bool, err error) {
	by := parts.kinds()
	base := arrangement{parts: parts, group: g, box: box, kit: by[catalog.KindKit].only(), source: by[catalog.KindSource].only(),
		convert: by[catalog.KindConverter].only(), blocker: by[catalog.KindBlocker].only()}
	prepared, err := prepare(t.setup(g, box), t.room)
	if err != nil {
		return base, false, err
	}
	base.prepared = prepared
	base.choice = t.chosen(by[catalog.KindFront].only())
	for _, u := range by[catalog.KindAmplifier] {
		if want.bass != nil && u.item != want.bass {
			continue
		}
		most := min(u.count, t.brief.Amplifiers)
		if want.lenient {
			most = u.count
		}
		for k := 1; k <= most; k++ {
			a := base
			a.amp, a.number = u.item, k
			var fine bool
			if a.own, fine = remaining(by[catalog.KindAmplifier], u.item, k); !fine {
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

// remaining is what amplifier is left for the front when the bass has amp k
// times; fine is false when more than one piece is left.
func remaining(amps set, amp *item, k int) (own *item, fine bool) {
	for _, u := range amps {
		n := u.count
		if u.item == amp {
			n -= k
		}
		if n == 0 {
			continue
		}
		if n > 1 || own != nil {
			return nil, false
		}
		own = u.item
	}
	return own, true
}

// carries says whether the kit carries all amplifiers.
func (t *task) carries(a *arrangement) bool {
	return a.kit != nil && t.demand(a) <= a.kit.capacityIn(t)
}

// demand is the current that all amplifiers of an arrangement can draw, A.
func (t *task) demand(a *arrangement) float64 {
	d := float64(a.number) * t.amps[a.amp].demand
	if a.own != nil {
		d += t.amps[a.own].demand
	}
	return d
}

// chosen is the pair that a set holds.
func (t *task) chosen(it *item) choice {
	for _, c := range t.rests.choices {
		if c.item == it {
			return c
		}
	}
	if it == nil {
		return choice{load: stockLoad}
	}
	return choice{item: it, load: frontLoad(it.part.Front)}
}

// wire tries every mode and wiring of the bass, and what can drive the front
// beside it.
func (t *task) wire(a arrangement, want demands, try func(arrangement)) {
	g, spec := a.group, a.amp.part.Amplifier.Spec
	d := t.drivers[g.driver].driver
	if g.drivers()%a.number != 0 {
		return
	}
	for _, m := range t.amps[a.amp].modes {
		if want.mode != "" && want.mode != m.mode.String() {
			continue
		}
		for n := 1; n <= m.outputs; n++ {
			for _, plan := range t.plans(g.drivers()/a.number, d.Coils, d.CoilLoad, m, n) {
				if want.load > 0 && !sameLoad(want.load, plan.Load) {
					continue
				}
				b := a
				b.plan = plan
				b.drive = bass.Drive{Outputs: a.number * plan.Outputs, Series: plan.Series, Parallel: plan.Parallel, Source: m.source, Feed: t.feed}
				if a.kit != nil {
					b.drive.Feed = t.fed(a.kit)
				}
				b.reading = a.prepared.Loudest(b.drive, t.reading)
				b.bassMusic = bass.MusicLevel(a.prepared, b.drive)
				t.driveFront(b, leftover(spec, m.mode, n) >= 2, want, try)
			}
		}
	}
}

// sameLoad compares nominal loads, which are rounded.
func sameLoad(a, b float64) bool {
	const rounding = 0.05
	return a <= b*(1+rounding) && b <= a*(1+rounding)
}

// driveFront tries what can drive the front speakers.
func (t *task) driveFront(a arrangement, spare bool, want demands, try func(arrangement)) {
	if t.open && want.lenient { // no cabin, no front
		a.music = a.bassMusic - t.brief.BassLift
		try(a)
		return
	}
	done := false
	attempt := func(power FrontPower, watts float64, highPass bool) {
		if !(watts > 0) {
			return
		}
		b := a
		b.power, b.given = power, watts
		switch {
		case a.blocker != nil:
			b.filter = blockerFilter(a.blocker.part.Blocker, a.choice.load)
			if highPass && b.filter.hz < builtIn.hz {
				b.filter = builtIn
			}
		case highPass:
			b.filter = builtIn
		}
		if !want.lenient && (!t.connected(&b) || !t.ruled(&b) || t.idle(&b, highPass)) {
			return
		}
		b.front, b.usable, b.stops, _ = b.choice.stage(watts, b.filter.hz, b.filter.order).Level(t.cabin)
		b.music = min(b.bassMusic-t.brief.BassLift, b.front)
		done = true
		try(b)
	}
	fromSource := a.source != nil && a.source.part.Source.HighPass
	if a.own != nil {
		if want.lenient || t.ownAllowed(&a) {
			attempt(FromOwn, t.stereoPower(a.own, a.choice.load), fromSource || a.own.part.Amplifier.HighPass)
		}
	} else {
		if a.source != nil {
			attempt(FromSource, sourcePower(a.source.part.Source, a.choice.load), fromSource)
		}
		if spare {
			attempt(FromBass, t.stereoPower(a.amp, a.choice.load), fromSource || a.amp.part.Amplifier.HighPass)
		}
	}
	if want.lenient && !done {
		a.music = a.bassMusic - t.brief.BassLift
		try(a)
	}
}

// ownAllowed is the rule against idle amplifiers.
func (t *task) ownAllowed(a *arrangement) bool {
	used := 0
	if a.own == a.amp {
		used = a.number
	}
	if t.music() || a.own.must > used && !a.own.used {
		return true
	}
	t.rests.mutex.Lock()
	defer t.rests.mutex.Unlock()
	return !t.rests.direct(a.choice, a.source.part.Source)
}

// idle says whether a blocker or a line converter has nothing to do.
func (t *task) idle(a *arrangement, highPass bool) bool {
	if a.convert != nil && !a.convert.excused() && (a.source.part.Source.PreOuts > 0 || t.lineChannels(a) == 0) {
		return true
	}
	if a.blocker == nil || a.blocker.excused() {
		return false
	}
	if highPass {
		return true
	}
	_, without := t.hear(a.choice, a.given, filter{})
	return without && !t.music()
}

// connected says whether the signal reaches every amplifier.
func (t *task) connected(a *arrangement) bool {
	src := a.source.part.Source
	if src.PreOuts > 0 || t.relaxed.signal {
		return true
	}
	if src.Channels < 2 {
		return false
	}
	need := t.lineChannels(a)
	return need == 0 || a.convert != nil && a.convert.part.Converter.Channels >= need
}

// lineChannels is how many channels a line converter must have when the source
// has no line outputs.
func (t *task) lineChannels(a *arrangement) (need int) {
	if !a.amp.part.Amplifier.SpeakerInput {
		need = 1
		if a.power == FromBass {
			need = 2
		}
	}
	if a.power == FromOwn && !a.own.part.Amplifier.SpeakerInput {
		need = 2
	}
	return need
}

// ruled says whether the front rule holds.
func (t *task) ruled(a *arrangement) bool {
	_, ok := t.hear(a.choice, a.given, a.filter)
	return ok
}

// better compares two arrangements of one set.
func (t *task) better(a, b *arrangement) bool {
	a1, a2 := t.merits(a)
	b1, b2 := t.merits(b)
	return a1 > b1 || a1 == b1 && a2 > b2
}

// merits are the objective and the other goal.
func (t *task) merits(a *arrangement) (objective, other level) {
	reading, music := round(a.reading.Level), round(a.music)
	if t.music() {
		return music, reading
	}
	return reading, music
}

// blockOf finds the bass block in a set of parts.
func (t *task) blockOf(parts set) (*group, *item, error) {
	by := parts.kinds()
	subs, boxes, loaded := by[catalog.KindSubwoofer], by[catalog.KindEnclosure], by[catalog.KindLoaded]
	switch {
	case len(loaded) == 1 && len(subs)+len(boxes) == 0:
		u := loaded[0]
		return &group{driver: u.item, boxes: u.count, holes: max(u.item.part.Loaded.Box.Drivers, 1)}, u.item, t.drivers[u.item].fault
	case len(subs) == 1 && len(boxes) == 1 && len(loaded) == 0:
		d, b := subs[0], boxes[0]
		holes := max(b.item.part.Enclosure.Box.Drivers, 1)
		if d.count != b.count*holes {
			return nil, nil, fmt.Errorf("%d x %s do not fill %d x %s, which has %d", d.count, d.item.part.SKU, b.count, b.item.part.SKU, b.count*holes)
		}
		return &group{driver: d.item, boxes: b.count, holes: holes}, b.item, t.drivers[d.item].fault
	}
	return nil, nil, errBlock
}

var errBlock = fmt.Errorf("a build has one kind of bass driver in one kind of box, or one kind of loaded enclosure")

// modeNamed checks the name of a mode.
func modeNamed(name string) bool {
	for m := amplifier.Mono; m <= amplifier.Paralleled; m++ {
		if m.String() == name {
			return true
		}
	}
	return name == ""
}
