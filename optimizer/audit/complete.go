package audit

import (
	"cmp"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// What completes a block with its wiring and kit: every source, pair, amplifier of the
// front's own, blocker and converter that the money left over buys.

// rest is what is chosen beside a block.
type rest struct {
	w      *wiring
	c      *kit
	level  build.Level // of the bass
	sum    int64       // of block, wiring and kit at least
	source *piece
	pair   *pair
	own    *piece // an amplifier of the front's own
	power  *piece // the amplifier that drives the front; nil: the source does
}

// complete tries every source, pair, amplifier of the front's own, blocker and
// converter beside a block with its wiring and kit, as long as the money allows.
func (q *asking) complete(w *wiring, c *kit, l build.Level) {
	r := rest{w: w, c: c, level: l, sum: w.price + c.lower(1)}
	for _, u := range q.b.uses {
		r.sum += u.lower(u.n)
	}
	limit := q.limit
	for i := range q.pairs {
		p := &q.pairs[i]
		if r.pair = p; r.sum+p.lower(1)+q.cheapest[0][w.speaker] > q.most(l) {
			return // dearer pairs are too dear
		}
		if r.sum+p.bySource[w.speaker] <= limit {
			q.sources(&r)
		}
		if w.spare && r.sum+p.lower(1)+q.driving(p, w.amp, stereoWatts(w.amp, p.load), w.speaker) <= limit {
			r.power = w.amp
			q.sources(&r)
		}
		for k, watts := range q.ownWatts[p.load] {
			if r.sum+p.byOwn[w.speaker] > limit {
				break
			}
			own := q.kinds[catalog.KindAmplifier][k]
			if r.sum+p.lower(1)+own.lower(1)+q.driving(p, own, watts, w.speaker) <= limit && w.demand+own.demand <= c.capacity {
				r.own, r.power = own, own
				q.sources(&r)
			}
		}
		r.own, r.power = nil, nil
	}
}

// sources tries every source beside all else.
func (q *asking) sources(r *rest) {
	base, limit, missing, watts := r.sum+r.pair.lower(1)+r.own.lower(1), q.most(r.level), 0, 0.0
	if r.own != nil {
		if missing = r.own.must; r.own == r.w.amp {
			missing -= r.w.number
		}
	}
	if r.power != nil {
		watts = stereoWatts(r.power, r.pair.load)
	}
	for _, s := range q.kinds[catalog.KindSource] {
		if q.tries++; base+s.lower(1) > limit || q.spent() || q.better != nil && q.better.Level >= r.level && r.level > q.claimed.Level {
			return
		}
		src := s.part.Source
		highPass := src.HighPass || r.power != nil && r.power.part.Amplifier.HighPass
		if r.power == nil {
			watts = sourceWatts(src, r.pair.load)
		}
		need, reachable := lineChannels(src, r.w.amp, r.power)
		if !reachable || need > 0 && len(q.kinds[catalog.KindConverter]) == 0 {
			continue
		}
		least := base + s.lower(1) + r.pair.cost(highPass, watts)
		if need > 0 {
			least += q.kinds[catalog.KindConverter][0].lower(1)
		}
		if least > q.limit ||
			r.own != nil && !q.music && missing <= 0 && q.sourceCan(src, r.pair) {
			continue // too dear, or its own amplifier would be idle
		}
		r.source = s
		for _, f := range q.behind(r.pair, watts, highPass) {
			q.converters(r, f, base+s.lower(1), need)
		}
	}
}

// behind are the blockers behind which a pair does with so many watts.
func (q *asking) behind(p *pair, watts float64, highPass bool) (all []blocked) {
	_, enough := q.ruled(p, watts, nil, false)
	for _, b := range q.optional(catalog.KindBlocker) {
		if b != nil && b.must == 0 && (highPass || !q.music && enough) {
			continue // it would be idle
		}
		if l, ok := q.ruled(p, watts, b, highPass); ok && l >= q.claimed.Level {
			all = append(all, blocked{b, l})
		}
	}
	return all
}

// blocked is a blocker (nil: none) with the level that the front has behind it.
type blocked struct {
	blocker *piece
	level   build.Level
}

// optional are the parts of a kind of which a build may have one, nil for none.
func (a *auditor) optional(kind catalog.Kind) []*piece {
	if a.forced[kind] {
		return a.kinds[kind]
	}
	return append([]*piece{nil}, a.kinds[kind]...)
}

// most is what a build of a level may cost: of one as loud as the claim only those
// that cost no more.
func (q *asking) most(l build.Level) int64 {
	if l > q.claimed.Level {
		return q.limit
	}
	return min(q.limit, q.claimed.due)
}

// converters tries what brings the signal to the amplifiers, and judges.
func (q *asking) converters(r *rest, f blocked, sum int64, need int) {
	l := min(r.level, f.level)
	limit := q.most(l)
	if q.better != nil && q.better.Level >= l && l > q.claimed.Level {
		return // of those that are louder one is enough
	}
	for _, v := range q.optional(catalog.KindConverter) {
		if q.tries++; sum+f.blocker.lower(1)+v.lower(1) > limit {
			break
		}
		if v == nil && need > 0 || v != nil && (v.part.Converter.Channels < need || need == 0 && v.must == 0) {
			continue
		}
		uses := append(slices.Clone(q.b.uses), use{r.w.amp, r.w.number}, use{r.c.piece, 1}, use{r.source, 1})
		for _, one := range []*piece{r.pair.piece, r.own, f.blocker, v} {
			if one != nil {
				uses = append(uses, use{one, 1})
			}
		}
		q.judge(uses, l, limit)
	}
}

// lineChannels is how many channels a converter needs; reachable is false where
// even that does not help.
func lineChannels(s *catalog.Source, amp, power *piece) (need int, reachable bool) {
	if s.PreOuts > 0 {
		return 0, true
	}
	if !amp.part.Amplifier.SpeakerInput {
		need = 1
	}
	if power != nil && !power.part.Amplifier.SpeakerInput {
		need = 2
	}
	return need, s.Channels >= 2
}

// judge holds a complete set against the rules about all of it, and against the
// claim.
func (q *asking) judge(uses []use, l build.Level, limit int64) {
	count := map[*piece]int{}
	for _, u := range uses {
		if count[u.piece] += u.n; count[u.piece] > u.most {
			return
		}
	}
	for _, p := range q.musts {
		if count[p] < p.must {
			return
		}
	}
	f := &Found{Level: l}
	for p, n := range count {
		f.Parts = append(f.Parts, catalog.Mention{SKU: p.sku(), Count: n})
	}
	slices.SortFunc(f.Parts, func(m, n catalog.Mention) int { return cmp.Compare(m.SKU, n.SKU) })
	var ok bool
	if f.due, ok = q.due(f.Parts); !ok || f.due > limit {
		return
	}
	key := strings.Join(f.skus(), "\n")
	q.seen[key] = true
	switch order := f.compare(q.claimed); {
	case order < 0 && (q.better == nil || f.before(q.better)):
		q.better = f
	case order == 0:
		q.t.met = true
	}
}

// skus are the parts with repeats written out.
func (f *Found) skus() (all []string) {
	for _, m := range f.Parts {
		for range m.Count {
			all = append(all, m.SKU)
		}
	}
	return all
}

// compare is the stated order: the higher level, the lower price, fewer pieces,
// the list of SKUs that is first alphabetically.
func (f *Found) compare(o *Found) int {
	s, t := f.skus(), o.skus()
	return cmp.Or(cmp.Compare(o.Level, f.Level), cmp.Compare(f.due, o.due), cmp.Compare(len(s), len(t)), slices.Compare(s, t))
}

func (f *Found) before(o *Found) bool { return f.compare(o) < 0 }
