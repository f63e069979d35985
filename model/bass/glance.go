package bass

import (
	"math"

	"loudfor/model/amplifier"
)

// A glance tells for most drives that a block cannot play music as loud as asked,
// without looking for the travel at which each frequency stops.
//
// While the travel goes from x to u (in Xmax), the current for each u is ir + j ii
// with
//
//	ir = (fr + k v^2)/(1 - c v^2)    ii = (fi + b v)/(1 - d v^2)     x <= v <= u
//
// (strain.go, motor.go). For a given fr the first moves one way only, since its
// derivative by v^2, (k + c fr)/(1 - c v^2)^2, keeps its sign. In a ported box fr
// and fi move with the flow as the reaction does, which is a fraction linear in
// the port's impedance, above and below the line (package enclosure). The
// impedance moves along a straight line, so the reaction moves along an arc of a
// circle, and as it is passive no further than half of it: in the disc over the
// chord between its ends. So ir and ii lie between bounds, and with them both
// parts of the voltage that the source must make for each u,
//
//	ir (R + r) - ii X     and     ii (R + r) + ir X + emf (1 - d v^2)
//
// Take each at its least size. A voltage that is short of the sum of the squares
// at the travel x cannot drive the cone anywhere between x and u. Heat only
// raises R, and the resistive voltage with it, since the coil takes power (see
// rungs.go). Current and heat bound the travel in the same way; that at which the
// port's speed is at its limit is known (enclosure.Load.Cone).
//
// The net output of a ported box for each u moves along an arc too, and is no
// more than at the largest travel.
//
// All of it but the source is the same for every drive, and kept.

// Glance bounds what one block plays of music. Its zero value is ready for
// Prepared.Glance.
type Glance struct {
	p      *Prepared
	comb   *Comb
	limits Limits
	points [2 * len(bandCentres)]outlook

	// Of the last drive: bounds on the travel, and on the squared pressure.
	travel, sound [2 * len(bandCentres)]float64
	bands         [len(bandCentres)]float64
}

// outlook is the range of everything at one frequency, from no travel to the
// most.
type outlook struct {
	stretch
	most2 float64 // square of the most travel, for all drives
	per   float64 // squared pressure for u = 1 at most
	top   float64 // squared pressure at most
}

// stretch is the ranges of current and motion for u = 1, between two travels.
type stretch struct {
	ir0, ir1, ii0, ii1 float64
	emf0, emf1         float64
	r, x               float64 // of the cold coil
	least2             float64 // squared current for u = 1 at least
}

// lastCell covers that the search for a crossing ends within its last cell: a
// part of 1024 of the travel (search.go).
const lastCell = 1 + 1.0/parts

// leastTravel is above the smallest travel that the search tells from nothing.
const leastTravel = 1e-9

// Glance fills in g for limits at the frequencies of a comb.
func (p *Prepared) Glance(l Limits, c *Comb, g *Glance) {
	var b bounds
	p.bindLimits(l, &b)
	g.p, g.comb, g.limits = p, c, l
	for k, j := range c.at {
		if c.weight[k] == 0 {
			g.points[k] = g.points[k-1]
			continue
		}
		p.outlook(j, &b, &g.points[k])
	}
}

func (p *Prepared) outlook(j int, b *bounds, o *outlook) {
	q := &p.points[j]
	most := b.overdrive
	if len(p.loads) == 0 {
		low := side{fr: q.ar, fi: q.ai, c: 1, d: 1}
		high := low
		high.move(most)
		p.between(j, &low, &high, &o.stretch)
		o.per = q.output
		o.bound(most, b)
		o.top = o.most2 * o.per
		return
	}
	l := &p.loads[j]
	most = min(most, lastCell*l.Cone(b.flow)/q.cone)
	var low, high side
	first := p.side(j, 0, &low)
	last := p.side(j, most, &high)
	p.between(j, &low, &high, &o.stretch)
	o.per = q.output * l.MostOutput2(first, last)
	o.bound(most, b)
	o.top = min(o.most2*o.per, q.output/(q.cone*q.cone)*l.Net2(last))
}

// bound takes heat into account.
func (o *outlook) bound(most float64, b *bounds) {
	o.most2 = most * most
	if o.least2 > 0 {
		o.most2 = min(o.most2, lastCell*lastCell*b.cold2/o.least2)
	}
}

// side is the cone at one end of a stretch.
type side struct {
	u, fr, fi float64
	c, d      float64 // fall of the force factor
}

func (s *side) move(u float64) {
	s.u, s.c, s.d = u, 1-travelSquare*u*u, 1-motionSquare*u*u
}

// side gives the cone at a travel, in a ported box with the flow.
func (p *Prepared) side(j int, u float64, s *side) (flow float64) {
	o := &p.points[j]
	s.fr, s.fi = o.ar, o.ai
	s.move(u)
	if len(p.loads) > 0 {
		l := &p.loads[j]
		reaction := l.Reaction
		if u > 0 {
			flow = l.MostFlow(u * o.cone)
			reaction, _ = l.At(flow)
		}
		s.fr -= o.air * imag(reaction)
		s.fi += o.air * real(reaction)
	}
	return flow
}

