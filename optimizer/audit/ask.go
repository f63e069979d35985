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

func (a *auditor) ask(b *block, price int64, list []need, ways []wiring, kits []kit, line *supply.Line, t *tally) Step {
	q := &asking{auditor: a, b: b, t: t, seen: map[string]bool{}}
	for i := range ways {
		w := &ways[i]
		if !slices.ContainsFunc(list, func(n need) bool { return w.allows(&n, line) }) {
			continue
		}
		levels := map[float64]build.Level{} // by the resistance of the kit
		for k := range kits {
			c := &kits[k]
			if price+w.price+a.rest+c.lower(1) > a.limit || !c.carries(w.demand) ||
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

// level is what the model predicts of a wiring with a kit.
func (q *asking) level(w *wiring, c *kit) build.Level {
	if q.Claim == nil {
		return build.Silent + 1
	}
	b := q.b
	if b.prepared == nil {
		p, err := bass.Prepare(bass.Setup{Driver: *b.driver, Box: b.box.Box, Boxes: b.boxes, Displacement: b.displacement, Air: q.medium}, q.Room)
		if err != nil {
			return build.Silent
		}
		b.prepared = p
	}
	d := bass.Drive{Outputs: w.outputs, Series: w.series, Parallel: w.parallel, Source: w.src, Feed: c.feed}
	return build.Round(b.prepared.Loudest(d, q.limits).Level)
}

// complete tries every source, pair, amplifier of the front's own, blocker and
// converter beside a block with its wiring and kit, as long as the money allows;
// of builds as loud as the claim those that cost no more than it.
func (q *asking) complete(w *wiring, c *kit, l build.Level) {
	limit := q.limit
	if l == q.claimed.Level {
		limit = min(limit, q.claimed.due)
	}
	sum := w.price + c.lower(1)
	for _, u := range q.b.uses {
		sum += u.lower(u.n)
	}
	for _, s := range q.kinds[catalog.KindSource] {
		if sum+s.lower(1)+q.pairs[0].lower(1) > limit {
			break
		}
		for i := range q.pairs {
			p := &q.pairs[i]
			left := limit - sum - s.lower(1) - p.lower(1)
			if left < 0 {
				break
			}
			src := s.part.Source
			q.driven(w, c, l, limit, left, s, p, nil, nil, sourceWatts(src, p.load), src.HighPass)
			if w.spare {
				q.driven(w, c, l, limit, left, s, p, nil, w.amp, stereoWatts(w.amp, p.load), src.HighPass || w.amp.part.Amplifier.HighPass)
			}
			idle := q.sourceCan(src, p)
			for _, own := range q.kinds[catalog.KindAmplifier] {
				if own.lower(1) > left {
					break
				}
				missing := own.must
				if own == w.amp {
					missing -= w.number
				}
				if idle && missing <= 0 {
					continue
				}
				q.driven(w, c, l, limit, left-own.lower(1), s, p, own, own, stereoWatts(own, p.load), src.HighPass || own.part.Amplifier.HighPass)
			}
		}
	}
}

// driven tries blockers and converters beside a pair with what drives it: power
// gives the watts, and is nil for the source.
func (q *asking) driven(w *wiring, c *kit, l build.Level, limit, left int64, s *piece, p *pair, own, power *piece, watts float64, highPass bool) {
	if q.better != nil && l == q.better.Level || !(watts > 0) {
		return // one is enough to refute
	}
	need, reachable := lineChannels(s.part.Source, w.amp, power)
	if !reachable {
		return
	}
	optional := func(kind catalog.Kind) []*piece {
		if q.forced[kind] {
			return q.kinds[kind]
		}
		return append([]*piece{nil}, q.kinds[kind]...)
	}
	for _, b := range optional(catalog.KindBlocker) {
		if b.lower(1) > left || q.tries > mostTries {
			break
		}
		q.tries++
		idle := b != nil && b.must == 0 && (highPass || q.ruled(p, watts, nil, false))
		if idle || !q.ruled(p, watts, b, highPass) {
			continue
		}
		for _, v := range optional(catalog.KindConverter) {
			if b.lower(1)+v.lower(1) > left {
				break
			}
			q.tries++
			if v == nil && need > 0 || v != nil && (v.part.Converter.Channels < need || need == 0 && v.must == 0) {
				continue
			}
			uses := append(slices.Clone(q.b.uses), use{w.amp, w.number}, use{c.piece, 1}, use{s, 1})
			for _, one := range []*piece{p.piece, own, b, v} {
				if one != nil {
					uses = append(uses, use{one, 1})
				}
			}
			q.judge(uses, w, c, own, l, limit)
		}
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
func (q *asking) judge(uses []use, w *wiring, c *kit, own *piece, l build.Level, limit int64) {
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
	if own != nil && !c.carries(w.demand+own.demand) {
		return
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
