package setting_test

import (
	"math"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/verify"
)

func TestBoxesInARow(t *testing.T) {
	box := catalog.Size3{Width: 0.4, Depth: 0.3, Height: 0.35}
	for _, c := range []struct {
		space catalog.Size3
		boxes int
		fits  bool
	}{
		{catalog.Size3{Width: 0.40, Depth: 0.30, Height: 0.35}, 1, true},
		{catalog.Size3{Width: 0.30, Depth: 0.35, Height: 0.40}, 1, true}, // on its side
		{catalog.Size3{Width: 0.39, Depth: 0.50, Height: 0.35}, 1, true}, // turned
		{catalog.Size3{Width: 0.39, Depth: 0.39, Height: 0.39}, 1, false},
		{catalog.Size3{Width: 0.60, Depth: 0.40, Height: 0.35}, 2, true}, // along the depths
		{catalog.Size3{Width: 0.59, Depth: 0.40, Height: 0.35}, 2, false},
		{catalog.Size3{Width: 0.60, Depth: 0.80, Height: 0.35}, 4, false}, // only in a row
		{catalog.Size3{Width: 1.20, Depth: 0.40, Height: 0.35}, 4, true},
		{catalog.Size3{}, 9, true}, // nobody said how much room there is
	} {
		if got := setting.FitsSpace(box, c.space, c.boxes); got != c.fits {
			t.Errorf("%d boxes in %+v: %v", c.boxes, c.space, got)
		}
		if c.space != (catalog.Size3{}) && verify.FitsInARow(box, c.space, c.boxes) != c.fits {
			t.Errorf("the recheck differs: %d boxes in %+v", c.boxes, c.space)
		}
	}
}

// A box fits the six spaces that are as large as it is in one of its positions, and none
// that lacks a centimetre of one side, however long the others are.
func TestEachPositionOfABox(t *testing.T) {
	b := [3]float64{0.4, 0.3, 0.35}
	box := catalog.Size3{Width: b[0], Depth: b[1], Height: b[2]}
	for _, p := range [][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
		if space := (catalog.Size3{Width: b[p[0]], Depth: b[p[1]], Height: b[p[2]]}); !setting.FitsSpace(box, space, 1) {
			t.Errorf("not in %+v", space)
		}
	}
	for _, space := range []catalog.Size3{{Width: 0.29, Depth: 9, Height: 9}, {Width: 9, Depth: 0.34, Height: 0.34}, {Width: 0.39, Depth: 0.39, Height: 0.39}} {
		if setting.FitsSpace(box, space, 1) {
			t.Errorf("in %+v", space)
		}
	}
}

// A driver that is too large by the tolerance, and not by more, is one for the search
// and for the recheck alike, whichever way the numbers round.
func TestHolesAtTheTolerance(t *testing.T) {
	const size = 12 * 0.0254
	e := catalog.Enclosure{Hole: size}
	e.Box.Drivers, e.Box.Volume = 1, 0.024
	for mm := 100; mm < 400; mm++ {
		e.Cutout = float64(mm) / 1000
		s := catalog.Subwoofer{Cutout: float64(mm+2) / 1000}
		s.Card.Size = size
		if setting.FitsHole(&s, &e) && !verify.GoesInto(s.Cutout, e.Cutout) {
			t.Errorf("%d mm in %d: the recheck differs", mm+2, mm)
		}
		if verify.GoesInto(float64(mm)/1000+0.0021, e.Cutout) {
			t.Errorf("%d.1 mm in %d", mm+2, mm)
		}
	}
}

func TestHoles(t *testing.T) {
	const inch = 0.0254
	sub := catalog.Subwoofer{Cutout: 0.280, Depth: 0.138, Displacement: 0.0026}
	sub.Card.Size = 12 * inch
	box := catalog.Enclosure{Hole: 12 * inch, Cutout: 0.281, Depth: 0.2}
	box.Box.Drivers, box.Box.Volume = 1, 0.024
	for name, c := range map[string]struct {
		change func(s *catalog.Subwoofer, e *catalog.Enclosure)
		fits   bool
	}{
		"as stated":         {func(*catalog.Subwoofer, *catalog.Enclosure) {}, true},
		"another size":      {func(s *catalog.Subwoofer, _ *catalog.Enclosure) { s.Card.Size = 10 * inch }, false},
		"hole a trifle off": {func(_ *catalog.Subwoofer, e *catalog.Enclosure) { e.Cutout = 0.279 }, true},
		"hole too small":    {func(_ *catalog.Subwoofer, e *catalog.Enclosure) { e.Cutout = 0.27 }, false},
		"hole not stated":   {func(_ *catalog.Subwoofer, e *catalog.Enclosure) { e.Cutout = 0 }, true},
		"too deep":          {func(s *catalog.Subwoofer, _ *catalog.Enclosure) { s.Depth = 0.21 }, false},
		"depth not stated":  {func(s *catalog.Subwoofer, _ *catalog.Enclosure) { s.Depth = 0 }, true},
		"fills the box":     {func(_ *catalog.Subwoofer, e *catalog.Enclosure) { e.Box.Volume = 0.0026 }, false},
		// Of 24 L, two of 11.9 L leave 0.2 L and two of 12.1 L more than all.
		"two leave some room": {func(s *catalog.Subwoofer, e *catalog.Enclosure) { s.Displacement, e.Box.Drivers = 0.0119, 2 }, true},
		"two fill the box":    {func(s *catalog.Subwoofer, e *catalog.Enclosure) { s.Displacement, e.Box.Drivers = 0.0121, 2 }, false},
	} {
		s, e := sub, box
		c.change(&s, &e)
		if got := setting.FitsHole(&s, &e); got != c.fits {
			t.Errorf("%s: %v", name, got)
		}
	}
}

// By hand: what is left of 100 x 45 x 50 cm.
func TestLeft(t *testing.T) {
	space := catalog.Size3{Width: 1.00, Depth: 0.45, Height: 0.50}
	for _, c := range []struct {
		box         catalog.Size3
		boxes       int
		where       string
		w, d, h     float64 // cm
		width, fits float64 // of the row
	}{
		// Set on its 35 x 40 cm face, on the long wall: 100 - 35 = 65 cm of the width.
		{catalog.Size3{Width: 0.35, Depth: 0.40, Height: 0.45}, 1, "beside", 65, 45, 50, 0.35, 1},
		// Two of them need 70 cm: 30 remain.
		{catalog.Size3{Width: 0.35, Depth: 0.40, Height: 0.45}, 2, "beside", 30, 45, 50, 0.70, 1},
		// A flat one across the whole width: 10 cm high it leaves 40 above.
		{catalog.Size3{Width: 0.98, Depth: 0.44, Height: 0.10}, 1, "above", 100, 45, 40, 0.98, 1},
		{catalog.Size3{Width: 1.01, Depth: 0.44, Height: 0.10}, 1, "", 0, 0, 0, 0, 0},
		{catalog.Size3{}, 1, "", 0, 0, 0, 0, 0},
	} {
		left, ok := setting.LeftOf(c.box, space, c.boxes)
		if ok != (c.fits == 1) {
			t.Errorf("%d of %+v: fits %t", c.boxes, c.box, ok)
			continue
		}
		near := func(got, want float64) bool { return math.Abs(got-want) < 1e-9 }
		if left.Where != c.where || !near(left.Free.Width*100, c.w) || !near(left.Free.Depth*100, c.d) || !near(left.Free.Height*100, c.h) || !near(left.Taken.Width, c.width) {
			t.Errorf("%d of %+v: %+v", c.boxes, c.box, left)
		}
	}
}
