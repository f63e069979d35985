package joinery

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestFramesHaveRoom: the frames of drivers, which lie on the front, stand neither
// over its edge nor over each other nor over the mouth of a slot, and the tube's hole
// is clear of them.
func TestFramesHaveRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, ok := drawn(t)
		if !ok {
			return
		}
		rings, wood := 0, 0.0
		for _, p := range b.Panels {
			if p.Name == batten {
				wood += p.Wood()
			}
			if p.Name == brace {
				rings, wood = rings+1, wood+p.Wood()
				for _, o := range p.Openings { // its wood is as wide all round
					if math.Abs(p.Extent[1]-o.Sides[0]-2*ringWidth) > 1e-9 || math.Abs(p.Extent[2]-o.Sides[1]-2*ringWidth) > 1e-9 ||
						math.Abs(o.Centre[0]-p.Extent[1]/2) > 1e-9 || math.Abs(o.Centre[1]-p.Extent[2]/2) > 1e-9 {
						t.Fatalf("a brace of %v has a window %v", p.Extent, o)
					}
				}
			}
		}
		if b.Braces != rings || math.Abs(b.Bracing-wood) > 1e-12 {
			t.Fatalf("%d braces, %g m3 with battens, are cut, said are %d of %g", rings, wood, b.Braces, b.Bracing)
		}
		half := b.Design.Mount.Frame() / 2
		at := []float64{-half}
		for _, o := range b.Panels[0].Openings {
			if o.Name == "driver" {
				at = append(at, o.Centre[0])
			}
		}
		end := b.Design.Outside[0]
		if last := b.Panels[0].Openings[len(b.Panels[0].Openings)-1]; last.Name != "driver" {
			end = last.Centre[0] - max(last.Diameter, last.Sides[0])/2
		}
		for i, x := range append(at[1:], end+half) {
			if x-at[i] < 2*half-1e-8 {
				t.Fatalf("frames of %g m at %v, up to %g", 2*half, at[1:], end)
			}
		}
	})
}

// TestFrameJustFits: a box is refused for a frame only where that does not fit. A
// driver stands in the middle of what the slot leaves, 30 - 4 - 1.8 cm, and its frame
// may go over the slot's wall: up to the mouth it has half of that and 1.8 cm.
func TestFrameJustFits(t *testing.T) {
	d := Design{Thickness: 0.018, Drivers: 1, Slot: 0.04, PortLength: 0.2, Outside: Size{0.336, 0.4, 0.336}}
	most := 2 * ((0.3-0.04-0.018)/2 + 0.018)
	for _, c := range []struct {
		frame float64
		fits  bool
	}{{most - 1e-4, true}, {most + 1e-4, false}} {
		d.Mount = Mount{Size: c.frame / usualFrame, Cutout: 0.22, Depth: 0.15}
		_, err := d.Build()
		var fault *Error
		if (err == nil) != c.fits || err != nil && (!errors.As(err, &fault) || fault.Quantity != "outside width") {
			t.Errorf("a frame of %.4f m: %v", c.frame, err)
		}
	}
}

// TestTubeByHand: 60 x 39.6 x 36 cm of 18 mm, a tube of 8 cm and 25 cm, its wall 4 mm,
// in the front. Of it 23.2 cm are in the box: pi/4 x 8^2 x 23.2 cm = 1.16616 L of
// air, and pi/4 x (8.8^2 - 8^2) x 23.2 cm = 0.24489 L of wall.
func TestTubeByHand(t *testing.T) {
	d := Design{Outside: Size{0.60, 0.396, 0.36}, Thickness: 0.018, Drivers: 1,
		Mount: Mount{Size: 0.254, Displacement: 0.002}, Tube: 0.08, PortLength: 0.25}
	b, err := d.Build()
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(1000*b.PortAir-1.16616) > 1e-5 || math.Abs(1000*b.PortBox-0.24489) > 1e-5 {
		t.Errorf("%.5f L of air, %.5f L of wall", 1000*b.PortAir, 1000*b.PortBox)
	}
	// The circuit's box holds all of the tube's air, its 1.8 cm in the front too.
	if want := 56.4*36*32.4/1000 - 0.24489 + math.Pi/4*0.64*1.8/10; math.Abs(1000*b.Enclosure.Volume-want) > 1e-5 {
		t.Errorf("volume for the circuit %.5f L, want %.5f", 1000*b.Enclosure.Volume, want)
	}
	// Cutout and depth of a driver of 10 inches that states neither: 0.925 and 0.55 of 254 mm.
	if got := strings.Join(b.Assumed, "; "); !strings.Contains(got, "cutout of the driver 235 mm") || !strings.Contains(got, "depth of the driver 140 mm") {
		t.Error(got)
	}
	if i := slices.IndexFunc(b.Panels[0].Openings, func(o Opening) bool { return o.Name == "port tube" }); i < 0 || b.Panels[0].Openings[i].Diameter != 0.088 {
		t.Errorf("the hole of the tube: %v", b.Panels[0].Openings)
	}
}

