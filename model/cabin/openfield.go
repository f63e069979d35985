package cabin

import (
	"math"
	"math/cmplx"

	"loudfor/model/air"
)

// OpenField is the response in the open, the box on the ground or in a wall: a
// half space, p/U = j w rho exp(-j k r) / (2 pi r) at the distance r in m (L.
// Beranek and T. Mellow, Acoustics: Sound Fields and Transducers, the point
// source in a baffle). A distance of zero or less means 1 m, the handbooks'
// distance. Back is 0: the mass of the air that moves with the cone is part of
// the driver's moving mass already.
func OpenField(hz []float64, distance float64, a air.Air) Response {
	if !(distance > 0) || math.IsInf(distance, 0) {
		distance = 1
	}
	r := Response{
		Hz:       append([]float64(nil), hz...),
		Transfer: make([]complex128, len(hz)),
		Back:     make([]complex128, len(hz)),
	}
	for i, f := range hz {
		w := 2 * math.Pi * f
		r.Transfer[i] = complex(0, w*a.Density/(2*math.Pi*distance)) * cmplx.Exp(complex(0, -w/a.SoundSpeed*distance))
	}
	return r
}
