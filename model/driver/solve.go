package driver

import (
	"math"
	"math/bits"
)

// Propagation of what is known. Each identity with a single unknown gives that
// unknown; passes in the fixed order of the identities go on until nothing
// moves. That finds everything a person finds with a pocket calculator, and
// leaves a trail that can be told: which identities, from which stated values.
//
// It does not find everything there is. From fs, Sd, Re, Bl and the
// sensitivity follows the moving mass, yet every identity then lacks two
// numbers at once (Mms and Cms, or Vas and Qes). So when propagation stalls
// the identities are solved together: Gauss-Jordan elimination of the product
// identities in their logarithms, which finds a quantity exactly if the known
// ones determine it. Qms and Qts occur in no product identity, so the
// identity of the Qs never needs to be solved together with another.

// origin tells where a known value came from.
type origin struct {
	roots set // the stated or assumed quantities that it rests on
	trail set // the identities that it was reached through
	last  int // the last of them, or one of the marks below
}

const (
	entered  = -1 // not derived: stated or assumed
	together = -2 // several identities at once
)

// merge adds the origin of a value that this one was computed from.
func (o *origin) merge(other *origin) {
	o.roots |= other.roots
	o.trail |= other.trail
}

// state is what is known so far.
type state struct {
	k      *constants
	log    [quantities]float64
	known  set
	origin [quantities]origin
}

// put enters a stated or assumed value.
func (s *state) put(q quantity, log float64) {
	s.log[q] = log
	s.known = s.known.with(int(q))
	s.origin[q] = origin{roots: only(q), last: entered}
}

// close derives all that follows. It reports false when the known values admit
// no solution at all; s is then partly filled and of no use.
func (s *state) close() bool {
	for {
		moved, ok := s.propagate()
		if !ok {
			return false
		}
		if !moved && !s.eliminate() {
			return true
		}
	}
}

// propagate makes one pass over the identities.
func (s *state) propagate() (moved, ok bool) {
	for id := range identities {
		missing := identities[id].uses.minus(s.known)
		if bits.OnesCount16(uint16(missing)) != 1 {
			continue
		}
		q := lowest(missing)
		value, possible := s.k.solve(id, q, &s.log)
		if !possible {
			return moved, false
		}
		from := origin{trail: set(0).with(id), last: id}
		for i := range quantities {
			if i != q && identities[id].uses.has(int(i)) {
				from.merge(&s.origin[i])
			}
		}
		s.log[q], s.origin[q] = value, from
		s.known = s.known.with(int(q))
		moved = true
	}
	return moved, true
}

// eliminate solves the product identities together and enters every quantity
// that they determine. It reports whether there was any.
func (s *state) eliminate() bool {
	m := s.system()
	known := s.known
	for i := range m.reduce() {
		q, alone := soleUnknown(&m[i].weight)
		if !alone {
			continue
		}
		from := origin{last: together}
		for j, share := range m[i].share {
			if math.Abs(share) < pivotFloor {
				continue
			}
			from.trail = from.trail.with(j + 1)
			for u := range quantities {
				if known.has(int(u)) && identities[j+1].uses.has(int(u)) {
					from.merge(&s.origin[u])
				}
			}
		}
		s.log[q], s.origin[q] = m[i].right, from
		s.known = s.known.with(int(q))
	}
	return s.known != known
}

// soleUnknown is the only quantity left in a row, if there is but one.
func soleUnknown(weight *[quantities]float64) (quantity, bool) {
	found, count := quantity(0), 0
	for q, w := range weight {
		if math.Abs(w) > pivotFloor {
			found = quantity(q)
			count++
		}
	}
	return found, count == 1
}

func lowest(s set) quantity { return quantity(bits.TrailingZeros16(uint16(s))) }

func highest(s set) quantity { return quantity(bits.Len16(uint16(s)) - 1) }
