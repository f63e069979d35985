package optimizer

import (
	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/internal/halt"
	"loudfor/optimizer/pricing"
)

// A pack is a front stage without its source: speakers, what drives them, and
// a blocker. Packs with an amplifier of their own do not depend on the source
// but for its high-pass, so they are listed once, and thinned out.

type pack struct {
	choice  choice
	tie     singles // its parts
	power   build.FrontPower
	own     *pricing.Item
	blocker *pricing.Item
	speaker bool // what drives it takes speaker wires
	price   int64
	full    int64 // without deals
	worth   int64 // what is saved without it, at least
	demand  float64
	level   build.Level
}

// join adds the prices of one piece.
func join[T priced](p *pack, piece T) {
	p.price, p.full, p.worth = p.price+piece.Lower(1), p.full+piece.List(1), p.worth+piece.Marginal()
}

type packKey struct {
	choice   choice // zero in merged lists
	highPass bool   // the source has a high-pass
	forced   *pricing.Item
	least    build.Level // in merged lists: quieter ones are not asked for
	most     int64       // in merged lists: nor are dearer ones
	quick    bool        // in merged lists: only the cheapest for each level, whatever they draw
}

// filtered gives a pack its filters: none where a high-pass exists already,
// else none or a blocker. It returns those that the rule allows.
func (r *rests) filtered(p pack, watts float64, highPass bool) []pack {
	if !(watts > 0) {
		return nil
	}
	join(&p, p.choice)
	var all []pack
	try := func(f filter, blocker *pricing.Item) {
		q := p
		l, ok := r.hear(q.choice, watts, f)
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
		try(builtIn, nil)
		return all
	}
	if !r.forcedBlocker {
		try(filter{}, nil)
		if len(all) > 0 && r.Brief.Goal == catalog.GoalReading {
			return all
		}
	}
	if r.usefulBlocker && r.idleBlocker(p.choice, watts, highPass) {
		return nil
	}
	for _, b := range r.blockersFor(p.choice) {
		f := blocked(b, p.choice.load)
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
func (r *rests) blockersFor(c choice) []*pricing.Item {
	if l, known := r.blocks[c]; known {
		return l
	}
	l := deepItems(r.blockers, r.Depth, func(q, p *pricing.Item) bool {
		a, b := blocked(q, c.load)[0], blocked(p, c.load)[0]
		// As loud with little power, too: a filter set higher spares the
		// cone, and leaves more of a hole above the bass.
		e, f := r.ear(c, a), r.ear(c, b)
		return e.most >= f.most && e.little >= f.little && a.hz <= b.hz
	})
	r.blocks[c] = l
	return l
}

// own lists the packs of one pair with an amplifier of its own.
func (r *rests) own(k packKey) []pack {
	if l, known := r.packs[k]; known {
		return l
	}
	var all []pack
	amps := r.ownsFor(k.choice.load)
	if k.forced != nil {
		amps = r.owns
	}
	held := crowd{depth: r.Depth, connects: r.connects}
	graceBlocker := pricing.MaxNegativeMarginal(r.blockers)
	for _, amp := range amps {
		if r.Ended() {
			break
		}
		if k.forced != nil && amp != k.forced {
			continue
		}
		a := amp.Part.Amplifier
		p := pack{choice: k.choice, tie: singlesOf(k.choice.item, amp), power: build.FromOwn, own: amp, speaker: a.SpeakerInput, demand: r.Amps[amp].Demand}
		join(&p, amp)
		if p.price > r.limit {
			break
		}
		if held.covers(k.choice.Marginal()+p.worth-graceBlocker, k.choice.Lower(1)+p.price, p.tie, 0, p.demand, p.speaker) {
			continue
		}
		for _, q := range r.filtered(p, r.stereoPower(amp, k.choice.load), k.highPass || a.HighPass) {
			all = append(all, q)
			r.Hold(halt.PackBytes)
			held.add(q, r.free(amp))
		}
	}
	r.packs[k] = r.thin(all)
	return r.packs[k]
}

// merge lists the packs of all pairs with an amplifier of their own. What the
// packs at hand outrank even at the bound on its level is not composed.
func (r *rests) merge(k packKey) []pack {
	if l, known := r.merged[k]; known {
		return l
	}
	depth := r.Depth
	if k.quick {
		depth = 1
	}
	all := make([]pack, 0)
	held := crowd{depth: depth, heedless: k.quick, connects: r.connects}
	graceBlocker := pricing.MaxNegativeMarginal(r.blockers)
	for i, c := range r.choices {
		v := r.voices[i]
		if v.top < k.least {
			continue
		}
		for _, a := range r.powersFor(powersKey{c.load, k.quick && k.forced == nil}) {
			if r.Ended() {
				break
			}
			if k.forced != nil && a.item != k.forced {
				continue
			}
			if a.item.Lower(1)+c.Lower(1) > k.most {
				break
			}
			l, tie := v.at(a.log), singlesOf(c.item, a.item)
			if l == build.Silent || l < k.least || held.covers(c.Marginal()+a.item.Marginal()-graceBlocker, c.Lower(1)+a.item.Lower(1), tie, l, a.demand, a.speaker) {
				continue
			}
			p := pack{choice: c, tie: tie, power: build.FromOwn, own: a.item, speaker: a.speaker, demand: a.demand}
			join(&p, a.item)
			for _, q := range r.filtered(p, a.watts, k.highPass || a.highPass) {
				if q.level < k.least || q.price > k.most || held.covers(q.worth, q.price, q.tie, q.level, q.demand, q.speaker) {
					continue
				}
				all = append(all, q)
				r.Hold(halt.PackBytes)
				held.add(q, r.free(q.own))
			}
		}
	}
	if !k.quick {
		all = r.thin(all)
	}
	r.merged[k] = all
	return all
}
