package bass

import (
	"math"

	"loudfor/model/driver"
	"loudfor/model/enclosure"
)

// Whether a driver could reach the target of a box at all: far sharper than the
// horizon, and still without a Prepared.
//
// Let u be the travel at which the target is reached. Sound rises with travel,
// so a driver is out of the question if no travel from u up is allowed. At every
// frequency one of these has to show that:
//
//  1. u is above the largest travel, or above the horizon (horizon.go).
//  2. The coil's current, by its limit or by its heat, or the voltage that the
//     source must make is too much at u, and no less above it. Let ir and ii be
//     the current in phase with travel and velocity, E the voltage of the motion,
//     X and R reactance and resistance of the coil and the source. Then
//
//     |V|^2 = (R ir - X ii)^2 + (R ii + X ir + E)^2
//
//     and from u up to the largest travel, h,
//     - E does not fall, and neither does what is taken from the motion, so that
//     with the box's share in it weighed by u/h, ii is not below its value at u;
//     - the pressure against the cone changes by no more than the growth of the
//     port's resistance times the square of the port's share of the flow
//     (enclosure.Load.Swing), and the port passes no more than its limit, nor
//     more than h/u times as much;
//     - if the force in phase is positive with that taken off, |ir| does not fall.
//     |V|^2 rises with ir, ii and E, all positive;
//     - if it is negative, -ir is a concave function of travel over one that
//     falls, not below the lesser value at both ends. If that is above X E/|Z|^2
//     at h, |V|^2 rises with -ir from there on; if R ii + E is above -X ir
//     as well, it also rises with ii and E;
//     - whatever ir is, |V| is not below |Z| ii + E R/|Z| (horizon.go).
//     Heat only adds to R, with which |V|^2 rises; and the supply gives no more
//     than at the least power, R |I|^2 + E ii.
//
// Of many sources only those have a say that pass the current found in 2, each lot
// of them by itself (choice.go).
//
// Where none does, the driver may or may not reach the target.

// Prospect is one driver, so many times, fed from one source, in a room.
type Prospect struct {
	driver Prepared // without a box
	b      bounds
	views  []view
	choice *Choice
	idle   float64 // square of the voltage of the idle supply over the rated one
	cones  []int32 // the frequencies at which cones alone could do it

	stiffness float64 // of the suspension, N/m
	area2     float64 // m4
}

// view is a prospect at one frequency; see point for the names.
type view struct {
	w       float64
	net     float64 // of the aim
	travels float64 // u for a cone's volume velocity of 1
	most    float64 // u that is not exceeded
	back    complex128
	ar, ai  float64 // without any box
	bi      float64
	zr, zx  float64
	emf     float64
	air     float64
}

// Look fills p in for an aim. Every coil of the drivers is fed from a source of a
// choice, all of which that of drive covers, otherwise as by drive; and h has
// looked at the same driver with the source of drive in the same room. With no
// choice it is the source of drive.
func (p *Prospect) Look(d *driver.Driver, h *Horizon, aim *Aim, c *Choice, drive Drive, l Limits) {
	p.choice = c
	o := &p.driver
	if o.heatSize != d.Size || o.heatMore != d.MoreHeatTime {
		o.heatTime, o.heatSize, o.heatMore = d.HeatTime(), d.Size, d.MoreHeatTime
		o.burstShare = o.heatShare(readingBurst)
	}
	o.driver, o.drivers, o.coils = *d, aim.drivers, aim.drivers*float64(d.Coils)
	perForce := 1 / (float64(d.Coils) * d.Bl)
	perTravel := d.Xmax * perForce
	p.stiffness, p.area2 = 1/d.Cms, d.Sd*d.Sd
	o.stiffening = perTravel * p.stiffness * stiffnessSquare
	o.bind(drive, l, &p.b)
	idle, _ := p.b.supply(0)
	p.idle = idle * idle * rounding
	lossGrowth := perTravel * d.Rms * d.LossGrowth()
	p.views = resize(p.views, len(aim.net))
	travels := 1 / (d.Sd * d.Xmax)
	for i, w := range h.w {
		v := &p.views[i]
		v.w, v.most = w, h.travel[i]
		v.travels = travels / w
		v.ar, v.ai, v.bi = perTravel*(p.stiffness-w*w*d.Mms), perTravel*w*d.Rms, w*lossGrowth
		v.air, v.emf = perTravel*w*p.area2, w*d.Bl*d.Xmax
		v.zr, v.zx = h.zr[i], h.zx[i]
		v.back = scale(aim.room.Back[i], aim.drivers)
		if real(v.back) < 0 {
			v.back = complex(0, imag(v.back))
		}
	}
	p.turn(aim)
}

