package bass

import (
	"math"
	"sync/atomic"
)

// Where nothing ever falls. A cell between two rungs is called rising if, while
// the travel goes through it,
//
//	|I|       current of a coil
//	|U|       voltage at the cold coil
//	Re(U I*)  power of the cold coil
//
// never fall. Then for every drive and all limits the strain does not fall
// either: heat follows |I|; with r for the output's resistance and what heat
// adds to the coil's, the source makes |U + r I|^2 = |U|^2 + 2 r Re(U I*) +
// r^2 |I|^2; the supply falls with power; flow through the port and sound rise
// anyhow (package enclosure). So there is one crossing in the cell, and any way
// to find it is as good as halving.
//
// The proof, with f the force on the cone over the force factor (fr in phase
// with the travel, fi in quadrature), C = 1 - c u^2 and D = 1 - d u^2 the fall
// of the force factor, k the stiffening and b the growth of losses:
//
//	ir = u (fr + k u^2)/C    ii = u (fi + b u)/D    U = Z I + j E    E = e u D
//
// Port and cabin move f with the flow; u |df/du| is at most q (Load.Swing).
//
// Power. E ii = e u^2 (fi + b u) is what the motion takes. Every part that
// takes it (suspension, leak, absorption, port, cabin) moves more when the cone
// does, so it rises. With |I| also Re(U I*) = Re(Z) |I|^2 + E ii does.
//
// Current. Half the slope of |I|^2 by ln u is |I|^2, plus what the growth of
// losses and the fall of the force factor add, less at most u |I| q/C, less
// 2 k u^3 |ir|/C where ir is negative and stiffening reduces it. So |I| rises
// if at the lower end it is above u (q + 2 k u^2)/C taken at the upper end: it
// would have to fall below its beginning before it could fall.
//
// Voltage. |U|^2 = |Z|^2 |I|^2 + 2 Re(Z) E ii + E^2 + 2 Im(Z) E ir; all but the
// last are known to rise. If ir is positive and rises, so does that. Else its
// slope is compared with that of the first and the third.
//
// Each is a few multiplications from the two ends of the cell. What this does
// not prove (near a dip of the current or a sharp resonance) is searched by
// halving.

// rises tells whether the cell above rung r at point j is rising.
func (p *Prepared) rises(j, r int) bool {
	k := &p.learnt[j]
	if atomic.LoadUint32(&k.asked)>>r&1 != 0 {
		return atomic.LoadUint32(&k.rising)>>r&1 != 0
	}
	var from, to move
	p.rung(j, r, &from)
	p.rung(j, r+1, &to)
	yes := p.proveRising(j, rungTravel[r], rungTravel[r+1], &from, &to)
	if yes {
		atomic.OrUint32(&k.rising, 1<<r)
	}
	atomic.OrUint32(&k.asked, 1<<r)
	return yes
}

func (p *Prepared) proveRising(j int, u0, u1 float64, from, to *move) bool {
	o := &p.points[j]
	q := 0.0
	if len(p.loads) > 0 {
		q = o.air * p.loads[j].Swing(from.flow, to.flow, u0*o.cone)
	}
	c0, c1 := 1-travelSquare*u0*u0, 1-travelSquare*u1*u1
	swing := u1 * q / c1 // the most that port and cabin take, A
	i0 := from.ir*from.ir + from.ii*from.ii
	if from.ir > swing {
		// ir and |I| rise, and with them all of |U|^2.
		return true
	}
	bend := 2 * p.stiffening * u1 * u1 * u1 / c1
	if fr := from.ir * c0 / u0; fr >= q*(u1/u0-1) {
		bend = 0 // ir stays positive
	}
	if lost := swing + bend; !(i0 > lost*lost) {
		return false
	}
	if o.zx == 0 {
		return true
	}
	// |I| rises: it lies between its ends.
	i1 := math.Sqrt(to.ir*to.ir + to.ii*to.ii)
	z := square(complex(p.driver.Re+o.zr, o.zx))
	d0, d1 := 1-motionSquare*u0*u0, 1-motionSquare*u1*u1
	e0, e1 := o.emf*u0*d0, o.emf*u1*d1
	rise := z*(i0-i1*(swing+bend)) + e0*e0*(1-3*motionSquare*u1*u1)/d1
	fall := o.zx * e1 * (i1*(2+2*travelSquare*u1*u1/c1) + swing)
	return rise > fall
}

// risesTo tells whether |I|, |U| and power never fall from one point of the
// lattice to the next, up to point n: then whatever is allowed at n is allowed
// below. Between them is not looked at.
//
// What is kept of it is the point of the lattice up to which it is so, and
// whether it is not so beyond.
func (p *Prepared) risesTo(j, n int) bool {
	const stuck = 1 << 8 // does not rise any further
	k := &p.learnt[j].risen
	known := atomic.LoadUint32(k)
	if at := int(known &^ stuck); at >= n || known&stuck != 0 {
		return at >= n
	}
	at := max(1, int(known))
	var m move
	p.rung(j, octaves-1+at, &m)
	i, u, w := p.cold(j, rungTravel[octaves-1+at], &m)
	stop := uint32(0)
	for ; at < n; at++ {
		p.rung(j, octaves+at, &m)
		i1, u1, w1 := p.cold(j, rungTravel[octaves+at], &m)
		if i1 < i || u1 < u || w1 < w {
			stop = stuck
			break
		}
		i, u, w = i1, u1, w1
	}
	atomic.StoreUint32(k, uint32(at)|stop)
	return at >= n
}

// cold gives |I|^2, |U|^2 and power of a cold coil.
func (p *Prepared) cold(j int, u float64, m *move) (current2, voltage2, power float64) {
	o := &p.points[j]
	re := p.driver.Re + o.zr
	ur := m.ir*re - m.ii*o.zx
	ui := m.ii*re + m.ir*o.zx + o.emf*u*(1-motionSquare*u*u)
	return m.ir*m.ir + m.ii*m.ii, ur*ur + ui*ui, ur*m.ir + ui*m.ii
}
