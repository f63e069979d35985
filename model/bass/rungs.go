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

// learnt is what is known of the rungs of one point, a bit for each. All fields
// are for package atomic; plain integers, since clearing those is cheap.
type learnt struct {
	claimed, filled uint32 // whether somebody fills it in, whether it is there
	asked, rising   uint32 // whether it is known if the cell above rises, whether it does
	risen           uint32 // see risesTo
	last            uint32 // the last answer's point of the lattice
}

// forget empties the memory for the points there are.
func (p *Prepared) forget() {
	p.moves = resize(p.moves, rungs*len(p.loads))
	p.learnt = resize(p.learnt, len(p.points))
	clear(p.learnt)
	p.best.Store(int32(p.seed))
}

// kept tells whether the move at a rung is there to be read.
func (p *Prepared) kept(j, r int) bool {
	return atomic.LoadUint32(&p.learnt[j].filled)>>r&1 != 0
}

// rung is travel at a rung.
func (p *Prepared) rung(j, r int, m *move) {
	if len(p.loads) == 0 {
		// Computing it again is as fast.
		p.points[j].travel(p.stiffening, rungTravel[r], m)
		return
	}
	if p.kept(j, r) {
		*m = p.moves[j*rungs+r]
		return
	}
	p.travel(j, rungTravel[r], m)
	if k := &p.learnt[j]; atomic.OrUint32(&k.claimed, 1<<r)>>r&1 == 0 {
		p.moves[j*rungs+r] = *m
		atomic.OrUint32(&k.filled, 1<<r)
	}
}

// stand is the whole chain at a rung.
func (p *Prepared) stand(j, r int, b *bounds, s *state) {
	p.rung(j, r, &s.move)
	b.feel(&p.points[j], rungTravel[r], s)
}
