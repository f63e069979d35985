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
	over   []float64 // 1 / k_n^2; infinite for the uniform mode
	scale  []float64 // 1 / (Lambda_n V)
	loss   []float64 // beta S_n / V + k_n / rigidQ, 1/m; of the uniform mode the first term
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
				m.over = append(m.over, 1/square)
				m.scale = append(m.scale, twice(i)*twice(j)*twice(k)/c.Volume())
				m.loss = append(m.loss, c.Admittance*c.pressed(n, openings)/c.Volume()+math.Sqrt(square)/rigidQ)
			}
		}
	}
	return m
}

// weigh fills w with (1/D_n - 1/k_n^2) / (Lambda_n V), D_n = k_n^2 - k^2 +
// j k (beta S_n / V + k_n / rigidQ); the uniform mode, whose 1/k_n^2 is not part
// of the remainder, has 1/D_0 alone. With d + j l for D_n that is
//
//	(k^2 d - l^2 - j l k_n^2) / (k_n^2 (d^2 + l^2))
//
// in real numbers: none of them comes near overflow, and a complex division,
// which has to mind it, takes several times as long.
func (m modes) weigh(w []complex128, k float64) {
	k2 := k * k
	l := k*m.loss[0] + k2/rigidQ
	w[0] = times(m.scale[0]/(k2*k2+l*l), complex(-k2, -l))
	square, over, scale, loss := m.square, m.over[:len(m.square)], m.scale[:len(m.square)], m.loss[:len(m.square)]
	w = w[:len(m.square)]
	for i := 1; i < len(square); i++ {
		d, l := square[i]-k2, k*loss[i]
		f := scale[i] / (d*d + l*l)
		w[i] = complex((k2*d-l*l)*over[i]*f, -l*f)
	}
}
