package cabin

import (
	"fmt"
	"math"
)

// Tiles along each side of an opening. Flow crowds at the edges, so that the
// error falls as one over the number of tiles: twice the finer answer less the
// coarser one leaves 0.1 dB rms with two doors open (OPENINGS).
const (
	coarse = 3
	fine   = 6
)

// Respond gives the transfer from the source to the receiver and the cavity's
// back-action on the source, with the given openings. Frequencies are in Hz,
// above 0 and up to 1000; beyond some 200 a car is no box of air any more.
// A Point as source stands for the cone of a 12-inch driver there.
//
// Back leaves out what the same piston feels in the open, for that mass is
// part of the driver's moving mass: it is the pressure that walls and openings
// send back. Its real part is never negative.
func (c Cavity) Respond(hz []float64, source Source, receiver Point, openings []Opening) (Response, error) {
	if source == nil {
		return Response{}, fmt.Errorf("no source in the cabin")
	}
	patch := source.block()
	if err := c.checkAll(hz, patch, receiver, openings); err != nil {
		return Response{}, err
	}
	if len(openings) == 0 {
		return c.tiled(hz, patch, receiver, nil, 1), nil
	}
	r := c.tiled(hz, patch, receiver, openings, coarse)
	better := c.tiled(hz, patch, receiver, openings, fine)
	for i := range r.Hz {
		r.Transfer[i] = 2*better.Transfer[i] - r.Transfer[i]
		back := 2*better.Back[i] - r.Back[i]
		// Extrapolation may overshoot at a resonance so sharp that the coarse
		// tiles put it elsewhere; a cavity never drives the cone.
		r.Back[i] = complex(math.Max(real(back), 0), imag(back))
	}
	return r, nil
}

func (c Cavity) checkAll(hz []float64, source Patch, receiver Point, openings []Opening) error {
	if err := c.Check(); err != nil {
		return err
	}
	for _, f := range hz {
		if !finite(f) || f < lowest || f > highest {
			return fmt.Errorf("frequency %g Hz: the cabin is computed from %g to %d Hz", f, lowest, highest)
		}
	}
	if err := c.checkPatch(source); err != nil {
		return fmt.Errorf("source: %w", err)
	}
	if _, _, ok := flat(source); !ok {
		return fmt.Errorf("source of size %v: one extent must be zero and the others at least %g m, as a piston has", source.Size, smallestSide)
	}
	if err := c.CheckPlace(receiver); err != nil {
		return fmt.Errorf("receiver: %w", err)
	}
	return c.CheckOpenings(openings)
}

// flat gives the two axes along which a piston extends.
func flat(p Patch) (u, v int, ok bool) {
	size := p.Size.axes()
	for axis := range size {
		u, v = (axis+1)%3, (axis+2)%3
		if size[axis] == 0 && size[u] >= smallestSide && size[v] >= smallestSide {
			return u, v, true
		}
	}
	return 0, 0, false
}

// tiled is Respond with a given number of tiles along each side.
func (c Cavity) tiled(hz []float64, source Patch, receiver Point, openings []Opening, tiles int) Response {
	s := c.system(source, receiver, openings, tiles, hz)
	r := Response{
		Hz:       append([]float64(nil), hz...),
		Transfer: make([]complex128, len(hz)),
		Back:     make([]complex128, len(hz)),
	}
	for i, f := range hz {
		r.Transfer[i], r.Back[i] = s.at(f)
	}
	return r
}
