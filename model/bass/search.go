package bass

import "math"

// The largest travel up to which nothing is passed: the first crossing.
//
// The limits mostly tighten with travel, but not always: where a stiffening
// suspension comes to resonate with the mass, the current falls again (the
// jump of a Duffing resonator), and a travel beyond may be allowed although
// the cone cannot get there by turning up the gain. So the search goes up a
// fixed lattice of travels, finds the first one that is not allowed, halves the
// cell below it a fixed number of times, always keeping (allowed, not
// allowed), and in the last cell draws a line through the strain.
//
// This keeps the law that a better drive never gives less, whatever the
// functions do between the points. Let D' allow all that D allows. (1) Its
// first refused lattice point is the same or higher; if higher, all of its cell
// lies above D's. (2) In the same cell both halve at the same points until D'
// allows one that D refuses; then D' goes on above and D below. (3) In the same
// last cell, D' has the smaller strain at both ends, and the line through
// smaller strains reaches 1 later. The error of the line is below 1e-6 of the
// travel, for strains are nearly straight in amplitude.
//
// The lattice does not depend on drive or limits, and the same holds for
// limits that are relaxed.

const halvings = 8 // of a cell of the lattice

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
// false as soon as the level cannot beat the rival.
func (p *Prepared) crossing(j int, b *bounds, r rival) (u, refused float64, ok bool) {
	var s state
	low, high := 0, levels // allowed, refused
	var lowOpen2, lowWatts float64
	probe := func(n int) bool {
		p.at(j, float64(n)*levelStep, b, &s)
		if b.allows(float64(n)*levelStep, &s) {
			low, lowOpen2, lowWatts = n, s.open2, s.watts
			return true
		}
		high = n
		return false
	}
	if r.sound > 0 {
		// The lattice point next below the travel that would equal the
		// rival: when it is refused, most points of a grid end here.
		need := math.Sqrt(r.sound / p.points[j].first)
		if len(p.loads) == 0 && need > b.overdrive {
			return 0, 0, false
		}
		if n := int(min(need/levelStep, levels-1)); n > 0 {
			if !probe(n) {
				if !r.beats(s.sound) {
					return 0, 0, false
				}
			} else if n+1 < high {
				probe(n + 1)
			}
		}
	}
	for high-low > 1 {
		probe((low + high) / 2)
	}
	// All below must be allowed as well. Of the supply it is enough to know
	// that it allows more voltage at more power.
	for n := 1; n < low; n++ {
		v := float64(n) * levelStep
		p.at(j, v, b, &s)
		easier := s.open2 <= lowOpen2 && s.watts <= lowWatts
		if easier && b.passes(v, &s) || !easier && b.allows(v, &s) {
			continue
		}
		low, high = n-1, n
		break
	}
	return p.halve(j, float64(low)*levelStep, float64(high)*levelStep, b, r)
}

// halve narrows the cell between an allowed and a refused travel.
func (p *Prepared) halve(j int, from, to float64, b *bounds, r rival) (u, refused float64, ok bool) {
	var s state
	p.at(j, to, b, &s)
	for range halvings {
		if !r.beats(s.sound) {
			return 0, 0, false
		}
		middle := (from + to) / 2
		var m state
		p.at(j, middle, b, &m)
		if b.allows(middle, &m) {
			from = middle
		} else {
			to, s = middle, m
		}
	}
	above, _ := b.strain(to, &s)
	p.at(j, from, b, &s)
	below, _ := b.strain(from, &s)
	u = from
	if above > below { // an infinite strain keeps u at from
		u = from + (to-from)*min(1, max(0, (1-below)/(above-below)))
	}
	return u, to, true
}
