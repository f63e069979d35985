package cabin

import (
	"fmt"

	"loudfor/model/air"
)

// The body styles are typical cars, nobody's in particular: rounded inside
// dimensions of what is on the road (common practice, no source). Width is
// between the door cards and height from floor to roof at the front seats.
// Length is acoustic: what matters to bass is first the volume, then the way
// to the far end, so each stretch from the firewall to the tail counts by its
// share of that cross-section. The stretch under a raked windscreen loses
// about 0.2 m, and a boot, half as high as the cabin and open to bass through
// the seat back, counts half. The volumes that result are 10 to 30 % above the
// size classes by passenger and luggage volume (subcompact 2.4 to 2.8 m3 and
// so on, 40 CFR 600.315, from memory), which leave out the space around legs,
// dash and seats.

const (
	// priorQ is the Q of the lowest mode of a car that nobody measured: the
	// middle of the plausible 3 to 8.
	priorQ = 5
	// priorAdmittanceSpread takes the Q from about 3.5 to 7 at one standard
	// deviation, from 2.5 to 10 at two.
	priorAdmittanceSpread = 0.35
	// priorExponent stands between leaks, which take the same at all
	// frequencies, and thin trim and panels below their resonance, which take
	// with the square of it; nine in ten lie between the two (common practice,
	// no source).
	priorExponent       = 1
	priorExponentSpread = 0.6
	// priorZoneSpread: what the pressure zone loses is known to a factor of
	// two (common practice, no source).
	priorZoneSpread = 0.7
)

// insideSpread is what seat backs and a dashboard block add to the error at one
// place with a door open, one standard deviation, dB: by how much the largest error
// against the wave solve grows with them in the car, rms over two cars and three
// places. It grew from 0.9, 0.9, 0.8 dB at dash, kick panel and headrest to 1.9,
// 1.3, 1.7 in one car and from 1.3, 1.3, 0.9 to 1.8, 1.7, 2.8 in the other, doors at
// 65 degrees, 20 to 80 Hz (computed for this project). That is on the wide side: an
// error is largest at one frequency only, and some of it is alike at all places,
// which the smooth error holds. Shut, or with a window down, the pressure hardly
// differs from place to place, seats or not. No treatment of them within 1.5 dB was
// found.
const insideSpread = 1.0

// style is one row of the table that Bodies fills out.
type style struct {
	name                  string
	length, width, height float64
	source                Point    // y is filled in: the middle of the car
	rows                  float64  // m from the firewall to the front headrests
	door, window          Opening  // on the left; the right ones mirror them
	rearName              string   // what the rear opening is called, if any
	rear                  Opening  // U is filled in: centred
	ground                float64  // m from the ground to the cabin floor
	said                  []string // assumptions of this style alone
}

const (
	bootSaid  = "the boot counts as half its length of cabin, as if the seat back let all bass through; the box stands in it"
	hatchSaid = "the box stands in the luggage space, open to the cabin"
)

var styles = []style{
	{
		name: "small sedan", length: 2.4, width: 1.36, height: 1.12, ground: 0.2,
		source: Point{X: 1.95, Z: 0.3}, rows: 1.35,
		door:     Opening{U: 0.28, V: 0.04, Width: 0.9, Height: 1.0},
		window:   Opening{U: 0.42, V: 0.66, Width: 0.7, Height: 0.38},
		rearName: "boot open", rear: Opening{V: 0.45, Width: 1.0, Height: 0.55},
		said: []string{bootSaid},
	},
	{
		name: "sedan", length: 2.75, width: 1.46, height: 1.15, ground: 0.2,
		source: Point{X: 2.25, Z: 0.3}, rows: 1.4,
		door:     Opening{U: 0.3, V: 0.04, Width: 1.0, Height: 1.03},
		window:   Opening{U: 0.45, V: 0.68, Width: 0.78, Height: 0.4},
		rearName: "boot open", rear: Opening{V: 0.47, Width: 1.08, Height: 0.58},
		said: []string{bootSaid},
	},
	{
		name: "small hatch", length: 2.2, width: 1.36, height: 1.15, ground: 0.2,
		source: Point{X: 1.85, Z: 0.3}, rows: 1.35,
		door:     Opening{U: 0.28, V: 0.04, Width: 0.98, Height: 1.03},
		window:   Opening{U: 0.42, V: 0.68, Width: 0.75, Height: 0.4},
		rearName: "tailgate open", rear: Opening{V: 0.25, Width: 1.05, Height: 0.75},
		said: []string{hatchSaid},
	},
	{
		name: "wagon", length: 2.95, width: 1.46, height: 1.15, ground: 0.2,
		source: Point{X: 2.5, Z: 0.35}, rows: 1.4,
		door:     Opening{U: 0.3, V: 0.04, Width: 1.0, Height: 1.03},
		window:   Opening{U: 0.45, V: 0.68, Width: 0.78, Height: 0.4},
		rearName: "tailgate open", rear: Opening{V: 0.2, Width: 1.15, Height: 0.8},
		said: []string{hatchSaid},
	},
	{
		name: "compact SUV", length: 2.7, width: 1.48, height: 1.2, ground: 0.3,
		source: Point{X: 2.3, Z: 0.35}, rows: 1.35,
		door:     Opening{U: 0.28, V: 0.05, Width: 0.98, Height: 1.08},
		window:   Opening{U: 0.42, V: 0.73, Width: 0.76, Height: 0.42},
		rearName: "tailgate open", rear: Opening{V: 0.2, Width: 1.15, Height: 0.9},
		said: []string{hatchSaid},
	},
	{
		name: "SUV", length: 3.3, width: 1.56, height: 1.25, ground: 0.35,
		source: Point{X: 2.85, Z: 0.35}, rows: 1.4,
		door:     Opening{U: 0.3, V: 0.05, Width: 1.05, Height: 1.12},
		window:   Opening{U: 0.46, V: 0.75, Width: 0.8, Height: 0.44},
		rearName: "tailgate open", rear: Opening{V: 0.2, Width: 1.25, Height: 0.95},
		said: []string{hatchSaid, "the third row, if any, is folded"},
	},
	{
		name: "single-cab pickup", length: 1.4, width: 1.5, height: 1.15, ground: 0.4,
		source: Point{X: 1.2, Z: 0.3}, rows: 1.15,
		door:   Opening{U: 0.28, V: 0.05, Width: 1.0, Height: 1.03},
		window: Opening{U: 0.42, V: 0.7, Width: 0.78, Height: 0.4},
		said:   []string{"the box stands behind the seat; the bed is outside"},
	},
	{
		name: "van", length: 3.7, width: 1.62, height: 1.35, ground: 0.4,
		source: Point{X: 3.2, Z: 0.35}, rows: 1.4,
		door:     Opening{U: 0.3, V: 0.1, Width: 1.0, Height: 1.15},
		window:   Opening{U: 0.45, V: 0.85, Width: 0.78, Height: 0.42},
		rearName: "tailgate open", rear: Opening{V: 0.15, Width: 1.35, Height: 1.1},
		said: []string{hatchSaid, "no bulkhead behind the front seats"},
	},
}

