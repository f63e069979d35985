package enclosure

import "math"

// The circuit solved at one frequency. With p the pressure behind the cone
// (sealed, vented) or across the port (band-pass), Yb the chamber's admittance
// and Zc the cabin's impedance for one driver's net flow, everything is linear
// but the port's resistance, which grows with the flow y through it. So the
// solution is kept as a fraction in the port's impedance Zp = R + k y + jX:
//
//	sealed      reaction = s/Y               net = Yb/Y
//	vented      reaction = s Zp/(Zp Y + s)   net = Yb Zp/(Zp Y + s)     U_port = s/(Zp Y + s)
//	band-pass   reaction = 1/Yr + (Zp + Zc (1 + G Zp))/(Zp Y + s)
//	            net = (1 + G Zp)/(Zp Y + s)                             U_port = 1/(Zp Y + s)
//
// each for a unit volume velocity of the cone, with s = 1 + Zc Yb (the cabin
// is pumped by what leaves the box, and what leaves the box is what its
// chamber takes in: Small 1973), G the leak, Y = Yb + s G, and Yb of the front
// chamber for the band-pass box. Signs of net and port flow are dropped: only
// their size is used.
//
// Flow and output rise strictly with the cone's velocity. For the flow:
// y |Zp(y) Y + s| = |U| |s|, and the left side rises because
// Re(Y* s) >= 0 in a passive cabin. For the output, net/U_port is Yb Zp/s or
// 1 + G Zp: its size rises with R + k y. A search may rely on it.

// Load is what one driver's share of the box does at one frequency, for a unit
// volume velocity of its cone.
type Load struct {
	// Reaction is the pressure difference front to rear on the cone and
	// Output the net volume velocity, at vanishing level; in a sealed box at
	// every level.
	Reaction, Output complex128

	Ported bool
	Port   complex128 // volume velocity through the port, at vanishing level

	// The fraction, where there is a port.
	fixed          complex128 // 1/Yr
	d, y           complex128 // Zp0 Y + s, Y
	n0, n1, m0, m1 complex128 // numerators of reaction and output: n0 + n1 Zp
	drag, x, k     float64    // Zp = drag + k flow + j x
	alpha, beta    float64    // |d|^2, 2 k Re(d* y)
	gamma, drive   float64    // k^2 |y|^2, |U_port numerator|^2
}

// Load solves the circuit at the angular frequency w in rad/s into l. cabin is
// the pressure at the box in Pa for a net volume velocity of 1 m3/s from one
// driver's share, with all other shares doing the same. A negative real part,
// which no cabin has, is taken as zero.
func (c *Circuit) Load(w float64, cabin complex128, l *Load) {
	if real(cabin) < 0 {
		cabin = complex(0, imag(cabin))
	}
	if c.Kind == Sealed {
		yb := chamber(w, c.Compliance, c.Absorption)
		s := 1 + cabin*yb
		iy := inverse(yb + scale(s, c.Leak))
		l.Ported = false
		l.Port = 0
		l.Reaction, l.Output = s*iy, yb*iy
		return
	}
	l.Ported = true
	l.drag, l.x, l.k = c.PortDrag, w*c.PortMass, c.PortTurbulence
	var flow complex128
	if c.Kind == Vented {
		yb := chamber(w, c.Compliance, c.Absorption)
		s := 1 + cabin*yb
		l.y = yb + scale(s, c.Leak)
		l.d = complex(l.drag, l.x)*l.y + s
		l.fixed, l.n0, l.n1, l.m0, l.m1 = 0, 0, s, 0, yb
		flow = s
	} else {
		yf := chamber(w, c.FrontCompliance, c.FrontAbsorption)
		s := 1 + cabin*yf
		l.y = yf + scale(s, c.Leak)
		l.d = complex(l.drag, l.x)*l.y + s
		l.fixed = complex(c.Absorption, -1/(w*c.Compliance))
		l.n0, l.n1, l.m0, l.m1 = cabin, 1+scale(cabin, c.Leak), 1, complex(c.Leak, 0)
		flow = 1
	}
	l.alpha = square(l.d)
	l.beta = max(0, 2*l.k*(real(l.d)*real(l.y)+imag(l.d)*imag(l.y)))
	l.gamma = l.k * l.k * square(l.y)
	l.drive = square(flow)
	l.Port = flow * inverse(l.d)
	l.Reaction, l.Output = l.At(0)
}

// chamber is the admittance of a chamber: a compliance in series with the
// resistance of what absorbs.
func chamber(w, compliance, absorption float64) complex128 {
	x := w * compliance
	f := x / (1 + x*x*absorption*absorption)
	return complex(f*x*absorption, f)
}

