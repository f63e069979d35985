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
	level   build.Level
	demand  float64
	speaker bool
}

// covers says whether a pack that costs price at least and is worth so much is
// behind depth others that cost less, play as loud, draw no more, and connect
// wherever it does.
func (c *crowd) covers(worth, price int64, l build.Level, demand float64, speaker bool) bool {
	if c.heedless {
		worth = price
	}
	ahead := 0
	for i := range c.all {
		q := &c.all[i]
		if q.figure >= worth {
			return false
		}
		if q.level >= l && (c.heedless || q.demand <= demand) && c.connects(q.speaker, speaker) {
			if ahead++; ahead == c.depth {
				return true
			}
		}
	}
	return false
}

func (c *crowd) add(p pack) {
	n := crowded{p.full, p.level, p.demand, p.speaker}
	if c.heedless {
		n.figure = p.price
	}
	at, _ := slices.BinarySearchFunc(c.all, n, func(a, b crowded) int { return cmp.Compare(a.figure, b.figure) })
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

// thin drops every pack behind depth others that cost less, play as loud, draw
// no more, and connect wherever it does.
func (r *rests) thin(all []pack) []pack {
	slices.SortStableFunc(all, func(a, b pack) int { return cmp.Compare(a.price, b.price) })
	var kept []pack
	for _, p := range all {
		ahead := 0
		for _, q := range kept {
			if q.price >= p.worth {
				break
			}
			if q.full < p.worth && q.level >= p.level && q.demand <= p.demand && r.connects(q.speaker, p.speaker) && r.t.free(q.own) {
				if ahead++; ahead == r.t.top {
					break
				}
			}
		}
		if ahead < r.t.top {
			kept = append(kept, p)
		}
	}
	return kept
}

// free says that a piece of an amplifier costs the same and can be had beside
// whatever the bass uses: it is in plenty and none is owned. Only such a part
// may stand against another in a dominance test, since the test does not know
// the bass.
func (t *task) free(amp *pricing.Item) bool {
	return amp == nil || amp.Owned == 0 && amp.Most > t.Brief.Amplifiers
}
