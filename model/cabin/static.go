package cabin

import "math"

// The static remainder: all modes' share of the pressure that does not depend
// on frequency, S(a,b) = sum over n != 0 of psi_n(a) psi_n(b) / (Lambda_n V
// k_n^2). It carries the flow that crowds around a hole (its inner end
// correction), which a sum of a few hundred modes misses by decibels. It is
// the potential of a source in a box: one axis sums in closed form, the other
// two converge, quickly where the patches are apart along the closed axis or
// have some width along the others.

// grid is a set of patches that is the product of spans along the three axes:
// the tiles of an opening, or a single piston or point.
type grid struct{ spans [3][]span }

func (g grid) count() int { return len(g.spans[0]) * len(g.spans[1]) * len(g.spans[2]) }

// index numbers the patch of three span indices.
func (g grid) index(i [3]int) int {
	return (i[0]*len(g.spans[1])+i[1])*len(g.spans[2]) + i[2]
}

const (
	// apartDigits: terms are dropped where exp(-g gap) falls below
	// exp(-apartDigits), 1e-8 of the first.
	apartDigits = 18
	// edgeReach is how many radians a tile's own half width must span at the
	// last index summed: the tail of 1/(n^2) type is then below 0.2 % of the
	// tile's own inertance, far less than a smaller tile changes it.
	edgeReach = 16
	// mostTerms bounds each index where neither helps: a point beside another,
	// whose sum converges only conditionally.
	mostTerms = 400
	// mostFine bounds each index where tiles are small but not points, and
	// mostProduct bounds the two together: holes a hundred times smaller than
	// their wall lose some of their inner inertance to it.
	mostFine    = 6000
	mostProduct = 800_000
)

// closedAxis chooses the axis to sum in closed form for a pair of grids, and
// the number of terms along the others: the cheapest of the three.
func (c Cavity) closedAxis(a, b grid) (axis int, terms [3]int) {
	best := math.Inf(1)
	for closed := range 3 {
		t := c.termsFor(a, b, closed)
		p, q := (closed+1)%3, (closed+2)%3
		cost := float64(t[p]) * float64(t[q]) * float64(len(a.spans[closed])*len(b.spans[closed]))
		if cost < best {
			best, axis, terms = cost, closed, t
		}
	}
	return axis, terms
}

func (c Cavity) termsFor(a, b grid, axis int) (terms [3]int) {
	size := c.lengths()
	gap := math.Inf(1)
	for _, s := range a.spans[axis] {
		for _, t := range b.spans[axis] {
			gap = math.Min(gap, s.gap(t))
		}
	}
	for i := range terms {
		if i == axis {
			continue
		}
		scale := size[i] / math.Pi
		n := float64(mostTerms)
		wa, wb := a.spans[i][0].width(), b.spans[i][0].width()
		if wa > 0 && wb > 0 {
			n = math.Min(mostFine, 2*edgeReach*scale/math.Sqrt(wa*wb))
		}
		terms[i] = int(math.Min(n, apartDigits*scale/gap)) + 2
	}
	p, q := (axis+1)%3, (axis+2)%3
	if product := float64(terms[p]) * float64(terms[q]); product > mostProduct {
		shrink := math.Sqrt(mostProduct / product)
		terms[p] = max(2, int(float64(terms[p])*shrink))
		terms[q] = max(2, int(float64(terms[q])*shrink))
	}
	return terms
}

// static is S for every patch of a (rows) with every patch of b, 1/m.
func (c Cavity) static(a, b grid) []float64 {
	axis, terms := c.closedAxis(a, b)
	return c.staticAlong(a, b, axis, terms)
}

func (c Cavity) staticAlong(a, b grid, axis int, terms [3]int) []float64 {
	size := c.lengths()
	p, q := (axis+1)%3, (axis+2)%3
	pp := pairProducts(a.spans[p], b.spans[p], size[p], terms[p])
	qp := pairProducts(a.spans[q], b.spans[q], size[q], terms[q])
	sum := make([]float64, a.count()*b.count())
	inner := make([]float64, len(qp.rows))
	distinct := make([]float64, len(pp.rows)*len(qp.rows))
	for ia, sa := range a.spans[axis] {
		for ib, sb := range b.spans[axis] {
			clear(distinct)
			for np := range terms[p] {
				c.innerSum(inner, qp.rows, sa, sb, axis, np, terms[q])
				for i, row := range pp.rows {
					x, to := row[np], distinct[i*len(inner):][:len(inner)]
					for j, f := range inner {
						to[j] += x * f
					}
				}
			}
			spread(sum, distinct, pp, qp, a, b, axis, ia, ib)
		}
	}
	return sum
}

// innerSum sums one row over the index along q, for each pair of spans there.
func (c Cavity) innerSum(inner []float64, qp [][]float64, sa, sb span, axis, np, terms int) {
	size := c.lengths()
	p, q := (axis+1)%3, (axis+2)%3
	gap := sa.gap(sb)
	kp, step := float64(np)*math.Pi/size[p], math.Pi/size[q]
	weight := twice(np) / (size[p] * size[q])
	clear(inner)
	for nq := range terms {
		kq := float64(nq) * step
		g := math.Sqrt(kp*kp + kq*kq)
		if g*gap > gone {
			break
		}
		var f float64
		if g == 0 {
			f = closedMeanAtZero(sa, sb, size[axis])
		} else {
			f = closedMean(sa, sb, size[axis], g)
		}
		f *= weight * twice(nq)
		for j, row := range qp {
			inner[j] += row[nq] * f
		}
	}
}

// spread puts the sums of distinct products where their pairs of patches are.
func spread(sum, distinct []float64, pp, qp products, a, b grid, axis, ia, ib int) {
	p, q := (axis+1)%3, (axis+2)%3
	var i, j [3]int
	i[axis], j[axis] = ia, ib
	for i[p] = range a.spans[p] {
		for j[p] = range b.spans[p] {
			from := distinct[pp.of(i[p], j[p])*len(qp.rows):]
			for i[q] = range a.spans[q] {
				row := a.index(i) * b.count()
				for j[q] = range b.spans[q] {
					sum[row+b.index(j)] = from[qp.of(i[q], j[q])]
				}
			}
		}
	}
}

// twice is the e of the cosine series: 1 for index 0, else 2.
func twice(n int) float64 {
	if n == 0 {
		return 1
	}
	return 2
}
