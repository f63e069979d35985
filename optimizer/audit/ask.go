package audit

import (
	"cmp"
	"context"
	"slices"

	"loudfor/model/bass"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
)

// What the envelope leaves: every wiring by itself, every kit, and of those that
// are really as loud every complete build.

// asking is one block that is asked.
type asking struct {
	*auditor
	ctx    context.Context
	b      *block
	t      *tally
	tries  int
	reach  bool // some wiring with some kit is as loud
	better *Found
	seen   map[string]bool // complete builds met
}

func (a *auditor) ask(ctx context.Context, b *block, price int64, list []need, ways []wiring, kits []kit, best *kit, t *tally) Step {
	q := &asking{auditor: a, ctx: ctx, b: b, t: t, seen: map[string]bool{}}
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
	case q.spent():
		return Open
	case q.reach:
		return Outranked
	}
	return OneByOne
}

// spent tells whether nothing more is tried.
func (q *asking) spent() bool { return q.tries > mostTries || q.ctx.Err() != nil }

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
