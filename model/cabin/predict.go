package cabin

import (
	"fmt"
	"math"
	"math/cmplx"
	"strings"

	"loudfor/model/air"
)

// Coldest and hottest air, Celsius, that a car is computed with.
const (
	coldest = -60
	hottest = 90
)

// Respond gives the car's response at a named place with a named set of
// openings, at a temperature in Celsius. A measured curve that fits the place
// and the openings overrides the level of Transfer; Back stays computed.
func (b Body) Respond(hz []float64, place, openings string, celsius float64) (Response, error) {
	p, ok := b.Place(place)
	if !ok {
		return Response{}, unknown("place", place, b.Name, b.PlaceNames())
	}
	return b.respond(hz, p, place, openings, celsius)
}

func (b Body) respond(hz []float64, receiver Point, place, openings string, celsius float64) (Response, error) {
	if b.Learned != nil {
		return b.learnt(hz, receiver, place, openings, celsius)
	}
	set, c, err := b.prepare(openings, celsius)
	if err != nil {
		return Response{}, err
	}
	source := Piston(b.Source, b.SourceArea)
	if !b.Curve.fits(place, openings) {
		return c.Respond(hz, source, receiver, set)
	}
	if err := b.Curve.Check(); err != nil {
		return Response{}, err
	}
	// The curve's ends ride along, to join the computed curve to them.
	last := len(b.Curve.Hz) - 1
	ends := []float64{computable(b.Curve.Hz[0]), computable(b.Curve.Hz[last])}
	r, err := c.Respond(append(append([]float64(nil), hz...), ends...), source, receiver, set)
	if err != nil {
		return Response{}, err
	}
	open := OpenField(r.Hz, 1, c.Air)
	n := len(hz)
	var shift [2]float64
	for i := range shift {
		shift[i] = 1
		if size := cmplx.Abs(r.Transfer[n+i]); size > 0 {
			shift[i] = cmplx.Abs(open.Transfer[n+i]) * b.Curve.factor(b.Curve.Hz[i*last]) / size
		}
	}
	r.Hz, r.Transfer, r.Back = r.Hz[:n:n], r.Transfer[:n:n], r.Back[:n:n]
	b.Curve.override(&r, open, shift)
	return r, nil
}

// computable brings the end of a measured curve into the computed range; the
// curve needs no joining beyond it.
func computable(hz float64) float64 { return math.Min(math.Max(hz, lowest), highest) }

// prepare finds the openings and fills the cavity with air.
func (b Body) prepare(openings string, celsius float64) ([]Opening, Cavity, error) {
	set, ok := b.Openings(openings)
	if !ok {
		return nil, Cavity{}, unknown("set of openings", openings, b.Name, b.OpeningNames())
	}
	if !finite(celsius) || celsius < coldest || celsius > hottest {
		return nil, Cavity{}, fmt.Errorf("temperature %g C: the air in a car lies between %d and %d C", celsius, coldest, hottest)
	}
	c := b.Cavity
	c.Air = air.At(celsius)
	return set, c, nil
}

func unknown(what, name, body string, known []string) error {
	if len(known) == 0 {
		return fmt.Errorf("%s %q: the %s names none", what, name, body)
	}
	return fmt.Errorf("%s %q is not one of the %s's: %s", what, name, body, strings.Join(known, ", "))
}
