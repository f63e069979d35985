package enclosure

import "math"

// Bounds on a port, for a search that asks many questions of one box. Flow and
// net output both rise with the velocity of the cone, and either can be had
// from the flow without solving anything.

// Cone is the peak volume velocity of the cone, m3/s, while that through the
// port is y.
func (l *Load) Cone(y float64) float64 {
	return y * math.Sqrt((l.alpha+y*(l.beta+y*l.gamma))/l.drive)
}

// Net2 is the square of the net output, m3/s, while the flow through the port
// has the peak y. It rises with y.
func (l *Load) Net2(y float64) float64 {
	zp := complex(l.drag+l.k*y, l.x)
	return y * y * square(l.m0+l.m1*zp) / l.drive
}

// MostFlow bounds Flow from above: one of Newton's steps from a value above the
// root of a convex function ends above it.
func (l *Load) MostFlow(u float64) float64 {
	t := l.drive * u * u
	if !(t > 0) {
		return 0
	}
	y := math.Sqrt(2 * t / (l.alpha + math.Sqrt(l.alpha*l.alpha+4*l.gamma*t)))
	y2 := y * y
	g, b := l.gamma*y2, l.beta*y
	return y - (y2*(l.alpha+b+g)-t)/(y*(2*l.alpha+3*b+4*g))
}

// MostOutput2 bounds the square of the net output for a unit volume velocity of
// the cone, while the flow through the port is between two peaks.
//
// The output is a fraction linear in Zp above and below the line. Zp moves along
// a straight line, so the output moves along an arc of a circle, and since
// Re(Y* s) >= 0, along no more than half of it. So it stays in the disc over the
// chord between its ends. The same holds for the reaction.
func (l *Load) MostOutput2(from, to float64) float64 {
	_, a := l.At(from)
	_, b := l.At(to)
	most := (math.Sqrt(square(a+b)) + math.Sqrt(square(a-b))) / 2
	return most * most
}
