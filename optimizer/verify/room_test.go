package verify

import (
	"math"
	"testing"

	"loudfor/catalog"
	"loudfor/model/amplifier"
)

func TestGoesInto(t *testing.T) {
	for _, c := range []struct {
		need, has float64 // m; 0: not stated
		goes      bool
	}{
		{0.279, 0.279, true}, {0.279, 0.277, true}, {0.279, 0.2765, false}, {0.279, 0.3, true},
		{0, 0.1, true}, {0.279, 0, true}, {0, 0, true},
	} {
		if got := GoesInto(c.need, c.has); got != c.goes {
			t.Errorf("%g m into %g m: %t", c.need, c.has, got)
		}
	}
}

// TestSlidesIn: through a hole of 60 x 40 cm, its shortest edges first.
func TestSlidesIn(t *testing.T) {
	for _, c := range []struct {
		box  catalog.Size3 // cm
		goes bool
	}{
		{catalog.Size3{Width: 90, Depth: 60, Height: 40}, true}, {catalog.Size3{Width: 40, Depth: 90, Height: 60}, true},
		{catalog.Size3{Width: 60, Depth: 60, Height: 41}, false}, {catalog.Size3{Width: 61, Depth: 61, Height: 40}, false},
		{catalog.Size3{Width: 50, Depth: 50, Height: 50}, false}, {catalog.Size3{Width: 39, Depth: 39, Height: 200}, true},
	} {
		box := catalog.Size3{Width: c.box.Width / 100, Depth: c.box.Depth / 100, Height: c.box.Height / 100}
		for _, hole := range [][2]float64{{0.6, 0.4}, {0.4, 0.6}} {
			if got := SlidesIn(box, hole); got != c.goes {
				t.Errorf("%v cm: %t", c.box, got)
			}
		}
	}
}

// TestFitsInARow: in 90 x 60 x 40 cm, side by side along any edge, turned any way.
func TestFitsInARow(t *testing.T) {
	space := catalog.Size3{Width: 0.9, Depth: 0.6, Height: 0.4}
	for _, c := range []struct {
		w, d, h float64 // cm
		n       int
		fits    bool
	}{
		{90, 60, 40, 1, true}, {40, 90, 60, 1, true}, {91, 60, 40, 1, false}, {90, 61, 40, 1, false}, {90, 60, 41, 1, false},
		{45, 60, 40, 2, true}, {60, 40, 45, 2, true}, {90, 30, 40, 2, true}, {90, 60, 20, 2, true}, {50, 50, 25, 2, false},
		{30, 40, 60, 3, true}, {31, 40, 60, 3, false}, {50, 50, 30, 1, true}, {41, 41, 41, 1, false},
	} {
		if got := FitsInARow(catalog.Size3{Width: c.w / 100, Depth: c.d / 100, Height: c.h / 100}, space, c.n); got != c.fits {
			t.Errorf("%d of %g x %g x %g cm: %t", c.n, c.w, c.d, c.h, got)
		}
	}
}

// TestRatedCurrent: watts over efficiency and 14.4 V, by hand. A class D amplifier
// puts out 0.8 of what it takes (common practice, no source); all its channels play at once, whether as
// pairs or bridged, whichever is more, the single one of an odd number beside them; a
// fuse lets no more through than itself at 14.4 V.
func TestRatedCurrent(t *testing.T) {
	stereo := func(watts float64) amplifier.Rating {
		return amplifier.Rating{Mode: amplifier.Stereo, Load: 4, Watts: watts}
	}
	bridged := func(watts float64) amplifier.Rating {
		return amplifier.Rating{Mode: amplifier.Bridged, Load: 4, Watts: watts}
	}
	mono := func(watts float64) amplifier.Rating {
		return amplifier.Rating{Mode: amplifier.Mono, Load: 2, Watts: watts}
	}
	for _, c := range []struct {
		name  string
		spec  amplifier.Spec
		watts float64
	}{
		{"a mono block", amplifier.Spec{Channels: 1, Ratings: []amplifier.Rating{mono(500)}}, 500},
		{"two channels", amplifier.Spec{Channels: 2, Ratings: []amplifier.Rating{stereo(60)}}, 120},
		{"four, bridged stronger", amplifier.Spec{Channels: 4, Ratings: []amplifier.Rating{stereo(60), bridged(180)}}, 360},
		{"four, bridged weaker", amplifier.Spec{Channels: 4, Ratings: []amplifier.Rating{stereo(60), bridged(110)}}, 240},
		{"five", amplifier.Spec{Channels: 5, Ratings: []amplifier.Rating{mono(300), stereo(60)}}, 540},
		{"behind a fuse", amplifier.Spec{Channels: 1, Fuse: 20, Ratings: []amplifier.Rating{mono(500)}}, 20 * 14.4 * 0.8},
		{"behind a large fuse", amplifier.Spec{Channels: 1, Fuse: 60, Ratings: []amplifier.Rating{mono(500)}}, 500},
	} {
		c.spec.Class = amplifier.ClassD
		if got, want := RatedCurrent(c.spec), c.watts/0.8/14.4; math.Abs(got-want) > 1e-9*want {
			t.Errorf("%s: %g A, want %g A", c.name, got, want)
		}
	}
}
