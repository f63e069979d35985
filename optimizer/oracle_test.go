package optimizer

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/driver"
	"loudfor/model/hookup"
	"loudfor/model/supply"
)

// The oracle finds the best builds by looking at every combination of parts
// and every way of putting it together. It drops nothing, sorts nothing before
// the end, and shares no code with the search but the model, the front's
// figures and the tolerances; each rule of the package documentation is written
// down a second time. What does not depend on the bass block is listed once for
// each amplifier, which is a matter of waiting, not of the result.

type oracle struct {
	p    Problem
	t    *task // for the car and the defaults
	list map[oracleKey][]remainder
	best map[string]oracleBuild
	seen int

	touring bool // shops are chosen: tours_test.go

	// The till's weights, in millionths: of a minor unit of each part, and of
	// labour for pieces bought, for all pieces, and for the build.
	bought          cart
	prices, weights map[string]int64
	buying, fitting [catalog.KindCount]int64
	once            int64
}

// ring fills in the weights.
func (o *oracle) ring() {
	o.bought, o.prices, o.weights = cart{}, map[string]int64{}, map[string]int64{}
	for _, p := range o.p.Catalogue.Parts {
		o.prices[p.SKU], o.weights[p.SKU] = p.Price.Minor, million+o.p.Brief.TaxOn(p.Kind)
	}
	for _, l := range catalog.LabourLines(&o.p.Brief, &o.p.Vehicle) {
		price := l.Price.Minor * (million + o.p.Brief.TaxOnLabour(&l))
		switch {
		case l.Per == catalog.KindCount:
			o.once += price
		case l.Installed:
			o.fitting[l.Per] += price
		default:
			o.buying[l.Per] += price
		}
	}
}

type oracleKey struct {
	amp    *catalog.Part
	number int
	spare  bool
}

// remainder is everything but bass block, bass amplifiers and kit.
type remainder struct {
	parts []*catalog.Part
	own   *catalog.Part
	front level
}

type oracleBuild struct {
	level level
	price int64    // millionths of a minor unit, everything included
	cost  int64    // what the till makes of it
	skus  []string // with repeats, sorted
}

func (a oracleBuild) compare(b oracleBuild) int {
	return cmp.Or(cmp.Compare(b.level, a.level), cmp.Compare(a.price, b.price), cmp.Compare(len(a.skus), len(b.skus)), slices.Compare(a.skus, b.skus))
}

func (o *oracle) of(kind catalog.Kind) (list []*catalog.Part) {
	for _, p := range o.p.Catalogue.Parts {
		if p.Kind == kind {
			list = append(list, p)
		}
	}
	return list
}

func mentioned(list []catalog.Mention, sku string) (n int) {
	for _, m := range list {
		if m.SKU == sku {
			n += m.Count
		}
	}
	return n
}

// run ranks all builds and returns the first of them.
func (o *oracle) run(first int) []oracleBuild {
	o.ring()
	o.list, o.best = map[oracleKey][]remainder{}, map[string]oracleBuild{}
	for m := 1; m <= o.t.brief.Boxes; m++ {
		for _, sub := range o.of(catalog.KindSubwoofer) {
			for _, box := range o.of(catalog.KindEnclosure) {
				o.block(sub, box, m)
			}
		}
		for _, loaded := range o.of(catalog.KindLoaded) {
			o.block(loaded, nil, m)
		}
	}
	var all []oracleBuild
	for _, b := range o.best {
		all = append(all, b)
	}
	slices.SortFunc(all, oracleBuild.compare)
	return all[:min(first, len(all))]
}

