package cabin

import (
	"math"
	"strings"
	"testing"

	"loudfor/model/air"
)

// TestErrors: what cannot be is refused, and the message names it.
func TestErrors(t *testing.T) {
	good := car(5)
	hz := []float64{40}
	source, ear := Point{1.95, 0.68, 0.3}, Point{0.35, 0.9, 0.7}
	with := func(change func(*Cavity)) Cavity {
		c := good
		change(&c)
		return c
	}
	window := Opening{Left, 0.4, 0.6, 0.7, 0.4, Leaf{}}
	cases := []struct {
		name     string
		cavity   Cavity
		hz       []float64
		source   Source
		ear      Point
		openings []Opening
		want     string
	}{
		{"zero length", with(func(c *Cavity) { c.Length = 0 }), hz, source, ear, nil, "cabin length is 0 m"},
		{"negative width", with(func(c *Cavity) { c.Width = -1 }), hz, source, ear, nil, "cabin width is -1 m"},
		{"height not a number", with(func(c *Cavity) { c.Height = math.NaN() }), hz, source, ear, nil, "cabin height is NaN m"},
		{"hall", with(func(c *Cavity) { c.Length = 40 }), hz, source, ear, nil, "between 0.05 and 12 m"},
		{"wall that gains", with(func(c *Cavity) { c.Admittance = -0.1 }), hz, source, ear, nil, "admittance is -0.1"},
		{"no air", with(func(c *Cavity) { c.Air = air.Air{} }), hz, source, ear, nil, "air of density 0"},
		{"air of no weight known", with(func(c *Cavity) { c.Air.Density = math.NaN() }), hz, source, ear, nil, "air of density NaN"},
		{"air of endless weight", with(func(c *Cavity) { c.Air.Density = math.Inf(1) }), hz, source, ear, nil, "air of density +Inf"},
		{"air of no speed known", with(func(c *Cavity) { c.Air.SoundSpeed = math.NaN() }), hz, source, ear, nil, "sound speed NaN"},
		{"air of endless speed", with(func(c *Cavity) { c.Air.SoundSpeed = math.Inf(1) }), hz, source, ear, nil, "sound speed +Inf"},
		{"air of no speed", with(func(c *Cavity) { c.Air.SoundSpeed = 0 }), hz, source, ear, nil, "sound speed 0"},
		{"no frequency", good, []float64{0}, source, ear, nil, "frequency 0 Hz"},
		{"ultrasound", good, []float64{40, 30000}, source, ear, nil, "frequency 30000 Hz"},
		{"no source", good, hz, nil, ear, nil, "no source"},
		{"source outside", good, hz, Point{5, 0, 0}, ear, nil, "source: place 5 x 0 x 0 m lies outside"},
		{"source through the floor", good, hz, Point{1, 0.7, 0.05}, ear, nil, "sticks out of the cabin"},
		{"source of no size", good, hz, Patch{Center: source}, ear, nil, "one extent must be zero"},
		{"source of negative size", good, hz, Patch{source, Point{0, -1, 0.1}}, ear, nil, "negative"},
		{"receiver outside", good, hz, source, Point{0.3, 0.5, 2}, nil, "receiver: place 0.3 x 0.5 x 2 m lies outside"},
		{"receiver not a number", good, hz, source, Point{math.NaN(), 0, 0}, nil, "receiver: place"},
		{"no such wall", good, hz, source, ear, []Opening{{Wall: Wall(9), Width: 1, Height: 1}}, "wall 9"},
		{"opening of no width", good, hz, source, ear, []Opening{{Left, 0, 0, 0, 1, Leaf{}}}, "each side must be at least"},
		{"opening outside its wall", good, hz, source, ear, []Opening{{Left, 2, 0, 0.9, 1, Leaf{}}}, "sticks out of the wall"},
		{"opening below its wall", good, hz, source, ear, []Opening{{Rear, 0, -0.1, 0.9, 1, Leaf{}}}, "sticks out of the wall"},
		{"overlapping openings", good, hz, source, ear, []Opening{window, {Left, 0.9, 0.8, 0.5, 0.2, Leaf{}}}, "overlaps"},
		{"a sieve", good, hz, source, ear, make([]Opening, 100), "at most"},
	}
	for _, tc := range cases {
		_, err := tc.cavity.Respond(tc.hz, tc.source, tc.ear, tc.openings)
		if err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: got %v, want a message with %q", tc.name, err, tc.want)
		}
	}
	// Openings that touch, and the same window on both sides, are fine.
	door := Opening{Left, 1.1, 0.1, 0.9, 0.9, Leaf{}}
	if _, err := good.Respond(hz, source, ear, []Opening{window, door, {Right, 0.4, 0.6, 0.7, 0.4, Leaf{}}}); err != nil {
		t.Error(err)
	}
}

