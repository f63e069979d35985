package cabin

import (
	"math"
	"slices"
)

// system is the linear system of one geometry: a source, a receiver and the
// tiles of the openings, all coupled through the shut cavity, and the tiles of
// one wall through the air outside as well. Each tile passes volume velocity
// U_t against its outer impedance Z:
//
//	(Z + G_tt) U = G_ts U_s,   p_r = G_rs U_s - G_rt U,   p_s = G_ss U_s - G_st U
//
// Doors and windows mostly stand open on both sides alike. With A what the tiles of
// one side do to each other and B what those of the other side do to them, the
// matrix is then [A B; B A], and falls apart into A + B, by which the sums of the
// flows of both sides are found, and A - B for their differences: a quarter of the
// work, and one side less to couple.
type system struct {
	cavity   Cavity
	modes    modes
	pairs    []pair
	outside  outside
	n        int // tiles
	mirrored bool
	order    int // of the matrix: n, or half of it
}

// workspace is what one frequency is worked out in.
type workspace struct {
	weight     []complex128 // of the modes
	scratch    scratch
	sums       []complex128 // of one pair
	matrix     []complex128 // Z + G_tt, or A
	across     []complex128 // B
	toSource   []complex128
	toReceiver []complex128
	flow       []complex128
	smooth     []complex128
	rs, ss     complex128 // receiver and source with source
	order      int
}

// pair is two grids and what G needs of them.
type pair struct {
	kind       int // sourceSource and so on
	row, col   int // first tile of each
	rows, cols int
	mirror     bool // put the transpose in the matrix too
	static     []float64
	sums       *contraction
}

const (
	sourceSource = iota
	receiverSource
	tileSource
	tileReceiver
	tileTile
	tileAcross
)

func (c Cavity) system(source, receiver Patch, openings []Opening, tiles int, hz []float64) *system {
	top := float64(cutoff)
	for _, f := range hz {
		top = math.Max(top, cutoffRatio*f)
	}
	s := &system{cavity: c, modes: c.modes(top, openings)}
	from, to := patchGrid(source), patchGrid(receiver)
	s.addPair(sourceSource, from, from, 0, 0)
	s.pairs[0].static[0] -= c.openSelf(source)
	s.addPair(receiverSource, to, from, 0, 0)

	openings, s.mirrored = paired(openings)
	own := len(openings) // those of one side
	if s.mirrored {
		own /= 2
	}
	grids := make([]grid, len(openings))
	var all []tile
	for i, o := range openings {
		var list []tile
		grids[i], list = c.tiles(o, tiles)
		o.hung(list, i)
		all = append(all, list...)
	}
	each := tiles * tiles
	for i, g := range grids {
		s.addPair(tileSource, g, from, i*each, 0)
		s.addPair(tileReceiver, g, to, i*each, 0)
		for j := range min(i+1, own) {
			if i < own {
				s.addPair(tileTile, g, grids[j], i*each, j*each)
			} else {
				s.addPair(tileAcross, g, grids[j], (i-own)*each, j*each)
			}
		}
	}
	s.n, s.order = len(all), own*each
	s.outside = newOutside(all[:s.order], c.Ground)
	return s
}

// paired puts the openings of the left side first and their images after them, if
// each has one and there are no others.
func paired(openings []Opening) ([]Opening, bool) {
	var left, right []Opening
	for _, o := range openings {
		image := o
		image.Wall = Right
		if o.Wall == Left && slices.Contains(openings, image) {
			left, right = append(left, o), append(right, image)
		}
	}
	if len(left) == 0 || len(left)+len(right) != len(openings) {
		return openings, false
	}
	return append(left, right...), true
}

func (s *system) addPair(kind int, a, b grid, row, col int) {
	s.pairs = append(s.pairs, pair{
		kind: kind, row: row, col: col, rows: a.count(), cols: b.count(),
		mirror: kind == tileTile && row != col,
		static: s.cavity.static(a, b),
		sums:   s.cavity.contraction(a, b, s.modes),
	})
}

func (s *system) workspace() *workspace {
	w := &workspace{weight: make([]complex128, len(s.modes.square)), order: s.order}
	most := 1
	for _, p := range s.pairs {
		most = max(most, p.rows*p.cols)
		w.scratch.fit(p.sums)
	}
	w.sums = make([]complex128, most)
	w.matrix = make([]complex128, s.order*s.order)
	if s.mirrored {
		w.across = make([]complex128, len(w.matrix))
	}
	w.toSource, w.toReceiver = make([]complex128, s.n), make([]complex128, s.n)
	w.flow = make([]complex128, s.n)
	w.smooth = make([]complex128, len(s.outside.distance))
	return w
}

