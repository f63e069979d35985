package optimizer

import (
	"cmp"
	"math"
	"slices"
)

// The pairs of a class are kept in a tree. Each node knows the envelope of what
// is below it (the highest voltage and current, the lowest resistance) and the
// lowest price; the level of the envelope bounds all of them at the cost of one
// evaluation.
//
// Most blocks are out of the question for every amplifier. To find that out,
// the pairs that another pair replaces, nowhere weaker and no dearer, need not
// be looked at: what that other pair cannot reach they cannot. So there is a
// second, much smaller tree of the sharp pairs that remain, and only a block
// for which one of them is good enough has its full tree searched, in which
// replaced pairs have their places in the ranking like any other.

// branch is a node over so many pairs in a row. The left child follows its
// parent in the tree, right is the place of the other; a leaf has one pair.
type branch struct {
	from, to int
	right    int
	floor    int64
	bare     int64
	felt     felt
}

type tree []branch

// plant makes both trees and the envelopes by price.
func (c *class) plant() {
	if len(c.pairs) == 0 {
		return
	}
	// By price, the stronger first, so that a pair can only be replaced by
	// one that comes before it.
	slices.SortStableFunc(c.pairs, func(a, b pair) int {
		return cmp.Or(cmp.Compare(a.floor, b.floor), cmp.Compare(b.felt.voltage, a.felt.voltage))
	})
	f := c.pairs[0].felt
	var sharp []pair
	for i := range c.pairs {
		p := &c.pairs[i]
		f = f.join(p.felt)
		c.floors = append(c.floors, p.floor)
		c.envelopes = append(c.envelopes, f)
		if !slices.ContainsFunc(sharp, func(q pair) bool { return q.bare <= p.bare && q.felt.covers(p.felt) }) {
			sharp = append(sharp, *p)
		}
	}
	c.tree = grow(make(tree, 0, 2*len(c.pairs)), c.pairs, 0)
	c.sharp = grow(make(tree, 0, 2*len(sharp)), sharp, 0)
}

// grow sorts pairs into a tree, halving in the direction in which they differ
// most. base is the place of the first of them.
func grow(t tree, pairs []pair, base int) tree {
	b := branch{from: base, to: base + len(pairs), floor: pairs[0].floor, bare: pairs[0].bare, felt: pairs[0].felt}
	for i := range pairs {
		b.floor, b.bare = min(b.floor, pairs[i].floor), min(b.bare, pairs[i].bare)
		b.felt = b.felt.join(pairs[i].felt)
	}
	at := len(t)
	t = append(t, b)
	if len(pairs) == 1 {
		return t
	}
	by := widest(pairs)
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(by(&a), by(&b)) })
	middle := len(pairs) / 2
	t = grow(t, pairs[:middle], base)
	t[at].right = len(t)
	return grow(t, pairs[middle:], base+middle)
}

// widest is the measure in which pairs spread over the most octaves.
func widest(pairs []pair) func(*pair) float64 {
	measures := []func(*pair) float64{
		func(p *pair) float64 { return -math.Log(p.felt.voltage + tiny) },
		func(p *pair) float64 { return math.Log(p.felt.resistance + smallResistance) },
		func(p *pair) float64 { return -math.Log(p.felt.current + tiny) },
		func(p *pair) float64 { return math.Log(float64(p.floor) + 1) },
	}
	best, most := measures[0], -1.0
	for _, m := range measures {
		low, high := math.Inf(1), math.Inf(-1)
		for i := range pairs {
			v := m(&pairs[i])
			low, high = min(low, v), max(high, v)
		}
		if high-low > most {
			best, most = m, high-low
		}
	}
	return best
}

const (
	tiny = 1e-12
	// smallResistance, ohm: below it a source is as good as one without.
	smallResistance = 0.3
)
