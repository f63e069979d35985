package program

import (
	"cmp"
	"context"
	"math"
	"slices"

	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/hookup"
	"loudfor/model/parallel"
	"loudfor/optimizer/build"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
)

// The table of systems: every bass block that fits, on every choice of bass
// amplifiers that has a wiring, through every cable, as far as the cap goes.
// With music nothing is louder than the loudest front stage, so every level
// above that counts as that (of those on spare channels, the loudest on spare
// channels of that amplifier): then the cheapest of all that reach this top beats
// the others before their levels are known.

// block is so many boxes with their drivers.
type block struct {
	driver, box *pricing.Item // box: nil for a loaded enclosure
	boxes       int
	drivers     int
	cost        int64 // without deals
	least       int64 // whatever the deals
	worth       int64 // see worthOf
	setup       bass.Setup
}

// option is a number of equal bass amplifiers.
type option struct {
	amp    *pricing.Item
	number int
	cost   int64   // without deals
	least  int64   // whatever the deals
	worth  int64   // see worthOf
	demand float64 // A, all of them
}

// system is a block on an option through a class of kits, wired the loudest
// way; with spare, the loudest of the ways that leave a pair of channels over
// to drive the front.
type system struct {
	block, option, kits int
	spare               bool
	level               build.Level
	cost                int64 // of block and amplifiers, without deals
}

// together is how many blocks are tabulated between two looks at what reaches
// the top already. It decides what is counted, not what is found.
const together = 64

func (f *formulation) tabulate(ctx context.Context) error {
	rest := f.floorOfRest()
	f.listBlocks(rest)
	f.listOptions()
	// Cheap blocks first: what reaches the top early beats most of the others.
	order := make([]int, len(f.blocks))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(f.blocks[i].cost, f.blocks[j].cost) })
	var all []system
	for some := range slices.Chunk(order, together) {
		found := make([][]system, len(some))
		parallel.Each(f.t.Workers(), len(some), func(i int) {
			if ctx.Err() == nil {
				found[i] = f.systemsOf(some[i], rest)
			}
		})
		if err := ctx.Err(); err != nil {
			return err
		}
		for _, list := range found {
			all = append(all, list...)
			for _, s := range list {
				f.note(s)
			}
		}
	}
	f.seen = len(all)
	slices.SortStableFunc(all, func(a, b system) int { return cmp.Compare(a.block, b.block) })
	f.systems = f.unbeaten(all)
	return nil
}

// systemsOf tabulates one block.
func (f *formulation) systemsOf(i int, rest int64) (all []system) {
	t, b := f.t, &f.blocks[i]
	if len(f.kits) == 0 {
		return nil
	}
	prepared, err := bass.Prepare(b.setup, t.Room)
	if err != nil || !t.Music() && prepared.Ceiling(t.Reading) < f.floor.DB() {
		return nil // the model does not stand for such a block: no build has it
	}
	quiet := make(map[shape][]bass.Drive)
	for _, o := range f.trial {
		opt := &f.options[o]
		if b.drivers%opt.number != 0 || b.least+opt.least+rest > t.Limit {
			continue
		}
		var ways []wired
		for k := range f.kits {
			kit := &f.kits[k]
			if opt.demand > kit.capacity || b.least+opt.least+kit.floor+rest > t.Limit {
				continue
			}
			for _, spare := range []bool{false, true} {
				s := system{block: i, option: o, kits: k, spare: spare, cost: b.cost + opt.cost}
				at := f.slotOf(&s)
				top, driven := f.tops[at.spare]
				if !driven {
					continue // no front stage goes with it
				}
				if s.level = top; f.beatenBy(f.topped[at], &s) {
					continue // however loud it is
				}
				if ways == nil {
					ways = f.audible(prepared, b, o, quiet)
				}
				s.level = build.Silent
				for _, x := range ways {
					if x.spare || !spare {
						x.drive.Feed.CableResistance = kit.resistance
						s.level = max(s.level, f.levelOf(prepared, x.drive))
					}
				}
				if s.level = min(s.level, top); s.level >= f.floor {
					all = append(all, s)
				}
			}
		}
	}
	return all
}

// wired is one mode and wiring of a block on an option.
type wired struct {
	drive bass.Drive
	spare bool // a pair of stereo channels is left over on each amplifier
}

// shape is how a way is connected; ways of one shape differ in their source.
type shape struct{ outputs, series, parallel int }

// audible lists the ways that reach the floor on the best conductor there is,
// as far as that is not known already from a stronger source in the same shape.
func (f *formulation) audible(p *bass.Prepared, b *block, o int, quiet map[shape][]bass.Drive) []wired {
	ways := make([]wired, 0, 4)
	for _, x := range f.drives(b, o) {
		if f.floor <= build.Silent+1 {
			ways = append(ways, x)
			continue
		}
		d := x.drive
		at := shape{d.Outputs, d.Series, d.Parallel}
		if slices.ContainsFunc(quiet[at], func(q bass.Drive) bool { return weaker(d.Source, q.Source) }) {
			continue
		}
		d.Feed.CableResistance = f.kits[0].resistance
		if f.levelOf(p, d) < f.floor {
			quiet[at] = append(quiet[at], d)
			continue
		}
		ways = append(ways, x)
	}
	return ways
}

// weaker says that a source is in nothing better than another.
func weaker(a, b amplifier.Source) bool {
	return a.OpenVoltage <= b.OpenVoltage && a.Resistance >= b.Resistance && a.Current <= b.Current && a.Efficiency <= b.Efficiency
}

// driveKey is all that the ways of a block on an option depend on.
type driveKey struct {
	option, drivers, coils int
	load                   float64
}

// drives lists every mode and wiring of a block on an option.
func (f *formulation) drives(b *block, opt int) []wired {
	o, d := &f.options[opt], &b.setup.Driver
	key := driveKey{opt, b.drivers / o.number, d.Coils, d.CoilLoad}
	if l, known := f.driven.Load(key); known {
		return l.([]wired)
	}
	all := []wired{}
	spec := o.amp.Part.Amplifier.Spec
	for _, mode := range spec.Modes() {
		source, lowest, _, ok := spec.Source(mode)
		if !ok {
			continue
		}
		for outputs := 1; outputs <= spec.Outputs(mode); outputs++ {
			for _, plan := range hookup.Enumerate(key.drivers, key.coils, key.load, mode, outputs, lowest) {
				all = append(all, wired{
					drive: bass.Drive{Outputs: o.number * plan.Outputs, Series: plan.Series, Parallel: plan.Parallel, Source: source, Feed: f.t.Feed},
					spare: drive.Leftover(spec, mode, outputs) >= 2,
				})
			}
		}
	}
	f.driven.Store(key, all)
	return all
}

// levelOf is the bass's level: the reading, or with music what is left of the
// bass when the lift is taken off.
func (f *formulation) levelOf(p *bass.Prepared, d bass.Drive) build.Level {
	db := 0.0
	if f.t.Music() {
		db = bass.MusicLevel(p, d) - f.t.Brief.BassLift
	} else {
		db = p.Loudest(d, f.t.Reading).Level
	}
	if math.IsNaN(db) || math.IsInf(db, 0) {
		return build.Silent
	}
	return build.Round(db)
}
