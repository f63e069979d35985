package bass

import (
	"sort"

	"loudfor/model/air"
)

// Music: how loud the bass plays, not where it peaks. The figure is the mean,
// in dB, of the level reachable in each third-octave band from 31.5 to 80 Hz:
// each band counts the same however narrow in hertz, a hole in one is not paid
// for by a peak in another as it would be in a sum of powers, and the mean
// rises with each, so that a better amplifier never lowers it.
//
// The level of a band is the sine-equivalent of the peaks: what a steady tone
// of the same peak would read. Voltage, current, supply, travel and port bound
// the peaks; the coil is heated by the programme's rms (Limits.Crest). The
// supply is asked for the peak's power, since a bass note outlasts any
// capacitor.

// bandCentres are the exact midband frequencies, Hz, of the third-octave bands
// named 31.5, 40, 50, 63 and 80 Hz: 1000 x 10^(n/10), n = -15 to -11 (IEC
// 61260-1, base-ten system).
var bandCentres = [...]float64{31.6227766, 39.8107171, 50.1187234, 63.0957344, 79.4328235}

// MusicLevel is the mean level, dB, of the bass bands under Music limits.
func MusicLevel(p *Prepared, d Drive) float64 { return p.Bands(d, Music()) }

// Bands is the mean level, dB, over the third-octave bands from 31.5 to 80 Hz
// that is reachable within the limits, each band at its midband frequency:
// interpolated between the two nearest frequencies of the grid, in dB over log
// frequency. A grid that does not reach a band gives its end. It allocates
// nothing.
func (p *Prepared) Bands(d Drive, l Limits) float64 {
	var b bounds
	p.bind(d, l, &b)
	sum := 0.0
	for _, centre := range bandCentres {
		i := sort.SearchFloat64s(p.hz, centre)
		switch {
		case i == 0:
			sum += p.levelAt(0, &b)
		case i == len(p.hz):
			sum += p.levelAt(i-1, &b)
		default:
			// Over one step of the grid, log frequency is straight.
			t := (centre - p.hz[i-1]) / (p.hz[i] - p.hz[i-1])
			sum += (1-t)*p.levelAt(i-1, &b) + t*p.levelAt(i, &b)
		}
	}
	return sum / float64(len(bandCentres))
}

// Ceilings bound, dB, what Bands is made of: the levels at its frequencies. For
// each band those of the frequency below its centre and of that above.
type Ceilings [2 * len(bandCentres)]float64

// ceilingSlack, dB, covers the rounding between a bound and a level.
const ceilingSlack = 1e-6

// BandsAbove is Bands if that is above a level in dB, else ok is false. c bounds
// the levels of this drive; those that a drive reached which is nowhere weaker
// will do. As soon as what was found and the bounds of what is to come cannot
// be enough, it gives up, and each frequency is asked for no more than what
// the others, at their bounds, would leave to it. If ok, c becomes the levels
// of the drive. Rounding decides at equality, as in LoudestAbove.
func (p *Prepared) BandsAbove(above float64, d Drive, l Limits, c *Ceilings) (mean float64, ok bool) {
	var weight Ceilings
	var at [len(c)]int
	need, sum := (above-ceilingSlack)*float64(len(bandCentres)), 0.0
	for n, centre := range bandCentres {
		i := sort.SearchFloat64s(p.hz, centre)
		switch {
		case i == 0 || i == len(p.hz):
			at[2*n], weight[2*n] = max(0, i-1), 1
		default:
			t := (centre - p.hz[i-1]) / (p.hz[i] - p.hz[i-1])
			at[2*n], weight[2*n] = i-1, 1-t
			at[2*n+1], weight[2*n+1] = i, t
		}
		sum += weight[2*n]*(c[2*n]+ceilingSlack) + weight[2*n+1]*(c[2*n+1]+ceilingSlack)
	}
	var b bounds
	p.bind(d, l, &b)
	var got Ceilings
	for k, w := range weight {
		if w == 0 {
			continue
		}
		if sum < need {
			return 0, false
		}
		ceiling := c[k] + ceilingSlack
		pressure := air.Pressure(ceiling - (sum-need)/w)
		t, ok := p.crossing(at[k], &b, rival{sound: pressure * pressure, root: pressure, ties: true})
		if !ok {
			return 0, false
		}
		got[k] = level(t.sound)
		sum -= w * (ceiling - got[k])
	}
	// Added up as Bands does, to give the same to the last digit.
	for n := 0; n < len(got); n += 2 {
		mean += weight[n]*got[n] + weight[n+1]*got[n+1]
	}
	mean /= float64(len(bandCentres))
	if !(mean > above) {
		return 0, false
	}
	*c = got
	return mean, true
}

func (p *Prepared) levelAt(j int, b *bounds) float64 {
	t, _ := p.crossing(j, b, rival{ties: true})
	return level(t.sound)
}