func (o *oracle) block(d, box *catalog.Part, m int) {
	var card driver.Card
	s := bass.Setup{Boxes: m, Air: o.t.air}
	var outside catalog.Size3
	parts := []*catalog.Part{}
	if box == nil {
		card, s.Box, outside = d.Loaded.Card, d.Loaded.Box, d.Loaded.Outside
	} else {
		w, e := d.Subwoofer, box.Enclosure
		card, s.Box, outside, s.Displacement = w.Card, e.Box, e.Outside, w.Displacement
		if math.Abs(w.Card.Size-e.Hole) > sizeTolerance || w.Depth > 0 && e.Depth > 0 && w.Depth > e.Depth+cutTolerance ||
			w.Cutout > 0 && e.Cutout > 0 && w.Cutout > e.Cutout+cutTolerance || w.Displacement*float64(e.Box.Drivers) >= e.Box.Volume {
			return
		}
		parts = repeat(parts, box, m)
	}
	n := m * s.Box.Drivers
	if box == nil {
		parts = repeat(parts, d, m)
	} else {
		parts = repeat(parts, d, n)
	}
	space := o.p.Brief.Space
	if space == (catalog.Size3{}) {
		space = o.p.Vehicle.Space
	}
	if boot := o.p.Vehicle.Boot; boot != ([2]float64{}) && outside != (catalog.Size3{}) && !slidesIn(outside, boot) {
		return
	}
	if n > o.t.brief.Drivers || space != (catalog.Size3{}) && outside != (catalog.Size3{}) && !inARow(outside, space, m) {
		return
	}
	var err error
	if s.Driver, _, err = driver.Complete(card, o.t.air); err != nil {
		return
	}
	prepared, err := bass.Prepare(s, o.t.room)
	if err != nil {
		return
	}
	for _, amp := range o.of(catalog.KindAmplifier) {
		spec := amp.Amplifier.Spec
		for k := 1; k <= o.t.brief.Amplifiers; k++ {
			if n%k != 0 {
				continue
			}
			for _, mode := range spec.Modes() {
				src, lowest, _, ok := spec.Source(mode)
				if !ok {
					continue
				}
				for g := 1; g <= spec.Outputs(mode); g++ {
					for _, plan := range hookup.Enumerate(n/k, s.Driver.Coils, s.Driver.CoilLoad, mode, g, lowest) {
						o.wired(prepared, d, repeat(parts, amp, k), amp, k, bass.Drive{Outputs: k * g, Series: plan.Series, Parallel: plan.Parallel, Source: src},
							spareChannels(spec, mode, g) >= 2)
					}
				}
			}
		}
	}
}

func spareChannels(s amplifier.Spec, m amplifier.Mode, g int) int {
	pairs := s.Channels - s.Channels%2
	switch m {
	case amplifier.Mono:
		return pairs
	case amplifier.Stereo:
		return pairs - g
	}
	return pairs - 2*g
}

// repeat appends a part n times to a copy of a list.
func repeat(list []*catalog.Part, p *catalog.Part, n int) []*catalog.Part {
	list = slices.Clone(list)
	for range n {
		list = append(list, p)
	}
	return list
}

func (o *oracle) wired(p *bass.Prepared, sub *catalog.Part, parts []*catalog.Part, amp *catalog.Part, k int, d bass.Drive, spare bool) {
	rests := o.remainders(amp, k, spare)
	levels := map[float64]level{}
	for _, kit := range o.of(catalog.KindKit) {
		k := kit.Kit
		run := o.p.Vehicle.CableRun
		if run <= 0 {
			run = k.Length
		}
		if k.Length > 0 && k.Length < run*(1-reachTolerance) {
			continue
		}
		ohms := supply.Resistance(k.Area, run, k.CopperClad)
		if _, known := levels[ohms]; !known {
			d.Feed = o.t.feed
			d.Feed.CableResistance = ohms
			if o.p.Brief.Goal == catalog.GoalMusic {
				levels[ohms] = round(bass.MusicLevel(p, d) - o.p.Brief.BassLift)
			} else {
				levels[ohms] = round(p.Loudest(d, o.t.reading).Level)
			}
		}
		for i := range rests {
			o.judge(levels[ohms], sub, amp, parts, kit, &rests[i])
		}
	}
}

