package bass

import "sync/atomic"

// What is learnt while answering. Every search looks at the same travels first,
// the rungs: the lattice of search.go and a few octaves below it. The cone, the
// port, the current and the sound there are the same for every amplifier, and
// in a ported box finding them takes four fifths of a look. So each is kept
// once it was asked for. All of them would be far too many: most points of a
// grid are refused after a look at one rung.
//
// What is kept is a function of the setup alone, and each entry is written by
// one goroutine before its bit says that it is there. So answers depend neither
// on what was asked before nor on who asks at the same time.

const (
	octaves = 3                // rungs below the lattice
	rungs   = octaves + levels // the last is mostTravel
)

// rungTravel is the travel of each rung, Xmax.
var rungTravel = func() (u [rungs]float64) {
	for n := 1; n <= levels; n++ {
		u[octaves-1+n] = float64(n) * levelStep
	}
	for r := octaves - 1; r >= 0; r-- {
		u[r] = u[r+1] / 2
	}
	return u
}()

// learnt is what is known of the rungs of one point, a bit for each.
type learnt struct {
	claimed atomic.Uint32 // somebody fills it in
	filled  atomic.Uint32
	asked   atomic.Uint32 // whether the cell above it rises
	rising  atomic.Uint32
	// risen is the rung up to which the lattice is known to rise, steep
	// whether it falls after that.
	risen atomic.Uint32
}

// forget empties the memory for the points there are.
func (p *Prepared) forget() {
	p.moves = resize(p.moves, rungs*len(p.points))
	p.learnt = resize(p.learnt, len(p.points))
	for j := range p.learnt {
		k := &p.learnt[j]
		k.claimed.Store(0)
		k.filled.Store(0)
		k.asked.Store(0)
		k.rising.Store(0)
		k.risen.Store(0)
	}
	p.best.Store(int32(p.seed))
}

// rung is travel at a rung.
func (p *Prepared) rung(j, r int, m *move) {
	if p.learnt[j].filled.Load()>>r&1 != 0 {
		*m = p.moves[j*rungs+r]
		return
	}
	p.travel(j, rungTravel[r], m)
	if len(p.loads) == 0 {
		return // computing it again is as fast
	}
	if k := &p.learnt[j]; k.claimed.Or(1<<r)>>r&1 == 0 {
		p.moves[j*rungs+r] = *m
		k.filled.Or(1 << r)
	}
}

// stand is the whole chain at a rung.
func (p *Prepared) stand(j, r int, b *bounds, s *state) {
	p.rung(j, r, &s.move)
	b.feel(&p.points[j], rungTravel[r], s)
}
