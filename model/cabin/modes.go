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
	number  [3]int
	square  []float64          // k_n^2, in the order of the indices, last axis fastest
	over    []float64          // 1 / k_n^2; infinite for the uniform mode
	scale   []float64          // 1 / (Lambda_n V)
	rigid   []float64          // k_n / rigidQ, 1/m
	kind    []uint8            // along which axes the mode varies: what its loss depends on
	pressed [modeKinds]float64 // S_n / V of each kind, 1/m
}

// modeKinds: one bit for each axis along which a mode varies.
const modeKinds = 8

// indices gives a mode of a kind.
func indices(kind int) [3]int { return [3]int{kind & 1, kind >> 1 & 1, kind >> 2} }

func (c Cavity) modes(top float64, openings []Opening) modes {
	size := c.lengths()
	var m modes
	for i, l := range size {
		m.number[i] = int(2*l*top/c.Air.SoundSpeed) + 1
	}
	for kind := range m.pressed {
		m.pressed[kind] = c.pressed(indices(kind), openings) / c.Volume()
	}
	for i := range m.number[0] {
		for j := range m.number[1] {
			for k := range m.number[2] {
				square := 0.0
				for a, n := range [3]int{i, j, k} {
					kn := float64(n) * math.Pi / size[a]
					square += kn * kn
				}
				m.square = append(m.square, square)
				m.over = append(m.over, 1/square)
				m.scale = append(m.scale, twice(i)*twice(j)*twice(k)/c.Volume())
				m.rigid = append(m.rigid, math.Sqrt(square)/rigidQ)
				m.kind = append(m.kind, uint8(min(i, 1)|min(j, 1)<<1|min(k, 1)<<2))
			}
		}
	}
	return m
}

// weigh fills w with (1/D_n - 1/k_n^2) / (Lambda_n V), D_n = k_n^2 - k^2 +
// j k (beta S_n / V + panels + k_n / rigidQ); the uniform mode, whose 1/k_n^2 is
// not part of the remainder, has 1/D_0 alone. Panels are masses and springs too:
// their complex share moves k^2 to e = k^2 + k Im(panels). With d = k_n^2 - e and
// d + j l for D_n the weight is
//
//	(e d - l^2 - j l k_n^2) / (k_n^2 (d^2 + l^2))
//
// in real numbers: none of them comes near overflow, and a complex division,
// which has to mind it, takes several times as long.
func (m modes) weigh(w []complex128, k float64, walls losses) {
	var even, loss [modeKinds]float64 // e, and what l has besides the rigid wall's
	for kind := range loss {
		part := walls.panels(kind)
		even[kind] = k*k + k*imag(part)
		loss[kind] = k * (walls.beta*m.pressed[kind] + real(part))
	}
	l := k*(walls.beta*walls.zone*m.pressed[0]+real(walls.panels(0))) + k*k/rigidQ
	w[0] = times(m.scale[0]/(even[0]*even[0]+l*l), complex(-even[0], -l))
	n := len(m.square)
	square, over, scale, rigid, kinds := m.square, m.over[:n], m.scale[:n], m.rigid[:n], m.kind[:n]
	w = w[:n]
	for i := 1; i < n; i++ {
		kind := kinds[i] % modeKinds
		e := even[kind]
		d, l := square[i]-e, loss[kind]+k*rigid[i]
		f := scale[i] / (d*d + l*l)
		w[i] = complex((e*d-l*l)*over[i]*f, -l*f)
	}
}
