package cabin

import (
	"fmt"
	"math"
)

// What readings in a car have taught. The readings move the car as stated by a
// Shift, and they narrow what is left to be known, but only in some directions:
// a level in one place says little about length and damping apart, and much
// about a certain sum of them. So the knowledge is kept as directions in the
// space of all unknowns, each with the share of the spread that is left along
// it; across them the car is as uncertain as before. Such a car is drawn from
// its prior by shrinking each draw along each direction, which gives exactly
// the Gaussian that the readings leave (the covariance is I - sum (1 - s^2) v
// v'), and takes ten lines of a file rather than a matrix.

// Equations numbers the model of the car, as far as what readings have taught
// depends on it: what each unknown moves and from where, so that a shift means the
// same car. Whoever changes that counts it up, and what was learned with others is no
// longer used. 1 had doors without leaves and walls that absorb alike at all
// frequencies, and did not say so.
const Equations = 2

// Learned is what readings have taught about a car.
type Learned struct {
	Shift      Deviation
	Determined []Direction // at right angles to each other
	// Widened multiplies all spreads that are left: at least 1, more where
	// the car proved to differ from the model by more than it should.
	Widened float64
	// LeaveOneOut is how far the prediction was off, rms dB, for a reading
	// that was not used for it; 0: too few readings to tell.
	LeaveOneOut float64
	Readings    int
}

// Direction is one thing that the readings have determined.
type Direction struct {
	Spread float64   // what is left of a standard deviation along it, 0 to 1
	Along  []float64 // of unit length, in the order of Unknowns
}

// The largest values that a file may hold.
const (
	MostShift   = 6.0 // standard deviations: beyond, it is another car
	MostWidened = 20.0
	// Rounding is how far a direction may be off unit length, and the cosine of
	// the angle between two of them off zero: files round.
	Rounding = 0.02
)

// drawn turns a draw around the stated car into one around the learned car.
func (l *Learned) drawn(d Deviation) Deviation {
	if l == nil {
		return d
	}
	z, center := d.Vector(), l.Shift.Vector()
	for _, dir := range l.Determined {
		along := 0.0
		for i, v := range dir.Along {
			along += v * z[i]
		}
		for i, v := range dir.Along {
			z[i] -= (1 - dir.Spread) * along * v
		}
	}
	for i := range z {
		z[i] *= l.Widened
		if i < len(center) { // a brief may add a place of its own
			z[i] += center[i]
		}
	}
	return DeviationOf(z)
}

// learnt is respond for a learned car.
func (b Body) learnt(hz []float64, receiver Point, place, openings string, celsius float64) (Response, error) {
	l := b.Learned
	n := b.PlaceNumber(place)
	b.Learned = nil
	car, at := b.drawn(l.Shift, n, receiver)
	if n >= 0 {
		car.Places[n].Point = at
	}
	r, err := car.respond(hz, at, place, openings, celsius)
	if err != nil || b.Curve.fits(place, openings) {
		return r, err
	}
	spread := b.Spread.with(b.Openings(openings))
	for i, f := range hz {
		r.Transfer[i] *= l.Shift.factor(f, n, spread)
	}
	return r, nil
}

// Across says whether two directions of unit length are at right angles, but for
// rounding. Along others what is left of the spread would be counted twice, and
// the covariance could be that of nothing.
func Across(a, b []float64) bool {
	cosine := 0.0
	for i := range a {
		cosine += a[i] * b[i]
	}
	return math.Abs(cosine) <= Rounding
}

func (l *Learned) check(b Body) error {
	n := len(b.Unknowns())
	shift := l.Shift.Vector()
	if len(shift) != n {
		return fmt.Errorf("learned: the shift has %d numbers for %d unknowns", len(shift), n)
	}
	for i, z := range shift {
		if !finite(z) || math.Abs(z) > MostShift {
			return fmt.Errorf("learned: the shift of %s is %g standard deviations: at most %g are possible", b.Unknowns()[i], z, MostShift)
		}
	}
	if !finite(l.Widened) || l.Widened < 1 || l.Widened > MostWidened {
		return fmt.Errorf("learned: widened by %g: it must lie between 1 and %g", l.Widened, MostWidened)
	}
	for i, d := range l.Determined {
		if len(d.Along) != n {
			return fmt.Errorf("learned: direction %d has %d numbers for %d unknowns", i+1, len(d.Along), n)
		}
		if !finite(d.Spread) || d.Spread < 0 || d.Spread > 1 {
			return fmt.Errorf("learned: direction %d leaves %g of the spread: it must lie between 0 and 1", i+1, d.Spread)
		}
		square := 0.0
		for _, v := range d.Along {
			square += v * v
		}
		if !(math.Abs(math.Sqrt(square)-1) <= Rounding) {
			return fmt.Errorf("learned: direction %d has the length %.3g: it must be 1", i+1, math.Sqrt(square))
		}
		for k, other := range l.Determined[:i] {
			if !Across(d.Along, other.Along) {
				return fmt.Errorf("learned: direction %d is not at right angles to direction %d", i+1, k+1)
			}
		}
	}
	return nil
}
