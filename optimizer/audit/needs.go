package audit

import (
	"math"

	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
)

// What a block asks of its source to be as loud as the claim: the chain from the
// level at the meter back to the coil, one frequency after the other. It is worked
// out here from the circuit of the box and the laws of the driver, not by package
// bass, by which the search predicts: that only names the limits and a drive.

// need is what one coil takes at the travel at which the block has the level;
// peak values.
type need struct {
	current2 float64 // |I|^2
	voltage2 float64 // |U|^2, coil hot
	power    float64 // Re(U I*)
	watts    float64 // all coils together
}

// source is what one coil is fed from, peak values.
type source struct {
	open2, current2, resistance, efficiency float64
}

// allows tells whether a source can do what a travel needs, on a line of the
// supply.
func (s *source) allows(n *need, l *supply.Line) bool {
	open2 := n.voltage2 + s.resistance*(2*n.power+s.resistance*n.current2)
	if n.current2 > s.current2 || open2 > s.open2 {
		return false
	}
	volts, _, ok := l.Terminal(max(0, n.watts), s.efficiency)
	return ok && open2 <= s.open2*square(volts/supply.RunningVolts)
}

// best is what has the better of each of two sources.
func (s source) best(o source) source {
	return source{max(s.open2, o.open2), max(s.current2, o.current2), min(s.resistance, o.resistance), max(s.efficiency, o.efficiency)}
}

// drive feeds every coil of a block from a source of its own.
func (s source) drive(coils int, f supply.Feed) bass.Drive {
	return bass.Drive{Outputs: coils, Series: 1, Parallel: 1, Feed: f, Source: amplifier.Source{
		OpenVoltage: math.Sqrt(s.open2 / 2), Current: math.Sqrt(s.current2 / 2), Resistance: s.resistance, Efficiency: s.efficiency}}
}

func square(x float64) float64 { return x * x }

// motor is one driver, so many times, in the car, for one level.
type motor struct {
	d          *driver.Driver
	overdrive  float64
	portSpeed  float64
	heat, most float64 // warmth for a squared current of 1, and at the greatest rise
	stiffening float64
	coils      float64 // of all drivers
	points     []point
}

// point is one frequency. Forces are divided by the force factor at rest, so
// that they are currents of one coil.
type point struct {
	w, net  float64    // rad/s; net peak volume velocity of one driver's share for the level, m3/s
	back    complex128 // the car's reaction on one driver's share
	reach   float64    // volume velocity of the cone at the greatest travel
	unit    float64    // and at Xmax
	ar, ai  float64    // current for a travel of Xmax, box apart: in phase with it, and in quadrature
	bi, air float64    // growth of losses; current for a reaction of 1 Pa s/m3
	zr, zx  float64    // blocked coil beyond Re
	emf     float64
}

// sineCrest is the crest of a sine, dB.
const sineCrest = 3.0103

func newMotor(d *driver.Driver, drivers int, level float64, to bass.Limits, room *cabin.Response) *motor {
	coils := float64(d.Coils)
	force := d.Xmax / (coils * d.Bl)
	programme := 1.0 // its heat over that of a sine of the same peaks
	if to.Crest > 0 {
		programme = math.Pow(10, (sineCrest-to.Crest)/10)
	}
	m := &motor{d: d, overdrive: min(to.Overdrive, driver.TravelModelled), portSpeed: to.PortSpeed, coils: coils * float64(drivers),
		heat:       d.HeatResistance() * d.HeatShare(to.Burst) * programme * coils / 2 * d.Re,
		most:       to.CoilRise / (1 + driver.TemperatureCoefficient*to.CoilRise),
		stiffening: force / d.Cms * driver.StiffnessGrowth * 3 / 4,
		points:     make([]point, len(room.Hz))}
	pressure := air.Pressure(level) * math.Sqrt2 / float64(drivers)
	for i, hz := range room.Hz {
		w := 2 * math.Pi * hz
		coil := d.CoilImpedance(w, 0)
		m.points[i] = point{
			w: w, net: pressure / math.Hypot(real(room.Transfer[i]), imag(room.Transfer[i])),
			back: room.Back[i] * complex(float64(drivers), 0), reach: w * d.Sd * d.Xmax * m.overdrive, unit: w * d.Sd * d.Xmax,
			ar: force * (1/d.Cms - w*w*d.Mms), ai: force * w * d.Rms, bi: force * w * d.Rms * d.LossGrowth(), air: force * w * d.Sd * d.Sd,
			zr: real(coil) - d.Re, zx: imag(coil), emf: w * d.Bl * d.Xmax,
		}
	}
	return m
}

// needs lists what a block needs at every frequency at which its cone, its coil
// and its port allow the level at all.
func (m *motor) needs(c *enclosure.Circuit, out []need) []need {
	flow := math.Inf(1)
	if c.PortArea > 0 {
		flow = m.portSpeed * c.PortArea
	}
	var l enclosure.Load
	for i := range m.points {
		p := &m.points[i]
		// Without a port nothing leaves the box that the cone does not move: chamber and
		// car are passive, so cone/net = 1 + leak (1/Yb + back) has a real part of 1 or
		// more. With one the flow is no more than those of cone, port and leak added,
		// and the leak has the pressure across the port.
		if c.Kind == enclosure.Sealed && p.net > p.reach ||
			c.Kind == enclosure.Vented && p.net > p.reach+flow*(1+c.Leak*(c.PortDrag+c.PortTurbulence*flow+p.w*c.PortMass)) {
			continue
		}
		c.Load(p.w, p.back, &l)
		port, cone, ok := l.Needs(p.net, flow)
		if !ok || cone > p.reach {
			continue
		}
		reaction, _ := l.At(port)
		u := cone / p.unit
		u2 := u * u
		motion := 1 - driver.ForceFactorDrop/4*u2
		ir := u * (p.ar - p.air*imag(reaction) + m.stiffening*u2) / (1 - driver.ForceFactorDrop*3/4*u2)
		ii := u * (p.ai + p.air*real(reaction) + p.bi*u) / motion
		n := need{current2: ir*ir + ii*ii}
		warmth := m.heat * n.current2
		if warmth > m.most {
			continue
		}
		re := m.d.Re/(1-driver.TemperatureCoefficient*warmth) + p.zr
		ur, ui := ir*re-ii*p.zx, ii*re+ir*p.zx+p.emf*u*motion
		n.voltage2, n.power = ur*ur+ui*ui, ur*ir+ui*ii
		n.watts = n.power * m.coils / 2
		out = append(out, n)
	}
	return out
}
