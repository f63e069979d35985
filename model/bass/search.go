package bass

import "math"

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

const (
	// halvings of a cell of the lattice.
	halvings = 10
	// deepest is how often the first cell is halved beyond that, as long as
	// even its smallest travel is refused: the accuracy is relative to the
	// travel, however weak the drive.
	deepest = 30
)

// rival is a level to be beaten.
type rival struct {
	sound float64 // squared pressure; 0: none
	ties  bool    // an equal level beats it too
}

// beats tells whether a squared pressure wins.
func (r rival) beats(sound float64) bool {
	return sound > r.sound || (r.ties && sound == r.sound)
}

// crossing finds the largest travel u at point j, and the refused end of the
// last cell, where the limit that binds can be read. It gives up with ok =
// false as soon as the level cannot beat the rival: the answer lies below any
// refused travel of the lattice, in whatever order they are found.
func (p *Prepared) crossing(j int, b *bounds, r rival) (u, refused float64, ok bool) {
	low, high := 0, levels // allowed, refused
	var lower, upper state // their states
	var s state
	if r.sound > 0 {
		// The lattice point next below the travel that would equal the
		// rival: when it is refused, most points of a grid end here.
		need := math.Sqrt(r.sound / p.points[j].first)
		if len(p.loads) == 0 && need > b.overdrive {
			return 0, 0, false
		}
		n := int(min(need/levelStep, levels-1))
		for i := n; i > 0 && i < high && i <= n+1; i++ {
			v := float64(i) * levelStep
			p.at(j, v, b, &s)
			if b.allows(v, &s) {
				low, lower = i, s
				continue
			}
			if !r.beats(s.sound) {
				return 0, 0, false
			}
			high, upper = i, s
		}
	}
	for high-low > 1 {
		n := (low + high) / 2
		v := float64(n) * levelStep
		p.at(j, v, b, &s)
		if b.allows(v, &s) {
			low, lower = n, s
			continue
		}
		if !r.beats(s.sound) {
			return 0, 0, false
		}
		high, upper = n, s
	}
	if high == levels {
		p.at(j, mostTravel, b, &upper)
	}
	u, refused, ok = p.halve(j, low, high, lower, upper, b, r)
	if !ok {
		return 0, 0, false
	}
	// All points below must be allowed as well, else the cell is the first
	// one that ends refused.
	for n := 1; n < low; n++ {
		v := float64(n) * levelStep
		p.at(j, v, b, &upper)
		// Of the supply it is enough to know that it allows more voltage at
		// more power.
		easier := upper.open2 <= lower.open2 && upper.watts <= lower.watts
		if easier && b.passes(v, &upper) || !easier && b.allows(v, &upper) {
			continue
		}
		p.at(j, float64(n-1)*levelStep, b, &lower)
		return p.halve(j, n-1, n, lower, upper, b, r)
	}
	return u, refused, true
}

// halve narrows the cell between an allowed and a refused point of the
// lattice.
func (p *Prepared) halve(j, low, high int, lower, upper state, b *bounds, r rival) (u, refused float64, ok bool) {
	from, to := float64(low)*levelStep, float64(high)*levelStep
	var s state
	for n, depth := 0, 0; n < halvings; {
		if from > 0 || depth == deepest {
			n++
		} else {
			depth++
		}
		if !r.beats(upper.sound) {
			return 0, 0, false
		}
		middle := (from + to) / 2
		p.at(j, middle, b, &s)
		if b.allows(middle, &s) {
			from, lower = middle, s
		} else {
			to, upper = middle, s
		}
	}
	below, _ := b.strain(from, &lower)
	above, _ := b.strain(to, &upper)
	u = from
	if above > below { // an infinite strain keeps u at from
		u = from + (to-from)*min(1, max(0, (1-below)/(above-below)))
	}
	return u, to, true
}
