package program

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/pricing"
)

// The table of front stages: every pair on everything that can drive it, behind
// every filter, as far as the front's rules go.

// frontWay is a pair of speakers with what drives it and a blocker or none.
type frontWay struct {
	pair    completion.Speakers
	power   build.FrontPower
	amp     *pricing.Item // the front's own, or the bass's
	blocker *pricing.Item
	sources []bool // which of the sources it goes with
	needed  bool   // its own amplifier is idle beside these sources, unless must still needs it
	level   build.Level
	cost    int64 // of the pair, the blocker, and the front's own amplifier, without deals
	worth   int64 // see worthOf
	demand  float64
	speaker bool // what drives it takes speaker wires
}

func (f *formulation) stages() {
	for _, c := range f.pairs {
		can, _ := f.among(func(i int) bool { return f.sourceCan(f.sources[i], c) })
		f.fromSource(c)
		for _, it := range f.t.Shelf.Kinds[catalog.KindAmplifier] {
			if it.Offered() {
				f.fromOwn(c, it, can)
				f.fromBass(c, it)
			}
		}
	}
	f.waysAll = len(f.ways)
	f.thinWays()
	for i := range f.ways {
		w := &f.ways[i]
		var on *pricing.Item
		if w.power == build.FromBass {
			on = w.amp
		}
		switch old, known := f.tops[on]; {
		case !f.t.Music():
			f.tops[on] = math.MaxInt64
		case !known || w.level > old:
			f.tops[on] = w.level
		}
	}
}

// among marks the sources that a condition holds for; any is false if there
// are none.
func (f *formulation) among(holds func(i int) bool) (marks []bool, any bool) {
	marks = make([]bool, len(f.sources))
	for i := range marks {
		marks[i] = holds(i)
		any = any || marks[i]
	}
	return marks, any
}

// fromSource: the source's own channels. What matters is what they give and
// whether there is a high-pass; sources alike in that go together.
func (f *formulation) fromSource(c completion.Speakers) {
	type drive struct {
		watts    float64
		highPass bool
	}
	of := func(s *pricing.Item) drive {
		return drive{completion.SourcePower(s.Part.Source, c.Load), s.Part.Source.HighPass}
	}
	done := make(map[drive]bool)
	for _, s := range f.sources {
		d := of(s)
		if done[d] {
			continue
		}
		done[d] = true
		marks, _ := f.among(func(i int) bool { return of(f.sources[i]) == d })
		f.filtered(frontWay{pair: c, power: build.FromSource, sources: marks, speaker: true}, d.watts, d.highPass)
	}
}

// fromOwn: an amplifier of the front's own. For a reading it is idle where the
// source can drive the pair by the rule, unless must asks for it.
func (f *formulation) fromOwn(c completion.Speakers, it *pricing.Item, can []bool) {
	a := it.Part.Amplifier
	w := frontWay{pair: c, power: build.FromOwn, amp: it, speaker: a.SpeakerInput, cost: it.List(1), worth: worthOf(it, 1), demand: f.t.Amps[it].Demand}
	watts := f.t.StereoPower(it, c.Load)
	for _, highPass := range []bool{false, true} {
		for _, idle := range []bool{false, true} {
			if idle && (f.t.Music() || it.Must == 0) {
				continue
			}
			marks, any := f.among(func(i int) bool {
				return f.sources[i].Part.Source.HighPass == highPass && (f.t.Music() || can[i] == idle)
			})
			if any {
				w.sources, w.needed = marks, idle
				f.filtered(w, watts, highPass || a.HighPass)
			}
		}
	}
}

// fromBass: channels that the bass leaves over on its amplifier.
func (f *formulation) fromBass(c completion.Speakers, it *pricing.Item) {
	a := it.Part.Amplifier
	for _, highPass := range []bool{false, true} {
		if marks, any := f.among(func(i int) bool { return f.sources[i].Part.Source.HighPass == highPass }); any {
			f.filtered(frontWay{pair: c, power: build.FromBass, amp: it, sources: marks, speaker: a.SpeakerInput},
				f.t.StereoPower(it, c.Load), highPass || a.HighPass)
		}
	}
}

