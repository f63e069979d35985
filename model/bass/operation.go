package bass

import (
	"math"

	"loudfor/model/air"
)

// Operation is the whole chain at one frequency. Volts, Amps, Load and Phase
// are those that a meter shows at ONE output; voltages and currents are rms,
// travel and port speed peak.
type Operation struct {
	Hz    float64
	Level float64 // dB at the receiver

	Volts    float64
	Amps     float64
	Load     float64 // ohm, magnitude
	Phase    float64 // of the load, rad; positive: the current lags
	Watts    float64 // real, all outputs together
	Apparent float64 // VA, all outputs together

	SupplyVolts float64 // at the amplifier's terminals
	SupplyAmps  float64

	CoilRise  float64 // K
	Travel    float64 // m
	PortSpeed float64 // m/s
	Limit     Limit   // what keeps the level from going higher
}

// leastPressure, Pa, keeps the level finite where nothing is heard (a drive
// that gives nothing, a receiver at a node): -146 dB.
const leastPressure = 1e-12

// Loudest is the operation at the highest level over all frequencies; the
// lowest of those with equal level. It allocates nothing.
func (p *Prepared) Loudest(d Drive, l Limits) Operation {
	var b bounds
	p.bind(d, l, &b)
	j, t := p.loudest(&b, rival{ties: true})
	return p.operation(j, t, &d, &b)
}

// LoudestAbove is Loudest if that is higher than a level in dB, else ok is
// false. Finding out that it is not takes less time than Loudest: it is for a
// search that holds a better build already. Rounding decides at equality, so
// ask for a little less where equal levels matter.
func (p *Prepared) LoudestAbove(level float64, d Drive, l Limits) (o Operation, ok bool) {
	var b bounds
	p.bind(d, l, &b)
	pressure := air.Pressure(level)
	j, t := p.loudest(&b, rival{sound: pressure * pressure, root: pressure})
	if j < 0 {
		return Operation{}, false
	}
	return p.operation(j, t, &d, &b), true
}

// loudest goes through all points, that of the last answer first, with the
// loudest so far as the rival: most others are then refused after one look. A
// point of -1 says that none beats the first rival.
func (p *Prepared) loudest(b *bounds, r rival) (best int, t top) {
	best = -1
	first := int(p.best.Load())
	for n := -1; n < len(p.points); n++ {
		j := n
		switch n {
		case -1:
			j = first
		case first:
			continue
		}
		if p.hopeless(j, b, r.sound) {
			continue
		}
		if best >= 0 {
			r.ties = j < best
		}
		if other, ok := p.crossing(j, b, r); ok && r.beats(other.sound) {
			best, t = j, other
			r.sound, r.root = t.sound, math.Sqrt(t.sound)
		}
	}
	if best >= 0 && best != first {
		p.best.Store(int32(best))
	}
	return best, t
}

// At is the operation at the highest level at frequency i of Hz.
func (p *Prepared) At(i int, d Drive, l Limits) Operation {
	var b bounds
	p.bind(d, l, &b)
	t, _ := p.crossing(i, &b, rival{ties: true})
	return p.operation(i, t, &d, &b)
}

// Curve is At for every frequency.
func (p *Prepared) Curve(d Drive, l Limits) []Operation {
	return p.AppendCurve(nil, d, l)
}

// AppendCurve is Curve into memory of the caller's.
func (p *Prepared) AppendCurve(to []Operation, d Drive, l Limits) []Operation {
	for i := range p.points {
		to = append(to, p.At(i, d, l))
	}
	return to
}

// Ceiling bounds the level of Loudest, dB, over every drive: no amplifier at
// all, only travel, heat and port. It is reached by a strong enough one. It is
// found by the same search, so that it bounds the numbers as well as the
// physics.
func (p *Prepared) Ceiling(l Limits) float64 {
	var b bounds
	p.bindLimits(l, &b)
	b.ideal = true
	_, t := p.loudest(&b, rival{ties: true})
	return level(t.sound)
}

// operation reads the chain at a travel.
func (p *Prepared) operation(j int, t top, d *Drive, b *bounds) Operation {
	var s state
	u := t.u
	p.near(j, t.refused, t.flow, b, &s)
	_, limit := b.strain(t.refused, &s)
	p.near(j, u, t.flow, b, &s)
	series, parallel := float64(max(d.Series, 1)), float64(max(d.Parallel, 1))
	o := Operation{
		Hz:    p.hz[j],
		Level: level(s.sound),
		Volts: series * math.Sqrt((s.ur*s.ur+s.ui*s.ui)/2),
		Amps:  parallel * math.Sqrt(s.current2/2),
		Watts: s.watts,
		Limit: limit,
	}
	o.Apparent = o.Volts * o.Amps * float64(d.Outputs)
	o.Travel = u * p.driver.Xmax
	o.CoilRise = s.warmth / (1 - copper*s.warmth)
	if area := p.circuit.PortArea; area > 0 {
		o.PortSpeed = s.flow / area
	}
	o.SupplyVolts, o.SupplyAmps, _ = b.line.Terminal(max(0, o.Watts), b.efficiency)
	if u == 0 {
		// Nothing flows, but the load is there: that of vanishing level.
		p.at(j, restTravel, b, &s)
	}
	o.Load, o.Phase = load(&s, series/parallel)
	return o
}

// restTravel stands for a vanishing travel, in Xmax.
const restTravel = 1e-6

// load is the impedance of coils with the state s, times a hookup's factor.
func load(s *state, factor float64) (magnitude, phase float64) {
	// Voltage over current, as a product with the conjugate.
	re, im := s.ur*s.ir+s.ui*s.ii, s.ui*s.ir-s.ur*s.ii
	if !(s.current2 > 0) {
		return 0, 0
	}
	return factor * math.Sqrt((s.ur*s.ur+s.ui*s.ui)/s.current2), math.Atan2(im, re)
}

func level(squaredPressure float64) float64 {
	return air.Level(math.Max(leastPressure, math.Sqrt(squaredPressure)))
}
