package cabin

import "math"

// The modes carry what depends on frequency. Patches are products of spans, so
// the sum over modes of psi(a) psi(b) w is contracted one axis at a time over
// all pairs of two grids at once: for two doors of 36 tiles that is some ten
// thousand multiplications a frequency instead of several hundred thousand.

const (
	// cutoff is the frequency, Hz, up to which modes are summed; with the
	// static remainder 600 Hz gives 0.01 dB shut and 0.1 dB at the sharpest
	// resonance of a window (computed).
	cutoff = 600
	// cutoffRatio keeps the cutoff above the highest frequency asked for: the
	// share of a mode that the remainder leaves out is (f/f_n)^2 of its own.
	cutoffRatio = 2.5
	// rigidQ is the Q of every mode of rigid walls: viscosity and heat at any
	// real wall hold it below that, and it keeps resonances finite.
	rigidQ = 1e4
)

// modes is the rectangle of mode indices below the cutoff.
type modes struct {
	number [3]int
	square []float64 // k_n^2, in the order of the indices, last axis fastest
	scale  []float64 // 1 / (Lambda_n V)
	walls  []float64 // beta S_n / V, 1/m
}

func (c Cavity) modes(top float64, openings []Opening) modes {
	size := c.lengths()
	var m modes
	for i, l := range size {
		m.number[i] = int(2*l*top/c.Air.SoundSpeed) + 1
	}
	for i := range m.number[0] {
		for j := range m.number[1] {
			for k := range m.number[2] {
				n := [3]int{i, j, k}
				square := 0.0
				for a, l := range size {
					kn := float64(n[a]) * math.Pi / l
					square += kn * kn
				}
				m.square = append(m.square, square)
				m.scale = append(m.scale, twice(i)*twice(j)*twice(k)/c.Volume())
				m.walls = append(m.walls, c.Admittance*c.pressed(n, openings)/c.Volume())
			}
		}
	}
	return m
}

// weigh fills re and im with (1/D_n - 1/k_n^2) / (Lambda_n V), D_n = k_n^2 -
// k^2 + j k (beta S_n / V + k_n / rigidQ); the uniform mode, whose 1/k_n^2 is
// not part of the remainder, has 1/D_0 alone.
func (m modes) weigh(re, im []float64, k float64) {
	for i, square := range m.square {
		loss := k * m.walls[i]
		var w complex128
		if i == 0 {
			w = 1 / complex(-k*k, loss+k*k/rigidQ)
		} else {
			loss += k * math.Sqrt(square) / rigidQ
			w = complex(k*k, -loss) / complex(square*(square-k*k), square*loss)
		}
		re[i], im[i] = real(w)*m.scale[i], imag(w)*m.scale[i]
	}
}

// contraction sums modes over all pairs of patches of two grids.
type contraction struct {
	order    [3]int         // axes, fewest pairs of spans first
	products [3][][]float64 // per axis, per pair of spans, per index
	strides  [3]int         // of the mode indices
	number   [3]int         // of modes along each axis
	target   []int          // where each sum belongs: row*columns + column
	first    []float64      // scratch
	second   []float64      // scratch
}

func (c Cavity) contraction(a, b grid, m modes) *contraction {
	size := c.lengths()
	k := &contraction{number: m.number, order: [3]int{0, 1, 2}}
	k.strides = [3]int{m.number[1] * m.number[2], m.number[2], 1}
	for i := range size {
		k.products[i] = pairProducts(a.spans[i], b.spans[i], size[i], m.number[i])
	}
	// Insertion sort of three axes, stable.
	for i := 1; i < 3; i++ {
		for j := i; j > 0 && len(k.products[k.order[j]]) < len(k.products[k.order[j-1]]); j-- {
			k.order[j], k.order[j-1] = k.order[j-1], k.order[j]
		}
	}
	p, q, r := k.order[0], k.order[1], k.order[2]
	for ip := range k.products[p] {
		for iq := range k.products[q] {
			for ir := range k.products[r] {
				var i, j [3]int
				i[p], j[p] = ip/len(b.spans[p]), ip%len(b.spans[p])
				i[q], j[q] = iq/len(b.spans[q]), iq%len(b.spans[q])
				i[r], j[r] = ir/len(b.spans[r]), ir%len(b.spans[r])
				k.target = append(k.target, a.index(i)*b.count()+b.index(j))
			}
		}
	}
	k.first = make([]float64, m.number[q]*m.number[r])
	k.second = make([]float64, m.number[r])
	return k
}

// sum puts the sum over modes of weight times both patches' means into out,
// by row and column.
func (k *contraction) sum(out, weight []float64) {
	p, q, r := k.order[0], k.order[1], k.order[2]
	at := 0
	for _, x := range k.products[p] {
		k.contractFirst(x, weight)
		for _, y := range k.products[q] {
			clear(k.second)
			for nq, f := range y {
				row := k.first[nq*k.number[r]:][:k.number[r]]
				for nr, w := range row {
					k.second[nr] += f * w
				}
			}
			for _, z := range k.products[r] {
				total := 0.0
				for nr, w := range k.second {
					total += z[nr] * w
				}
				out[k.target[at]] = total
				at++
			}
		}
	}
}

func (k *contraction) contractFirst(x, weight []float64) {
	p, q, r := k.order[0], k.order[1], k.order[2]
	for nq := range k.number[q] {
		for nr := range k.number[r] {
			base := nq*k.strides[q] + nr*k.strides[r]
			total := 0.0
			for np, f := range x {
				total += f * weight[base+np*k.strides[p]]
			}
			k.first[nq*k.number[r]+nr] = total
		}
	}
}
