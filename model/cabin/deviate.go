package cabin

import (
	"math"
	"slices"
	"strings"
)

// What nobody knows about a car, as numbers: each unknown in standard
// deviations of the car's Spread, zero for the car as stated. The same numbers
// serve the draws of an ensemble, and the fit to readings, which looks for
// those that explain what the meter showed.

// Deviation is a car that differs from the stated one, in standard deviations.
type Deviation struct {
	Length, Width, Height float64
	Admittance            float64
	Exponent, Zone        float64
	Area                  float64
	Angle, Hinge, Ground  float64
	Panels                [2]float64 // their share, their resonance
	Source                Point
	Shape                 [ShapeTerms]float64
	Receivers             []Point   // of the body's places, in their order
	Levels                []float64 // there, of what seats and dashboard do
}

// The unknowns that every car has, in the order of a vector of deviations;
// four for each place of the car follow.
var unknownNames = []string{
	"length", "width", "height", "damping", "exponent", "zone loss", "openings",
	"leaf angle", "hinge", "ground", "panel share", "panel resonance",
	"source x", "source y", "source z",
	"level", "tilt 1", "tilt 2", "ripple 1", "ripple 2",
}

// placeNames end the names of a place's unknowns.
var placeNames = [...]string{" x", " y", " z", " level"}

// Where the unknowns stand in a vector of deviations, for who works out slopes
// one by one.
const (
	ShapeFrom  = 15 // the terms of the smooth error
	PlacesFrom = ShapeFrom + ShapeTerms
	PerPlace   = len(placeNames) // the last of which is a level
)

// Unknowns names what is uncertain about the car, in the order of the vectors
// of Vector and Deviation: the dimensions, the losses, the area of all
// openings, how leaves hang and how high the floor lies, the panels, the source,
// the terms of the smooth error (the first is a level), and of each place where
// exactly the meter stands and what seats and dashboard add there.
func (b Body) Unknowns() []string {
	names := slices.Clone(unknownNames)
	for _, p := range b.Places {
		for _, ending := range placeNames {
			names = append(names, strings.ToLower(p.Name)+ending)
		}
	}
	return names
}

// numbers are the fields of the deviation in the order of Unknowns, up to the
// smooth error.
func (d *Deviation) numbers() [ShapeFrom]*float64 {
	return [...]*float64{&d.Length, &d.Width, &d.Height, &d.Admittance, &d.Exponent, &d.Zone, &d.Area,
		&d.Angle, &d.Hinge, &d.Ground, &d.Panels[0], &d.Panels[1], &d.Source.X, &d.Source.Y, &d.Source.Z}
}

// Vector is the deviation as numbers in the order of Unknowns.
func (d Deviation) Vector() []float64 {
	v := make([]float64, 0, PlacesFrom+PerPlace*len(d.Receivers))
	for _, x := range d.numbers() {
		v = append(v, *x)
	}
	v = append(v, d.Shape[:]...)
	for i, p := range d.Receivers {
		v = append(v, p.X, p.Y, p.Z, d.level(i))
	}
	return v
}

// DeviationOf is the inverse of Vector. v has the length of Unknowns.
func DeviationOf(v []float64) Deviation {
	var d Deviation
	for i, x := range d.numbers() {
		*x = v[i]
	}
	copy(d.Shape[:], v[ShapeFrom:])
	for v = v[PlacesFrom:]; len(v) >= PerPlace; v = v[PerPlace:] {
		d.Receivers = append(d.Receivers, Point{v[0], v[1], v[2]})
		d.Levels = append(d.Levels, v[3])
	}
	return d
}

func (d Deviation) scaled(by float64) Deviation {
	v := d.Vector()
	for i := range v {
		v[i] *= by
	}
	return DeviationOf(v)
}

// receiver is the deviation of a place given by its number; of one that the
// car does not name, that of the first.
func (d Deviation) receiver(place int) Point {
	if place < 0 {
		place = 0
	}
	if place >= len(d.Receivers) {
		return Point{}
	}
	return d.Receivers[place]
}

// level is that of a place given by its number, as receiver's.
func (d Deviation) level(place int) float64 {
	if place = max(place, 0); place >= len(d.Levels) {
		return 0
	}
	return d.Levels[place]
}

// drawn is the car of one deviation and the place of a receiver in it.
func (b Body) drawn(d Deviation, place int, receiver Point) (Body, Point) {
	s := b.Spread
	was := b.Cavity.lengths()
	grow := func(l, spread, z float64) float64 {
		return min(max(l*math.Exp(spread*z), shortest), longest)
	}
	car := b.Resized(grow(was[0], s.Length, d.Length), grow(was[1], s.Width, d.Width), grow(was[2], s.Height, d.Height))
	car.Cavity.Admittance = min(car.Cavity.Admittance*math.Exp(s.Admittance*d.Admittance), admittable)
	car.Cavity.Exponent = min(max(car.Cavity.Exponent+s.Exponent*d.Exponent, -steepest), steepest)
	car.Cavity.Zone = min(max(car.Cavity.Zone+s.Zone*d.Zone, -mostZone), mostZone)
	car.Cavity.Ground = min(max(car.Cavity.Ground+s.Ground*d.Ground, 0), longest)
	car.Cavity.Panels = nil
	for _, p := range b.Cavity.Panels {
		p.Share = min(p.Share*math.Exp(s.PanelShare*d.Panels[0]), mostPanel)
		p.Resonance = min(max(p.Resonance*math.Exp(s.PanelResonance*d.Panels[1]), softestPanel), stiffestPanel)
		car.Cavity.Panels = append(car.Cavity.Panels, p)
	}
	car.Source = car.Source.moved(d.Source, s.Place)
	car.SourceArea = car.fit(&car.Source)
	for i := range car.Sets {
		car.Sets[i].Openings = car.rehung(car.Sets[i].Openings, d, s)
	}
	is := car.Cavity.lengths()
	receiver = receiver.scaled(Point{is[0] / was[0], is[1] / was[1], is[2] / was[2]}).moved(d.receiver(place), s.Place)
	return car, car.Cavity.inside(receiver, 0, 0)
}

// rehung is a set of openings as a deviation has it: their leaves turned, their
// area changed, and what hangs in the car's sides moved along it, as far as the
// wall and the neighbours allow.
func (b Body) rehung(set []Opening, d Deviation, s Spread) []Opening {
	moved := make([]Opening, len(set))
	for i, o := range set {
		set[i].Leaf = o.Leaf.turned(d.Angle)
		moved[i] = set[i]
		if o.Leaf.Hinge != Unhinged && o.Wall.normal() == 1 {
			moved[i].U = min(max(o.U+s.Hinge*d.Hinge, 0), b.Cavity.Length-o.Width)
		}
	}
	if b.Cavity.CheckOpenings(moved) != nil {
		moved = set // a neighbour is in the way
	}
	return b.Cavity.resizeOpenings(moved, math.Exp(s.Area*d.Area))
}

// SmoothGain is what the smooth error of the deviation adds to the level at a
// frequency, dB, for a spread.
func (d Deviation) SmoothGain(hz float64, s Spread) float64 { return s.Shape * shape(d.Shape).at(hz) }

// with is the spread as it holds for a set of openings.
func (s Spread) with(set []Opening, _ bool) Spread {
	if !hasLeaf(set) {
		s.Inside = 0
	}
	return s
}

// factor is what the smooth error and the inside at a place make of the
// pressure there.
func (d Deviation) factor(hz float64, place int, s Spread) complex128 {
	return complex(math.Pow(10, (d.SmoothGain(hz, s)+s.Inside*d.level(place))/20), 0)
}
