package bass

import (
	"math"
	"sort"

	"loudfor/model/air"
)

// A mean over bands needs a logarithm for each frequency. Where it is only
// asked whether the mean reaches a level, one product will do: with s the
// squared pressures at the two frequencies of a band and w their weights,
//
//	s1^w1 s2^w2 <= w1 s1 + w2 s2
//
// and the mean level, five bands alike, is the level of the fifth root of the
// product of the bands. The two frequencies are neighbours on the grid and
// nearly as loud, so hardly anything is lost.

// Comb says which frequencies of a grid the bands stand on.
type Comb struct {
	at     [2 * len(bandCentres)]int // for each band the one below its centre and the one above
	weight [2 * len(bandCentres)]float64
}

// CombOf is the comb of a grid, as Bands reads it.
func CombOf(hz []float64) (c Comb) {
	for n, centre := range bandCentres {
		i := sort.SearchFloat64s(hz, centre)
		if i == 0 || i == len(hz) {
			c.at[2*n], c.weight[2*n] = max(0, i-1), 1
			c.at[2*n+1] = c.at[2*n]
			continue
		}
		t := (centre - hz[i-1]) / (hz[i] - hz[i-1])
		c.at[2*n], c.weight[2*n] = i-1, 1-t
		c.at[2*n+1], c.weight[2*n+1] = i, t
	}
	return c
}

// Product is that of the five bands' squared pressures, Pa^10; least is what a
// mean level needs.
type Product = float64

// LeastProduct is the product of bands whose mean has a level, dB, less what
// covers rounding.
func LeastProduct(level float64) Product {
	p := air.Pressure(level - ceilingSlack)
	p *= p
	return p * p * p * p * p
}

// leastSquare is the square of leastPressure.
const leastSquare = leastPressure * leastPressure

// band is a bound on one band's squared pressure, of bounds at its two
// frequencies.
func (c *Comb) band(n int, s0, s1 float64) float64 {
	return c.weight[2*n]*max(leastSquare, s0) + c.weight[2*n+1]*max(leastSquare, s1)
}

// Reaches says whether a horizon leaves it open that the mean level of the bands
// reaches a product, for boxes with a mouth.
func (h *Horizon) Reaches(least Product, m Mouth, c *Comb) bool {
	product := 1.0
	for n := range bandCentres {
		p0, p1 := h.at(c.at[2*n], m), h.at(c.at[2*n+1], m)
		product *= c.band(n, p0*p0, p1*p1)
	}
	return product >= least || math.IsNaN(product)
}