// between gives the ranges between two sides.
func (p *Prepared) between(j int, low, high *side, s *stretch) {
	o := &p.points[j]
	fr0, fr1, fi0, fi1 := low.fr, low.fr, low.fi, low.fi
	if len(p.loads) > 0 {
		x, y := (high.fr-low.fr)/2, (high.fi-low.fi)/2
		r := math.Sqrt(x*x + y*y)
		fr0, fr1 = low.fr+x-r, low.fr+x+r
		fi0, fi1 = low.fi+y-r, low.fi+y+r
	}
	k0, k1 := p.stiffening*low.u*low.u, p.stiffening*high.u*high.u
	s.ir0 = min((fr0+k0)/low.c, (fr0+k1)/high.c)
	s.ir1 = max((fr1+k0)/low.c, (fr1+k1)/high.c)
	f0, f1 := fi0+o.bi*low.u, fi1+o.bi*high.u
	s.ii0, s.ii1 = f0/low.d, f1/high.d
	if f0 < 0 {
		s.ii0 = f0 / high.d
	}
	if f1 < 0 {
		s.ii1 = f1 / low.d
	}
	s.emf0, s.emf1 = o.emf*high.d, o.emf*low.d
	s.r, s.x = p.driver.Re+o.zr, o.zx
	s.least2 = square(complex(size(s.ir0, s.ir1), size(s.ii0, s.ii1)))
}

// need2 is the least square of the voltage for u = 1 behind a resistance.
func (s *stretch) need2(resistance float64) float64 {
	r := s.r + resistance
	return square(complex(
		size(s.ir0*r-s.ii1*s.x, s.ir1*r-s.ii0*s.x),
		size(s.ii0*r+s.ir0*s.x+s.emf0, s.ii1*r+s.ir1*s.x+s.emf1)))
}

// size is that of the number between two that is nearest to zero.
func size(from, to float64) float64 { return max(from, -to, 0) }

// Rough says whether it is open that the bands reach a product with a drive.
func (g *Glance) Rough(d Drive, least Product) bool {
	var b bounds
	g.p.bind(d, g.limits, &b)
	return g.rough(b.unloaded2, b.current2, b.resistance, least)
}

// Within is Rough for a drive of which no more is known than Idle says, and the
// resistance behind which one coil is fed.
func (g *Glance) Within(open2, current2, resistance float64, least Product) bool {
	return g.rough(open2*rounding, current2, resistance, least)
}

func (g *Glance) rough(open2, current2, resistance float64, least Product) bool {
	open2 *= lastCell * lastCell
	current2 *= lastCell * lastCell
	product := 1.0
	for n := range g.bands {
		for k := 2 * n; k < 2*n+2; k++ {
			o := &g.points[k]
			u2 := o.most2
			if need := o.need2(resistance); open2 < u2*need {
				u2 = open2 / need
			}
			if current2 < u2*o.least2 {
				u2 = current2 / o.least2
			}
			u2 += leastTravel
			g.travel[k], g.sound[k] = u2, min(o.top, u2*o.per)
		}
		g.bands[n] = g.comb.band(n, g.sound[2*n], g.sound[2*n+1])
		product *= g.bands[n]
	}
	return !(product < least)
}

const (
	// closer is how many stretches Close looks at, each nearer to the crossing.
	closer = 2
	// plenty is how much more squared voltage than needed is enough whatever the
	// supply does: it hardly ever gives way by more than 2 dB.
	plenty = 1.6
)

// Close is Rough with a second look at each frequency: what the supply leaves
// when power is drawn, and shorter stretches.
func (g *Glance) Close(d Drive, least Product) bool {
	var b bounds
	g.p.bind(d, g.limits, &b)
	if !g.rough(b.unloaded2, b.current2, b.resistance, least) {
		return false
	}
	for n := range g.bands {
		for k := 2 * n; k < 2*n+2; k++ {
			// Where there is plenty of voltage the supply will not matter.
			if o := &g.points[k]; g.comb.weight[k] > 0 && b.unloaded2 < plenty*o.most2*o.need2(b.resistance) {
				g.sound[k] = min(g.sound[k], g.p.narrowed(g.comb.at[k], math.Sqrt(g.travel[k]), &b))
			}
		}
		g.bands[n] = g.comb.band(n, g.sound[2*n], g.sound[2*n+1])
		product := 1.0
		for _, s := range g.bands {
			product *= s
		}
		if product < least {
			return false
		}
	}
	return true
}

