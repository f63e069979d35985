package cabin

import "fmt"

// Nearby gives the responses of cars that differ a little from a stated one, at
// one place with one set of openings. Each is computed with the coarse tiles
// and moves the exact answer of the car as stated (or as learned) by its
// difference from the coarse one:
//
//	p = (p_exact + p_coarse - p_coarse_stated) * shape
//
// A difference rather than a ratio, because a ratio explodes where the stated
// car has a notch. The exact answer costs some milliseconds and is computed
// once; each car then costs about a tenth of it.
type Nearby struct {
	body     Body // not yet moved by what was learned
	learned  *Learned
	hz       []float64
	receiver Point
	openings string
	celsius  float64
	place    int // number of the place; -1: coordinates
	exact    Response
	stated   Response // coarse, at the same car as exact
	center   Deviation
	measured bool // a measured curve gives the level
}

// Nearby prepares the cars around this one.
func (b Body) Nearby(hz []float64, place, openings string, celsius float64) (*Nearby, error) {
	p, ok := b.Place(place)
	if !ok {
		return nil, unknown("place", place, b.Name, b.PlaceNames())
	}
	return b.nearby(hz, p, place, openings, celsius)
}

// NearbyKnown is Nearby where the exact answer, what Respond says of the same
// place, openings and temperature at the same frequencies, is known already.
func (b Body) NearbyKnown(exact Response, place, openings string, celsius float64) (*Nearby, error) {
	p, ok := b.Place(place)
	if !ok {
		return nil, unknown("place", place, b.Name, b.PlaceNames())
	}
	if err := b.Spread.check(); err != nil {
		return nil, fmt.Errorf("%s: %w", b.Name, err)
	}
	return b.around(exact, p, place, openings, celsius), nil
}

func (b Body) nearby(hz []float64, receiver Point, place, openings string, celsius float64) (*Nearby, error) {
	if err := b.Spread.check(); err != nil {
		return nil, fmt.Errorf("%s: %w", b.Name, err)
	}
	exact, err := b.respond(hz, receiver, place, openings, celsius)
	if err != nil {
		return nil, err
	}
	return b.around(exact, receiver, place, openings, celsius), nil
}

func (b Body) around(exact Response, receiver Point, place, openings string, celsius float64) *Nearby {
	n := &Nearby{body: b, learned: b.Learned, hz: exact.Hz, receiver: receiver, openings: openings, celsius: celsius, exact: exact,
		place:    b.PlaceNumber(place),
		measured: b.Curve.fits(place, openings)}
	n.body.Learned = nil
	n.body.Spread = b.Spread.with(b.Openings(openings))
	if b.Learned != nil {
		n.center = b.Learned.Shift
	}
	n.stated = n.coarse(n.center)
	return n
}

// coarse is the response of a car with few tiles, for input already checked,
// without the smooth error.
func (n *Nearby) coarse(d Deviation) Response {
	car, at := n.body.drawn(d, n.place, n.receiver)
	set, c, _ := car.prepare(n.openings, n.celsius)
	return c.tiled(1, n.hz, Piston(car.Source, car.SourceArea), Patch{Center: at}, set, coarse)
}

// At is the response of the car with a deviation from the one as stated. Where
// a measured curve gives the level, only the smooth error moves it, by the
// curve's own spread.
func (n *Nearby) At(d Deviation) Response {
	r := n.coarse(d)
	for j, f := range n.hz {
		r.Back[j] = passive(n.exact.Back[j] + r.Back[j] - n.stated.Back[j])
		// The exact answer of a learned car holds its smooth error already.
		if n.measured {
			smooth := shape(d.Shape).factor(f, n.body.Curve.Spread) / shape(n.center.Shape).factor(f, n.body.Curve.Spread)
			r.Transfer[j] = n.exact.Transfer[j] * smooth
			continue
		}
		held := n.center.factor(f, n.place, n.body.Spread)
		r.Transfer[j] = (n.exact.Transfer[j]/held + r.Transfer[j] - n.stated.Transfer[j]) * d.factor(f, n.place, n.body.Spread)
	}
	return r
}

// Moves says whether an unknown of the car, given by its number in Unknowns,
// below ShapeFrom, can move the response at all: a shut car has no leaf to turn,
// a car without panels none to tune.
func (n *Nearby) Moves(unknown int) bool {
	set, _ := n.body.Openings(n.openings)
	switch unknownNames[unknown] {
	case "openings":
		return len(set) > 0
	case "leaf angle", "hinge", "ground":
		return hasLeaf(set)
	case "panel share", "panel resonance":
		return len(n.body.Cavity.Panels) > 0
	}
	return true
}

// Gain is what the smooth error of a deviation, and what seats and dashboard do
// there, adds to the level at a frequency, dB.
func (n *Nearby) Gain(d Deviation, hz float64) float64 {
	if n.measured {
		return n.body.Curve.Spread * shape(d.Shape).at(hz)
	}
	return d.SmoothGain(hz, n.body.Spread) + n.body.Spread.Inside*d.level(n.place)
}
