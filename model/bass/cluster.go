package bass

import (
	"math"

	"loudfor/model/enclosure"
)

// Many boxes at once. A driver that is hopeless in one box mostly is in all of its
// like, and to find that out box by box takes longer than all else about it. So boxes
// are clustered: at each frequency a cluster asks for the least velocity of the cone
// that any of its boxes asks for, and the pressure against it is somewhere between
// theirs. That is what Prospect proves its verdict with for one box, a travel and a
// pressure with some swing (prospect.go), and so it does here. With u for the travel
// at the cluster's least velocity, and for a box at its own travel ub, not below u:
//
//   - what holds of every travel from u up holds of every one from ub up;
//   - the pressure of the box in phase with travel stays within its swing, which is
//     no more than its greatest, taken with the port at its limit, and no more than
//     its port's growth over h/ub times the flow, thus none of that over h/u;
//   - with re for the part in phase with the velocity, what the box takes at a travel
//     t from ub up, t times re there, is not below ub (re - swing), nor ub re ub/h,
//     hence not below u times the least re of the cluster less its swing, nor u times
//     the least re ub over h.

// Cluster is a number of boxes, all sealed or all with ports, and what they ask of
// their drivers at least to reach an aim.
type Cluster struct {
	sealed bool
	size   int
	spans  []span // with ports: by frequency, where any box could

	// Sealed: of the chambers behind the cone.
	small, large float64 // compliance, m3/Pa
	leakQ        extent
	absorptionQ  extent
}

type extent struct{ low, high float64 }

func (b extent) join(o extent) extent { return extent{min(b.low, o.low), max(b.high, o.high)} }

// span is what the boxes of a cluster ask for at one frequency.
type span struct {
	at     int
	cone   float64 // least velocity of the cone
	re     float64 // least pressure on it in phase with that, for a unit of it
	taken  float64 // least product of both
	low    float64 // between these the pressure is in phase with the travel
	high   float64
	most   float64 // by which any pressure swings, with the port at its limit
	growth float64 // by which it swings when the flow grows by all of itself
}

// Set makes a cluster of one box, for whose target t it is.
func (c *Cluster) Set(t *Target) {
	c.sealed, c.size = t.kind == enclosure.Sealed, 1
	c.small, c.large = t.volume, t.volume
	c.leakQ, c.absorptionQ = extent{t.leakQ, t.leakQ}, extent{t.absorptionQ, t.absorptionQ}
	c.spans = resize(c.spans, len(t.steps))
	for i := range t.steps {
		s := &t.steps[i]
		share := s.port / s.cone
		growth, most := t.grows*share*share, 0.0
		if growth > 0 { // t.most may be infinite
			most = growth * (t.most - s.port)
		}
		c.spans[i] = span{s.at, s.cone, s.re, s.re * s.cone, s.im, s.im, most, growth * s.port}
	}
}

// Join makes c the cluster of the boxes of a and b, which must both be sealed or
// both have ports, and other than c.
func (c *Cluster) Join(a, b *Cluster) {
	c.sealed, c.size = a.sealed, a.size+b.size
	c.small, c.large = min(a.small, b.small), max(a.large, b.large)
	c.leakQ, c.absorptionQ = a.leakQ.join(b.leakQ), a.absorptionQ.join(b.absorptionQ)
	c.spans = resize(c.spans, either(a.spans, b.spans))[:0]
	x, y := a.spans, b.spans
	for len(x) > 0 && len(y) > 0 {
		switch s, o := x[0], &y[0]; {
		case s.at < o.at:
			c.spans = append(c.spans, s)
			x = x[1:]
		case o.at < s.at:
			c.spans = append(c.spans, *o)
			y = y[1:]
		default:
			s.cone, s.re, s.taken = min(s.cone, o.cone), min(s.re, o.re), min(s.taken, o.taken)
			s.low, s.high = min(s.low, o.low), max(s.high, o.high)
			s.most, s.growth = max(s.most, o.most), max(s.growth, o.growth)
			c.spans = append(c.spans, s)
			x, y = x[1:], y[1:]
		}
	}
	c.spans = append(append(c.spans, x...), y...)
}

// either is at how many frequencies any of two lists has a span.
func either(x, y []span) (n int) {
	for len(x) > 0 && len(y) > 0 {
		a, b := x[0].at, y[0].at
		if a <= b {
			x = x[1:]
		}
		if b <= a {
			y = y[1:]
		}
		n++
	}
	return n + len(x) + len(y)
}

// AllHopeless says that Hopeless is true of every box of a cluster.
func (p *Prospect) AllHopeless(c *Cluster) bool {
	if c.sealed {
		return p.allSealed(c)
	}
	for i := range c.spans {
		s := &c.spans[i]
		v := &p.views[s.at]
		u := s.cone * v.travels
		if u > v.most {
			continue
		}
		swing := min(s.most, s.growth*(v.most/u-1))
		box := max(0, s.re-swing, s.taken*v.travels/v.most)
		if !p.refuses(v, u, box, v.ar-v.air*(s.low+s.high)/2, v.air*((s.high-s.low)/2+swing)) {
			return false
		}
	}
	return true
}

// allSealed is AllHopeless of sealed boxes. The leak grows with the chamber, what
// absorption leaves falls with it, and the rest follows from what stands at sealed:
// |1 + G z| is not below 1 nor above what the greatest leak and impedance make it.
func (p *Prospect) allSealed(c *Cluster) bool {
	wide := func(compliance float64) float64 {
		return math.Sqrt((p.stiffness + p.area2/compliance) / p.driver.driver.Mms)
	}
	small, large := wide(c.small)*c.small, wide(c.large)*c.large
	leak, mostLeak := small/c.leakQ.high, large/c.leakQ.low
	absorption, mostAbsorption := 1/(large*c.absorptionQ.high), 1/(small*c.absorptionQ.low)
	for _, i := range p.cones {
		v := &p.views[i]
		zr, mostZr := absorption+real(v.back), mostAbsorption+real(v.back)
		low, high := imag(v.back)-1/(v.w*c.small), imag(v.back)-1/(v.w*c.large)
		most := max(low*low, high*high)
		least := 0.0
		if low > 0 || high < 0 {
			least = min(low*low, high*high)
		}
		d := 1 + mostLeak*mostZr
		most2 := d*d + mostLeak*mostLeak*most
		re := (zr + leak*(zr*zr+least)) / most2
		// Between 0 and itself, as far as |1 + G z| lets it.
		if low > 0 {
			low /= most2
		}
		if high < 0 {
			high /= most2
		}
		d = 1 + leak*zr
		u := v.net * v.travels * math.Sqrt(d*d+leak*leak*least)
		if u > v.most {
			continue
		}
		if !p.refuses(v, u, re, v.ar-v.air*(low+high)/2, v.air*(high-low)/2) {
			return false
		}
	}
	return true
}
