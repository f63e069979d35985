package optimizer

import (
	"cmp"
	"context"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/enclosure"
	"loudfor/model/hookup"
)

// The table of systems: every bass block that fits, on every choice of bass
// amplifiers that has a wiring, through every cable, as far as the cap goes.

// block is so many boxes with their drivers.
type block struct {
	driver, box *item // box: nil for a loaded enclosure
	boxes       int
	drivers     int
	cost        int64
	setup       bass.Setup
}

// option is a number of equal bass amplifiers.
type option struct {
	amp    *item
	number int
	cost   int64
	demand float64 // A, all of them
}

// system is a block on an option through a class of kits, wired the loudest
// way; with spare, the loudest of the ways that leave a pair of channels over
// to drive the front.
type system struct {
	block, option, kits int
	spare               bool
	level               level
	cost                int64 // of block and amplifiers
}

func (f *formulation) tabulate(ctx context.Context) error {
	rest := f.floorOfRest()
	f.listBlocks(rest)
	f.listOptions()
	found := make([][]system, len(f.blocks))
	faults := make([]error, len(f.blocks))
	each(f.t.workers(), len(f.blocks), func(i int) {
		if faults[i] = ctx.Err(); faults[i] == nil {
			found[i], faults[i] = f.systemsOf(i, rest)
		}
	})
	var all []system
	for i := range found {
		if faults[i] != nil {
			return faults[i]
		}
		all = append(all, found[i]...)
	}
	f.seen = len(all)
	f.systems = f.unbeaten(all)
	return nil
}

// floorOfRest is the least that source and pair cost.
func (f *formulation) floorOfRest() int64 {
	if len(f.sources) == 0 || len(f.pairs) == 0 {
		return boundless
	}
	source, pair := boundless, boundless
	for _, it := range f.sources {
		source = min(source, it.cost(1))
	}
	for _, c := range f.pairs {
		pair = min(pair, c.price())
	}
	return source + pair
}

func (f *formulation) listBlocks(rest int64) {
	t := f.t
	add := func(b block, box enclosure.Box, outside catalog.Size3, displacement float64) {
		holes := max(box.Drivers, 1)
		b.drivers = b.boxes * holes
		if b.drivers > t.brief.Drivers || !fitsSpace(outside, t.space, b.boxes) {
			return
		}
		uses := []use{{b.driver, b.boxes}}
		if b.box != nil {
			uses = []use{{b.driver, b.drivers}, {b.box, b.boxes}}
		}
		for _, u := range uses {
			if u.count > u.item.most {
				return
			}
			b.cost += u.item.cost(u.count)
		}
		for _, m := range t.musts {
			switch m.part.Kind {
			case catalog.KindSubwoofer, catalog.KindEnclosure, catalog.KindLoaded:
				if !slices.ContainsFunc(uses, func(u use) bool { return u.item == m && u.count >= m.must }) {
					return
				}
			}
		}
		if b.cost+rest > t.limit {
			return
		}
		box.Drivers = holes
		b.setup = bass.Setup{Driver: t.drivers[b.driver].driver, Box: box, Boxes: b.boxes, Displacement: displacement, Air: t.air}
		f.blocks = append(f.blocks, b)
	}
	for m := 1; m <= t.brief.Boxes; m++ {
		for _, d := range t.shelf.kinds[catalog.KindSubwoofer] {
			if !d.offered() || t.drivers[d].fault != nil {
				continue
			}
			for _, e := range t.shelf.kinds[catalog.KindEnclosure] {
				if e.offered() && fitsHole(d.part.Subwoofer, e.part.Enclosure) {
					add(block{driver: d, box: e, boxes: m}, e.part.Enclosure.Box, e.part.Enclosure.Outside, d.part.Subwoofer.Displacement)
				}
			}
		}
		for _, l := range t.shelf.kinds[catalog.KindLoaded] {
			if l.offered() && t.drivers[l].fault == nil {
				add(block{driver: l, boxes: m}, l.part.Loaded.Box, l.part.Loaded.Outside, 0)
			}
		}
	}
}

func (f *formulation) listOptions() {
	for _, it := range f.t.shelf.kinds[catalog.KindAmplifier] {
		for k := 1; k <= min(it.most, f.t.brief.Amplifiers); k++ {
			f.options = append(f.options, option{it, k, it.cost(k), float64(k) * f.t.amps[it].demand})
		}
	}
}