// Bodies are the body styles that ship with the model, every number in them
// assumed. Each call gives fresh copies.
func Bodies() []Body {
	bodies := make([]Body, len(styles))
	for i, s := range styles {
		bodies[i] = s.body()
	}
	return bodies
}

func (s style) body() Body {
	c := Cavity{Length: s.length, Width: s.width, Height: s.height, Air: air.At(roomTemperature), Exponent: priorExponent, Ground: s.ground}
	c.Admittance = AdmittanceForQ(c, priorQ)
	s.source.Y = s.width / 2
	return Body{
		Name: s.name, Cavity: c, Source: s.source, SourceArea: defaultSourceArea,
		Places: s.places(),
		Sets:   s.sets(),
		Spread: Spread{
			Length: 0.05, Width: 0.03, Height: 0.04,
			Admittance: priorAdmittanceSpread, Exponent: priorExponentSpread, Zone: priorZoneSpread,
			Area: 0.15, Hinge: 0.06, Ground: 0.05, PanelShare: panelShareSpread, PanelResonance: panelResonanceSpread,
			Place: 0.08, Shape: 2.5, Inside: insideSpread,
		},
		Assumed: append([]string{
			fmt.Sprintf("inside dimensions %g x %g x %g m: a typical %s", s.length, s.width, s.height, s.name),
			fmt.Sprintf("Q of the first mode %d (plausible 3 to 8)", priorQ),
			"the cabin is an empty box with evenly absorbing walls, their absorption growing with frequency",
			"places, source position and sizes of doors and windows",
			fmt.Sprintf("doors open: the two front doors at %.0f degrees; windows open: the two front windows, fully down", doorAngle/degree),
		}, s.said...),
	}
}

// places puts the meter where people put it: on the passenger's half of the
// dash under the glass, low at the passenger's kick panel, at the driver's
// headrest (common practice, no source). The driver sits on the left.
func (s style) places() []NamedPlace {
	return []NamedPlace{
		{"dash", Point{X: 0.35, Y: 0.72 * s.width, Z: 0.68 * s.height}},
		{"kick panel", Point{X: 0.25, Y: s.width - 0.08, Z: 0.2}},
		{"headrest", Point{X: s.rows, Y: 0.27 * s.width, Z: 0.85 * s.height}},
	}
}

func (s style) sets() []NamedOpenings {
	door := s.door
	door.Leaf = Left.Usual()
	sets := []NamedOpenings{
		{Name: "shut"},
		{"windows open", bothSides(s.window)},
		{"doors open", bothSides(door)},
	}
	if s.rearName != "" {
		o := s.rear
		o.Wall, o.U = Rear, (s.width-o.Width)/2
		o.Leaf = Rear.Usual()
		sets = append(sets, NamedOpenings{s.rearName, []Opening{o}})
	}
	return sets
}

func bothSides(o Opening) []Opening {
	left, right := o, o
	left.Wall, right.Wall = Left, Right
	return []Opening{left, right}
}
