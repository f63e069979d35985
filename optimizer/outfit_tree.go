package optimizer

import (
	"cmp"
	"math"
	"slices"
)

// The outfits of a class are cut into treads by price, and those of a tread stand
// in a tree, as pairs do elsewhere (tree.go).

// cutOutfits makes the treads of a class by its outfits.
func (c *class) cutOutfits(y *yardstick) {
	front := c.wardrobe.outfits
	most := 0.0
	for i := 0; i < len(front); {
		from := i
		most = max(most, front[i].felt.voltage)
		least := most
		for i++; i < len(front); i++ {
			most = max(most, front[i].felt.voltage)
			if most > least*treadRise && front[i].floor > front[i-1].floor {
				break
			}
		}
		which := make([]int, i-from)
		for k := range which {
			which[k] = from + k
		}
		t := tread{twigs: c.wardrobe.bind(y, nil, which)}
		root := &t.twigs[0]
		t.floor, t.felt, t.cable = root.floor, root.felt, root.cable
		if n := len(c.treads); n > 0 { // none is stronger than the next
			cheaper := &c.treads[n-1]
			t.felt, t.cable = y.join(t.felt, cheaper.felt), min(t.cable, cheaper.cable)
		}
		c.treads = append(c.treads, t)
	}
}

// twig is a node of a tree of outfits: see branch.
type twig struct {
	outfit int // of a leaf, by its place; else -1
	right  int
	floor  int64
	felt   coilSource
	cable  float64
}

// measures tell how far apart outfits are, in octaves or the like.
func (o *outfit) measures() [5]float64 {
	return [5]float64{-math.Log(o.felt.voltage + tiny), math.Log(o.felt.resistance + smallResistance),
		-math.Log(o.felt.current + tiny), math.Log(float64(o.floor) + 1), math.Log(o.cable + smallCable)}
}

// smallCable, ohm: below it a cable is as good as none.
const smallCable = 0.01

// bind makes a tree of some outfits in front, by halving them in the direction in
// which they differ most.
func (w *wardrobe) bind(y *yardstick, t []twig, which []int) []twig {
	o := &w.outfits[which[0]]
	b := twig{outfit: -1, floor: o.floor, felt: o.felt, cable: o.cable}
	low := o.measures()
	high := low
	for _, k := range which[1:] {
		o := &w.outfits[k]
		b.floor, b.felt, b.cable = min(b.floor, o.floor), y.join(b.felt, o.felt), min(b.cable, o.cable)
		for d, v := range o.measures() {
			low[d], high[d] = min(low[d], v), max(high[d], v)
		}
	}
	at := len(t)
	t = append(t, b)
	if len(which) == 1 {
		t[at].outfit = which[0]
		return t
	}
	widest := 0
	for d := range low {
		if high[d]-low[d] > high[widest]-low[widest] {
			widest = d
		}
	}
	slices.SortFunc(which, func(a, b int) int {
		return cmp.Or(cmp.Compare(w.outfits[a].measures()[widest], w.outfits[b].measures()[widest]), a-b)
	})
	middle := len(which) / 2
	t = w.bind(y, t, which[:middle])
	t[at].right = len(t)
	return w.bind(y, t, which[middle:])
}