const (
	// flowRounds bounds the Newton steps of Flow; 3 or 4 are usual.
	flowRounds = 12
	// flowTolerance is the relative step at which Flow stops; the error left
	// is about its square.
	flowTolerance = 1e-6
)

// Flow is the peak volume velocity through the port, m3/s, when that of the
// cone is u: the root of y^2 (alpha + beta y + gamma y^2) = drive u^2. Newton's
// steps begin at the root without beta, which is above, and since the function
// is convex they fall towards the root and double their digits.
func (l *Load) Flow(u float64) float64 {
	t := l.drive * u * u
	if !(t > 0) {
		return 0
	}
	return root(l.alpha, l.beta, l.gamma, t, math.Sqrt(2*t/(l.alpha+math.Sqrt(l.alpha*l.alpha+4*l.gamma*t))))
}

// FlowNear is Flow with a guess, which saves most of its time where the guess
// is good. Any guess above zero will do: one step from below the root of a
// convex function leads above it.
func (l *Load) FlowNear(u, guess float64) float64 {
	t := l.drive * u * u
	if !(t > 0) {
		return 0
	}
	return root(l.alpha, l.beta, l.gamma, t, guess)
}

// root is the y with y^2 (alpha + beta y + gamma y^2) = t, from a guess.
func root(alpha, beta, gamma, t, y float64) float64 {
	for range flowRounds {
		y2 := y * y
		g, b := gamma*y2, beta*y
		step := (y2*(alpha+b+g) - t) / (y * (2*alpha + 3*b + 4*g))
		y -= step
		if math.Abs(step) <= flowTolerance*y {
			break
		}
	}
	return y
}

// Elasticity is by how many per cent the flow through the port grows when the
// cone's velocity grows by one, where the flow is y: from 1 in a port without
// turbulence down to 1/2.
func (l *Load) Elasticity(y float64) float64 {
	g, b := l.gamma*y*y, l.beta*y
	return (l.alpha + b + g) / (l.alpha + 1.5*b + 2*g)
}

// Needs is the question put the other way round: the peak volume velocities of
// the port and of the cone, m3/s, when the net output has the peak net and
// nothing flows through the port faster than most; ok is false where that does
// not suffice. No driver is in it: net/U_port is Yb Zp/s or 1 + G Zp, so the
// flow through the port follows from the net output alone.
func (l *Load) Needs(net, most float64) (port, cone float64, ok bool) {
	if !l.Ported {
		return 0, net / math.Sqrt(square(l.Output)), true
	}
	grown := scale(l.m1, l.k)
	still := l.m0 + l.m1*complex(l.drag, l.x)
	alpha, gamma := square(still), square(grown)
	beta := max(0, 2*(real(still)*real(grown)+imag(still)*imag(grown)))
	t := l.drive * net * net
	if most*most*(alpha+most*(beta+most*gamma)) < t {
		return 0, 0, false
	}
	if !(t > 0) {
		return 0, 0, true
	}
	port = root(alpha, beta, gamma, t, math.Sqrt(2*t/(alpha+math.Sqrt(alpha*alpha+4*gamma*t))))
	return port, port * math.Sqrt((l.alpha+port*(l.beta+port*l.gamma))/l.drive), true
}

// Swing bounds how fast the reaction changes while the flow through the port
// grows from one peak to another: the size of its derivative by the logarithm
// of the cone's velocity, Pa s/m3. cone is that velocity, m3/s, at the lower
// flow.
//
// The derivative by Zp is the square of the port's share of the flow, in both
// kinds of box (work out the fraction above; it has to be so, since the network
// is reciprocal). Zp moves by k y, y grows with its elasticity, and both that
// and the port's share fall.
func (l *Load) Swing(from, to, cone float64) float64 {
	share := from / cone
	return l.k * share * share * to * l.Elasticity(from)
}

// At gives reaction and net output, for a unit volume velocity of the cone,
// while the flow through the port has the peak y.
func (l *Load) At(y float64) (reaction, output complex128) {
	if !l.Ported {
		return l.Reaction, l.Output
	}
	grown := l.k * y
	zp := complex(l.drag+grown, l.x)
	i := inverse(l.d + scale(l.y, grown))
	return l.fixed + (l.n0+l.n1*zp)*i, (l.m0 + l.m1*zp) * i
}

// inverse is 1/z. The operator of the language takes care of infinities that
// do not occur here, at several times the cost.
func inverse(z complex128) complex128 {
	f := 1 / square(z)
	return complex(real(z)*f, -imag(z)*f)
}

func square(z complex128) float64 { return real(z)*real(z) + imag(z)*imag(z) }

func scale(z complex128, f float64) complex128 { return complex(real(z)*f, imag(z)*f) }
