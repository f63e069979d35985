package drive

import (
	"cmp"
	"math"
	"slices"
)

// The pairs of a class are kept in a tree. Each node knows the envelope of what
// is below it (the highest voltage and current, the lowest resistance) and the
// lowest price; the level of the envelope bounds all of them at the cost of one
// evaluation.

// Node is a node of a tree. The left child follows its parent, right is the
// place of the other; a leaf has one pair.
type Node struct {
	Choices int // how many are below it
	Choice  int // the pair of a leaf
	Right   int
	Floor   int64
	Bare    int64
	Amps    int64 // lowest price of the amplifiers alone
	Rest    int64 // lowest price of amplifiers and rest without a kit
	Spare   bool  // some of them leave channels over
	AtCoil  CoilSource
}

// Tree is a node with all that is below it.
type Tree []Node

// plant makes the envelopes by price.
func (c *CoilLoad) plant() {
	if len(c.Choices) == 0 {
		return
	}
	c.sort()
	f := c.Choices[0].AtCoil
	c.Floors = make([]int64, len(c.Choices))
	c.Envelopes = make([]CoilSource, len(c.Choices))
	for i := range c.Choices {
		p := &c.Choices[i]
		f = f.Join(p.AtCoil)
		c.Floors[i], c.Envelopes[i] = p.Floor, f
	}
	c.firsts()
}

// sort puts the pairs in the order of price, the stronger first. Pairs are large: their places
// are sorted, and each is moved once.
func (c *CoilLoad) sort() {
	type place struct {
		floor   int64
		voltage float64
		at      int
	}
	places := make([]place, len(c.Choices))
	for i := range c.Choices {
		places[i] = place{c.Choices[i].Floor, c.Choices[i].AtCoil.Voltage, i}
	}
	slices.SortFunc(places, func(a, b place) int {
		return cmp.Or(cmp.Compare(a.floor, b.floor), cmp.Compare(b.voltage, a.voltage), a.at-b.at)
	})
	for i := range places {
		// A cycle of places is moved at once.
		first := c.Choices[i]
		for to := i; places[to].at != to; {
			from := places[to].at
			places[to].at = to
			if from == i {
				c.Choices[to] = first
				break
			}
			c.Choices[to] = c.Choices[from]
			to = from
		}
	}
}

// Full is the tree of all pairs, made when a block first needs it.
func (c *CoilLoad) Full() Tree {
	c.once.Do(func() {
		c.tree = c.Grow(c.all())
	})
	return c.tree
}

// all are the places of all pairs.
func (c *CoilLoad) all() []int {
	all := make([]int, len(c.Choices))
	for i := range all {
		all[i] = i
	}
	return all
}

// leaf is a pair with its measures, in octaves or the like.
type leaf struct {
	choice int
	axes   [5]float64
}

// Grow makes a tree of some of the pairs.
func (c *CoilLoad) Grow(which []int) Tree {
	leaves := make([]leaf, len(which))
	for i, k := range which {
		p := &c.Choices[k]
		m := p.AtCoil.Axes()
		leaves[i] = leaf{k, [5]float64{apart(p.Spare), m[0], m[1], m[2], math.Log(float64(p.Floor) + 1)}}
	}
	return c.branchOff(make(Tree, 0, 2*len(leaves)), leaves)
}

// branchOff halves the leaves in the direction in which they differ most.
func (c *CoilLoad) branchOff(t Tree, leaves []leaf) Tree {
	first := &c.Choices[leaves[0].choice]
	b := Node{Choices: len(leaves), Choice: leaves[0].choice, Floor: first.Floor, Bare: first.Bare, Amps: first.Price, Rest: first.Kitless(), Spare: first.Spare, AtCoil: first.AtCoil}
	low, high := leaves[0].axes, leaves[0].axes
	for i := range leaves {
		p := &c.Choices[leaves[i].choice]
		b.Floor, b.Bare, b.AtCoil = min(b.Floor, p.Floor), min(b.Bare, p.Bare), b.AtCoil.Join(p.AtCoil)
		b.Amps, b.Rest, b.Spare = min(b.Amps, p.Price), min(b.Rest, p.Kitless()), b.Spare || p.Spare
		for d, v := range leaves[i].axes {
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
	t[at].Right = len(t)
	return c.branchOff(t, leaves[middle:])
}

// halve puts the leaves with the lower half of a measure first, in an order that
// depends on nothing but the leaves and theirs.
func halve(leaves []leaf, by int) {
	before := func(a, b *leaf) bool {
		if a.axes[by] != b.axes[by] {
			return a.axes[by] < b.axes[by]
		}
		return a.choice < b.choice
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

// Axes are what a coil feels, in octaves or the like, the strongest least.
func (f *CoilSource) Axes() [3]float64 {
	return [3]float64{-math.Log(f.Voltage + tiny), math.Log(f.Resistance + smallResistance), -math.Log(f.Current + tiny)}
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
