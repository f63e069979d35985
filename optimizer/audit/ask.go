package audit

import (
	"cmp"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
)

// What the envelope leaves: every wiring by itself, every kit, and of those that
// are really as loud every complete build.

// asking is one block that is asked.
type asking struct {
	*auditor
	b      *block
	t      *tally
	tries  int
	reach  bool // some wiring with some kit is as loud
	better *Found
	seen   map[string]bool // complete builds met
}

func (a *auditor) ask(b *block, price int64, list []need, ways []wiring, kits []kit, best *kit, t *tally) Step {
	q := &asking{auditor: a, b: b, t: t, seen: map[string]bool{}}
	able := make([]*wiring, 0, len(ways))
	for i := range ways {
		if slices.ContainsFunc(list, func(n need) bool { return ways[i].allows(&n, &best.line) }) {
			able = append(able, &ways[i])
		}
	}
	if a.music {
		able = q.playing(able, best.feed)
	}
	for _, w := range able {
		levels := map[float64]build.Level{} // by the resistance of the kit
		for k := range kits {
			c := &kits[k]
			if price+w.price+w.rest+c.lower(1) > a.limit || w.demand > c.capacity ||
				!slices.ContainsFunc(list, func(n need) bool { return w.allows(&n, &c.line) }) {
				continue
			}
			l, known := levels[c.resistance]
			if !known {
				l = q.level(w, c)
				levels[c.resistance] = l
			}
			if l < a.claimed.Level {
				continue
			}
			q.reach = true
			q.complete(w, c, l)
		}
	}
	t.equal += len(q.seen)
	switch {
	case q.better != nil:
		if t.better == nil || q.better.before(t.better) {
			t.better = q.better
		}
		return Better
	case q.tries > mostTries:
		return Open
	case q.reach:
		return Outranked
	}
	return OneByOne
}

// playing keeps of some wirings those that could be as loud as the claim with music:
// they are halved as long as the envelope of a half can.
func (q *asking) playing(ways []*wiring, f supply.Feed) []*wiring {
	if len(ways) == 0 {
		return nil
	}
	e := ways[0].source
	for _, w := range ways {
		e = e.best(w.source)
	}
	if !q.plays(q.b, e, f) {
		return nil
	}
	if len(ways) == 1 {
		return ways
	}
	slices.SortStableFunc(ways, func(v, w *wiring) int { return cmp.Compare(v.current2/v.open2, w.current2/w.open2) })
	half := len(ways) / 2
	return append(slices.Clone(q.playing(ways[:half], f)), q.playing(ways[half:], f)...)
}

// plays tells whether a block could be as loud as the claim with music, every coil
// fed from a source.
func (a *auditor) plays(b *block, s source, f supply.Feed) bool {
	return a.Claim == nil || a.prepare(b) && bass.MusicLevel(b.prepared, s.drive(b.drivers*b.driver.Coils, f)) >= a.target
}

func (a *auditor) prepare(b *block) bool {
	if b.prepared == nil {
		p, err := bass.Prepare(bass.Setup{Driver: *b.driver, Box: b.box.Box, Boxes: b.boxes, Displacement: b.displacement, Air: a.medium}, a.Room)
		if err != nil {
			return false
		}
		b.prepared = p
	}
	return true
}

// level is what the model predicts of a wiring with a kit, of music the bass with
// its lift taken off.
func (q *asking) level(w *wiring, c *kit) build.Level {
	if q.Claim == nil {
		return build.Silent + 1
	}
	if !q.prepare(q.b) {
		return build.Silent
	}
	d := bass.Drive{Outputs: w.outputs, Series: w.series, Parallel: w.parallel, Source: w.src, Feed: c.feed}
	if q.music {
		return build.Round(bass.MusicLevel(q.b.prepared, d) - q.brief.BassLift)
	}
	return build.Round(q.b.prepared.Loudest(d, q.limits).Level)
}

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
		if q.tries++; base+s.lower(1) > limit || q.tries > mostTries || q.better != nil && q.better.Level >= r.level && r.level > q.claimed.Level {
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
