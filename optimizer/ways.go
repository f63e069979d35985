package optimizer

import (
	"sync"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/hookup"
	"loudfor/model/supply"
	"loudfor/optimizer/pricing"
)

// The ways in which an amplifier can drive the coils of a class: mode, outputs,
// wiring; without those that another one replaces.

// way is one wiring of a pair.
type way struct {
	plan   *hookup.Plan
	source *amplifier.Source
	felt   coilSource
	spare  bool // at least a stereo pair of channels is left over
}

// drive is way i of a pair with a supply.
func (p *pair) drive(i int, feed supply.Feed) bass.Drive {
	w := &p.ways[i]
	return bass.Drive{Outputs: p.number * w.plan.Outputs, Series: w.plan.Series, Parallel: w.plan.Parallel, Source: *w.source, Feed: feed}
}

// wiredPlan is the plans for some outputs of a mode: see task.plans. There are a
// dozen in a class, which a look through finds sooner than a map.
type wiredPlan struct {
	drivers, outputs int
	mode             amplifier.Mode
	minimum          float64
	list             []hookup.Plan
}

// ways lists the wirings of amp taken k times, without those that another one
// replaces: one that is nowhere weaker and leaves channels over where the other
// does. Of two that replace each other the first listed stays.
func (f *filler) ways(amp *pricing.Item, power *power, k int) []way {
	if f.class.drivers%k != 0 {
		return nil
	}
	all, spec := f.scratch[:0], &amp.Part.Amplifier.Spec
	for i := range power.modes {
		m := &power.modes[i]
		for g := 1; g <= m.outputs; g++ {
			spare := leftover(*spec, m.mode, g) >= 2
			plans := f.plansOf(k, m, g)
			for i := range plans {
				plan := &plans[i]
				all = append(all, way{plan: plan, source: &m.source, felt: feel(&m.source, plan), spare: spare})
			}
		}
	}
	f.scratch = all
	if cap(f.kept)-len(f.kept) < len(all) {
		f.kept = make([]way, 0, max(len(all), min(waysTogether, waysEach*len(f.Shelf.Kinds[catalog.KindAmplifier]))))
	}
	from := len(f.kept)
	for i := range all {
		if w := &all[i]; !anyReplaces(f.kept[from:], w, false) && !anyReplaces(all[i+1:], w, true) {
			f.kept = append(f.kept, *w)
		}
	}
	return f.kept[from:len(f.kept):len(f.kept)]
}

// anyReplaces says whether one of a list makes w unnecessary; only one that w
// does not replace in its turn counts where that is asked.
func anyReplaces(list []way, w *way, only bool) bool {
	for i := range list {
		if v := &list[i]; v.replaces(w) && !(only && w.replaces(v)) {
			return true
		}
	}
	return false
}

// waysTogether have their memory in one piece, or waysEach for each amplifier that
// there is: a small shop has a class for almost every driver.
const waysTogether, waysEach = 256, 2

// plansOf is task.plans, for a pair of k.
func (f *filler) plansOf(k int, m *modePower, outputs int) []hookup.Plan {
	minimum, drivers := m.minimum, f.class.drivers/k
	if f.Relaxed.Load {
		minimum = 0
	}
	for i := range f.plans {
		if p := &f.plans[i]; p.minimum == minimum && p.drivers == drivers && p.outputs == outputs && p.mode == m.mode {
			return p.list
		}
	}
	list := f.gear.plans(drivers, f.class.coils, f.class.load, *m, outputs)
	f.plans = append(f.plans, wiredPlan{drivers, outputs, m.mode, minimum, list})
	return list
}

// replaces says that w is not needed beside v.
func (v *way) replaces(w *way) bool { return v.felt.covers(&w.felt) && (v.spare || !w.spare) }

type planKey struct {
	drivers, coils int
	load           float64
	mode           amplifier.Mode
	outputs        int
	minimum        float64
}

// plans is hookup.Silent, remembered: a distributor's amplifiers have few
// different minimum loads.
func (t *gear) plans(drivers, coils int, load float64, m modePower, outputs int) []hookup.Plan {
	minimum := m.minimum
	if t.Relaxed.Load {
		minimum = min(minimum, t.Relaxed.Least)
	}
	key := planKey{drivers, coils, load, m.mode, outputs, minimum}
	w := t.wirings
	w.mutex.Lock()
	defer w.mutex.Unlock()
	list, known := w.known[key]
	if !known {
		list = hookup.Silent(drivers, coils, load, m.mode, outputs, minimum)
		w.known[key] = list
	}
	return list
}

// wirings are the plans that were asked for. They depend on nothing but their
// keys, so tasks of one car share them.
type wirings struct {
	mutex sync.Mutex
	known map[planKey][]hookup.Plan
}
