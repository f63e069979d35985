package cabin

import (
	"fmt"
	"math"
	"math/cmplx"
	"sort"
	"strings"
)

// Curve is a transfer curve measured in the car. Gain is what the car adds:
// the level at the receiver minus the level that the same box, with the same
// cone movement, gives in the open on the ground at 1 m (half space). The
// trade calls it cabin gain. A curve in these terms can be measured with no
// knowledge of the cone: one meter, the same voltage, inside and outside.
type Curve struct {
	Hz   []float64 // rising
	Gain []float64 // dB
	// Place and Openings say where it was measured; empty fits all.
	Place, Openings string
	// Spread is one standard deviation of the curve, dB.
	Spread float64
}

// Check reports the first fault of the curve.
func (c Curve) Check() error {
	if len(c.Hz) != len(c.Gain) {
		return fmt.Errorf("measured curve has %d frequencies and %d gains", len(c.Hz), len(c.Gain))
	}
	if len(c.Hz) < 2 {
		return fmt.Errorf("measured curve has %d points: it needs two or more", len(c.Hz))
	}
	for i, f := range c.Hz {
		if !finite(f) || f <= 0 || f > audible {
			return fmt.Errorf("measured curve: frequency %g Hz, point %d, must lie between 0 and %d Hz", f, i+1, audible)
		}
		if i > 0 && f <= c.Hz[i-1] {
			return fmt.Errorf("measured curve: frequency %g Hz, point %d, does not rise above %g Hz", f, i+1, c.Hz[i-1])
		}
		if !finite(c.Gain[i]) || math.Abs(c.Gain[i]) > steepestGain {
			return fmt.Errorf("measured curve: gain %g dB at %g Hz is beyond %d dB", c.Gain[i], f, steepestGain)
		}
	}
	if !finite(c.Spread) || c.Spread < 0 {
		return fmt.Errorf("measured curve: spread %g dB is negative or not a number", c.Spread)
	}
	return nil
}

// audible bounds the frequencies of a measured curve, Hz.
const audible = 100_000

// steepestGain is more than any car adds or takes away, dB: a larger number is
// a level, not a gain.
const steepestGain = 80

// fits says whether the curve was measured for this place and set.
func (c *Curve) fits(place, openings string) bool {
	return c != nil &&
		(c.Place == "" || strings.EqualFold(strings.TrimSpace(c.Place), strings.TrimSpace(place))) &&
		(c.Openings == "" || strings.EqualFold(strings.TrimSpace(c.Openings), strings.TrimSpace(openings)))
}

// at interpolates the gain, dB, linearly over the logarithm of frequency;
// beyond its ends the curve holds its end values.
func (c *Curve) at(hz float64) float64 {
	i := sort.SearchFloat64s(c.Hz, hz)
	switch {
	case i == 0:
		return c.Gain[0]
	case i == len(c.Hz):
		return c.Gain[i-1]
	}
	t := math.Log(hz/c.Hz[i-1]) / math.Log(c.Hz[i]/c.Hz[i-1])
	return c.Gain[i-1] + t*(c.Gain[i]-c.Gain[i-1])
}

// override puts the measured level in place of the computed one and keeps the
// computed phase. Outside the measured band the computed curve goes on from
// where the measured one ends, shifted in level: shift holds measured over
// computed at the curve's first and last frequency.
func (c *Curve) override(r *Response, open Response, shift [2]float64) {
	last := len(c.Hz) - 1
	for i, f := range r.Hz {
		size := cmplx.Abs(r.Transfer[i])
		switch {
		case f < c.Hz[0]:
			r.Transfer[i] *= complex(shift[0], 0)
		case f > c.Hz[last]:
			r.Transfer[i] *= complex(shift[1], 0)
		case size == 0:
			r.Transfer[i] = open.Transfer[i] * complex(c.factor(f), 0)
		default:
			r.Transfer[i] *= complex(cmplx.Abs(open.Transfer[i])*c.factor(f)/size, 0)
		}
	}
}

// factor is the gain as a ratio of pressures.
func (c *Curve) factor(hz float64) float64 { return math.Pow(10, c.at(hz)/20) }