// filtered adds a way with every filter that is allowed.
func (f *formulation) filtered(w frontWay, watts float64, highPass bool) {
	if !(watts > 0) {
		return
	}
	w.cost += w.pair.List(1)
	w.worth += worthOf(w.pair.Item, 1)
	if w.worth > f.t.Limit {
		return
	}
	bare := completion.HighPass{}
	if highPass {
		bare = completion.BuiltIn
	}
	forced := f.t.ForcedKind(catalog.KindBlocker)
	l, passes := f.t.Play(w.pair, watts, bare)
	if passes && !forced {
		w.level = l
		f.add(w)
	}
	// A blocker is idle beside another high-pass, and for a reading where the
	// rule holds without.
	if (highPass || passes && !f.t.Music()) && !forced {
		return
	}
	bareCost, bareWorth := w.cost, w.worth
	for _, b := range f.blockers {
		high := completion.BlockerHighPass(b.Part.Blocker, w.pair.Load)
		if highPass {
			high = high.Beside()
		}
		if l, passes := f.t.Play(w.pair, watts, high); passes {
			w.level, w.blocker, w.cost, w.worth = l, b, bareCost+b.List(1), bareWorth+worthOf(b, 1)
			f.add(w)
		}
	}
}

func (f *formulation) add(w frontWay) {
	if !f.t.Music() || w.level >= f.floor {
		f.ways = append(f.ways, w)
	}
}

// sourceCan says whether a source drives a pair by the rule, with what filters
// there are; for music nobody asks.
func (f *formulation) sourceCan(s *pricing.Item, c completion.Speakers) bool {
	if f.t.Music() {
		return false
	}
	probe := &formulation{t: f.t, blockers: f.blockers}
	probe.filtered(frontWay{pair: c}, completion.SourcePower(s.Part.Source, c.Load), s.Part.Source.HighPass)
	return len(probe.ways) > 0
}

// group tells ways apart that do not compare: what they ask of the source and
// of the bass.
func (w *frontWay) group() string {
	var b strings.Builder
	if w.power == build.FromBass {
		b.WriteString(w.amp.Part.SKU)
	}
	for _, s := range w.sources {
		b.WriteByte(map[bool]byte{false: 0, true: 1}[s])
	}
	return b.String()
}

// thinWays keeps the ways that no other beats, in the order of listing.
func (f *formulation) thinWays() {
	order := make([]int, len(f.ways))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		a, b := &f.ways[i], &f.ways[j]
		return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(b.level, a.level), cmp.Compare(a.demand, b.demand))
	})
	kept := make(map[string][]int)
	var stay []int
	for _, i := range order {
		w := &f.ways[i]
		g := w.group()
		if !w.needed && slices.ContainsFunc(kept[g], func(j int) bool { return f.beatsWay(&f.ways[j], w) }) {
			continue
		}
		kept[g] = append(kept[g], i)
		stay = append(stay, i)
	}
	slices.Sort(stay)
	ways := make([]frontWay, len(stay))
	for n, i := range stay {
		ways[n] = f.ways[i]
	}
	f.ways = ways
}

// dropUndriven leaves out the front stages on spare channels that no system
// leaves over.
func (f *formulation) dropUndriven() {
	spare := make(map[*pricing.Item]bool)
	for i := range f.systems {
		if f.systems[i].spare {
			spare[f.options[f.systems[i].option].amp] = true
		}
	}
	f.ways = slices.DeleteFunc(f.ways, func(w frontWay) bool { return w.power == build.FromBass && !spare[w.amp] })
}

// beatsWay says whether way a can stand in for b in any solution.
func (f *formulation) beatsWay(a, b *frontWay) bool {
	if a.needed || a.cost > b.worth || a.level < b.level || a.demand > b.demand || b.speaker && !a.speaker {
		return false
	}
	if a.power != build.FromOwn && b.power != build.FromOwn || a.amp == b.amp {
		return true
	}
	return (b.power != build.FromOwn || b.amp.Must == 0) && (a.power != build.FromOwn || f.plentiful(a.amp))
}