// systemsOf tabulates one block.
func (f *formulation) systemsOf(i int, rest int64) (all []system, err error) {
	t, b := f.t, &f.blocks[i]
	var prepared *bass.Prepared
	for o := range f.options {
		opt := &f.options[o]
		if b.drivers%opt.number != 0 || b.cost+opt.cost+rest > t.limit {
			continue
		}
		drives, spare := f.drives(b, opt)
		if len(drives) == 0 {
			continue
		}
		if prepared == nil {
			if prepared, err = bass.Prepare(b.setup, t.room); err != nil {
				return nil, nil // the model does not stand for such a block: no build has it
			}
		}
		for k := range f.kits {
			kit := &f.kits[k]
			if opt.demand > kit.capacity || b.cost+opt.cost+kit.floor+rest > t.limit {
				continue
			}
			best := [2]level{silent, silent} // of any wiring, and of those with spare channels
			for j, d := range drives {
				d.Feed.CableResistance = kit.resistance
				l := f.levelOf(prepared, d)
				best[0] = max(best[0], l)
				if spare[j] {
					best[1] = max(best[1], l)
				}
			}
			for s, l := range best {
				if l > silent {
					all = append(all, system{block: i, option: o, kits: k, spare: s == 1, level: l, cost: b.cost + opt.cost})
				}
			}
		}
	}
	return all, nil
}

// drives lists every mode and wiring of a block on an option, and which leave a
// pair of stereo channels over on each amplifier.
func (f *formulation) drives(b *block, o *option) (drives []bass.Drive, spare []bool) {
	spec := o.amp.part.Amplifier.Spec
	for _, mode := range spec.Modes() {
		source, lowest, _, ok := spec.Source(mode)
		if !ok {
			continue
		}
		for outputs := 1; outputs <= spec.Outputs(mode); outputs++ {
			d := b.setup.Driver
			for _, plan := range hookup.Enumerate(b.drivers/o.number, d.Coils, d.CoilLoad, mode, outputs, lowest) {
				drives = append(drives, bass.Drive{Outputs: o.number * plan.Outputs, Series: plan.Series, Parallel: plan.Parallel, Source: source, Feed: f.t.feed})
				spare = append(spare, leftover(spec, mode, outputs) >= 2)
			}
		}
	}
	return drives, spare
}

// levelOf is the bass's level: the reading, or with music what is left of the
// bass when the lift is taken off.
func (f *formulation) levelOf(p *bass.Prepared, d bass.Drive) level {
	db := 0.0
	if f.t.music() {
		db = bass.MusicLevel(p, d) - f.t.brief.BassLift
	} else {
		db = p.Loudest(d, f.t.reading).Level
	}
	if math.IsNaN(db) || math.IsInf(db, 0) {
		return silent
	}
	return round(db)
}

// unbeaten keeps the systems that no other beats, in the order in which they
// were listed.
func (f *formulation) unbeaten(all []system) []system {
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	// What could beat comes first, equals in the order of listing.
	slices.SortStableFunc(order, func(i, j int) int {
		a, b := &all[i], &all[j]
		return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(b.level, a.level), cmp.Compare(f.options[a.option].demand, f.options[b.option].demand))
	})
	type slot struct{ kits, amp int }
	kept := make(map[slot][]int)
	var stay []int
	for _, i := range order {
		at := slot{all[i].kits, absent}
		if all[i].spare {
			at.amp = f.options[all[i].option].amp.id
		}
		if slices.ContainsFunc(kept[at], func(j int) bool { return f.beats(&all[j], &all[i]) }) {
			continue
		}
		kept[at] = append(kept[at], i)
		stay = append(stay, i)
	}
	slices.Sort(stay)
	systems := make([]system, len(stay))
	for n, i := range stay {
		systems[n] = all[i]
	}
	return systems
}

// beats says whether system a can stand in for b in any solution; both are on
// the same kits, and a comes before b in the order of unbeaten, so that of two
// equals only one is beaten.
func (f *formulation) beats(a, b *system) bool {
	if a.cost > b.cost || a.level < b.level {
		return false
	}
	x, y := &f.options[a.option], &f.options[b.option]
	if x == y {
		return true
	}
	if x.demand > y.demand || y.amp.part.Amplifier.SpeakerInput && !x.amp.part.Amplifier.SpeakerInput || y.amp.must > 0 {
		return false
	}
	// On the same amplifier the front has none of its own, so its pieces are
	// counted here alone; else one more may be in use at the front.
	return a.spare || f.plentiful(x.amp)
}

// plentiful says that a piece costs the same and can be had whatever else is
// used of the part.
func (f *formulation) plentiful(it *item) bool {
	return it.owned == 0 && it.must == 0 && it.most > f.t.brief.Amplifiers
}
