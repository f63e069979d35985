package optimizer

import (
	"cmp"
	"slices"
	"sync"

	"loudfor/model/bass"
)

// The boxes of a list asked together (bass.Cluster). Most drivers are hopeless in
// most boxes, by far; so the boxes stand in trees, and a driver goes down only where
// it is not hopeless in all the boxes of a branch. Each tree has boxes that stand
// next to each other by price, so that each is asked with the money that is left at
// its cheapest.

// rackSize is how many boxes a tree has.
const rackSize = 96

// rack is the boxes of a list from one place to another, for one aim.
type rack struct {
	from, to int
	once     sync.Once
	nodes    []node // of several trees, one after the other
	strange  []int  // boxes that ask for nothing since they cannot be
}

// node is a branch of a tree of boxes, followed by what is below it.
type node struct {
	cluster bass.Cluster
	size    int // of nodes, itself included
	box     int // place in the list, of a leaf
	target  *bass.Target
}

// racks cuts a list of boxes.
func (t *task) racks(boxes int) (all []*rack) {
	for from := 0; from < boxes; from += t.rack {
		all = append(all, &rack{from: from, to: min(from+t.rack, boxes)})
	}
	return all
}

// boxTarget is a box by its place in the list, with what it asks for.
type boxTarget struct {
	box    int
	target *bass.Target
	near   [2]float64
}

// grow makes the trees of a rack.
func (w *worker) grow(l *rack, g *group, aim *bass.Aim) {
	var kinds [2][]boxTarget
	for i := l.from; i < l.to; i++ {
		t := w.target(g, i, aim)
		if t == nil {
			l.strange = append(l.strange, i)
			continue
		}
		ported, near := t.Near()
		kind := &kinds[0]
		if ported {
			kind = &kinds[1]
		}
		*kind = append(*kind, boxTarget{i, t, near})
	}
	l.nodes = make([]node, 0, 2*(l.to-l.from))
	for _, boxes := range kinds {
		if len(boxes) > 0 {
			l.branchOff(boxes)
		}
	}
}

// branchOff adds a tree of boxes, halved in the direction in which they differ most.
func (l *rack) branchOff(boxes []boxTarget) {
	at := len(l.nodes)
	l.nodes = append(l.nodes, node{box: boxes[0].box, target: boxes[0].target, size: 1})
	if len(boxes) == 1 {
		l.nodes[at].cluster.Set(boxes[0].target)
		return
	}
	low, high := boxes[0].near, boxes[0].near
	for _, b := range boxes {
		for d, x := range b.near {
			low[d], high[d] = min(low[d], x), max(high[d], x)
		}
	}
	widest := 0
	if high[1]-low[1] > high[0]-low[0] {
		widest = 1
	}
	slices.SortFunc(boxes, func(a, b boxTarget) int {
		return cmp.Or(cmp.Compare(a.near[widest], b.near[widest]), a.box-b.box)
	})
	middle := len(boxes) / 2
	l.branchOff(boxes[:middle])
	right := len(l.nodes)
	l.branchOff(boxes[middle:])
	n := &l.nodes[at]
	n.size = len(l.nodes) - at
	n.cluster.Join(&l.nodes[at+1].cluster, &l.nodes[right].cluster)
}

// sieve appends to left the places of the boxes of a rack in which the group at hand is
// not hopeless, in the order of the list.
func (w *worker) sieve(l *rack, g *group, aim *bass.Aim, left []int) []int {
	l.once.Do(func() { w.grow(l, g, aim) })
	w.face(g, aim)
	from := len(left)
	left = append(left, l.strange...)
	for i := 0; i < len(l.nodes); {
		n := &l.nodes[i]
		switch {
		case n.size == 1:
			if !w.prospect.Hopeless(n.target) {
				left = append(left, n.box)
			}
			i++
		case w.prospect.AllHopeless(&n.cluster):
			i += n.size
		default:
			i++
		}
	}
	slices.Sort(left[from:])
	return left
}
