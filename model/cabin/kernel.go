package cabin

import "math"

// The closed form of one axis of the static sum. Along an axis of length L the
// cosine series sums to
//
//	F(g; y, y') = cosh(g y<) cosh(g (L - y>)) / (g sinh(g L))
//
// which, written with decaying exponentials, is the direct wave of a line
// source and its images in the two ends:
//
//	F = [e(|y-y'|) + e(y+y') + e(2L-y-y') + e(2L-|y-y'|)] / (2 g (1 - e(2L))),  e(s) = exp(-g s)
//
// Nothing in it can overflow, and each exponential has a plain mean over the
// spans of two patches, so that tiles that extend along the closed axis cost
// no more than points (Kuttruff gives the modal sum; the summation is the
// classical partial-fraction series of cosh/sinh).

// span is the reach of a patch along one axis, m; lo = hi for a point.
type span struct{ lo, hi float64 }

func (s span) width() float64 { return s.hi - s.lo }
func (s span) mid() float64   { return (s.lo + s.hi) / 2 }

// gap is the distance between two spans, 0 when they touch or overlap.
func (s span) gap(t span) float64 {
	return math.Max(0, math.Max(s.lo-t.hi, t.lo-s.hi))
}

// thin is the width, m, below which a span is a point: the second differences
// below would lose their digits.
const thin = 1e-7

// gone is the exponent beyond which exp(-x) no longer changes a sum of terms
// near one in double precision.
const gone = 40

// fade is exp(-x). Most of its arguments lie far out or are zero: a piston is
// at no distance from itself, a wall's own tile at none from its image.
func fade(x float64) float64 {
	switch {
	case x > gone:
		return 0
	case x == 0:
		return 1
	}
	return math.Exp(-x)
}

// fadeMean is the mean of exp(-t) for t from 0 to x.
func fadeMean(x float64) float64 {
	if x < 1e-9 {
		return 1
	}
	return -math.Expm1(-x) / x
}

// closedMean is the mean of F(g; y, y') with y over a and y' over b.
func closedMean(a, b span, length, g float64) float64 {
	if a == b && a.lo == a.hi {
		return closedSelf(a, length, g)
	}
	wa, wb := fadeMean(g*a.width()), fadeMean(g*b.width())
	sum := directMean(a, b, g, wa*wb) +
		fade(g*(a.lo+b.lo))*wa*wb + // image in the near end
		fade(g*(2*length-a.hi-b.hi))*wa*wb // image in the far end
	if 2*g*length < gone {
		sum += wrappedMean(a, b, g, length, wa*wb)
		return sum / (-2 * g * math.Expm1(-2*g*length))
	}
	return sum / (2 * g)
}

// closedSelf is closedMean of a flat piston with itself, which is most of what a
// shut car asks for: no direct wave to be attenuated, no width to be averaged.
func closedSelf(a span, length, g float64) float64 {
	sum := 1 + fade(g*(a.lo+a.lo)) + fade(g*(2*length-a.hi-a.hi))
	if 2*g*length < gone {
		return (sum + fade(2*g*length)) / (-2 * g * math.Expm1(-2*g*length))
	}
	return sum / (2 * g)
}

// directMean is the mean of exp(-g |y-y'|); means is the product of the two
// fadeMeans, known to the caller.
func directMean(a, b span, g, means float64) float64 {
	switch {
	case a.hi <= b.lo:
		return fade(g*(b.lo-a.hi)) * means
	case b.hi <= a.lo:
		return fade(g*(a.lo-b.hi)) * means
	}
	return secondMean(a, b,
		func(u float64) float64 { // its second antiderivative
			x := g * math.Abs(u)
			return (x + math.Expm1(-x)) / (g * g)
		},
		func(u float64) float64 { // its first
			return math.Copysign(-math.Expm1(-g*math.Abs(u))/g, u)
		},
		func(u float64) float64 { return fade(g * math.Abs(u)) })
}

// wrappedMean is the mean of exp(-g (2L - |y-y'|)).
func wrappedMean(a, b span, g, length, means float64) float64 {
	switch {
	case a.hi <= b.lo:
		return fade(g*(2*length-b.hi+a.lo)) * means
	case b.hi <= a.lo:
		return fade(g*(2*length-a.hi+b.lo)) * means
	}
	end := fade(2 * g * length)
	return end * secondMean(a, b,
		func(u float64) float64 {
			x := g * math.Abs(u)
			return (math.Expm1(x) - x) / (g * g)
		},
		func(u float64) float64 {
			return math.Copysign(math.Expm1(g*math.Abs(u))/g, u)
		},
		func(u float64) float64 { return math.Exp(g * math.Abs(u)) })
}

// secondMean is the mean of h(y-y') over two spans from the second
// antiderivative of h, or from lower ones where a span is a point.
func secondMean(a, b span, second, first, h func(float64) float64) float64 {
	wa, wb := a.width(), b.width()
	switch {
	case wa < thin && wb < thin:
		return h(a.mid() - b.mid())
	case wa < thin:
		return (first(b.hi-a.mid()) - first(b.lo-a.mid())) / wb
	case wb < thin:
		return (first(a.hi-b.mid()) - first(a.lo-b.mid())) / wa
	}
	return (second(a.hi-b.lo) - second(a.hi-b.hi) - second(a.lo-b.lo) + second(a.lo-b.hi)) / (wa * wb)
}

// closedMeanAtZero is the mean of F(0; y, y') = L [1/3 - y>/L + (y^2 + y'^2) /
// (2 L^2)], the limit with the uniform mode left out.
func closedMeanAtZero(a, b span, length float64) float64 {
	apart := secondMean(a, b,
		func(u float64) float64 { return math.Abs(u*u*u) / 6 },
		func(u float64) float64 { return math.Copysign(u*u/2, u) },
		math.Abs)
	larger := (a.mid() + b.mid() + apart) / 2
	return length/3 - larger + (squareMean(a)+squareMean(b))/(2*length)
}

func squareMean(s span) float64 { return (s.lo*s.lo + s.lo*s.hi + s.hi*s.hi) / 3 }

// cosineMean is the mean of cos(n pi y / L) over a span.
func cosineMean(n int, s span, length float64) float64 {
	k := float64(n) * math.Pi / length
	x := k * s.width() / 2
	if x < 1e-6 {
		return math.Cos(k * s.mid())
	}
	return math.Cos(k*s.mid()) * math.Sin(x) / x
}