func (o *oracle) judge(l level, d, amp *catalog.Part, bassParts []*catalog.Part, kit *catalog.Part, r *remainder) {
	o.seen++
	if o.p.Brief.Goal == catalog.GoalMusic {
		l = min(l, r.front)
	}
	all := append(append(append(make([]*catalog.Part, 0, 16), bassParts...), kit), r.parts...)
	slices.SortFunc(all, func(a, b *catalog.Part) int { return strings.Compare(a.SKU, b.SKU) })
	var due int64
	amps := 0.0
	clear(o.bought)
	for i := 0; i < len(all); {
		p, n := all[i], 0
		for ; i < len(all) && all[i] == p; i++ {
			n++
		}
		buy := max(0, n-mentioned(o.p.Brief.Owned, p.SKU))
		if buy > 0 && o.touring {
			if !p.Priced || p.Limit >= 0 && buy > p.Limit || mentioned(o.p.Brief.Never, p.SKU) > 0 {
				return
			}
		} else if buy > 0 && (!p.Priced || p.Stock >= 0 && buy > p.Stock || p.Limit >= 0 && buy > p.Limit ||
			len(o.p.Brief.Stores) > 0 && !slices.Contains(o.p.Brief.Stores, p.Store)) || mentioned(o.p.Brief.Never, p.SKU) > 0 {
			return
		}
		o.bought[p.SKU] = buy
		due += int64(buy)*o.buying[p.Kind] + int64(n)*o.fitting[p.Kind]
		if !o.touring {
			due += int64(buy) * p.Price.Minor * o.weights[p.SKU]
		}
		if p.Kind == catalog.KindAmplifier {
			amps += float64(n) * rated(p.Amplifier.Spec)
		}
	}
	due += o.once
	if o.touring {
		sum, ok := o.shopping()
		if !ok {
			return
		}
		due += sum
	}
	if len(o.p.Catalogue.Deals) > 0 {
		due -= saved(inReach(&o.p, o.bought), o.prices, o.weights, o.bought)
	}
	if c := o.p.Brief.Cap; c != (catalog.Money{}) && roundHalfUp(due) > c.Minor {
		return
	}
	k := kit.Kit
	if !(supply.Kit{Area: k.Area, Length: k.Length, CopperClad: k.CopperClad, Fuse: k.Fuse}).Carries(amps, 0).OK {
		return
	}
	for _, m := range o.p.Brief.Must {
		n := 0
		for _, p := range all {
			if p.SKU == m.SKU {
				n++
			}
		}
		if n < m.Count {
			return
		}
	}
	b := oracleBuild{level: l, price: due, cost: roundHalfUp(due)}
	for _, p := range all {
		b.skus = append(b.skus, p.SKU)
	}
	key := strings.Join(b.skus, " ")
	if o.p.Distinct == DistinctBass {
		key = d.SKU + " " + amp.SKU
	}
	if old, known := o.best[key]; !known || b.compare(old) < 0 {
		o.best[key] = b
	}
}

// remainders lists every rest that the rules allow beside an amplifier.
func (o *oracle) remainders(amp *catalog.Part, k int, spare bool) []remainder {
	key := oracleKey{amp, k, spare}
	if l, known := o.list[key]; known {
		return l
	}
	var l []remainder
	none := []*catalog.Part{nil}
	for _, src := range o.of(catalog.KindSource) {
		for _, pair := range append(none, o.of(catalog.KindFront)...) {
			for _, own := range append(none, o.of(catalog.KindAmplifier)...) {
				for _, conv := range append(none, o.of(catalog.KindConverter)...) {
					for _, block := range append(none, o.of(catalog.KindBlocker)...) {
						l = append(l, o.remainder(amp, k, spare, src, pair, own, conv, block)...)
					}
				}
			}
		}
	}
	o.list[key] = l
	return l
}

func (o *oracle) must(p *catalog.Part) bool { return p != nil && mentioned(o.p.Brief.Must, p.SKU) > 0 }

func (o *oracle) mustKind(kind catalog.Kind) bool {
	return slices.ContainsFunc(o.of(kind), o.must)
}

// remainder lists the ways in which these parts complete a system.
func (o *oracle) remainder(amp *catalog.Part, k int, spare bool, src, pair, own, conv, block *catalog.Part) (l []remainder) {
	brief := &o.p.Brief
	music := brief.Goal == catalog.GoalMusic
	fresh, ok := o.pairAllowed(pair)
	if !ok {
		return nil
	}
	c := choice{load: stockLoad, fresh: fresh}
	if pair != nil {
		c = choice{item: &item{part: pair}, fresh: fresh, load: pair.Front.Load}
	}
	type power struct {
		watts    float64
		amp      *catalog.Part
		highPass bool
	}
	var powers []power
	if own != nil {
		// For a reading not beside a source that can do it itself.
		missing := mentioned(brief.Must, own.SKU)
		if own == amp {
			missing -= k
		}
		if !music && missing <= 0 && o.sourceCan(src, c) {
			return nil
		}
		powers = append(powers, power{stereoWatts(own, c.load), own, src.Source.HighPass || own.Amplifier.HighPass})
	} else {
		powers = append(powers, power{sourcePower(src.Source, c.load), nil, src.Source.HighPass})
		if spare {
			powers = append(powers, power{stereoWatts(amp, c.load), amp, src.Source.HighPass || amp.Amplifier.HighPass})
		}
	}
	for _, w := range powers {
		if w.watts <= 0 {
			continue
		}
		f := filter{}
		switch {
		case block != nil:
			f = blockerFilter(block.Blocker, c.load)
			if w.highPass {
				if !o.must(block) {
					continue // idle
				}
				if f.hz < builtIn.hz {
					f = builtIn
				}
			} else if !music && !o.must(block) && o.ruled(c, w.watts, filter{}) {
				continue // idle
			}
		case w.highPass:
			f = builtIn
		}
		if !o.ruled(c, w.watts, f) {
			continue
		}
		need, reachable := lineChannels(src.Source, amp, w.amp)
		if !reachable || conv == nil && need > 0 || conv != nil && (conv.Converter.Channels < need || need == 0 && !o.must(conv)) {
			continue
		}
		r := remainder{own: own}
		for _, p := range []*catalog.Part{src, pair, own, conv, block} {
			if p != nil {
				r.parts = append(r.parts, p)
			}
		}
		if music {
			db, _, _, _ := c.stage(w.watts, f.hz, f.order).Level(o.t.cabin)
			r.front = round(db)
		}
		l = append(l, r)
	}
	return l
}

