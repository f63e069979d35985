package drive

import (
	"cmp"
	"math"
	"slices"
)

// The feeds of a class are cut into tiers by price, and those of a tier stand
// in a tree, as pairs do elsewhere (tree.go).

// CutFeeds makes the tiers of a class by its feeds.
func (c *CoilLoad) CutFeeds(y *SourceDominance) {
	front := c.Feeds.All
	most := 0.0
	for i := 0; i < len(front); {
		from := i
		most = max(most, front[i].AtCoil.Voltage)
		least := most
		for i++; i < len(front); i++ {
			most = max(most, front[i].AtCoil.Voltage)
			if most > least*tierRise && front[i].Floor > front[i-1].Floor {
				break
			}
		}
		which := make([]int, i-from)
		for k := range which {
			which[k] = from + k
		}
		t := PriceTier{Tree: c.Feeds.tree(y, nil, which)}
		root := &t.Tree[0]
		t.Floor, t.AtCoil, t.Cable = root.Floor, root.AtCoil, root.Cable
		if n := len(c.Tiers); n > 0 { // none is stronger than the next
			cheaper := &c.Tiers[n-1]
			t.AtCoil, t.Cable = y.Join(t.AtCoil, cheaper.AtCoil), min(t.Cable, cheaper.Cable)
		}
		c.Tiers = append(c.Tiers, t)
	}
}

// FeedNode is a node of a tree of feeds: see Node.
type FeedNode struct {
	Feed   int // of a leaf, by its place; else -1
	Right  int
	Floor  int64
	AtCoil CoilSource
	Cable  float64
}

// axes tell how far apart feeds are, in octaves or the like.
func (o *Feed) axes() [5]float64 {
	return [5]float64{-math.Log(o.AtCoil.Voltage + tiny), math.Log(o.AtCoil.Resistance + smallResistance),
		-math.Log(o.AtCoil.Current + tiny), math.Log(float64(o.Floor) + 1), math.Log(o.Cable + smallCable)}
}

// smallCable, ohm: below it a cable is as good as none.
const smallCable = 0.01

// tree makes a tree of some feeds in front, by halving them in the direction in
// which they differ most.
func (w *Feeds) tree(y *SourceDominance, t []FeedNode, which []int) []FeedNode {
	o := &w.All[which[0]]
	b := FeedNode{Feed: -1, Floor: o.Floor, AtCoil: o.AtCoil, Cable: o.Cable}
	low := o.axes()
	high := low
	for _, k := range which[1:] {
		o := &w.All[k]
		b.Floor, b.AtCoil, b.Cable = min(b.Floor, o.Floor), y.Join(b.AtCoil, o.AtCoil), min(b.Cable, o.Cable)
		for d, v := range o.axes() {
			low[d], high[d] = min(low[d], v), max(high[d], v)
		}
	}
	at := len(t)
	t = append(t, b)
	if len(which) == 1 {
		t[at].Feed = which[0]
		return t
	}
	widest := 0
	for d := range low {
		if high[d]-low[d] > high[widest]-low[widest] {
			widest = d
		}
	}
	slices.SortFunc(which, func(a, b int) int {
		return cmp.Or(cmp.Compare(w.All[a].axes()[widest], w.All[b].axes()[widest]), a-b)
	})
	middle := len(which) / 2
	t = w.tree(y, t, which[:middle])
	t[at].Right = len(t)
	return w.tree(y, t, which[middle:])
}