// TestBraceOfALongBox: 120 cm of 18 mm, deeper than a narrow board, are more than
// three bays of 36 cm: three braces.
func TestBraceOfALongBox(t *testing.T) {
	d := Design{Outside: Size{1.2, 0.45, 0.396}, Thickness: 0.018, Drivers: 4, Mount: Mount{Size: 0.2032}}
	b, err := d.Build()
	if err != nil || b.Braces != 3 {
		t.Fatalf("%v, %v", b, err)
	}
	// Rings of 5 cm in 41.4 x 36 cm.
	if want := 3 * 0.018 * (0.414*0.36 - 0.314*0.26); math.Abs(b.Bracing-want) > 1e-9 {
		t.Errorf("braces of %g m3, want %g", b.Bracing, want)
	}
}

// TestLengthsOfASlot: between the longest straight slot and the shortest folded one
// none can be built; what is refused names both, and both can be.
func TestLengthsOfASlot(t *testing.T) {
	d := Design{Outside: Size{0.60, 0.40, 0.36}, Thickness: 0.018, Drivers: 1, Mount: Mount{Size: 0.254, Depth: 0.12}, Slot: 0.05}
	straight, folded := 0.364-0.05+0.018, 0.364+0.036+0.02 // 33.2 and 42 cm
	for _, length := range []float64{straight + 0.001, folded - 0.001} {
		d.PortLength = length
		if _, err := d.Build(); err == nil || !strings.Contains(err.Error(), cm(straight)) || !strings.Contains(err.Error(), cm(folded)) {
			t.Errorf("%g m: %v, want %s and %s", length, err, cm(straight), cm(folded))
		}
	}
	for _, length := range []float64{straight, folded} {
		d.PortLength = length
		if _, err := d.Build(); err != nil {
			t.Errorf("%g m: %v", length, err)
		}
	}
}

// TestRoomForAFold: a slot longer than the space is deep runs along the back, and the
// driver needs the depth that it takes; how high the space is has no part in it.
func TestRoomForAFold(t *testing.T) {
	for _, c := range []struct {
		long, back float64
	}{{0.2, 0}, {0.4, 0.03 + 0.018}} {
		w := Wish{Most: Size{1, 0.35, 0.6}, Proportions: UsualProportions,
			Design: Design{Thickness: 0.018, Drivers: 1, Mount: Mount{Size: 0.254, Depth: 0.12}, Slot: 0.03, PortLength: c.long}}
		least, _, err := w.limits()
		if want := 0.12 + behind - 0.018 + c.back; err != nil || math.Abs(least[1]-want) > 1e-12 {
			t.Errorf("a slot of %g m: %v, %v, want a depth of %g m", c.long, least, err, want)
		}
	}
}

// TestLeastWidth: the space has to be as wide as the cutouts with a centimetre of wood
// on either side, or as the frames, and what the port takes: nothing of a sealed box,
// a slot with its wall, a tube of 4 mm with a centimetre on either side.
func TestLeastWidth(t *testing.T) {
	for _, c := range []struct {
		drivers    int
		slot, tube float64
		want       float64 // m, inside
	}{
		{1, 0, 0, 0.25}, {2, 0, 0, 2 * 0.26416}, {1, 0.03, 0, 0.25 + 0.03 + 0.018}, {1, 0, 0.08, 0.25 + 0.08 + 0.008 + 0.02},
	} {
		w := Wish{Most: Size{1.2, 0.4, 0.4}, Proportions: UsualProportions, Design: Design{Thickness: 0.018, Drivers: c.drivers,
			Mount: Mount{Size: 0.254, Cutout: 0.23, Depth: 0.12}, Slot: c.slot, Tube: c.tube, PortLength: 0.2}}
		least, _, err := w.limits()
		if err != nil || math.Abs(least[0]-c.want) > 1e-9 {
			t.Errorf("%+v: %v, %v", c, least, err)
		}
	}
}
