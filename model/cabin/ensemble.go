package cabin

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// An ensemble is the same prediction for many cars that the one at hand could
// be: dimensions, damping, openings and places drawn within Spread. The error
// of the cabin is common to all builds in it, so the draws depend on the seed
// alone, and comparing two builds draw by draw leaves only what differs
// between them.
//
// Each draw is computed with the coarse tiles and moves the exact answer by
// its difference from the coarse answer of the car as stated:
//
//	p_i = (p_exact + p_draw - p_stated) * shape_i
//
// so the ensemble is centred on what Respond says. A difference rather than a
// ratio, because a ratio explodes where the stated car has a notch. Draws come
// in opposite pairs, which centres small errors exactly.

// draw is one car, in standard deviations.
type draw struct {
	length, width, height float64
	admittance, area      float64
	source, receiver      Point
	shape                 shape
}

// farthest bounds a draw, standard deviations: a car beyond it is another car.
const farthest = 3

// mostDraws keeps a slip of the keyboard from running for hours.
const mostDraws = 100_000

// The largest relative spreads that still mean something: beyond them three
// standard deviations leave nothing of a car.
const (
	mostSpread       = 1
	mostSpreadOfSize = 0.5 // of a dimension
)

// draws gives n cars for a seed; the even ones are the odd ones' opposites,
// and a longer list begins with the shorter.
func draws(n int, seed uint64) []draw {
	r := rand.New(rand.NewPCG(seed, 0x6c6f7564)) // a stream of its own
	z := func() float64 { return math.Max(-farthest, math.Min(farthest, r.NormFloat64())) }
	list := make([]draw, 0, n+1)
	for len(list) < n {
		d := draw{length: z(), width: z(), height: z(), admittance: z(), area: z()}
		d.source = Point{z(), z(), z()}
		d.receiver = Point{z(), z(), z()}
		for i := range d.shape {
			d.shape[i] = z()
		}
		list = append(list, d, d.opposite())
	}
	return list[:n]
}

func (d draw) opposite() draw {
	back := Point{-1, -1, -1}
	o := draw{
		length: -d.length, width: -d.width, height: -d.height,
		admittance: -d.admittance, area: -d.area,
		source: d.source.scaled(back), receiver: d.receiver.scaled(back),
	}
	for i, z := range d.shape {
		o.shape[i] = -z
	}
	return o
}

// Ensemble gives n responses of cars drawn around this one with the given
// seed, at a named place with a named set of openings, at a temperature in
// Celsius. The same seed gives the same cars, whatever the frequencies, the
// place and n. Where a measured curve fits, Transfer is drawn around the curve
// with the curve's own spread.
func (b Body) Ensemble(hz []float64, place, openings string, celsius float64, n int, seed uint64) ([]Response, error) {
	p, ok := b.Place(place)
	if !ok {
		return nil, unknown("place", place, b.Name, b.PlaceNames())
	}
	return b.ensemble(hz, p, place, openings, celsius, n, seed)
}

// EnsembleAt is Ensemble at a place given by its coordinates.
func (b Body) EnsembleAt(hz []float64, receiver Point, openings string, celsius float64, n int, seed uint64) ([]Response, error) {
	return b.ensemble(hz, receiver, "", openings, celsius, n, seed)
}

func (b Body) ensemble(hz []float64, receiver Point, place, openings string, celsius float64, n int, seed uint64) ([]Response, error) {
	if n < 1 || n > mostDraws {
		return nil, fmt.Errorf("%d draws of the car: between 1 and %d are possible", n, mostDraws)
	}
	if err := b.Spread.check(); err != nil {
		return nil, fmt.Errorf("%s: %w", b.Name, err)
	}
	exact, err := b.respond(hz, receiver, place, openings, celsius)
	if err != nil {
		return nil, err
	}
	stated := b.coarse(hz, receiver, openings, celsius)
	measured := b.Curve.fits(place, openings)
	list := make([]Response, n)
	for i, d := range draws(n, seed) {
		car, at := b.drawn(d, receiver)
		r := car.coarse(hz, at, openings, celsius)
		for j, f := range hz {
			r.Back[j] = passive(exact.Back[j] + r.Back[j] - stated.Back[j])
			if measured {
				r.Transfer[j] = exact.Transfer[j] * d.shape.factor(f, b.Curve.Spread)
				continue
			}
			r.Transfer[j] = (exact.Transfer[j] + r.Transfer[j] - stated.Transfer[j]) * d.shape.factor(f, b.Spread.Shape)
		}
		list[i] = r
	}
	return list, nil
}