// TestBodyErrors: names and temperatures that do not exist are refused with
// what does.
func TestBodyErrors(t *testing.T) {
	b, _ := BodyNamed("small sedan")
	hz := []float64{40}
	bad := func(change func(*Body)) Body {
		b, _ := BodyNamed("small sedan")
		change(&b)
		return b
	}
	ask := func(b Body, place, openings string, celsius float64) error {
		_, err := b.Respond(hz, place, openings, celsius)
		return err
	}
	_, noDraws := b.Ensemble(hz, "dash", "shut", 20, 0, 1)
	_, badSpread := bad(func(b *Body) { b.Spread.Area = -1 }).Ensemble(hz, "dash", "shut", 20, 2, 1)
	_, outside := b.respond(hz, Point{9, 0, 0}, "", "shut", 20)
	cases := []struct {
		err  error
		want string
	}{
		{ask(b, "bonnet", "shut", 20), `place "bonnet" is not one of the small sedan's: dash, kick panel, headrest`},
		{ask(b, "dash", "roof open", 20), `set of openings "roof open" is not one of the small sedan's: shut, windows open, doors open, boot open`},
		{ask(b, "dash", "shut", 400), "temperature 400 C"},
		{ask(b, "dash", "shut", math.NaN()), "temperature NaN C"},
		{ask(bad(func(b *Body) { b.Places = nil }), "dash", "shut", 20), "names none"},
		{ask(bad(func(b *Body) { b.Curve = &Curve{Hz: []float64{20}, Gain: []float64{3}} }), "dash", "shut", 20), "two or more"},
		{noDraws, "0 draws"},
		{badSpread, "spread of opening area is -1"},
		{outside, "lies outside"},
		{bad(func(b *Body) { b.SourceArea = -1 }).Check(), "source of size"},
		{bad(func(b *Body) { b.Places[1].Point.Z = 3 }).Check(), "kick panel: place"},
		{bad(func(b *Body) { b.Sets[1].Openings[0].Width = 5 }).Check(), "windows open: opening"},
		{bad(func(b *Body) { b.Cavity.Height = 0 }).Check(), "small sedan: cabin height"},
		{bad(func(b *Body) { b.Curve = &Curve{} }).Check(), "small sedan: measured curve"},
	}
	for _, tc := range cases {
		if tc.err == nil || !strings.Contains(tc.err.Error(), tc.want) {
			t.Errorf("got %v, want a message with %q", tc.err, tc.want)
		}
	}
}

// TestCurveErrors: a measured curve that is none says why.
func TestCurveErrors(t *testing.T) {
	nan := math.NaN()
	for _, tc := range []struct {
		curve Curve
		want  string
	}{
		{Curve{Hz: []float64{20, 30}, Gain: []float64{1}}, "2 frequencies and 1 gains"},
		{Curve{Hz: []float64{20, 20}, Gain: []float64{1, 2}}, "does not rise above 20 Hz"},
		{Curve{Hz: []float64{-20, 20}, Gain: []float64{1, 2}}, "frequency -20 Hz, point 1"},
		{Curve{Hz: []float64{20, 30}, Gain: []float64{1, 120}}, "gain 120 dB at 30 Hz"},
		{Curve{Hz: []float64{20, 30}, Gain: []float64{nan, 1}}, "gain NaN dB"},
		{Curve{Hz: []float64{20, 30}, Gain: []float64{1, 2}, Spread: -1}, "spread -1 dB"},
	} {
		if err := tc.curve.Check(); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("got %v, want a message with %q", err, tc.want)
		}
	}
}

// FuzzRespond: any numbers at all give an error or finite numbers.
func FuzzRespond(f *testing.F) {
	f.Add(2.4, 1.36, 1.12, 0.05, 40.0, 1.9, 0.6, 0.4, 0.05, 0.4, 0.9, 0.7, 2, 0.3, 0.1, 0.9, 0.9)
	f.Add(2.4, 1.36, 1.12, 0.0, 71.5, 1.9, 0.6, 0.4, 0.05, 1.9, 0.6, 0.4, 0, 0.3, 0.1, 0.9, 0.9)
	f.Add(0.0, -1.0, math.Inf(1), math.NaN(), 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, -1, 0.0, 0.0, 0.0, 0.0)
	f.Add(12.0, 12.0, 12.0, 1.0, 500.0, 6.0, 6.0, 6.0, 100.0, 6.0, 6.0, 6.0, 5, 0.0, 0.0, 0.02, 12.0)
	f.Fuzz(func(t *testing.T, l, w, h, beta, hz, sx, sy, sz, area, x, y, z float64, wall int, u, v, width, height float64) {
		c := Cavity{Length: l, Width: w, Height: h, Admittance: beta, Air: air.At(20)}
		r, err := c.Respond([]float64{hz}, Piston(Point{sx, sy, sz}, area), Point{x, y, z}, []Opening{{Wall: Wall(wall), U: u, V: v, Width: width, Height: height}})
		if err == nil {
			checkNumbers(t, r)
		}
	})
}
