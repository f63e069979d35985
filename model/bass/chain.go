package bass

import "loudfor/model/enclosure"

// The chain at one frequency and one travel, from the cone back to the battery.
// Everything is explicit: travel gives force, force gives current, current
// gives heat and so the hot resistance, and these give the voltage.
//
// The heat is in closed form: the rise dT = Rth P of the dissipation P =
// C |i|^2/2 Re (1 + a dT) gives dT = s/(1 - a s) with s = Rth C |i|^2/2 Re.

// move is the part of the chain that no amplifier changes; peak values for one
// coil.
type move struct {
	ir, ii float64 // current in phase with the travel and 90 degrees before it
	flow   float64 // through the port
	sound  float64 // square of the rms pressure at the receiver
}

// state is the chain at one travel; peak values for one coil.
type state struct {
	move
	ur, ui   float64 // voltage at the coil, like the current
	current2 float64
	open2    float64 // squared voltage that the source must make inside
	warmth   float64 // s
	watts    float64 // real, all outputs together
}

// at follows the chain at point j from a travel of u Xmax.
func (p *Prepared) at(j int, u float64, b *bounds, s *state) {
	p.travel(j, u, &s.move)
	b.feel(&p.points[j], u, s)
}

// near is at with a guess of the flow through the port; 0: none.
func (p *Prepared) near(j int, u, flow float64, b *bounds, s *state) {
	if !(flow > 0) {
		p.at(j, u, b, s)
		return
	}
	l, o := &p.loads[j], &p.points[j]
	o.ported(l, p.stiffening, u, l.FlowNear(u*o.cone, flow), &s.move)
	b.feel(o, u, s)
}

// travel follows the chain from the cone to the current and the sound.
func (p *Prepared) travel(j int, u float64, m *move) {
	if len(p.loads) == 0 {
		p.points[j].travel(p.stiffening, u, m)
		return
	}
	l, o := &p.loads[j], &p.points[j]
	o.ported(l, p.stiffening, u, l.Flow(u*o.cone), m)
}

// travel is that in a sealed box.
func (o *point) travel(stiffening, u float64, m *move) {
	u2 := u * u
	m.ir = u * (o.ar + stiffening*u2) / (1 - travelSquare*u2)
	m.ii = u * (o.ai + o.bi*u) / (1 - motionSquare*u2)
	m.flow = 0
	m.sound = u2 * o.output
}

// ported is that in a box whose port has a given flow.
func (o *point) ported(l *enclosure.Load, stiffening, u, flow float64, m *move) {
	reaction, output := l.At(flow)
	u2 := u * u
	ar := o.ar - o.air*imag(reaction)
	ai := o.ai + o.air*real(reaction)
	m.ir = u * (ar + stiffening*u2) / (1 - travelSquare*u2)
	m.ii = u * (ai + o.bi*u) / (1 - motionSquare*u2)
	m.flow = flow
	m.sound = u2 * o.output * square(output)
}

// feel goes on from the current to the voltage that the amplifier must make.
func (b *bounds) feel(o *point, u float64, s *state) {
	ir, ii := s.ir, s.ii
	s.current2 = ir*ir + ii*ii
	s.warmth = b.heat * s.current2
	// Past the heat limit the travel is refused anyhow: keep it finite.
	re := b.re/(1-copper*min(s.warmth, b.mostHeat)) + o.zr
	s.ur = ir*re - ii*o.zx
	s.ui = ii*re + ir*o.zx + o.emf*u*(1-motionSquare*u*u)
	s.watts = b.watts * (s.ur*ir + s.ui*ii)
	vr, vi := s.ur+ir*b.resistance, s.ui+ii*b.resistance
	s.open2 = vr*vr + vi*vi
}