// coarse is the response with few tiles, for input already checked.
func (b Body) coarse(hz []float64, receiver Point, openings string, celsius float64) Response {
	set, c, _ := b.prepare(openings, celsius)
	return c.tiled(hz, Piston(b.Source, b.SourceArea), Patch{Center: receiver}, set, coarse)
}

// drawn is the car of one draw and the receiver's place in it.
func (b Body) drawn(d draw, receiver Point) (Body, Point) {
	s := b.Spread
	was := b.Cavity.lengths()
	grow := func(l, spread, z float64) float64 {
		return min(max(l*math.Exp(spread*z), shortest), longest)
	}
	car := b.Resized(grow(was[0], s.Length, d.length), grow(was[1], s.Width, d.width), grow(was[2], s.Height, d.height))
	car.Cavity.Admittance = min(car.Cavity.Admittance*math.Exp(s.Admittance*d.admittance), admittable)
	car.Source = car.Source.moved(d.source, s.Place)
	car.SourceArea = car.fit(&car.Source)
	for i := range car.Sets {
		car.Sets[i].Openings = car.Cavity.resizeOpenings(car.Sets[i].Openings, math.Exp(s.Area*d.area))
	}
	is := car.Cavity.lengths()
	receiver = receiver.scaled(Point{is[0] / was[0], is[1] / was[1], is[2] / was[2]}).moved(d.receiver, s.Place)
	return car, car.Cavity.inside(receiver, 0, 0)
}

// fit moves the source so that its piston fits the cavity, and gives the area
// that does.
func (b Body) fit(source *Point) float64 {
	side := math.Sqrt(b.SourceArea)
	side = min(side, b.Cavity.Width, b.Cavity.Height)
	*source = b.Cavity.inside(*source, side/2, side/2)
	return side * side
}

// inside is the nearest point that keeps the given distances from the sides
// and from floor and roof.
func (c Cavity) inside(p Point, sides, floor float64) Point {
	return Point{
		X: min(max(p.X, 0), c.Length),
		Y: min(max(p.Y, sides), c.Width-sides),
		Z: min(max(p.Z, floor), c.Height-floor),
	}
}

func (p Point) moved(by Point, scale float64) Point {
	return Point{p.X + scale*by.X, p.Y + scale*by.Y, p.Z + scale*by.Z}
}

// resizeOpenings changes the area of all openings by one factor, as far as the
// walls and their neighbours let them grow.
func (c Cavity) resizeOpenings(openings []Opening, factor float64) []Opening {
	side := math.Sqrt(factor)
	for range 8 {
		list := make([]Opening, len(openings))
		for i, o := range openings {
			list[i] = c.resizeOpening(o, side)
		}
		if c.CheckOpenings(list) == nil {
			return list
		}
		side = math.Sqrt(side) // neighbours met, or a slit closed: change less
	}
	return openings
}

func (c Cavity) resizeOpening(o Opening, side float64) Opening {
	u, v := o.Wall.plane()
	size := c.lengths()
	o.U, o.Width = stretch(o.U, o.Width, side, size[u])
	o.V, o.Height = stretch(o.V, o.Height, side, size[v])
	return o
}

func stretch(from, length, factor, size float64) (float64, float64) {
	lo := max(from+length*(1-factor)/2, 0)
	hi := min(from+length*(1+factor)/2, size)
	return lo, hi - lo
}

func (s Spread) check() error {
	for _, x := range []struct {
		name  string
		value float64
		most  float64
	}{
		{"length", s.Length, mostSpreadOfSize}, {"width", s.Width, mostSpreadOfSize}, {"height", s.Height, mostSpreadOfSize},
		{"admittance", s.Admittance, mostSpread}, {"opening area", s.Area, mostSpread},
		{"place", s.Place, longest}, {"shape", s.Shape, steepestGain},
	} {
		if !finite(x.value) || x.value < 0 || x.value > x.most {
			return fmt.Errorf("spread of %s is %g: it must lie between 0 and %g", x.name, x.value, x.most)
		}
	}
	return nil
}
