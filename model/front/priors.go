package front

import "math"

// What a card leaves out, by the speaker's size. All of it is common practice,
// no source: what pairs of the value class have printed on their cards, drawn
// through the sizes from 9 to 20 cm. The spread is that among such pairs.

const usualSize = 0.165 // m: what most front doors take

// prior is a value for a size, and how far to trust it.
type prior struct {
	quantity string
	value    func(size float64) float64
	spread   float64 // relative; for the sensitivity dB
	source   string
}

const bySize = "usual for the size (common practice, no source)"

var (
	sizePrior = prior{"size", func(float64) float64 { return usualSize }, 0.15, "what most front doors take (common practice, no source)"}
	// 86 dB for 10 cm, 89 dB for 16.5 cm, 90 dB for an oval of 15 x 23 cm.
	sensitivityPrior = prior{"sensitivity", func(size float64) float64 {
		return min(95, max(78, 89+15*math.Log10(size/usualSize)))
	}, 2, bySize}
	powerPrior = prior{"rated power", func(size float64) float64 { return 35 * size / usualSize }, 0.3, bySize}
	// 107 Hz for 10 cm, 65 Hz for 16.5 cm.
	fsPrior = prior{"fs", func(size float64) float64 { return 65 * usualSize / size }, 0.2, bySize}
	// The cone with half its surround has 0.78 of the nominal diameter.
	sdPrior = prior{"Sd", func(size float64) float64 {
		d := 0.78 * size
		return math.Pi / 4 * d * d
	}, 0.08, bySize}
	xmaxPrior = prior{"Xmax", func(size float64) float64 { return 3.5e-3 * size / usualSize }, 0.3, bySize}

	// A cabin's reverberation time of 0.05 to 0.1 s (common practice, no
	// source) is, in 3.7 m3 with 15 m2, a mean absorption of 0.33 to 0.55
	// (Eyring's formula: Kuttruff, Room Acoustics).
	absorptionPrior = prior{"mean absorption of the cabin", func(float64) float64 { return 0.4 }, 0.25, "from a reverberation time of 0.05 to 0.1 s (common practice, no source)"}
	distancePrior   = prior{"distance from speaker to ears", func(float64) float64 { return 1.0 }, 0.2, "mean of the near and the far door (common practice, no source)"}
	roomPrior       = prior{"cabin size", func(float64) float64 { return 0 }, 0.15, "a small sedan"}
)

// smallSedan is the room of a car that nobody described, m.
var smallSedan = [3]float64{2.4, 1.36, 1.12}

const (
	// doorQ is the total Q of a front speaker in a door, whose leaky cavity
	// adds little to the speaker's own (common practice, no source: 0.6 to 0.9).
	doorQ = 0.7

	usualOrder   = 2 // of the filters in head units and amplifiers
	highestOrder = 8
)

// complete fills in what is not stated. note, if given, hears of each value
// that was assumed.
func (s Stage) complete(note func(prior, float64)) Stage {
	fill := func(v *float64, p prior, size float64) {
		if stated(*v) {
			return
		}
		*v = p.value(size)
		if note != nil {
			note(p, *v)
		}
	}
	fill(&s.Size, sizePrior, 0)
	s.Size = min(max(s.Size, 0.02), 0.5)
	fill(&s.Sensitivity, sensitivityPrior, s.Size)
	fill(&s.Power, powerPrior, s.Size)
	fill(&s.Fs, fsPrior, s.Size)
	fill(&s.Sd, sdPrior, s.Size)
	fill(&s.Xmax, xmaxPrior, s.Size)
	if s.Order < 1 || s.Order > highestOrder {
		s.Order = usualOrder
	}
	if !stated(s.HighPass) {
		s.HighPass = 0
	}
	if !stated(s.Watts) {
		s.Watts = 0
	}
	return s
}

func (r Room) complete(note func(prior, float64)) Room {
	assume := func(p prior) float64 {
		v := p.value(0)
		if note != nil {
			note(p, v)
		}
		return v
	}
	if !stated(r.Length) || !stated(r.Width) || !stated(r.Height) {
		r.Length, r.Width, r.Height = smallSedan[0], smallSedan[1], smallSedan[2]
		if note != nil {
			note(roomPrior, r.Length*r.Width*r.Height)
		}
	}
	if !stated(r.Absorption) {
		r.Absorption = assume(absorptionPrior)
	}
	if !stated(r.Distance) {
		r.Distance = assume(distancePrior)
	}
	return r
}

func stated(v float64) bool { return v > 0 && !math.IsInf(v, 0) }
