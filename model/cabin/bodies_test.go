package cabin

import (
	"math"
	"testing"
)

// TestBodiesAreCars holds the table of body styles against what cars are like. Sizes
// of openings, heights and places: common practice, no source.
func TestBodiesAreCars(t *testing.T) {
	for _, s := range styles {
		within := func(what string, got, least, most float64) {
			if !(got >= least-1e-9 && got <= most+1e-9) {
				t.Errorf("%s: %s %.3g, none of a car: %g to %g", s.name, what, got, least, most)
			}
		}
		within("length", s.length, 1.2, 4)
		within("width", s.width, 1.3, 1.7)
		within("height", s.height, 1.1, 1.4)
		within("floor above the ground", s.ground, 0.15, 0.45)
		within("headrest behind the firewall", s.rows, 1.1, 1.5)
		// A box stands in the last third, on the floor.
		within("source", s.source.X/s.length, 0.75, 0.9)
		within("height of the source", s.source.Z, 0.25, 0.4)

		// Front doors are about a metre wide, from the sill nearly to the roof, and end
		// beside the headrest; their glass is the upper part, within the frame.
		d, w := s.door, s.window
		within("width of the door", d.Width, 0.85, 1.1)
		sill := map[bool]float64{true: 0.12, false: 0.06}[s.name == "van"] // a step down to the floor
		within("sill of the door", d.V, 0.03, sill)
		within("top of the door", (d.V+d.Height)/s.height, 0.9, 0.96)
		within("front of the door", d.U, 0.25, 0.35)
		within("rear of the door", d.U+d.Width-s.rows, -0.2, 0.2)
		within("front of the glass in the door", w.U-d.U, 0.1, 0.2)
		within("rear of the glass in the door", d.U+d.Width-w.U-w.Width, 0, 0.1)
		within("lower edge of the glass", w.V/s.height, 0.55, 0.65)
		within("upper edge of the glass", w.V+w.Height-d.V-d.Height, -0.05, 0.03)

		// Rear openings leave the pillars, and begin above the bumper; a boot's lid
		// opens above the middle of the cabin, half as large as a tailgate.
		r := s.rear
		if s.rearName == "" {
			continue
		}
		within("pillars beside the rear", (s.width-r.Width)/2, 0.1, 0.25)
		low, high := 0.1, 0.3
		if s.rearName == "boot open" {
			low, high = 0.4, 0.5
		}
		within("sill of the rear", r.V, low, high)
		within("top of the rear", (r.V+r.Height)/s.height, 0.85, 0.95)
	}
	for _, b := range Bodies() {
		p, _ := b.Place("kick panel")
		dash, _ := b.Place("dash")
		head, _ := b.Place("headrest")
		c := b.Cavity
		// The kick panel: beside the passenger's feet, below the dash, at the wall.
		if !(p.X < dash.X && p.Z > 0.15 && p.Z < 0.3 && c.Width-p.Y > 0 && c.Width-p.Y <= 0.15) {
			t.Errorf("%s: kick panel at %v", b.Name, p)
		}
		// The driver's headrest is in the left half, the dash's meter in the right, below the roof.
		if !(head.Y < c.Width/2 && head.Y > 0.2 && head.Z > 0.8*c.Height && head.Z < c.Height-0.1) ||
			!(dash.Y > c.Width/2 && dash.Y < c.Width-0.2 && dash.Z > 0.6*c.Height && dash.Z < 0.8*c.Height && dash.X < 0.5) {
			t.Errorf("%s: dash at %v, headrest at %v", b.Name, dash, head)
		}
	}
}

// TestBodiesInTheirClass: the volumes are 10 to 30 % above those of the size classes
// (40 CFR 600.315, from memory), as the table's comment says. In cubic feet of passengers
// and luggage 85 to 110 are subcompacts and compacts, 120 and more large cars, and 130
// to 160 wagons of the middle class.
func TestBodiesInTheirClass(t *testing.T) {
	const foot = 0.3048
	for name, class := range map[string][2]float64{
		"small sedan": {85, 110}, "sedan": {120, math.Inf(1)}, "small hatch": {85, 110}, "wagon": {130, 160},
	} {
		b, _ := BodyNamed(name)
		v := b.Cavity.Length * b.Cavity.Width * b.Cavity.Height / math.Pow(foot, 3)
		if v < 1.1*class[0] || v > 1.3*class[1] {
			t.Errorf("%s: %.0f cubic feet, its class has %g to %g", name, v, class[0], class[1])
		}
	}
}

// TestTurned: a deviation turns what hangs by its spread, as far as it goes, and
// leaves a hole without a leaf as it is.
func TestTurned(t *testing.T) {
	for _, c := range []struct{ angle, spread, z, want float64 }{
		{65, 10, 0, 65}, {65, 10, 1, 75}, {65, 10, -2, 45}, {65, 10, -9, 20}, {170, 10, 3, 180},
	} {
		for hinge := Near; hinge <= Top; hinge++ {
			l := Leaf{Hinge: hinge, Angle: c.angle * degree, Spread: c.spread * degree}.turned(c.z)
			if math.Abs(l.Angle/degree-c.want) > 1e-9 {
				t.Errorf("hinge %d, %g degrees +/- %g, turned by %g: %g, want %g", hinge, c.angle, c.spread, c.z, l.Angle/degree, c.want)
			}
		}
	}
	if l := (Leaf{}).turned(3); l != (Leaf{}) {
		t.Errorf("a hole without a leaf became %v", l)
	}
}
