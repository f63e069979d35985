package optimizer

import (
	"cmp"
	"math"
	"slices"
)

// For music a block says what it needs: at least so much voltage, whatever the
// current, and at least so much current, whatever the voltage (bass.Glance.Least).
// Nearly all pairs fall short of one or the other, or cost too much, and to find
// the few that do not takes no more than to compare numbers. So the pairs of a
// class stand in a row, by what they cost with the cheapest kit.

// row is some pairs of a class by price without the rest, in columns.
type row struct {
	pairs    []int
	bares    []int64
	open2    []float64 // squared voltage of the idle supply for one coil, peak
	current2 []float64
	spare    []bool
	most2    []float64 // of open2 so far
	flow2    []float64 // of current2 so far
	least    float64   // resistance
}

// line puts pairs in a row.
func (t *task) line(c *class, which []int) (r row) {
	r.least = math.Inf(1)
	r.pairs = slices.Clone(which)
	slices.SortStableFunc(r.pairs, func(a, b int) int { return cmp.Compare(c.pairs[a].bare, c.pairs[b].bare) })
	most, flow := 0.0, 0.0
	for _, i := range r.pairs {
		p := &c.pairs[i]
		d := p.felt.drive(1)
		d.Feed = t.feed
		open2, current2 := d.Idle()
		most, flow = max(most, open2), max(flow, current2)
		r.bares = append(r.bares, p.bare)
		r.open2, r.current2, r.spare = append(r.open2, open2), append(r.current2, current2), append(r.spare, p.spare)
		r.most2, r.flow2 = append(r.most2, most), append(r.flow2, flow)
		r.least = min(r.least, p.felt.resistance)
	}
	return r
}

// rowOf is the row of all pairs of a class.
func (t *task) rowOf(c *class) *row {
	c.rowOnce.Do(func() { c.row = t.line(c, c.all()) })
	return &c.row
}

// window is from where and up to where in the row there can be pairs with a
// voltage and a current, for a sum.
func (r *row) window(open2, current2 float64, sum int64) (from, to int) {
	to, _ = slices.BinarySearch(r.bares, sum+1)
	if to == 0 || r.most2[to-1] < open2 || r.flow2[to-1] < current2 {
		return to, to
	}
	from, _ = slices.BinarySearch(r.most2[:to], open2)
	at, _ := slices.BinarySearch(r.flow2[:to], current2)
	return max(from, at), to
}

// treadRow is the row of a tread.
func (t *task) treadRow(c *class, i int) *row {
	x := &c.treads[i]
	x.rowOnce.Do(func() {
		which := make([]int, x.to-x.from)
		for k := range which {
			which[k] = x.from + k
		}
		x.row = t.line(c, which)
	})
	return &x.row
}
