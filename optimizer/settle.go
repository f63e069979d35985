package optimizer

import (
	"math"

	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/internal/halt"
	"loudfor/optimizer/pricing"
)

// The last steps of the search: one bass block, one pair, kit by kit and rest
// by rest.

// pair tries the kits on one pair, best conductor first.
func (w *worker) pair(p *drive.AmpChoice) {
	books := &w.find.ledger
	bare := w.price
	if w.price += w.aside(p, nil); w.price+p.Floor > w.Limit {
		books.pairs[DropCap]++
		w.price = bare
		return
	}
	defer func() { w.price = bare }()
	spare := false
	for i := range p.Wirings {
		spare = spare || p.Wirings[i].Spare
	}
	key := completion.Key{Speaker: p.Amp.Part.Amplifier.SpeakerInput, Forced: p.Forced}
	var lean *completion.List // on nothing of the bass
	extra := completion.None
	if w.probing && w.Music() { // for a reading there is one list for all
		lean = w.rests.Quick(key)
	} else {
		key.Least = w.leastFront
		lean = w.rests.List(key, w.restMoney(w.price+p.Bare))
	}
	if !w.probing && spare && w.worthwhile(w.price+p.Bare, w.spare) && (!w.Music() || w.worthwhile(w.price+p.Bare, w.rests.SpareCostOf(p.Amp))) {
		key.Amp = p.Amp
		extra = w.rests.List(key, w.restMoney(w.price+p.Bare))
	}
	rests := DropRest
	if lean.Cut || extra.Cut {
		rests = DropTime
		w.leaveOpen()
	}
	floor := cheapest(lean, extra)
	kits := p.KitTier.Kits
	books.triples[DropKit] += w.kits64 - uint64(p.KitTier.Carry)
	books.triples[DropOrder] += uint64(p.KitTier.Carry - len(kits))
	last := -1.0
	least := w.price + p.Bare + floor // that any of these builds costs
	if w.task.ladder && w.Music() {
		_, a, _ := w.foothold(lean.Cost, build.Silent, least, w.price+p.Bare)
		_, b, _ := w.foothold(extra.Cost, build.Silent, least, w.price+p.Bare)
		if least = min(a, b); least > w.Limit {
			books.triples[DropOrder] += uint64(len(kits))
			return
		}
	}
	var all, left build.Level // of any way, and of those that leave channels over
	for i, kit := range kits {
		w.price = bare + w.aside(p, kit)
		price := w.price + p.Price + kit.Lower(1)
		if price+floor > w.Limit {
			books.triples[DropCap]++
			continue
		}
		if !w.worthwhileWith(p, kit, price, lean.Cost) && !w.worthwhileWith(p, kit, price, extra.Cost) {
			books.triples[DropOrder]++
			continue
		}
		if w.task.ladder && !w.Music() {
			least = price + floor // so much is to be beaten with this kit
		}
		if r := w.Kits[kit].Resistance; r != last {
			all, left, last = w.levels(p, kit, least), build.Silent, r
			if len(extra.All) > 0 {
				left = w.sparing(p, kit, least)
			}
		}
		if last := w.incumbent(least); last != nil && all < last.level {
			if w.task.ladder && !w.Music() {
				books.triples[DropBound]++
				continue // less is to be beaten with those that cost less
			}
			// No later kit conducts better.
			books.triples[DropBound] += uint64(len(kits) - i)
			return
		}
		if !w.incumbent(price+floor).allows(all, price+floor) {
			books.triples[DropOrder]++
			continue
		}
		books.singles[DropNotOffered] += w.rests64 - w.offered
		books.singles[rests] += w.offered - uint64(len(lean.All)) - fresh(extra.All)
		w.rest(p, kit, lean.All, all)
		w.rest(p, kit, extra.All, left)
	}
}

// aside is what has to be left over beside the block at hand with a pair and a kit, weighed.
func (w *worker) aside(p *drive.AmpChoice, kit *pricing.Item) int64 {
	if w.Problem.Aside == nil {
		return 0
	}
	driver, box := w.group.Uses(w.box)
	core := build.Core{Driver: driver.Item.Part, Drivers: driver.Count}
	if p != nil {
		core.Amp, core.Amps = p.Amp.Part, p.Number
	}
	if box.Item != nil {
		core.Box, core.Boxes = box.Item.Part, box.Count
	}
	if kit != nil {
		core.Kit = kit.Part
	}
	return w.Problem.Aside(core) / w.Tax.Unit
}

// worthwhile says whether, for music, a system of that price could enter the
// ranking with any of its rests, if the bass were as loud as can be.
func (w *worker) worthwhile(price int64, s completion.CostToReach) bool {
	if !w.Music() {
		return true
	}
	if w.task.ladder {
		_, _, ok := w.foothold(s, build.Silent, price, price)
		return ok
	}
	incumbent := w.incumbent(price)
	if incumbent == nil {
		return true
	}
	return price+w.louder(s, incumbent.level) <= w.Limit || price+s.PriceOf(incumbent.level) <= incumbent.price
}

