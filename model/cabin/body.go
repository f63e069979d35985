package cabin

import (
	"fmt"
	"slices"
	"strings"

	"loudfor/model/air"
)

// NamedPlace is a place where a meter or a head can be.
type NamedPlace struct {
	Name  string
	Point Point
}

// NamedOpenings is one way of leaving the car open.
type NamedOpenings struct {
	Name     string
	Openings []Opening // none: shut
}

// Spread says how well a car is known: one standard deviation of each thing
// that Ensemble draws.
type Spread struct {
	Length, Width, Height float64 // relative
	Admittance            float64 // relative (lognormal)
	Exponent              float64 // of the power of frequency that the admittance goes with
	Zone                  float64 // of the logarithm of the uniform mode's loss
	Area                  float64 // relative, of every opening's area together
	Hinge                 float64 // m, of everything that hangs on a hinge, along the car
	Ground                float64 // m, of the floor's height above the ground
	PanelShare            float64 // relative (lognormal), of all panels
	PanelResonance        float64 // relative, of all panels
	Place                 float64 // m, of source and receiver along each axis
	// Shape is the smooth error in dB that remains because a car is not a
	// box: seats divide it, panels flex.
	Shape float64
	// Inside is what seats and dashboard do to the level at one place and not
	// at the others while something with a leaf stands open, dB.
	Inside float64
}

// Body is a body style, or one car: everything that the prediction needs to
// know about where the sound goes.
type Body struct {
	Name       string
	Cavity     Cavity  // its Air is replaced by that of the temperature asked for
	Source     Point   // where the box's cone or mouth is
	SourceArea float64 // m2
	Places     []NamedPlace
	Sets       []NamedOpenings
	Spread     Spread
	// Assumed says in plain words what nobody measured.
	Assumed []string
	// Curve, if any, overrides the computed level at the receiver.
	Curve *Curve
	// Learned, if any, is what readings in the car have taught: it moves the
	// car as stated, and narrows the spread.
	Learned *Learned
}

// BodyNamed finds a body style by its name, whatever the case.
func BodyNamed(name string) (Body, bool) {
	for _, b := range Bodies() {
		if strings.EqualFold(b.Name, strings.TrimSpace(name)) {
			return b, true
		}
	}
	return Body{}, false
}

// Place finds a place of the car by its name, whatever the case.
func (b Body) Place(name string) (Point, bool) {
	for _, p := range b.Places {
		if strings.EqualFold(p.Name, strings.TrimSpace(name)) {
			return p.Point, true
		}
	}
	return Point{}, false
}

// PlaceNumber is the number of a place by its name; -1: there is none.
func (b Body) PlaceNumber(name string) int {
	return slices.IndexFunc(b.Places, func(p NamedPlace) bool { return strings.EqualFold(p.Name, strings.TrimSpace(name)) })
}

// Openings finds a set of openings by its name, whatever the case, or one that
// words make of it: "doors open 45 degrees", "left door open".
func (b Body) Openings(name string) ([]Opening, bool) {
	if set, ok := b.named(name); ok {
		return set, true
	}
	return b.derived(name)
}

func (b Body) named(name string) ([]Opening, bool) {
	for _, s := range b.Sets {
		if strings.EqualFold(s.Name, strings.TrimSpace(name)) {
			return s.Openings, true
		}
	}
	return nil, false
}

// PlaceNames lists the places in the order of the body, for messages.
func (b Body) PlaceNames() []string {
	names := make([]string, len(b.Places))
	for i, p := range b.Places {
		names[i] = p.Name
	}
	return names
}

// OpeningNames lists the sets of openings in the order of the body.
func (b Body) OpeningNames() []string {
	names := make([]string, len(b.Sets))
	for i, s := range b.Sets {
		names[i] = s.Name
	}
	return names
}

// Resized is the same car with other inside dimensions, m: places, source and
// openings keep their relative position, and the first mode keeps its Q.
func (b Body) Resized(length, width, height float64) Body {
	q := b.Cavity.FirstModeQ()
	s := Point{length / b.Cavity.Length, width / b.Cavity.Width, height / b.Cavity.Height}
	b.Cavity.Length, b.Cavity.Width, b.Cavity.Height = length, width, height
	b.Cavity.Admittance = AdmittanceForQ(b.Cavity, q)
	b.Source = b.Source.scaled(s)
	places := make([]NamedPlace, len(b.Places))
	for i, p := range b.Places {
		places[i] = NamedPlace{p.Name, p.Point.scaled(s)}
	}
	b.Places = places
	sets := make([]NamedOpenings, len(b.Sets))
	for i, set := range b.Sets {
		sets[i] = NamedOpenings{Name: set.Name}
		for _, o := range set.Openings {
			sets[i].Openings = append(sets[i].Openings, o.scaled(s))
		}
	}
	b.Sets = sets
	return b
}

// WithFirstModeQ is the same car with the walls that give its lowest mode the
// quality factor q.
func (b Body) WithFirstModeQ(q float64) Body {
	b.Cavity.Admittance = AdmittanceForQ(b.Cavity, q)
	return b
}

// Check reports the first thing in the car that cannot be: dimensions, places
// outside, openings that do not fit, a broken curve.
func (b Body) Check() error {
	c := b.at(roomTemperature)
	if err := c.Check(); err != nil {
		return fmt.Errorf("%s: %w", b.Name, err)
	}
	if err := c.checkSource(Piston(b.Source, b.SourceArea)); err != nil {
		return fmt.Errorf("%s: %w", b.Name, err)
	}
	for _, p := range b.Places {
		if err := c.CheckPlace(p.Point); err != nil {
			return fmt.Errorf("%s: %s: %w", b.Name, p.Name, err)
		}
	}
	for _, s := range b.Sets {
		if err := c.CheckOpenings(s.Openings); err != nil {
			return fmt.Errorf("%s: %s: %w", b.Name, s.Name, err)
		}
	}
	if err := b.Spread.check(); err != nil {
		return fmt.Errorf("%s: %w", b.Name, err)
	}
	if b.Curve != nil {
		if err := b.Curve.Check(); err != nil {
			return fmt.Errorf("%s: %w", b.Name, err)
		}
	}
	if b.Learned != nil {
		if err := b.Learned.check(b); err != nil {
			return fmt.Errorf("%s: %w", b.Name, err)
		}
	}
	return nil
}

// roomTemperature is where density and sound speed are quoted, Celsius.
const roomTemperature = 20

// at is the cavity filled with air of a temperature in Celsius.
func (b Body) at(celsius float64) Cavity {
	c := b.Cavity
	c.Air = air.At(celsius)
	return c
}

func (p Point) scaled(s Point) Point { return Point{p.X * s.X, p.Y * s.Y, p.Z * s.Z} }

func (o Opening) scaled(s Point) Opening {
	u, v := o.Wall.plane()
	a := s.axes()
	o.U, o.Width = o.U*a[u], o.Width*a[u]
	o.V, o.Height = o.V*a[v], o.Height*a[v]
	return o
}
