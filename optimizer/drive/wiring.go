package drive

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

// Wiring is one wiring of a pair.
type Wiring struct {
	plan   *hookup.Plan
	source *amplifier.Source
	AtCoil CoilSource
	Spare  bool // at least a stereo pair of channels is left over
}

// Drive is way i of a pair with a supply.
func (p *AmpChoice) Drive(i int, feed supply.Feed) bass.Drive {
	w := &p.Wirings[i]
	return bass.Drive{Outputs: p.Number * w.plan.Outputs, Series: w.plan.Series, Parallel: w.plan.Parallel, Source: *w.source, Feed: feed}
}

// wiredPlan is the plans for some outputs of a mode: see Gear.Plans. There are a
// dozen in a class, which a look through finds sooner than a map.
type wiredPlan struct {
	drivers, outputs int
	mode             amplifier.Mode
	minimum          float64
	list             []hookup.Plan
}

// wirings lists the wirings of amp taken k times, without those that another one
// replaces: one that is nowhere weaker and leaves channels over where the other
// does. Of two that replace each other the first listed stays.
func (f *filler) wirings(amp *pricing.Item, power *Power, k int) []Wiring {
	if f.load.Drivers%k != 0 {
		return nil
	}
	all, spec := f.scratch[:0], &amp.Part.Amplifier.Spec
	for i := range power.Modes {
		m := &power.Modes[i]
		for g := 1; g <= m.Outputs; g++ {
			spare := Leftover(*spec, m.Mode, g) >= 2
			plans := f.plansOf(k, m, g)
			for i := range plans {
				plan := &plans[i]
				all = append(all, Wiring{plan: plan, source: &m.Source, AtCoil: toCoil(&m.Source, plan), Spare: spare})
			}
		}
	}
	f.scratch = all
	if cap(f.kept)-len(f.kept) < len(all) {
		f.kept = make([]Wiring, 0, max(len(all), min(wiringsTogether, wiringsEach*len(f.Shelf.Kinds[catalog.KindAmplifier]))))
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
func anyReplaces(list []Wiring, w *Wiring, only bool) bool {
	for i := range list {
		if v := &list[i]; v.replaces(w) && !(only && w.replaces(v)) {
			return true
		}
	}
	return false
}

// wiringsTogether have their memory in one piece, or wiringsEach for each amplifier that
// there is: a small shop has a class for almost every driver.
const wiringsTogether, wiringsEach = 256, 2

// plansOf is Gear.Plans, for a pair of k.
func (f *filler) plansOf(k int, m *ModePower, outputs int) []hookup.Plan {
	minimum, drivers := m.Minimum, f.load.Drivers/k
	if f.Relaxed.Load {
		minimum = 0
	}
	for i := range f.plans {
		if p := &f.plans[i]; p.minimum == minimum && p.drivers == drivers && p.outputs == outputs && p.mode == m.Mode {
			return p.list
		}
	}
	list := f.Gear.Plans(drivers, f.load.Coils, f.load.Ohm, *m, outputs)
	f.plans = append(f.plans, wiredPlan{drivers, outputs, m.Mode, minimum, list})
	return list
}

// replaces says that w is not needed beside v.
func (v *Wiring) replaces(w *Wiring) bool { return v.AtCoil.Covers(&w.AtCoil) && (v.Spare || !w.Spare) }

type planKey struct {
	drivers, coils int
	load           float64
	mode           amplifier.Mode
	outputs        int
	minimum        float64
}

// Plans is hookup.Silent, remembered: a distributor's amplifiers have few
// different minimum loads.
func (t *Gear) Plans(drivers, coils int, load float64, m ModePower, outputs int) []hookup.Plan {
	minimum := m.Minimum
	if t.Relaxed.Load {
		minimum = min(minimum, t.Relaxed.Least)
	}
	key := planKey{drivers, coils, load, m.Mode, outputs, minimum}
	w := t.planMemo
	w.mutex.Lock()
	defer w.mutex.Unlock()
	list, known := w.known[key]
	if !known {
		list = hookup.Silent(drivers, coils, load, m.Mode, outputs, minimum)
		w.known[key] = list
	}
	return list
}

// planMemo are the plans that were asked for. They depend on nothing but their
// keys, so gears of one car share them.
type planMemo struct {
	mutex sync.Mutex
	known map[planKey][]hookup.Plan
}
