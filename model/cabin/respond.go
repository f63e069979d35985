package cabin

import (
	"fmt"
	"math"
	"runtime"

	"loudfor/model/parallel"
)

// Tiles along each side of an opening. Flow crowds at the edges, so that the
// error falls as one over the number of tiles: twice the finer answer less the
// coarser one leaves 0.1 dB rms with two doors open (computed).
const (
	coarse = 3
	fine   = 6
)

// Respond gives the transfer from the source to the receiver and the cavity's
// back-action on the source, with the given openings. Frequencies are in Hz,
// from 0.1 to 500; beyond some 200 a car is no box of air any more.
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
	ear := Patch{Center: receiver}
	if len(openings) == 0 {
		return c.tiled(1, hz, patch, ear, nil, 1), nil
	}
	workers := runtime.GOMAXPROCS(0)
	return extrapolate(c.tiled(workers, hz, patch, ear, openings, coarse), c.tiled(workers, hz, patch, ear, openings, fine)), nil
}

// extrapolate takes two responses, the second with twice the tiles along each
// side, to the limit of endless tiles.
func extrapolate(few, many Response) Response {
	r := Response{Hz: many.Hz, Transfer: make([]complex128, len(many.Hz)), Back: make([]complex128, len(many.Hz))}
	for i := range r.Hz {
		r.Transfer[i] = 2*many.Transfer[i] - few.Transfer[i]
		r.Back[i] = passive(2*many.Back[i] - few.Back[i])
	}
	return r
}

// passive removes the negative resistance that a combination of passive
// answers can have near a resonance so sharp that each puts it elsewhere: a
// cavity never drives the cone.
func passive(back complex128) complex128 {
	return complex(math.Max(real(back), 0), imag(back))
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
	if err := c.checkSource(source); err != nil {
		return err
	}
	if err := c.CheckPlace(receiver); err != nil {
		return fmt.Errorf("receiver: %w", err)
	}
	return c.CheckOpenings(openings)
}

// checkSource reports a piston that is impossible or does not fit.
func (c Cavity) checkSource(p Patch) error {
	if err := c.checkPatch(p); err != nil {
		return fmt.Errorf("source: %w", err)
	}
	if _, _, ok := flat(p); !ok {
		return fmt.Errorf("source of size %v: one extent must be zero and the others at least %g m, as a piston has", p.Size, smallestSide)
	}
	return nil
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

// tiled is Respond with a given number of tiles along each side, its frequencies
// shared out among workers.
func (c Cavity) tiled(workers int, hz []float64, source, receiver Patch, openings []Opening, tiles int) Response {
	s := c.system(source, receiver, openings, tiles, hz)
	r := Response{
		Hz:       append([]float64(nil), hz...),
		Transfer: make([]complex128, len(hz)),
		Back:     make([]complex128, len(hz)),
	}
	parallel.EachWith(workers, len(hz), func() func(int) {
		in := s.workspace()
		return func(i int) { r.Transfer[i], r.Back[i] = s.at(hz[i], in) }
	})
	return r
}