// turn fills in what depends on the aim.
func (p *Prospect) turn(aim *Aim) {
	p.cones = p.cones[:0]
	for i, net := range aim.net {
		v := &p.views[i]
		v.net = net
		if net*v.travels <= v.most {
			p.cones = append(p.cones, int32(i))
		}
	}
}

// HopelessFor is Hopeless for another aim than the one that p looked at, for as
// many drivers in the same room. Beside the target only a sealed box asks for it.
func (p *Prospect) HopelessFor(t *Target, aim *Aim) bool {
	if t.kind == enclosure.Sealed {
		p.turn(aim)
	}
	return p.Hopeless(t)
}

// Hopeless says that in the box of a target, for the aim that p looked at, the
// driver stays below the level of the aim whatever the frequency.
func (p *Prospect) Hopeless(t *Target) bool {
	// Losses at the resonance of cone and box: see enclosure.Circuit.
	leak, absorption := 0.0, 0.0
	if t.kind != enclosure.Vented {
		w := math.Sqrt((p.stiffness + p.area2/t.volume) / p.driver.driver.Mms)
		leak, absorption = w*t.volume/t.leakQ, 1/(w*t.volume*t.absorptionQ)
	}
	if t.kind == enclosure.Sealed {
		return p.sealed(t.volume, leak, absorption)
	}
	for i := range t.steps {
		s := &t.steps[i]
		v := &p.views[s.at]
		u := s.cone * v.travels
		if u > v.most {
			continue
		}
		share := s.port / s.cone
		most := min(t.most, s.port*v.most/u)
		swing, re := t.grows*share*share*(most-s.port), s.re+absorption
		if !p.refuses(v, u, max(0, re-swing, re*u/v.most), v.ar-v.air*s.im, v.air*swing) {
			return false
		}
	}
	return true
}

// sealed is Hopeless in a sealed chamber: with its impedance and that of the
// cabin in series, z, and the leak beside them, the net output is 1/(1 + G z)
// of the cone's and the reaction z/(1 + G z).
func (p *Prospect) sealed(compliance, leak, absorption float64) bool {
	for _, i := range p.cones {
		v := &p.views[i]
		zr, zx := absorption+real(v.back), imag(v.back)-1/(v.w*compliance)
		dr, di := 1+leak*zr, leak*zx
		d2 := dr*dr + di*di
		u := v.net * v.travels
		if u *= math.Sqrt(d2); u > v.most {
			continue
		}
		if !p.refuses(v, u, max(0, (zr*dr+zx*di)/d2), v.ar-v.air*(zx*dr-zr*di)/d2, 0) {
			return false
		}
	}
	return true
}

// refuses says that no travel from u up is allowed at a view. From there on the box
// takes at least as much from the motion as if the pressure in phase with the velocity
// were box for a unit of it at u, and the current in phase with the travel is no further
// than shift from fr for a unit of travel, stiffening and the fall of the force factor
// apart.
func (p *Prospect) refuses(v *view, u, box, fr, shift float64) bool {
	b := &p.b
	u2, h := u*u, v.most
	c, d := 1-travelSquare*u2, 1-motionSquare*u2
	e := v.emf * u * d
	ii := u * (v.ai + v.air*box + v.bi*u) / d
	k := p.driver.stiffening
	ir, known := 0.0, false // of which sign it is
	if low := fr - shift + k*u2; low >= 0 {
		ir, known = u*low/c, true
	} else if high := -fr - shift; high > k*h*h {
		ir = -min(u*(high-k*u2), h*(high-k*h*h)) / c
	}
	current2 := ir*ir + ii*ii
	if current2 > b.cold2 {
		return true
	}
	coil := b.re/(1-copper*min(b.heat*current2, b.mostHeat)) + v.zr
	watts := b.watts * (coil*current2 + e*ii)
	fed := func(open2, resistance, efficiency float64) bool {
		r, x := coil+resistance, v.zx
		z2 := r*r + x*x
		rises := known || ir < 0 && -ir*z2 >= x*v.emf*h*(1-motionSquare*h*h) && r*ii+e >= -x*ir
		var ask2 float64
		if rises {
			vr, vi := r*ir-x*ii, r*ii+x*ir+e
			ask2 = vr*vr + vi*vi
		} else {
			free := ii*z2 + e*r
			ask2 = free * free / z2
		}
		if ask2 > open2*p.idle {
			return false
		}
		loaded, ok := b.sags(watts, efficiency)
		if !ok {
			loaded = 0
		}
		return !(ask2 > open2*loaded*loaded*rounding)
	}
	if !fed(b.open2, b.resistance, b.efficiency) {
		return true // by the envelope of them all
	}
	if p.choice == nil {
		return false
	}
	for _, o := range p.choice.passing(current2) {
		if fed(min(b.open2, o.open2), max(b.resistance, o.resistance), min(b.efficiency, o.efficiency)) {
			return false
		}
	}
	return true
}