// worthwhileWith is worthwhile for the block at hand with a pair and a kit.
func (w *worker) worthwhileWith(p *drive.AmpChoice, kit *pricing.Item, price int64, s completion.CostToReach) bool {
	if !w.worthwhile(price, s) {
		return false
	}
	incumbent := w.incumbent(price)
	if w.task.ladder || !w.Music() || incumbent == nil || price+w.louder(s, incumbent.level) <= w.Limit {
		return true
	}
	x := s.First(incumbent.level)
	return price+x.Price < incumbent.price || !w.behind(incumbent, p, kit, x.Parts)
}

// restMoney is the most that the rest may cost in a build that enters the ranking
// with a bass system of some price.
func (w *worker) restMoney(price int64) int64 {
	if !w.Music() {
		return w.Limit // one list for all
	}
	incumbent := w.ranking.last()
	if incumbent != nil && price+w.riseAbove(incumbent.level) > w.Limit {
		return incumbent.price - price
	}
	return w.Limit - price
}

// cheapest is the lower of the first prices of two lists.
func cheapest(a, b *completion.List) int64 {
	low := pricing.Boundless
	for _, l := range []*completion.List{a, b} {
		if len(l.All) > 0 {
			low = min(low, l.All[0].Price)
		}
	}
	return low
}

// fresh counts the rests that no base list holds.
func fresh(list []completion.Completion) (n uint64) {
	for i := range list {
		if !list[i].Twin {
			n++
		}
	}
	return n
}

// levels is the loudest of all ways of a pair.
func (w *worker) levels(p *drive.AmpChoice, kit *pricing.Item, least int64) build.Level {
	best := build.Silent
	for i := range p.Wirings {
		best = max(best, w.way(p, i, kit, w.incumbent(least)))
	}
	return best
}

// sparing is the loudest of the ways that leave a pair of channels over.
func (w *worker) sparing(p *drive.AmpChoice, kit *pricing.Item, least int64) build.Level {
	best := build.Silent
	for i := range p.Wirings {
		if p.Wirings[i].Spare {
			best = max(best, w.way(p, i, kit, w.incumbent(least)))
		}
	}
	return best
}

// way is the level of one way, or silent when it is below the candidate to
// beat.
func (w *worker) way(p *drive.AmpChoice, i int, kit *pricing.Item, incumbent *candidate) build.Level {
	d := p.Drive(i, w.Fed(kit))
	switch {
	case incumbent == nil:
		return w.hearBass(&w.prepared, d, 0)
	case w.Music():
		return w.hearBands(d, incumbent)
	}
	o, ok := w.prepared.LoudestAbove(w.least(incumbent), d, w.task.Reading)
	if !ok {
		return build.Silent
	}
	return min(build.Round(o.Level), w.enough)
}

// rest completes block, pair and kit with every rest of a list.
func (w *worker) rest(p *drive.AmpChoice, kit *pricing.Item, list []completion.Completion, l build.Level) {
	books := &w.find.ledger
	driver, box := w.group.Uses(w.box)
	price := w.price + p.Price + kit.Lower(1)
	// A list stands in the order of price, pieces and SKUs. What comes after a rest that
	// is behind the incumbent, and costs as much, is behind it too.
	behind := int64(math.MinInt64)
	for i := range list {
		r := &list[i]
		n := uint64(1)
		if r.Twin {
			n = 0
		}
		total, got := price+r.Price, l
		if w.Music() {
			got = min(l, r.Level, w.enough)
		}
		late := total == behind && got <= w.incumbent(total).level
		if !late && total <= w.Limit && w.tiedBehind(got, total, p, kit, r.Parts) {
			late, behind = true, total
		}
		switch {
		case total > w.Limit:
			books.singles[DropCap] += n
			continue
		case late, !w.incumbent(total).allows(got, total):
			w.drop(got, total, &books.singles, n)
			continue
		case p.Demand+r.Demand > w.CapacityOf(kit):
			books.singles[DropKit] += n
			continue
		}
		c := candidate{bass: [2]*pricing.Item{p.Amp, w.group.Driver}, level: got, price: total, pieces: driver.Count + box.Count + p.Number + 1 + r.Pieces}
		c.parts = pricing.Collect(append([]pricing.Use{driver, box, {Item: p.Amp, Count: p.Number}, {Item: kit, Count: 1}}, r.Parts...)...)
		// One part in two places: pieces owned or in stock count once. And deals
		// may take off less than each part's share.
		if r.Own == p.Amp && !c.parts.Available() {
			books.singles[DropNotOffered] += n
			continue
		}
		if r.Own == p.Amp || w.NonAdditive {
			if c.price = w.Exact(c.parts) + w.aside(p, kit); c.price > w.Limit {
				books.singles[DropCap] += n
				continue
			}
		}
		books.evaluated += n
		w.find.found = append(w.find.found, c)
		w.Hold(halt.CandidateBytes)
		w.ranking.insert(c)
	}
}

// tiedBehind says that a build ties with the incumbent, and comes after it.
func (w *worker) tiedBehind(l build.Level, price int64, p *drive.AmpChoice, kit *pricing.Item, rest pricing.Set) bool {
	c := w.incumbent(price)
	return c != nil && c.level == l && c.price == price && w.behind(c, p, kit, rest)
}
