package bass

import "sync/atomic"

// What is learnt while answering. Every search looks at the same travels first,
// the rungs: the lattice of search.go and a few octaves below it. The cone, the
// port, the current and the sound there are the same for every amplifier, and
// in a ported box finding them takes most of the time of a look. So each is
// kept once it was asked for. All of them would be far too many: most points of a
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
	refused         uint32 // the rung at which the point was last refused, or 0
}

// forget empties the memory for the points there are.
func (p *Prepared) forget() {
	p.moves = resize(p.moves, rungs*len(p.points))
	p.learnt = resize(p.learnt, len(p.points))
	clear(p.learnt)
	p.best.Store(int32(p.seed))
}

// held is what is kept of a rung.
type held struct {
	move
	current2, voltage2, power float64 // of a cold coil: |I|^2, |U|^2, Re(U I*)
}

// hopeless tells, from what was learnt and without any division, that point j
// cannot beat a rival. It says no more than that where it says no. Heat and the
// supply only make things worse than it takes them.
func (p *Prepared) hopeless(j int, b *bounds, sound float64) bool {
	if len(p.loads) == 0 && b.overdrive*b.overdrive*rounding*p.points[j].output < sound {
		return true
	}
	last := &p.learnt[j].refused
	r := int(atomic.LoadUint32(last))
	if r == 0 || !p.kept(j, r) {
		return false // whoever was refused there may not be the one who fills it in
	}
	if p.moves[j*rungs+r].sound >= sound {
		r--
	} else if p.refuses(j, r, b) {
		return true
	} else {
		r++
	}
	// The rung beside it, of the lattice and known.
	if r < octaves || r == rungs || !p.kept(j, r) || p.moves[j*rungs+r].sound >= sound || !p.refuses(j, r, b) {
		return false
	}
	atomic.StoreUint32(last, uint32(r))
	return true
}

// refuses tells that the travel at a rung that is kept is not allowed.
func (p *Prepared) refuses(j, r int, b *bounds) bool {
	h := &p.moves[j*rungs+r]
	return h.voltage2+b.resistance*(2*h.power+b.resistance*h.current2) > b.unloaded2 ||
		rungTravel[r] > b.overdrive || h.current2 > b.cold2 || h.flow > b.flow
}

// kept tells whether the move at a rung is there to be read.
func (p *Prepared) kept(j, r int) bool {
	return atomic.LoadUint32(&p.learnt[j].filled)>>r&1 != 0
}

// rung is travel at a rung.
func (p *Prepared) rung(j, r int, m *move) {
	if p.kept(j, r) {
		*m = p.moves[j*rungs+r].move
		return
	}
	p.travel(j, rungTravel[r], m)
	if k := &p.learnt[j]; atomic.OrUint32(&k.claimed, 1<<r)>>r&1 == 0 {
		h := &p.moves[j*rungs+r]
		h.move = *m
		h.current2, h.voltage2, h.power = p.cold(j, rungTravel[r], m)
		atomic.OrUint32(&k.filled, 1<<r)
	}
}

// stand is the whole chain at a rung.
func (p *Prepared) stand(j, r int, b *bounds, s *state) {
	p.rung(j, r, &s.move)
	b.feel(&p.points[j], rungTravel[r], s)
}
