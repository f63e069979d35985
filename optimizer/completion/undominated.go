package completion

import (
	"cmp"

	"loudfor/model/front"
	"loudfor/optimizer/build"
	"loudfor/optimizer/memo"
	"loudfor/optimizer/pricing"
)

// A part that fills a slot by itself, a source say, can be left out of a ranking
// of K builds when K other parts for the slot are cheaper and do all that it
// does: put any of them in its place, and each of the K builds is complete, no
// quieter, and cheaper, so that all K rank before. Being behind one better part
// is not enough: the build with the worse part may well be the second best.

// undominated keeps the items, cheapest first, that are not behind depth strictly
// cheaper ones that replace them: those whose price without any deal is below
// what the item is worth with all of them, or as much where their SKU comes first.
// It compares with kept ones only: whatever replaces a dropped item is itself
// replaced, or kept, depth deep.
func undominated[T slotted](items []T, depth int, replaces func(q, p T) bool) []T {
	var kept []T
	for _, p := range items {
		var ahead standing
		worth, place := p.Marginal(), p.place()
		n := 0
		for _, q := range kept {
			if cmp.Or(cmp.Compare(q.Lower(1), worth), cmp.Compare(q.place(), place)) >= 0 {
				break
			}
			if cmp.Or(cmp.Compare(q.List(1), worth), cmp.Compare(q.place(), place)) < 0 && replaces(q, p) {
				if n = ahead.add(q.unsure()); n >= depth {
					break
				}
			}
		}
		if n < depth {
			kept = append(kept, p)
		}
	}
	return kept
}

// priced is something that fills a slot: see pricing.Item. What one costs at least is
// neither above its list price nor below its Marginal.
type priced interface {
	Lower(n int) int64
	List(n int) int64
	Marginal() int64
}

// slotted is that with its place in the slot.
type slotted interface {
	priced
	place() int                    // in the order of SKUs; what is no part comes first
	unsure() (*pricing.Item, bool) // the amplifier of which the bass may have the pieces; true if it may not
}

// slotItem is an item that fills a slot of its own.
type slotItem struct{ *pricing.Item }

func (it slotItem) place() int                    { return it.ID }
func (it slotItem) unsure() (*pricing.Item, bool) { return nil, true }

// undominatedItems is undominated for items.
func undominatedItems(items []*pricing.Item, depth int, replaces func(q, p *pricing.Item) bool) (kept []*pricing.Item) {
	all := make([]slotItem, len(items))
	for i, it := range items {
		all[i].Item = it
	}
	for _, x := range undominated(all, depth, func(q, p slotItem) bool { return replaces(q.Item, p.Item) }) {
		kept = append(kept, x.Item)
	}
	return kept
}

// undominatedSources leaves out head units behind others. Better means: no fewer
// abilities, no less power into any of the loads at hand, and no other part of
// the build left without a use that another would have to stand in for
// (unused.go).
func (r *Lists) undominatedSources(items []*pricing.Item) []*pricing.Item {
	if r.forcedBlocker || r.forcedConverter {
		return items // what is there in any case might be idle with a better one
	}
	loads := r.loads()
	return undominatedItems(items, r.Depth, func(q, p *pricing.Item) bool {
		a, b := q.Part.Source, p.Part.Source
		if a.PreOuts == 0 && b.PreOuts > 0 || !r.filterReplaces(a.HighPass, b.HighPass) || a.Channels < 2 && b.Channels >= 2 {
			return false
		}
		for _, load := range loads {
			if SourcePower(a, load) < SourcePower(b, load) {
				return false
			}
		}
		return r.sourceKeepsUses(a, b, loads)
	})
}

// filterReplaces says whether a part with or without a high-pass does for the
// front what one with or without does. For a reading only the power of use
// counts, which a high-pass never lowers; but it keeps bass blockers out, and
// one of those may spare the cones even more. For music a high-pass takes
// something away above the bass, so neither is better than the other.
func (r *Lists) filterReplaces(a, b bool) bool {
	return a == b || a && !r.Music() && len(r.blockers) == 0
}

// loads are the different loads of the pairs of front speakers.
func (r *Lists) loads() (all []float64) {
	seen := make(map[float64]bool)
	for _, c := range r.speakers {
		if !seen[c.Load] {
			seen[c.Load] = true
			all = append(all, c.Load)
		}
	}
	return all
}