// narrowed bounds the squared pressure at a point by looking closer below a
// travel that bounds the crossing.
func (p *Prepared) narrowed(j int, most float64, b *bounds) float64 {
	o := &p.points[j]
	var low, high side
	var s stretch
	flow := p.side(j, most, &high)
	for range closer {
		x := lower * min(high.u, p.guess(j, &high, b))
		p.side(j, x, &low)
		p.between(j, &low, &high, &s)
		// The power at the lower end, and what the supply leaves then.
		watts := b.watts * x * x * (s.r*s.least2 + s.emf0*max(0, s.ii0))
		v2 := lastCell * lastCell * b.ask(watts/rounding).open2 * rounding / s.need2(b.resistance)
		if s.least2 > 0 {
			v2 = min(v2, lastCell*lastCell*b.cold2/s.least2)
		}
		v := max(math.Sqrt(v2)+leastTravel, x)
		if v >= high.u {
			break
		}
		flow = p.side(j, v, &high)
	}
	if len(p.loads) == 0 {
		return high.u * high.u * o.output
	}
	return o.output / (o.cone * o.cone) * p.loads[j].Net2(flow)
}

// lower is how far below a guess a stretch begins.
const lower = 0.99

// guess is about where the crossing is, taken from what a travel needs.
func (p *Prepared) guess(j int, h *side, b *bounds) float64 {
	o := &p.points[j]
	u := h.u
	ir, ii := (h.fr+p.stiffening*u*u)/h.c, (h.fi+o.bi*u)/h.d
	r, e := p.driver.Re+o.zr, o.emf*h.d
	i2 := ir*ir + ii*ii
	open2 := b.ask(max(0, b.watts*u*u*(r*i2+e*ii))).open2
	r += b.resistance
	er, ei := ir*r-ii*o.zx, ii*r+ir*o.zx+e
	need := max((er*er+ei*ei)/max(open2, leastSquare), i2/b.cold2)
	return 1 / math.Sqrt(max(need, leastSquare))
}

// Ceilings are the bounds on levels, dB, that the last drive asked about gave.
func (g *Glance) Ceilings(c *Ceilings) {
	for k, s := range g.sound {
		c[k] = level(s)
	}
}

// Idle is the squared peak voltage that a drive has for one coil when nothing is
// drawn, and the squared peak current that it has at most.
func (d *Drive) Idle() (open2, current2 float64) {
	series, parallel := float64(max(d.Series, 1)), float64(max(d.Parallel, 1))
	open, current := max(0, d.Source.OpenVoltage)/series, max(0, d.Source.Current)/parallel
	line := d.Feed.Line()
	volts, _, ok := line.Terminal(0, d.Source.Efficiency)
	if !ok {
		volts = 0
	}
	open *= volts / amplifier.RatedSupply
	return 2 * open * open, 2 * current * current
}

// Least is the least squared voltage behind a resistance, and the least squared
// current, as of Idle, with less than which the bands cannot reach a product,
// even where the other is boundless; infinite where nothing reaches it.
func (g *Glance) Least(least Product, resistance float64) (open2, current2 float64) {
	var need [len(g.points)]float64
	for k := range need {
		need[k] = g.points[k].need2(resistance)
	}
	open2 = g.least(least, &need)
	for k := range need {
		need[k] = g.points[k].least2
	}
	return open2, g.least(least, &need)
}

// least goes up from below. No band grows faster than what drives it, so where
// the product is short by some factor, the drive is by its fifth root at least.
func (g *Glance) least(least Product, need *[len(Glance{}.points)]float64) float64 {
	const bands = float64(len(bandCentres))
	if !(least > 0) {
		return 0
	}
	slope := 0.0
	product := func(drive2 float64) (product float64) {
		product, slope = 1, 0
		drive2 *= lastCell * lastCell * rounding * rounding
		for n := range g.bands {
			var s, free [2]float64
			for i := range s {
				o := &g.points[2*n+i]
				u2 := o.most2
				if drive2 < u2*need[2*n+i] {
					u2 = drive2 / need[2*n+i]
					free[i] = 1
				}
				s[i] = (u2 + leastTravel) * o.per
				if s[i] >= o.top {
					s[i], free[i] = o.top, 0
				}
			}
			b := g.comb.band(n, s[0], s[1])
			product *= b
			slope += (g.comb.weight[2*n]*s[0]*free[0] + g.comb.weight[2*n+1]*s[1]*free[1]) / b
		}
		return product
	}
	if product(math.MaxFloat64) < least {
		return math.Inf(1)
	}
	drive2 := 0.0
	// Begin where a single frequency would take all there is.
	for k := range need {
		if o := &g.points[k]; need[k] > 0 {
			drive2 = max(drive2, o.most2*need[k])
		}
	}
	low := 0.0
	for range leastRounds {
		p := product(drive2)
		if p < least {
			low = drive2
			if slope < leastSlope {
				break
			}
			drive2 *= math.Pow(least/p, 1/slope)
			continue
		}
		drive2 *= math.Pow(least/p, 1/max(slope, bands/2))
		if drive2 <= low {
			break
		}
	}
	return low
}

const (
	leastRounds = 6
	leastSlope  = 0.01
)
