package completion

import (
	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/internal/halt"
	"loudfor/optimizer/pricing"
)

// A front stage here is one without its source: speakers, what drives them, and
// a blocker. Front stages with an amplifier of their own do not depend on the source
// but for its high-pass, so they are listed once, and thinned out.

type frontStage struct {
	speakers Speakers
	tie      singles // its parts
	power    build.FrontPower
	own      *pricing.Item
	blocker  *pricing.Item
	speaker  bool // what drives it takes speaker wires
	price    int64
	full     int64 // without deals
	worth    int64 // what is saved without it, at least
	demand   float64
	level    build.Level
}

// join adds the prices of one piece.
func join[T priced](p *frontStage, piece T) {
	p.price, p.full, p.worth = p.price+piece.Lower(1), p.full+piece.List(1), p.worth+piece.Marginal()
}

type stageKey struct {
	speakers Speakers // zero in merged lists
	highPass bool     // the source has a high-pass
	forced   *pricing.Item
	least    build.Level // in merged lists: quieter ones are not asked for
	most     int64       // in merged lists: nor are dearer ones
	quick    bool        // in merged lists: only the cheapest for each level, whatever they draw
}

// filtered gives a front stage its filters: none where a high-pass exists already,
// else none or a blocker. It returns those that the rule allows.
func (r *Lists) filtered(p frontStage, watts float64, highPass bool) []frontStage {
	if !(watts > 0) {
		return nil
	}
	join(&p, p.speakers)
	var all []frontStage
	try := func(f HighPass, blocker *pricing.Item) {
		q := p
		l, ok := r.hear(q.speakers, watts, f)
		if !ok {
			return
		}
		q.level, q.blocker = l, blocker
		if blocker != nil {
			join(&q, blocker)
			q.tie.add(blocker)
		}
		all = append(all, q)
	}
	if highPass && !r.forcedBlocker {
		try(BuiltIn, nil)
		return all
	}
	if !r.forcedBlocker {
		try(HighPass{}, nil)
		if len(all) > 0 && r.Brief.Goal == catalog.GoalReading {
			return all
		}
	}
	if r.usefulBlocker && r.idleBlocker(p.speakers, watts, highPass) {
		return nil
	}
	for _, b := range r.blockersFor(p.speakers) {
		f := blocked(b, p.speakers.Load)
		if highPass {
			try(f[1], b)
		} else {
			try(f[0], b)
		}
	}
	return all
}

// blockersFor are the blockers for a pair without those behind others: with
// which it can use as much, and is as loud for a watt. As loud means set no
// higher, so beside a built-in filter they leave it every setting that the
// others do.
func (r *Lists) blockersFor(c Speakers) []*pricing.Item {
	if l, known := r.blocks[c]; known {
		return l
	}
	l := undominatedItems(r.blockers, r.Depth, func(q, p *pricing.Item) bool {
		a, b := blocked(q, c.Load)[0], blocked(p, c.Load)[0]
		// As loud with little power, too: a filter set higher spares the
		// cone, and leaves more of a hole above the bass.
		e, f := r.response(c, a), r.response(c, b)
		return e.most >= f.most && e.little >= f.little && a.Hz <= b.Hz
	})
	r.blocks[c] = l
	return l
}

// own lists the front stages of one pair with an amplifier of its own.
func (r *Lists) own(k stageKey) []frontStage {
	if l, known := r.stages[k]; known || r.Problem.FrontShares {
		return l
	}
	var all []frontStage
	amps := r.ownsFor(k.speakers.Load)
	if k.forced != nil {
		amps = r.owns
	}
	held := stageFilter{depth: r.Depth, connects: r.Connects}
	graceBlocker := pricing.MaxNegativeMarginal(r.blockers)
	for _, amp := range amps {
		if r.Ended() {
			break
		}
		if k.forced != nil && amp != k.forced {
			continue
		}
		a := amp.Part.Amplifier
		p := frontStage{speakers: k.speakers, tie: singlesOf(k.speakers.Item, amp), power: build.FromOwn, own: amp, speaker: a.SpeakerInput, demand: r.Amps[amp].Demand}
		join(&p, amp)
		if p.price > r.limit {
			break
		}
		if held.covers(k.speakers.Marginal()+p.worth-graceBlocker, k.speakers.Lower(1)+p.price, p.tie, 0, p.demand, p.speaker) {
			continue
		}
		for _, q := range r.filtered(p, r.StereoPower(amp, k.speakers.Load), k.highPass || a.HighPass) {
			all = append(all, q)
			r.Hold(halt.StageBytes)
			held.add(q, r.free(amp))
		}
	}
	r.stages[k] = r.undominatedStages(all)
	return r.stages[k]
}

// merge lists the front stages of all pairs with an amplifier of their own. What the
// front stages at hand outrank even at the bound on its level is not composed.
func (r *Lists) merge(k stageKey) []frontStage {
	if l, known := r.merged[k]; known || r.Problem.FrontShares {
		return l
	}
	depth := r.Depth
	if k.quick {
		depth = 1
	}
	all := make([]frontStage, 0)
	held := stageFilter{depth: depth, heedless: k.quick, connects: r.Connects}
	graceBlocker := pricing.MaxNegativeMarginal(r.blockers)
	for i, c := range r.speakers {
		v := r.envelopes[i]
		if v.top < k.least {
			continue
		}
		for _, a := range r.powersFor(powersKey{c.Load, k.quick && k.forced == nil}) {
			if r.Ended() {
				break
			}
			if k.forced != nil && a.item != k.forced {
				continue
			}
			if a.item.Lower(1)+c.Lower(1) > k.most {
				break
			}
			l, tie := v.at(a.log), singlesOf(c.Item, a.item)
			if l == build.Silent || l < k.least {
				continue
			}
			if r.priceAlone {
				l = 0
			}
			if held.covers(c.Marginal()+a.item.Marginal()-graceBlocker, c.Lower(1)+a.item.Lower(1), tie, l, a.demand, a.speaker) {
				continue
			}
			p := frontStage{speakers: c, tie: tie, power: build.FromOwn, own: a.item, speaker: a.speaker, demand: a.demand}
			join(&p, a.item)
			for _, q := range r.filtered(p, a.watts, k.highPass || a.highPass) {
				if q.level < k.least || q.price > k.most || held.covers(q.worth, q.price, q.tie, q.level, q.demand, q.speaker) {
					continue
				}
				all = append(all, q)
				r.Hold(halt.StageBytes)
				held.add(q, r.free(q.own))
			}
		}
	}
	if !k.quick {
		all = r.undominatedStages(all)
	}
	r.merged[k] = all
	return all
}