// pairAllowed says whether the brief wants this pair (nil: the car's own), and
// whether it is a new one.
func (o *oracle) pairAllowed(pair *catalog.Part) (fresh, ok bool) {
	brief := &o.p.Brief
	anyOwned := slices.ContainsFunc(o.of(catalog.KindFront), func(p *catalog.Part) bool {
		return mentioned(brief.Owned, p.SKU) > 0 && mentioned(brief.Never, p.SKU) == 0
	})
	if pair == nil {
		return false, brief.Front != catalog.FrontReplace && !anyOwned
	}
	owned := mentioned(brief.Owned, pair.SKU) > 0
	switch brief.Front {
	case catalog.FrontKeep:
		return false, owned
	case catalog.FrontReplace:
		return true, true
	}
	return !owned, true
}

func (o *oracle) ruled(c choice, watts float64, f filter) bool {
	if !c.fresh {
		return true
	}
	_, usable, _, _ := c.stage(watts, f.hz, f.order).Level(o.t.cabin)
	return usable >= o.t.brief.FrontWatts*(1-wattsTolerance)
}

// sourceCan says whether the source drives the pair by the rule, with what
// filters there are.
func (o *oracle) sourceCan(src *catalog.Part, c choice) bool {
	w := sourcePower(src.Source, c.load)
	if w <= 0 {
		return false
	}
	forced := o.mustKind(catalog.KindBlocker)
	if !forced {
		f := filter{}
		if src.Source.HighPass {
			f = builtIn
		}
		if o.ruled(c, w, f) {
			return true
		}
		if src.Source.HighPass {
			return false
		}
	}
	for _, b := range o.of(catalog.KindBlocker) {
		if forced && !o.must(b) || !o.canHave(b) {
			continue
		}
		f := blockerFilter(b.Blocker, c.load)
		if src.Source.HighPass && f.hz < builtIn.hz {
			f = builtIn
		}
		if o.ruled(c, w, f) {
			return true
		}
	}
	return false
}

// canHave says whether one piece of a part can be had.
func (o *oracle) canHave(p *catalog.Part) bool {
	b := &o.p.Brief
	if mentioned(b.Never, p.SKU) > 0 {
		return false
	}
	if o.touring && p.Priced {
		return mentioned(b.Owned, p.SKU) > 0 || p.InStock() != 0 && p.Limit != 0
	}
	return mentioned(b.Owned, p.SKU) > 0 || p.Priced && p.Stock != 0 && p.Limit != 0 && (len(b.Stores) == 0 || slices.Contains(b.Stores, p.Store))
}

func stereoWatts(amp *catalog.Part, load float64) float64 {
	s := amp.Amplifier.Spec
	if s.Outputs(amplifier.Stereo) < 2 {
		return 0
	}
	return s.RatedWatts(amplifier.Stereo, load)
}

// lineChannels is how many channels a converter needs; reachable is false when
// even a converter is no help.
func lineChannels(src *catalog.Source, bassAmp, frontAmp *catalog.Part) (need int, reachable bool) {
	if src.PreOuts > 0 {
		return 0, true
	}
	if src.Channels < 2 {
		return 0, false
	}
	if !bassAmp.Amplifier.SpeakerInput {
		need = 1
	}
	if frontAmp != nil && !frontAmp.Amplifier.SpeakerInput {
		need = 2
	}
	return need, true
}
