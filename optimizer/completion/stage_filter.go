package completion

import (
	"cmp"
	"slices"

	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
)

// Which front stages are behind so many others that they are in no build of a ranking.

// stageFilter is front stages that others are held against, cheapest first.
type stageFilter struct {
	depth    int
	heedless bool // of the current
	connects func(q, p bool) bool
	all      []held
}

type held struct {
	figure  int64 // at most, or for a bound on prices at least: see listFilter
	tie     singles
	level   build.Level
	demand  float64
	speaker bool
	own     *pricing.Item
	free    bool
}

// covers says whether a front stage that costs price at least, is worth so much and holds
// some parts comes after depth others that play as loud, draw no more, and connect
// wherever it does; see listFilter.covers.
func (c *stageFilter) covers(worth, price int64, parts singles, l build.Level, demand float64, speaker bool) bool {
	if c.heedless {
		worth = price
	}
	var ahead standing
	for i := range c.all {
		q := &c.all[i]
		if q.figure > worth || q.figure == worth && q.tie.compare(&parts) >= 0 {
			return false
		}
		if q.level >= l && (c.heedless || q.demand <= demand) && c.connects(q.speaker, speaker) {
			if ahead.add(q.own, c.heedless || q.free) >= c.depth {
				return true
			}
		}
	}
	return false
}

func (c *stageFilter) add(p frontStage, free bool) {
	n := held{p.full, p.tie, p.level, p.demand, p.speaker, p.own, free}
	if c.heedless {
		n.figure = p.price
	}
	at, _ := slices.BinarySearchFunc(c.all, n, func(a, b held) int {
		return cmp.Or(cmp.Compare(a.figure, b.figure), a.tie.compare(&b.tie))
	})
	if c.depth > 1 || !c.heedless {
		c.all = slices.Insert(c.all, at, n)
		return
	}
	// Only those that no other covers need be kept.
	kept := append(c.all[:at:at], n)
	for _, q := range c.all[at:] {
		if q.level > n.level || !c.connects(n.speaker, q.speaker) {
			kept = append(kept, q)
		}
	}
	c.all = kept
}

// undominatedStages drops every front stage that comes after depth others that play as loud, draw no
// more, and connect wherever it does.
func (r *Lists) undominatedStages(all []frontStage) []frontStage {
	slices.SortFunc(all, func(a, b frontStage) int {
		return cmp.Or(cmp.Compare(a.price, b.price), a.tie.compare(&b.tie))
	})
	held := stageFilter{depth: r.Depth, connects: r.Connects}
	var kept []frontStage
	for _, p := range all {
		if !held.covers(p.worth, p.price, p.tie, p.level, p.demand, p.speaker) {
			kept = append(kept, p)
			held.add(p, r.free(p.own))
		}
	}
	return kept
}

// free says that a piece of an amplifier costs the same and can be had beside
// whatever the bass uses: it is in plenty and none is owned. See standing.
func (r *Lists) free(amp *pricing.Item) bool {
	return amp == nil || amp.Owned == 0 && amp.Most > r.Brief.Amplifiers
}
