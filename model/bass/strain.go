package bass

import (
	"math"

	"loudfor/model/amplifier"
	"loudfor/model/driver"
	"loudfor/model/supply"
)

// How near each limit a state of the chain (chain.go) is. A rise of the coil's
// temperature of at most D is the same as s at most D/(1 + a D), which stays
// clear of the runaway at s = 1/a.

const (
	// supplySag is the supply's share of the rated voltage under which it is
	// the supply that keeps an amplifier from giving more (-1 dB).
	supplySag = 0.9

	// rounding guards a comparison made by two ways of computing the same.
	rounding = 1 + 1e-9

	copper = driver.TemperatureCoefficient
)

// bounds is a drive and its limits for ONE coil, all peak values.
type bounds struct {
	resistance float64 // of the output, for one coil
	open2      float64 // square of the open voltage for one coil
	current2   float64 // square of the most current through one coil
	ideal      bool    // no amplifier: only travel, heat and port
	re         float64 // of one coil, cold

	heat      float64 // s for a squared current of 1
	mostHeat  float64 // s at the most rise
	flow      float64 // most volume velocity through one driver's share of the port
	overdrive float64

	watts      float64 // all outputs together, for 1 VA real at one coil
	line       supply.Line
	efficiency float64

	// What was learnt of the supply so far: two powers and the squared open
	// voltage at each. The supply is the slowest link of the chain, and as its
	// voltage never rises with power, most questions are answered by these.
	known [2]sag
	ease  float64 // one over the squared open voltage at the last crossing

	// For the look that needs no division (rungs.go), with a margin for
	// rounding.
	unloaded2 float64 // squared open voltage of an idle supply
	cold2     float64 // squared current that nothing allows
}

// sag is the open voltage of one coil's share, squared, at a power.
type sag struct{ watts, open2 float64 }

// ease is one over the squared voltage, finite: what turns a squared voltage
// into a squared strain.
func (s sag) ease() float64 { return 1 / max(s.open2, 1/math.MaxFloat64) }

// bind brings a drive and limits down to one coil.
func (p *Prepared) bind(d Drive, l Limits, b *bounds) {
	p.bindLimits(l, b)
	series, parallel := float64(max(d.Series, 1)), float64(max(d.Parallel, 1))
	b.resistance = max(0, d.Source.Resistance) * parallel / series
	open, current := max(0, d.Source.OpenVoltage)/series, max(0, d.Source.Current)/parallel
	b.open2, b.current2 = 2*open*open, 2*current*current
	b.line, b.efficiency = d.Feed.Line(), d.Source.Efficiency
	b.known[0] = b.ask(0)
	b.known[1] = b.known[0]
	b.ease = b.known[0].ease()
	b.unloaded2 = b.known[0].open2 * rounding
	b.cold2 = min(b.cold2, b.current2*rounding)
}

func (p *Prepared) bindLimits(l Limits, b *bounds) {
	d := &p.driver
	b.ideal, b.ease = false, 0
	b.watts, b.re = p.coils/2, d.Re
	b.overdrive = min(max(0, l.Overdrive), MostOverdrive)
	share := 1.0
	switch {
	case l.Burst == readingBurst:
		share = p.burstShare
	case !math.IsInf(l.Burst, 1):
		share = p.heatShare(l.Burst)
	}
	b.heat = d.HeatResistance() * share * l.heatFactor() * float64(d.Coils) / 2 * d.Re
	// The rise goes through its inverse to let it be infinite.
	b.mostHeat = 1 / (1/max(0, l.CoilRise) + copper)
	b.unloaded2, b.cold2 = math.Inf(1), math.Inf(1)
	if b.heat > 0 {
		b.cold2 = b.mostHeat / b.heat * rounding
	}
	b.flow = math.Inf(1)
	if p.circuit.PortArea > 0 && l.PortSpeed > 0 {
		b.flow = l.PortSpeed * p.circuit.PortArea
	}
}

// heatShare is how much of its steady heat a coil reaches in a burst, s.
func (p *Prepared) heatShare(burst float64) float64 {
	return -math.Expm1(-max(0, burst) / p.heatTime)
}

// passes tells whether the travel is within all limits but the supply's.
func (b *bounds) passes(u float64, s *state) bool {
	return u <= b.overdrive && s.warmth <= b.mostHeat && s.flow <= b.flow &&
		(b.ideal || s.current2 <= b.current2)
}

// allows tells whether the travel is within all limits.
func (b *bounds) allows(u float64, s *state) bool {
	if !b.passes(u, s) {
		return false
	}
	if b.ideal {
		return true
	}
	for i := range b.known {
		k := &b.known[i]
		if s.watts <= k.watts && s.open2 <= k.open2 {
			return true
		}
		if s.watts >= k.watts && s.open2 > k.open2 {
			return false
		}
	}
	now := b.ask(s.watts)
	if s.open2 <= now.open2 {
		b.known[0] = now
		return true
	}
	b.known[1] = now
	return false
}

// ask is what the supply leaves of the open voltage at a power; nothing where
// it gives up.
func (b *bounds) ask(watts float64) sag {
	v, ok := b.supply(watts)
	if !ok {
		v = 0
	}
	return sag{watts, b.open2 * v * v}
}

// supply is the voltage at the amplifier, relative to the one at which it is
// rated, while it delivers watts.
func (b *bounds) supply(watts float64) (relative float64, ok bool) {
	return b.sags(watts, b.efficiency)
}

// sags is supply for an amplifier of another efficiency.
func (b *bounds) sags(watts, efficiency float64) (relative float64, ok bool) {
	volts, _, ok := b.line.Terminal(max(0, watts), efficiency)
	return volts / amplifier.RatedSupply, ok
}

// strain is the largest of all quantities over their limits, in amplitude: 1
// where the first limit is reached. The supply that gives up has no measure
// and counts as infinite.
func (b *bounds) strain(u float64, s *state) (most float64, limit Limit) {
	most, limit = ratio(u, b.overdrive), LimitTravel
	raise := func(r float64, l Limit) {
		if r > most {
			most, limit = r, l
		}
	}
	raise(math.Sqrt(ratio(s.warmth, b.mostHeat)), LimitHeat)
	raise(ratio(s.flow, b.flow), LimitPort)
	if b.ideal {
		return most, limit
	}
	raise(math.Sqrt(ratio(s.current2, b.current2)), LimitCurrent)
	supply, ok := b.supply(s.watts)
	if !ok {
		raise(math.Inf(1), LimitSupply)
		return most, limit
	}
	voltage := LimitVoltage
	if supply < supplySag {
		voltage = LimitSupply
	}
	raise(math.Sqrt(ratio(s.open2, b.open2*supply*supply)), voltage)
	return most, limit
}

// rest is the square of the strain without what the amplifier's voltage and the
// supply add to it.
func (b *bounds) rest(u float64, s *state) float64 {
	m := ratio(u, b.overdrive)
	m = max(m*m, ratio(s.warmth, b.mostHeat))
	if s.flow > 0 {
		flow := s.flow / b.flow
		m = max(m, flow*flow)
	}
	if b.ideal {
		return m
	}
	return max(m, ratio(s.current2, b.current2))
}

// ratio is quantity over limit, also where the limit is zero or infinite.
func ratio(quantity, limit float64) float64 {
	if quantity <= 0 {
		return 0
	}
	return quantity / limit
}
