package cabin

import "math"

// system is the linear system of one geometry: a source, a receiver and the
// tiles of the openings, all coupled through the shut cavity, and the tiles of
// one wall through the air outside as well. Each tile passes volume velocity
// U_t against its outer impedance Z:
//
//	(Z + G_tt) U = G_ts U_s,   p_r = G_rs U_s - G_rt U,   p_s = G_ss U_s - G_st U
type system struct {
	cavity  Cavity
	modes   modes
	pairs   []pair
	outside outside
	n       int // tiles

	re, im       []float64    // mode weights
	sumRe, sumIm []float64    // one pair's sums
	matrix       []complex128 // Z + G_tt
	toSource     []complex128
	toReceiver   []complex128
	flow         []complex128
	smooth       []complex128
	rs, ss       complex128 // receiver and source with source
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

	grids := make([]grid, len(openings))
	var all []tile
	for i, o := range openings {
		var list []tile
		grids[i], list = c.tiles(o, tiles)
		all = append(all, list...)
	}
	each := tiles * tiles
	for i, g := range grids {
		s.addPair(tileSource, g, from, i*each, 0)
		s.addPair(tileReceiver, g, to, i*each, 0)
		for j := range i + 1 {
			s.addPair(tileTile, g, grids[j], i*each, j*each)
		}
	}
	s.outside = newOutside(all)
	s.n = len(all)
	s.allocate()
	return s
}

func (s *system) addPair(kind int, a, b grid, row, col int) {
	s.pairs = append(s.pairs, pair{
		kind: kind, row: row, col: col, rows: a.count(), cols: b.count(),
		mirror: kind == tileTile && row != col,
		static: s.cavity.static(a, b),
		sums:   s.cavity.contraction(a, b, s.modes),
	})
}

func (s *system) allocate() {
	s.re, s.im = make([]float64, len(s.modes.square)), make([]float64, len(s.modes.square))
	most := 1
	for _, p := range s.pairs {
		most = max(most, p.rows*p.cols)
	}
	s.sumRe, s.sumIm = make([]float64, most), make([]float64, most)
	s.matrix = make([]complex128, s.n*s.n)
	s.toSource, s.toReceiver = make([]complex128, s.n), make([]complex128, s.n)
	s.flow = make([]complex128, s.n)
	s.smooth = make([]complex128, len(s.outside.distance))
}

// at gives the transfer and the back-action at one frequency.
func (s *system) at(hz float64) (transfer, back complex128) {
	w := 2 * math.Pi * hz
	k := w / s.cavity.Air.SoundSpeed
	s.modes.weigh(s.re, s.im, k)
	for i := range s.pairs {
		s.couple(&s.pairs[i], complex(0, w*s.cavity.Air.Density))
	}
	if s.n == 0 {
		return s.rs, s.ss
	}
	s.outside.add(s.matrix, s.smooth, w, s.cavity.Air.Density, k)
	copy(s.flow, s.toSource)
	solve(s.matrix, s.flow, s.n)
	return s.rs - dot(s.toReceiver, s.flow), s.ss - dot(s.toSource, s.flow)
}

// couple computes G for one pair of grids and puts it where it belongs.
func (s *system) couple(p *pair, factor complex128) {
	p.sums.sum(s.sumRe, s.re)
	p.sums.sum(s.sumIm, s.im)
	g := func(i int) complex128 { return factor * complex(p.static[i]+s.sumRe[i], s.sumIm[i]) }
	switch p.kind {
	case sourceSource:
		s.ss = g(0)
	case receiverSource:
		s.rs = g(0)
	case tileSource, tileReceiver:
		column := s.toSource
		if p.kind == tileReceiver {
			column = s.toReceiver
		}
		for i := range p.rows {
			column[p.row+i] = g(i)
		}
	case tileTile:
		for i := range p.rows {
			for j := range p.cols {
				v := g(i*p.cols + j)
				s.matrix[(p.row+i)*s.n+p.col+j] = v
				if p.mirror {
					s.matrix[(p.col+j)*s.n+p.row+i] = v
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
			list = append(list, tile{o.Wall, su, sv})
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
