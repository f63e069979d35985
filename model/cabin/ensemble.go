package cabin

import (
	"fmt"
	"math"
	"math/rand/v2"

	"loudfor/model/parallel"
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

// draws gives n cars for a seed, with a place of the receiver for each of the
// given number of places (at least one); the even ones are the odd ones'
// opposites, a longer list begins with the shorter, and what the first place
// gets does not depend on how many there are.
func draws(n, places int, seed uint64) []Deviation {
	r := rand.New(rand.NewPCG(seed, 0x6c6f7564)) // a stream of its own
	more := rand.New(rand.NewPCG(seed, 0x706c6163))
	z := func() float64 { return clamped(r) }
	list := make([]Deviation, 0, n+1)
	for len(list) < n {
		d := Deviation{Length: z(), Width: z(), Height: z(), Admittance: z(), Area: z()}
		d.Source = Point{z(), z(), z()}
		d.Receivers = append(make([]Point, 0, places), Point{z(), z(), z()})
		for i := range d.Shape {
			d.Shape[i] = z()
		}
		for _, x := range []*float64{&d.Exponent, &d.Zone, &d.Angle, &d.Hinge, &d.Ground, &d.Panels[0], &d.Panels[1]} {
			*x = z()
		}
		d.Levels = append(make([]float64, 0, places), z())
		for len(d.Receivers) < places {
			d.Receivers = append(d.Receivers, Point{clamped(more), clamped(more), clamped(more)})
			d.Levels = append(d.Levels, clamped(more))
		}
		list = append(list, d, d.scaled(-1))
	}
	return list[:n]
}

// Ensemble gives responses of cars drawn around the stated one with the given
// seed. The same seed gives the same cars, whatever the frequencies, the place
// and the count. Where a measured curve fits, Transfer is drawn around the curve
// with the curve's own spread.
func (n *Nearby) Ensemble(count int, seed uint64) ([]Response, error) {
	if err := checkDraws(count); err != nil {
		return nil, err
	}
	cars := draws(count, max(1, len(n.body.Places)), seed)
	list := make([]Response, count)
	parallel.EachWith(parallel.Workers(0), count, func() func(int) {
		return func(i int) {
			d := cars[i]
			if n.place < 0 || n.learned == nil {
				// Nothing ties the error of one place to that of another: all
				// have the first one's.
				for k := range d.Receivers {
					d.Receivers[k], d.Levels[k] = d.Receivers[0], d.Levels[0]
				}
			}
			list[i] = n.At(n.learned.drawn(d))
		}
	})
	return list, nil
}

func checkDraws(n int) error {
	if n < 1 || n > mostDraws {
		return fmt.Errorf("%d draws of the car: between 1 and %d are possible", n, mostDraws)
	}
	return nil
}

func clamped(r *rand.Rand) float64 {
	return math.Max(-farthest, math.Min(farthest, r.NormFloat64()))
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
		{"exponent", s.Exponent, steepest}, {"zone loss", s.Zone, mostZone},
		{"hinge", s.Hinge, longest}, {"ground", s.Ground, longest},
		{"panel share", s.PanelShare, mostSpread}, {"panel resonance", s.PanelResonance, mostSpreadOfSize},
		{"place", s.Place, longest}, {"shape", s.Shape, steepestGain}, {"seats and dashboard", s.Inside, steepestGain},
	} {
		if !finite(x.value) || x.value < 0 || x.value > x.most {
			return fmt.Errorf("spread of %s is %g: it must lie between 0 and %g", x.name, x.value, x.most)
		}
	}
	return nil
}
