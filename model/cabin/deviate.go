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
	Admittance, Area      float64
	Source                Point
	Shape                 [ShapeTerms]float64
	Receivers             []Point // of the body's places, in their order
}

// The unknowns that every car has, in the order of a vector of deviations;
// three for each place of the car follow.
var unknownNames = []string{
	"length", "width", "height", "damping", "openings",
	"source x", "source y", "source z",
	"level", "tilt 1", "tilt 2", "ripple 1", "ripple 2",
}

// axisNames end the names of a place's unknowns.
var axisNames = [3]string{" x", " y", " z"}

// Unknowns names what is uncertain about the car, in the order of the vectors
// of Vector and Deviation: the dimensions, the damping, the area of all
// openings, the source, the terms of the smooth error (the first is a level),
// and where exactly the meter stands at each place.
func (b Body) Unknowns() []string {
	names := slices.Clone(unknownNames)
	for _, p := range b.Places {
		for _, axis := range axisNames {
			names = append(names, strings.ToLower(p.Name)+axis)
		}
	}
	return names
}

// Vector is the deviation as numbers in the order of Unknowns.
func (d Deviation) Vector() []float64 {
	v := []float64{d.Length, d.Width, d.Height, d.Admittance, d.Area, d.Source.X, d.Source.Y, d.Source.Z}
	v = append(v, d.Shape[:]...)
	for _, p := range d.Receivers {
		v = append(v, p.X, p.Y, p.Z)
	}
	return v
}

// DeviationOf is the inverse of Vector. v has the length of Unknowns.
func DeviationOf(v []float64) Deviation {
	d := Deviation{Length: v[0], Width: v[1], Height: v[2], Admittance: v[3], Area: v[4], Source: Point{v[5], v[6], v[7]}}
	v = v[8:]
	v = v[copy(d.Shape[:], v):]
	for ; len(v) >= 3; v = v[3:] {
		d.Receivers = append(d.Receivers, Point{v[0], v[1], v[2]})
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

// Deviated is the car as it is with a deviation: dimensions, damping, openings
// and source. Places keep their relative position, moved by the deviation.
func (b Body) Deviated(d Deviation) Body {
	car, _ := b.drawn(d, 0, Point{})
	for i, p := range b.Places {
		_, at := b.drawn(d, i, p.Point)
		car.Places[i].Point = at
	}
	return car
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
	car.Source = car.Source.moved(d.Source, s.Place)
	car.SourceArea = car.fit(&car.Source)
	for i := range car.Sets {
		car.Sets[i].Openings = car.Cavity.resizeOpenings(car.Sets[i].Openings, math.Exp(s.Area*d.Area))
	}
	is := car.Cavity.lengths()
	receiver = receiver.scaled(Point{is[0] / was[0], is[1] / was[1], is[2] / was[2]}).moved(d.receiver(place), s.Place)
	return car, car.Cavity.inside(receiver, 0, 0)
}

// SmoothGain is what the smooth error of the deviation adds to the level at a
// frequency, dB, for a spread.
func (d Deviation) SmoothGain(hz float64, s Spread) float64 { return s.Shape * shape(d.Shape).at(hz) }