// at gives the transfer and the back-action at one frequency.
func (s *system) at(hz float64, in *workspace) (transfer, back complex128) {
	w := 2 * math.Pi * hz
	k := w / s.cavity.Air.SoundSpeed
	s.modes.weigh(in.weight, k, s.cavity.losses(hz))
	for i := range s.pairs {
		in.couple(&s.pairs[i], w*s.cavity.Air.Density)
	}
	if s.n == 0 {
		return in.rs, in.ss
	}
	s.outside.add(in.matrix, in.smooth, w, s.cavity.Air.Density, k)
	return s.answer(in)
}

// answer solves for the flows.
func (s *system) answer(in *workspace) (transfer, back complex128) {
	if s.mirrored {
		fold(in.toSource)
		fold(in.toReceiver)
		for i, a := range in.matrix {
			b := in.across[i]
			in.matrix[i], in.across[i] = a+b, a-b
		}
	}
	copy(in.flow, in.toSource)
	solve(in.matrix, in.flow[:s.order], s.order)
	if s.mirrored {
		solve(in.across, in.flow[s.order:], s.order)
	}
	return in.rs - dot(in.toReceiver, in.flow), in.ss - dot(in.toSource, in.flow)
}

// fold turns the halves of a vector into their sum and difference, over the root of
// two, so that products of two vectors stay what they were.
func fold(v []complex128) {
	left, right := v[:len(v)/2], v[len(v)/2:]
	for i, a := range left {
		left[i], right[i] = times(math.Sqrt2/2, a+right[i]), times(math.Sqrt2/2, a-right[i])
	}
}

// couple computes G, j times factor times the sums, for one pair of grids and
// puts it where it belongs.
func (in *workspace) couple(p *pair, factor float64) {
	p.sums.sum(in.sums, in.weight, &in.scratch)
	g := func(i int) complex128 {
		sum := in.sums[i]
		return complex(-factor*imag(sum), factor*(p.static[i]+real(sum)))
	}
	switch p.kind {
	case sourceSource:
		in.ss = g(0)
	case receiverSource:
		in.rs = g(0)
	case tileSource, tileReceiver:
		column := in.toSource
		if p.kind == tileReceiver {
			column = in.toReceiver
		}
		for i := range p.rows {
			column[p.row+i] = g(i)
		}
	case tileTile, tileAcross:
		to := in.matrix
		if p.kind == tileAcross {
			to = in.across
		}
		for i := range p.rows {
			for j := range p.cols {
				v := g(i*p.cols + j)
				to[(p.row+i)*in.order+p.col+j] = v
				if p.mirror {
					to[(p.col+j)*in.order+p.row+i] = v
				}
			}
		}
	}
}

// openSelf is the mass that a piston feels in the open, in terms of S: the
// mean of 1/(4 pi r) over itself, twice that in a wall, where its image is. What
// is no piston has no moving mass that could include it.
func (c Cavity) openSelf(p Patch) float64 {
	u, v, ok := flat(p)
	if !ok {
		return 0
	}
	g := patchGrid(p)
	su, sv := g.spans[u][0], g.spans[v][0]
	mean := inverseDistanceMean(su, su, sv, sv) / (4 * math.Pi)
	normal := 3 - u - v
	at := p.Center.axes()[normal]
	if at < touch || at > c.lengths()[normal]-touch {
		mean *= 2
	}
	return mean
}

func patchGrid(p Patch) grid {
	var g grid
	at, size := p.Center.axes(), p.Size.axes()
	for i := range at {
		g.spans[i] = []span{{at[i] - size[i]/2, at[i] + size[i]/2}}
	}
	return g
}

// tiles splits an opening into n by n tiles, in the order of the grid.
func (c Cavity) tiles(o Opening, n int) (grid, []tile) {
	var g grid
	u, v := o.Wall.plane()
	normal := o.Wall.normal()
	at := 0.0
	if o.Wall.far() {
		at = c.lengths()[normal]
	}
	g.spans[normal] = []span{{at, at}}
	g.spans[u], g.spans[v] = split(o.U, o.Width, n), split(o.V, o.Height, n)
	list := make([]tile, 0, n*n)
	for _, su := range g.spans[u] {
		for _, sv := range g.spans[v] {
			list = append(list, tile{wall: o.Wall, u: su, v: sv})
		}
	}
	return g, list
}

func split(from, length float64, n int) []span {
	spans := make([]span, n)
	for i := range spans {
		spans[i] = span{from + length*float64(i)/float64(n), from + length*float64(i+1)/float64(n)}
	}
	return spans
}
