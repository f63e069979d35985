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

// branch is a node of a tree. The left child follows its parent, right is the
// place of the other; a leaf has one pair.
type branch struct {
	pairs int // how many are below it
	pair  int // the pair of a leaf
	right int
	floor int64
	bare  int64
	amps  int64 // lowest price of the amplifiers alone
	rest  int64 // lowest price of amplifiers and rest without a kit
	spare bool  // some of them leave channels over
	felt  coilSource
}

type tree []branch

// plant makes the envelopes by price.
func (c *class) plant() {
	if len(c.pairs) == 0 {
		return
	}
	c.sort()
	f := c.pairs[0].felt
	c.floors = make([]int64, len(c.pairs))
	c.envelopes = make([]coilSource, len(c.pairs))
	for i := range c.pairs {
		p := &c.pairs[i]
		f = f.join(p.felt)
		c.floors[i], c.envelopes[i] = p.floor, f
	}
	c.firsts()
}

// sort puts the pairs in the order of price, the stronger first. Pairs are large: their places
// are sorted, and each is moved once.
func (c *class) sort() {
	type place struct {
		floor   int64
		voltage float64
		at      int
	}
	places := make([]place, len(c.pairs))
	for i := range c.pairs {
		places[i] = place{c.pairs[i].floor, c.pairs[i].felt.voltage, i}
	}
	slices.SortFunc(places, func(a, b place) int {
		return cmp.Or(cmp.Compare(a.floor, b.floor), cmp.Compare(b.voltage, a.voltage), a.at-b.at)
	})
	sorted := make([]pair, len(c.pairs))
	for i, p := range places {
		sorted[i] = c.pairs[p.at]
	}
	c.pairs = sorted
}

// full is the tree of all pairs, made when a block first needs it.
func (c *class) full() tree {
	c.once.Do(func() {
		c.tree = c.grow(c.all())
	})
	return c.tree
}

// all are the places of all pairs.
func (c *class) all() []int {
	all := make([]int, len(c.pairs))
	for i := range all {
		all[i] = i
	}
	return all
}

// leaf is a pair with its measures, in octaves or the like.
type leaf struct {
	pair     int
	measures [5]float64
}

// grow makes a tree of some of the pairs.
func (c *class) grow(which []int) tree {
	leaves := make([]leaf, len(which))
	for i, k := range which {
		p := &c.pairs[k]
		m := p.felt.measures()
		leaves[i] = leaf{k, [5]float64{apart(p.spare), m[0], m[1], m[2], math.Log(float64(p.floor) + 1)}}
	}
	return c.branchOff(make(tree, 0, 2*len(leaves)), leaves)
}

// branchOff halves the leaves in the direction in which they differ most.
func (c *class) branchOff(t tree, leaves []leaf) tree {
	first := &c.pairs[leaves[0].pair]
	b := branch{pairs: len(leaves), pair: leaves[0].pair, floor: first.floor, bare: first.bare, amps: first.price, rest: first.kitless(), spare: first.spare, felt: first.felt}
	low, high := leaves[0].measures, leaves[0].measures
	for i := range leaves {
		p := &c.pairs[leaves[i].pair]
		b.floor, b.bare, b.felt = min(b.floor, p.floor), min(b.bare, p.bare), b.felt.join(p.felt)
		b.amps, b.rest, b.spare = min(b.amps, p.price), min(b.rest, p.kitless()), b.spare || p.spare
		for d, v := range leaves[i].measures {
			low[d], high[d] = min(low[d], v), max(high[d], v)
		}
	}
	at := len(t)
	t = append(t, b)
	if len(leaves) == 1 {
		return t
	}
	widest := 0
	for d := range low {
		if high[d]-low[d] > high[widest]-low[widest] {
			widest = d
		}
	}
	middle := len(leaves) / 2
	halve(leaves, widest)
	t = c.branchOff(t, leaves[:middle])
	t[at].right = len(t)
	return c.branchOff(t, leaves[middle:])
}

// halve puts the leaves with the lower half of a measure first, in an order that
// depends on nothing but the leaves and theirs.
func halve(leaves []leaf, by int) {
	before := func(a, b *leaf) bool {
		if a.measures[by] != b.measures[by] {
			return a.measures[by] < b.measures[by]
		}
		return a.pair < b.pair
	}
	middle := len(leaves) / 2
	for from, to := 0, len(leaves); to-from > 1; {
		// Hoare's selection, about the one in the middle of those left.
		pivot := leaves[(from+to)/2]
		i, j := from, to-1
		for i <= j {
			for before(&leaves[i], &pivot) {
				i++
			}
			for before(&pivot, &leaves[j]) {
				j--
			}
			if i <= j {
				leaves[i], leaves[j] = leaves[j], leaves[i]
				i++
				j--
			}
		}
		switch {
		case middle <= j:
			to = j + 1
		case middle >= i:
			from = i
		default:
			return
		}
	}
}

// measures are what a coil feels, in octaves or the like, the strongest least.
func (f *coilSource) measures() [3]float64 {
	return [3]float64{-math.Log(f.voltage + tiny), math.Log(f.resistance + smallResistance), -math.Log(f.current + tiny)}
}

// apart keeps pairs that leave channels over from those that do not.
func apart(spare bool) float64 {
	if spare {
		return spareOctaves
	}
	return 0
}

const (
	tiny = 1e-12
	// spareOctaves is more than most other measures differ by.
	spareOctaves = 5
	// smallResistance, ohm: below it a source is as good as one without.
	smallResistance = 0.3
)