// undominatedSpeakers leaves out pairs behind others of the same load: as loud for a
// watt, and able to use as many with every filter.
func (r *Lists) undominatedSpeakers(all []Speakers) (kept []Speakers) {
	filters := []HighPass{{}}
	BuiltIn.each(func(f HighPass) { filters = append(filters, f) })
	// Each pair meets most of the others: what it can be heard as is looked up once.
	pairs := make([]heardSpeakers, len(all))
	for i, c := range all {
		pairs[i] = heardSpeakers{c, make([]*response, len(filters)+len(r.blockers))}
	}
	ear := func(c heardSpeakers, i int) *response {
		if c.ears[i] == nil {
			f := HighPass{}
			if i < len(filters) {
				f = filters[i]
			} else {
				f = blocked(r.blockers[i-len(filters)], c.Load)[0]
			}
			c.ears[i] = r.response(c.Speakers, f)
		}
		return c.ears[i]
	}
	for _, c := range undominated(pairs, r.Depth, func(q, p heardSpeakers) bool {
		if q.Load != p.Load || q.Fresh && !p.Fresh || ear(q, 0).little < ear(p, 0).little {
			return false
		}
		for i := range p.ears {
			if ear(q, i).most < ear(p, i).most {
				return false
			}
		}
		return r.speakersKeepUses(q.Speakers, p.Speakers)
	}) {
		kept = append(kept, c.Speakers)
	}
	return kept
}

// heardSpeakers is a pair with what it can be heard as behind each filter at hand.
type heardSpeakers struct {
	Speakers
	ears []*response
}

// blocked is the filter of a blocker by itself and beside a built-in one.
func blocked(b *pricing.Item, load float64) [2]HighPass {
	f := BlockerHighPass(b.Part.Blocker, load)
	return [2]HighPass{f, f.Beside()}
}

// ownsFor are the amplifiers that may be a front's own, for pairs of one load,
// without those behind others: no less power, no more current, no fewer
// abilities.
func (r *Lists) ownsFor(load float64) []*pricing.Item {
	if l, known := r.ownLists[load]; known {
		return l
	}
	all := make([]own, len(r.owns))
	for i, it := range r.owns {
		a := it.Part.Amplifier
		all[i] = own{it, r.free(it), a.HighPass, a.SpeakerInput, r.Amps[it].Demand, r.StereoPower(it, load)}
	}
	var l []*pricing.Item
	for _, o := range undominated(all, r.Depth, func(q, p own) bool {
		return q.demand <= p.demand && r.filterReplaces(q.highPass, p.highPass) && r.Connects(q.speakers, p.speakers) && q.power >= p.power
	}) {
		l = append(l, o.Item)
	}
	r.ownLists[load] = l
	return l
}

// own is an amplifier that may be a front's own, with all that counts then.
type own struct {
	*pricing.Item
	free, highPass, speakers bool
	demand, power            float64
}

func (o own) place() int                    { return o.ID }
func (o own) unsure() (*pricing.Item, bool) { return o.Item, o.free }

// response is what a pair of speakers behind a filter can be heard as.
type response struct {
	reach
	at map[float64]build.Level
}

// reach is what follows from the figures of a pair, a filter and a car alone, so that
// problems share it.
type reach struct {
	little float64 // level with littleWatt a side, dB
	most   float64 // W a side that it can use at most
}

type reachKey struct {
	stage front.Stage // given no power
	free  bool        // the filter's setting is
	room  front.Room
}

type responseKey struct {
	speakers Speakers
	filter   HighPass
}

// response is kept for each pair and filter, since thousands of combinations come
// down to it: the level only depends on the watts that are of use.
func (r *Lists) response(c Speakers, f HighPass) *response {
	key := responseKey{c, f}
	if e := r.responses[key]; e != nil {
		return e
	}
	e := &response{reach: memo.Of(r.Problem.Shared, reachKey{c.Stage(0, f.Hz, f.Order), f.free, r.Cabin}, func() reach {
		x := reach{little: front.Silent}
		f.each(func(f HighPass) {
			_, most, _ := c.Stage(everyWatt, f.Hz, f.Order).Play(r.Cabin)
			little, _, _ := c.Stage(littleWatt, f.Hz, f.Order).Play(r.Cabin)
			x.most, x.little = max(x.most, most), max(x.little, little)
		})
		return x
	})}
	r.responses[key] = e
	return e
}

const (
	// everyWatt is more than any pair can use, littleWatt less.
	everyWatt  = 1e9
	littleWatt = 1e-6
)

// hear is Play, remembered.
func (r *Lists) hear(c Speakers, watts float64, f HighPass) (build.Level, bool) {
	if !r.Music() && !c.Fresh {
		return 0, watts > 0
	}
	e := r.response(c, f)
	usable := min(watts, e.most)
	if c.Fresh && usable < r.Brief.FrontWatts*(1-build.WattsTolerance) {
		return build.Silent, false
	}
	if !r.Music() || r.priceAlone {
		return 0, watts > 0
	}
	l, known := e.at[usable]
	if !known {
		g := r.Tuned(c, usable, f)
		db, _, _ := c.Stage(usable, g.Hz, g.Order).Play(r.Cabin)
		l = build.Round(db)
		if e.at == nil {
			e.at = make(map[float64]build.Level)
		}
		e.at[usable] = l
	}
	return l, watts > 0
}
