package driver

import "math"

// Gauss-Jordan elimination of the product identities, small enough to live on
// the stack.

// rows of the system: every identity but that of the Qs.
const rows = numIdentities - 1

// row says that the sum of weight times the unknown logarithms is right.
type row struct {
	weight [quantities]float64
	right  float64
	share  [rows]float64 // how much of each identity is in this row
}

type system [rows]row

// pivotFloor guards the elimination against taking rounding noise for a
// pivot: all weights are multiples of 1/2 of size 3 at most, and so are all
// minors, within a small factor.
const pivotFloor = 1e-9

// system writes the product identities with the known values moved to the
// right.
func (s *state) system() (m system) {
	for i := range m {
		id := i + 1
		m[i].share[i] = 1
		m[i].right = s.k[id]
		for q, w := range identities[id].weight {
			if s.known.has(q) {
				m[i].right -= w * s.log[q]
			} else {
				m[i].weight[q] = w
			}
		}
	}
	return m
}

// reduce brings the system to reduced row echelon form, in which an unknown is
// determined exactly if its row holds no other. It returns the rank: rows
// beyond it hold nothing.
func (m *system) reduce() int {
	rank := 0
	for q := range quantities {
		if rank == rows {
			break
		}
		best := rank
		for i := rank; i < rows; i++ {
			if math.Abs(m[i].weight[q]) > math.Abs(m[best].weight[q]) {
				best = i
			}
		}
		if math.Abs(m[best].weight[q]) < pivotFloor {
			continue
		}
		m[rank], m[best] = m[best], m[rank]
		m[rank].add(&m[rank], 1/m[rank].weight[q]-1)
		for i := range m {
			if i != rank {
				m[i].add(&m[rank], -m[i].weight[q])
			}
		}
		rank++
	}
	return rank
}

// add adds factor times another row, or itself, to the row.
func (r *row) add(other *row, factor float64) {
	if factor == 0 {
		return
	}
	for q := range r.weight {
		r.weight[q] += factor * other.weight[q]
	}
	r.right += factor * other.right
	for j := range r.share {
		r.share[j] += factor * other.share[j]
	}
}
