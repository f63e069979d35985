package bass

import "sync/atomic"

// The largest travel up to which nothing is passed: the first crossing.
//
// The limits mostly tighten with travel, but not always: where a stiffening
// suspension comes to resonate with the mass, the current falls again (the
// jump of a Duffing resonator), and a travel beyond may be allowed although
// the cone cannot get there by turning up the gain. So the search goes up a
// fixed lattice of travels, finds the first one that is not allowed, halves the
// cell below it (always keeping one allowed and one refused end) a number of
// times that depends on nothing but the way taken, and in the last cell draws a
// line through the strain.
//
// This keeps the law that a better drive never gives less, whatever the
// functions do between the points. Let D' allow all that D allows. (1) Its
// first refused lattice point is the same or higher; if higher, all of its cell
// lies above D's. (2) In the same cell both halve at the same points until D'
// allows one that D refuses; then D' goes on above and D below. (3) In the same
// last cell, D' has the smaller strain at both ends, and the line through
// smaller strains reaches 1 later. The error of the line is below 1e-6 of the
// travel, for strains are nearly straight in amplitude; where the supply bends
// or gives way in just that cell, up to the cell's width, 1e-3 of the travel.
//
// The lattice does not depend on drive or limits, and the same holds for
// limits that are relaxed.
//
// All this is the definition. Where a cell is known to rise (rising.go) it has
// one crossing, and settle.go finds the same last cell with fewer looks.

const (
	// halvings of a cell of the lattice, and parts of it after them.
	halvings = 10
	parts    = 1 << halvings
	// deepest is how often the first cell is halved beyond that, as long as
	// even its smallest travel is refused: the accuracy is relative to the
	// travel, however weak the drive.
	deepest = 30
)

// rival is a level to be beaten.
type rival struct {
	sound float64 // squared pressure; 0: none
	root  float64 // of sound
	ties  bool    // an equal level beats it too
}

// beats tells whether a squared pressure wins.
func (r rival) beats(sound float64) bool {
	return sound > r.sound || (r.ties && sound == r.sound)
}

// top is where a point stops.
type top struct {
	u       float64 // largest travel
	refused float64 // upper end of the last cell, where the limit that binds can be read
	sound   float64 // squared pressure at u
	flow    float64 // through the port at u
}

// crossing finds the top of point j. It gives up with ok = false as soon as the
// level cannot beat the rival: the answer lies below any refused travel of the
// lattice, in whatever order they are found.
func (p *Prepared) crossing(j int, b *bounds, r rival) (t top, ok bool) {
	low, high := 0, levels // allowed, refused
	last := &p.learnt[j].last
	n := int(atomic.LoadUint32(last))
	if r.sound > 0 {
		if n, ok = p.below(j, b, r); !ok {
			return t, false
		}
		rung := octaves - 1 + n
		if n > 0 && p.kept(j, rung) && p.moves[j*rungs+rung].sound < r.sound && p.refuses(j, rung, b) {
			atomic.StoreUint32(&p.learnt[j].refused, uint32(rung))
			return t, false
		}
	}
	var s state
	for tried := 0; high-low > 1; tried++ {
		if tried > 1 || n <= low || n >= high {
			n = (low + high) / 2
		}
		rung := octaves - 1 + n
		if p.kept(j, rung) && p.refuses(j, rung, b) {
			s.sound = p.moves[j*rungs+rung].sound
		} else {
			p.stand(j, rung, b, &s)
			if b.allows(rungTravel[rung], &s) {
				low = n
				n++
				continue
			}
		}
		if !r.beats(s.sound) {
			atomic.StoreUint32(&p.learnt[j].refused, uint32(rung))
			return t, false
		}
		high = n
		n--
	}
	if n := uint32(low); n != atomic.LoadUint32(last) {
		atomic.StoreUint32(last, n)
	}
	if t, ok = p.narrow(j, low, b, r); !ok {
		return t, false
	}
	if low < 2 || p.risesTo(j, low) {
		return t, true
	}
	// All points below must be allowed as well, else the cell is the first
	// one that ends refused.
	for n := 1; n < low; n++ {
		p.stand(j, octaves-1+n, b, &s)
		if !b.allows(rungTravel[octaves-1+n], &s) {
			return p.narrow(j, n-1, b, r)
		}
	}
	return t, true
}

// below is the point of the lattice just below the travel that would equal the
// rival: when that is refused, as for most points of a grid, the search ends
// there. ok is false where even the largest travel cannot beat it.
func (p *Prepared) below(j int, b *bounds, r rival) (n int, ok bool) {
	need := r.root * p.points[j].need
	n = int(min(need*(1/levelStep), levels-1))
	if len(p.loads) == 0 {
		return n, need <= b.overdrive
	}
	// The port moves it. What was not looked at yet is not worth a look.
	kept, moves := atomic.LoadUint32(&p.learnt[j].filled), p.moves[j*rungs:(j+1)*rungs]
	for ; n < levels-1 && kept>>(octaves+n)&1 != 0 && moves[octaves+n].sound < r.sound; n++ {
	}
	for ; n > 1 && kept>>(octaves-1+n)&1 != 0 && moves[octaves-1+n].sound >= r.sound; n-- {
	}
	return n, true
}

// narrow goes on in the cell above point n of the lattice.
func (p *Prepared) narrow(j, n int, b *bounds, r rival) (t top, ok bool) {
	rung := octaves - 1 + n
	if n == 0 {
		// Down the octaves to the first that is allowed.
		var s state
		for ; rung >= 0; rung-- {
			p.stand(j, rung, b, &s)
			if b.allows(rungTravel[rung], &s) {
				break
			}
			if !r.beats(s.sound) {
				return t, false
			}
		}
	}
	if rung >= 0 && p.rises(j, rung) {
		return p.settle(j, rung, b, r)
	}
	return p.halve(j, rung, b, r)
}

// halve narrows the cell above a rung by the definition; that below all rungs
// when it is -1.
func (p *Prepared) halve(j, rung int, b *bounds, r rival) (t top, ok bool) {
	var lower, upper, s state
	from, to, depth := 0.0, rungTravel[rung+1], octaves
	p.stand(j, rung+1, b, &upper)
	var c cell
	if rung >= 0 {
		from = rungTravel[rung]
		p.stand(j, rung, b, &lower)
		p.cell(j, rung, &lower.move, &upper.move, &c)
	}
	for n := 0; n < halvings; {
		if from > 0 || depth == deepest {
			n++
		} else {
			depth++
		}
		if !r.beats(upper.sound) {
			return t, false
		}
		middle := (from + to) / 2
		if rung >= 0 {
			c.travel((middle-c.from)/c.part, &s.move)
			b.feel(c.o, middle, &s)
		} else {
			p.at(j, middle, b, &s)
		}
		if b.allows(middle, &s) {
			from, lower = middle, s
		} else {
			to, upper = middle, s
		}
	}
	below, _ := b.strain(from, &lower)
	above, _ := b.strain(to, &upper)
	t = top{u: between(from, to, below, above), refused: to}
	p.travel(j, t.u, &s.move)
	t.sound, t.flow = s.sound, s.flow
	return t, true
}

// between draws the line of the strain and says where it reaches 1.
func between(from, to, below, above float64) float64 {
	if above > below { // an infinite strain stays at from
		return from + (to-from)*min(1, max(0, (1-below)/(above-below)))
	}
	return from
}
