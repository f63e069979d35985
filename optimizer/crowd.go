package optimizer

import (
	"cmp"
	"slices"

	"loudfor/optimizer/build"
	"loudfor/optimizer/pricing"
)

// Which packs are behind so many others that they are in no build of a ranking.

// crowd is packs that others are held against, cheapest first.
type crowd struct {
	depth    int
	heedless bool // of the current
	connects func(q, p bool) bool
	all      []crowded
}

type crowded struct {
	figure  int64 // at most, or for a bound on prices at least: see frontier
	tie     singles
	level   build.Level
	demand  float64
	speaker bool
	own     *pricing.Item
	free    bool
}

// covers says whether a pack that costs price at least, is worth so much and holds
// some parts comes after depth others that play as loud, draw no more, and connect
// wherever it does; see frontier.covers.
func (c *crowd) covers(worth, price int64, parts singles, l build.Level, demand float64, speaker bool) bool {
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

func (c *crowd) add(p pack, free bool) {
	n := crowded{p.full, p.tie, p.level, p.demand, p.speaker, p.own, free}
	if c.heedless {
		n.figure = p.price
	}
	at, _ := slices.BinarySearchFunc(c.all, n, func(a, b crowded) int {
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

// thin drops every pack that comes after depth others that play as loud, draw no
// more, and connect wherever it does.
func (r *rests) thin(all []pack) []pack {
	slices.SortFunc(all, func(a, b pack) int {
		return cmp.Or(cmp.Compare(a.price, b.price), a.tie.compare(&b.tie))
	})
	held := crowd{depth: r.Depth, connects: r.connects}
	var kept []pack
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
func (t *rests) free(amp *pricing.Item) bool {
	return amp == nil || amp.Owned == 0 && amp.Most > t.Brief.Amplifiers
}
