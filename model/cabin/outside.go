package cabin

import (
	"math"
	"math/cmplx"
)

// Outside the car, tiles on one side radiate into a half space and feel each
// other through it: the Rayleigh integral. The static part of 1/r is averaged
// over both tiles in closed form (it is a mass, and what neighbours do to each
// other matters); the rest of exp(-jkr)/r is smooth and is taken between the
// middles:
//
//	Z_ij = j w rho / (2 pi) [ mean(1/r) + (exp(-j k r_ij) - 1) / r_ij ]
//
// For i = j the bracket tends to mean(1/r) - j k: the mass and the radiation
// resistance rho c k^2 / (2 pi) of a small piston in a baffle (Beranek and
// Mellow, Acoustics: Sound Fields and Transducers). Its real part is a sinc
// of distance, so no set of tiles can gain energy from the air. Tiles on
// different walls do not couple outside.

// What a leaf, the ground and the finite side of the car change stands in
// leaf.go.

// outside is the air around the car for a list of tiles.
type outside struct {
	tiles    []tile
	inverse  []float64 // mean 1/r of each pair, 1/m; 0 for different walls
	class    []int     // each pair's entry in distance, -1 for different walls
	image    []int     // each pair's entry in distance by way of the ground, -1 for none
	distance []float64 // distinct distances, m
	n        int
}

// tile is one tile as the outside sees it: its wall, its spans there, and what
// its hole's leaf does to it.
type tile struct {
	wall               Wall
	u, v               span
	hole               int
	kappa, gamma, lean float64
}

// distanceStep is the resolution, m, at which lengths count as the same.
const distanceStep = 1e-9

func newOutside(tiles []tile, ground float64) outside {
	n := len(tiles)
	o := outside{tiles: tiles, inverse: make([]float64, n*n), class: make([]int, n*n), image: make([]int, n*n), n: n}
	classes := map[int64]int{}
	of := func(r float64) int {
		class, seen := classes[steps(r)]
		if !seen {
			class = len(o.distance)
			classes[steps(r)] = class
			o.distance = append(o.distance, r)
		}
		return class
	}
	known := map[relation]facing{} // an even tiling has few relations, and many pairs of each
	for i, a := range tiles {
		for j, b := range tiles[:i+1] {
			f, image := facing{class: -1}, -1
			if a.wall == b.wall {
				key := relate(a, b)
				seen := false
				if f, seen = known[key]; !seen {
					f = facing{inverse: inverseDistanceMean(a.u, b.u, a.v, b.v), class: of(math.Hypot(a.u.mid()-b.u.mid(), a.v.mid()-b.v.mid()))}
					known[key] = f
				}
				if a.gamma*b.gamma > 0 {
					image = of(math.Hypot(a.u.mid()-b.u.mid(), a.v.mid()+b.v.mid()+2*ground))
				}
			}
			o.inverse[i*n+j], o.inverse[j*n+i] = f.inverse, f.inverse
			o.class[i*n+j], o.class[j*n+i] = f.class, f.class
			o.image[i*n+j], o.image[j*n+i] = image, image
		}
	}
	return o
}

// relation is all that what two tiles of one wall do to each other depends on:
// the distance of their middles along both axes, and their sizes, in steps.
type relation struct{ u, v, au, av, bu, bv int64 }

func relate(a, b tile) relation {
	return relation{
		u: steps(math.Abs(a.u.mid() - b.u.mid())), v: steps(math.Abs(a.v.mid() - b.v.mid())),
		au: steps(a.u.width()), av: steps(a.v.width()), bu: steps(b.u.width()), bv: steps(b.v.width()),
	}
}

// facing is what two tiles of one relation do to each other.
type facing struct {
	inverse float64
	class   int
}

func steps(length float64) int64 { return int64(math.Round(length / distanceStep)) }

// add puts Z at the angular frequency w on top of a matrix. smooth is scratch
// of len(o.distance). Tiles of unlike holes in one wall take the geometric mean
// of their constants, which keeps the flat part free of gain.
func (o outside) add(matrix, smooth []complex128, w, density, k float64) {
	for i, r := range o.distance {
		smooth[i] = complex(0, -k)
		if r > distanceStep {
			smooth[i] = (cmplx.Exp(complex(0, -k*r)) - 1) / complex(r, 0)
		}
	}
	factor := w * density / (2 * math.Pi)
	share := fitted(w / (2 * math.Pi))
	for i := range o.tiles {
		a := &o.tiles[i]
		for j := range o.tiles {
			at := i*o.n + j
			class := o.class[at]
			if class < 0 {
				continue
			}
			b := &o.tiles[j]
			mass, echo := o.inverse[at], smooth[class]
			if a.kappa != 1 || b.kappa != 1 {
				kappa := math.Sqrt((1 + share*(a.kappa-1)) * (1 + share*(b.kappa-1)))
				mass, echo = kappa*mass, times(kappa, echo)
			}
			if image := o.image[at]; image >= 0 {
				gamma := share * math.Sqrt(a.gamma*b.gamma)
				mass, echo = mass+gamma/o.distance[image], echo+times(gamma, smooth[image])
			}
			if a.hole == b.hole {
				mass += share * a.lean * b.lean
			}
			matrix[at] += complex(-factor*imag(echo), factor*(mass+real(echo)))
		}
	}
}

// inverseDistanceMean is the mean of 1/r between two rectangles in one plane
// with spans ua x va and ub x vb, 1/m: the fourth difference of the fourth
// antiderivative of 1/r.
func inverseDistanceMean(ua, ub, va, vb span) float64 {
	du := [4]float64{ua.hi - ub.lo, ua.hi - ub.hi, ua.lo - ub.lo, ua.lo - ub.hi}
	dv := [4]float64{va.hi - vb.lo, va.hi - vb.hi, va.lo - vb.lo, va.lo - vb.hi}
	sign := [4]float64{1, -1, -1, 1}
	sum := 0.0
	for i, u := range du {
		for j, v := range dv {
			sum += sign[i] * sign[j] * inverseDistancePotential(u, v)
		}
	}
	return sum / (ua.width() * ub.width() * va.width() * vb.width())
}

// inverseDistancePotential is f with d4f/du2dv2 = 1/r, r = hypot(u, v):
// (u^2 v asinh(v/|u|) + u v^2 asinh(u/|v|)) / 2 - r^3/6, with the signs that
// make it even.
func inverseDistancePotential(u, v float64) float64 {
	u, v = math.Abs(u), math.Abs(v)
	r := math.Hypot(u, v)
	f := -r * r * r / 6
	if u > 0 {
		f += u * u * v * math.Asinh(v/u) / 2
	}
	if v > 0 {
		f += u * v * v * math.Asinh(u/v) / 2
	}
	return f
}
