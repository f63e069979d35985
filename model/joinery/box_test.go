package joinery

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// drawn is a random design that can be built; ok is false where the draw cannot.
func drawn(t *rapid.T) (*Box, bool) {
	inches := rapid.SampledFrom([]float64{8, 10, 12, 15}).Draw(t, "size")
	d := Design{
		Thickness: rapid.SampledFrom([]float64{0.0127, 0.015, 0.018, 0.01905, 0.025}).Draw(t, "thickness"),
		Drivers:   rapid.IntRange(1, 3).Draw(t, "drivers"),
		Mount:     Mount{Size: inches * 0.0254},
	}
	for i := range d.Outside {
		d.Outside[i] = rapid.Float64Range(0.25, []float64{1.4, 0.6, 0.5}[i]).Draw(t, "edge")
	}
	switch rapid.IntRange(0, 2).Draw(t, "port") {
	case 1:
		d.Slot = rapid.Float64Range(narrowestSlot, 0.12).Draw(t, "slot")
	case 2:
		d.Tube = rapid.Float64Range(0.05, 0.15).Draw(t, "tube")
	}
	if d.Vented() {
		d.PortLength = rapid.Float64Range(0.05, 1.2).Draw(t, "port length")
	}
	if rapid.Bool().Draw(t, "rounded") {
		d = d.Rounded()
	}
	b, err := d.Build()
	if err != nil {
		text := err.Error()
		if strings.Contains(text, "NaN") || strings.Contains(text, "Inf") || strings.Contains(text, "joinery:") {
			t.Fatalf("%+v: %v", d, err)
		}
		return nil, false
	}
	return b, true
}

// enclosed puts the panels together and floods the space from outside: what the
// flood does not reach and no panel fills is enclosed. Space is cut at every
// coordinate of any panel, so that the volumes are exact. Openings are taken as
// closed: what sits in them closes them.
func enclosed(t interface{ Fatalf(string, ...any) }, panels []Panel) (air, wood float64) {
	var cuts [3][]float64
	for _, p := range panels {
		for i := range cuts {
			cuts[i] = append(cuts[i], p.At[i], p.At[i]+p.Extent[i])
		}
	}
	for i := range cuts {
		slices.Sort(cuts[i])
		cuts[i] = slices.CompactFunc(cuts[i], func(a, b float64) bool { return math.Abs(b-a) < 1e-7 })
		cuts[i] = append([]float64{cuts[i][0] - 1}, append(cuts[i], cuts[i][len(cuts[i])-1]+1)...)
	}
	nx, ny, nz := len(cuts[0])-1, len(cuts[1])-1, len(cuts[2])-1
	at := func(x, y, z int) int { return (x*ny+y)*nz + z }
	middle := func(i, k int) float64 { return (cuts[i][k] + cuts[i][k+1]) / 2 }
	volume := func(x, y, z int) float64 {
		return (cuts[0][x+1] - cuts[0][x]) * (cuts[1][y+1] - cuts[1][y]) * (cuts[2][z+1] - cuts[2][z])
	}
	state := make([]int, nx*ny*nz) // 0 air, 1 wood, 2 outside
	for x := range nx {
		for y := range ny {
			for z := range nz {
				c := [3]float64{middle(0, x), middle(1, y), middle(2, z)}
				in := 0
				for _, p := range panels {
					inside := true
					for i := range c {
						inside = inside && c[i] > p.At[i] && c[i] < p.At[i]+p.Extent[i]
					}
					if inside {
						in++
					}
				}
				if in > 1 {
					t.Fatalf("two panels are in one place, at %v", c)
				}
				state[at(x, y, z)] = in
			}
		}
	}
	queue := [][3]int{{0, 0, 0}}
	for len(queue) > 0 {
		c := queue[0]
		queue = queue[1:]
		if c[0] < 0 || c[1] < 0 || c[2] < 0 || c[0] >= nx || c[1] >= ny || c[2] >= nz || state[at(c[0], c[1], c[2])] != 0 {
			continue
		}
		state[at(c[0], c[1], c[2])] = 2
		for i := range 3 {
			for _, step := range [2]int{-1, 1} {
				n := c
				n[i] += step
				queue = append(queue, n)
			}
		}
	}
	for x := range nx {
		for y := range ny {
			for z := range nz {
				switch state[at(x, y, z)] {
				case 0:
					air += volume(x, y, z)
				case 1:
					wood += volume(x, y, z)
				}
			}
		}
	}
	return air, wood
}

// The cut list put together again encloses the inside that is said, less the
// boards inside; the windows of the braces are air.
func TestPanelsEncloseTheVolume(t *testing.T) {
	built := 0
	rapid.Check(t, func(t *rapid.T) {
		b, ok := drawn(t)
		if !ok {
			return
		}
		built++
		air, wood := enclosed(t, b.Panels)
		boards := 0.0 // inside, as whole boards
		windows := 0.0
		for _, p := range b.Panels[6:] {
			boards += p.Extent.Volume()
			windows += p.Extent.Volume() - p.Wood()
		}
		if want := b.Gross - boards; math.Abs(air-want) > 0.001*want {
			t.Fatalf("the panels enclose %.6f m3, said are %.6f", air, want)
		}
		inside := air + windows - float64(b.Design.Drivers)*b.Displacement()
		if b.Design.Tube > 0 {
			inside -= b.PortBox
		}
		inside -= b.PortAir
		if net := b.Net(b.Displacement()); math.Abs(inside-net) > 0.001*net {
			t.Fatalf("left to the air are %.6f m3, said are %.6f", inside, net)
		}
		if out := b.Design.Outside.Volume(); math.Abs(air+wood-out) > 1e-6*out {
			t.Fatalf("air and wood fill %.6f m3 of %.6f", air+wood, out)
		}
		for _, p := range b.Panels {
			edges := []float64{b.Design.Thickness, p.Width, p.Length}
			slices.Sort(edges)
			if !slices.Equal(edges, slices.Sorted(slices.Values(p.Extent[:]))) || p.Length < p.Width || p.Width < shortestPanel-fit {
				t.Fatalf("%s is cut %g x %g from %v", p.Name, p.Length, p.Width, p.Extent)
			}
		}
	})
	if built == 0 && !testing.Short() { // a few draws may miss it
		t.Error("no design could be built")
	}
}

// No face is wider, both ways, between what holds it than the sheet can do, but for the
// drivers' own place; battens touch neither each other nor braces.
func TestFacesAreHeld(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, ok := drawn(t)
		if !ok {
			return
		}
		th := b.Design.Thickness
		most := widestSpan * th
		if side := min(b.Inside[1], b.Inside[2]); side > most+fit {
			t.Fatalf("sides of %g m the shorter way, %g m thick", side, th)
		}
		hole, _ := b.Design.Mount.Hole()
		reach, _ := b.Design.Mount.Reach()
		var walls []float64 // of the chamber, along the width
		walls = append(walls, 0)
		chamber, fold := b.Inside[0], 0.0
		for _, p := range b.Panels[6:] {
			switch p.Name {
			case brace:
				walls = append(walls, p.At[0]+th)
			case "port wall":
				chamber = p.At[0]
			case "port fold":
				fold = b.Design.Slot + th
			}
		}
		for i, start := range walls {
			end := chamber
			if i+1 < len(walls) {
				end = walls[i+1] - th
			}
			if end-start <= most+fit {
				continue
			}
			// The free ways on the back and on top, in this bay.
			back, top := []float64{0, b.Inside[2]}, []float64{0, b.Inside[1] - fold}
			for _, p := range b.Panels[6:] {
				if p.Name != batten || p.At[0] < start-fit || p.At[0] > start+fit {
					continue
				}
				switch {
				case p.Extent[1] == ringWidth:
					back = append(back, p.At[2], p.At[2]+th)
				case p.At[2] > 0:
					top = append(top, p.At[1], p.At[1]+th)
				}
			}
			for name, edges := range map[string][]float64{"back": back, "top": top} {
				slices.Sort(edges)
				for k := 0; k < len(edges); k += 2 {
					free, limit := edges[k+1]-edges[k], max(most, hole+2*th, reach)
					if min(free, end-start) > limit+1e-6 {
						t.Fatalf("%s: %g m free of %v, %g m wide, %g m thick", name, free, b.Inside, end-start, th)
					}
				}
			}
		}
	})
}

// 15 mm hold 20 x 15 = 30 cm. A box of 56 x 44 cm in front and 36 cm deep is refused, as
// its sides are 33 x 41 cm inside; 33 cm deep (30 inside), its back alone is too large,
// 53 x 41 cm, and gets a batten, 5 cm deep. Lying, 56 x 33 cm in front and 50 deep, top
// and bottom are, 53 x 47 cm, and get one each.
func TestLargeFaces(t *testing.T) {
	d := Design{Outside: Size{0.56, 0.36, 0.44}, Thickness: 0.015, Drivers: 1, Mount: Mount{Size: 0.3048, Cutout: 0.28, Depth: 0.15, Displacement: 0.002}}
	if _, err := d.Build(); err == nil || !strings.Contains(err.Error(), "stay stiff up to 30 cm") {
		t.Errorf("sides of 33 x 41 cm: %v", err)
	}
	for _, c := range []struct {
		outside    Size
		battens    int
		room, clip float64 // m: depth inside the front, what a batten takes of it
	}{
		{Size{0.56, 0.33, 0.44}, 1, 0.30, 0.05},
		{Size{0.56, 0.50, 0.33}, 2, 0.47, 0},
		{Size{0.56, 0.33, 0.33}, 0, 0.30, 0},
	} {
		d.Outside = c.outside
		b, err := d.Build()
		if err != nil {
			t.Fatal(err)
		}
		if want := float64(c.battens) * 0.53 * 0.05 * 0.015; b.Battens != c.battens || math.Abs(b.Bracing-want) > 1e-12 {
			t.Errorf("%v: %d battens, %g m3, want %d, %g", c.outside, b.Battens, b.Bracing, c.battens, want)
		}
		if want := 0.015 + c.room - c.clip - behind; math.Abs(b.Room-want) > 1e-12 {
			t.Errorf("%v: depth %g, want %g", c.outside, b.Room, want)
		}
	}
}

// Openings lie in their panels and not in each other, cutouts clear of braces
// and port.
func TestOpeningsClear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, ok := drawn(t)
		if !ok {
			return
		}
		front := b.Panels[0]
		drivers := 0
		for i, o := range front.Openings {
			half := [2]float64{o.Sides[0] / 2, o.Sides[1] / 2}
			if o.Diameter > 0 {
				half = [2]float64{o.Diameter / 2, o.Diameter / 2}
			}
			if o.Centre[0]-half[0] < b.Design.Thickness-1e-9 || o.Centre[0]+half[0] > front.Extent[0]-b.Design.Thickness+1e-9 ||
				o.Centre[1]-half[1] < b.Design.Thickness-1e-9 || o.Centre[1]+half[1] > front.Extent[2]-b.Design.Thickness+1e-9 {
				t.Fatalf("%v is not within the walls", o)
			}
			for _, other := range front.Openings[:i] {
				gap := math.Abs(o.Centre[0]-other.Centre[0]) - half[0]
				if other.Diameter > 0 {
					gap -= other.Diameter / 2
				}
				if gap < edge-1e-9 {
					t.Fatalf("%v is %g m from %v", o, gap, other)
				}
			}
			if o.Name != "driver" {
				continue
			}
			drivers++
			x := o.Centre[0] - b.Design.Thickness // in the box
			for _, p := range b.Panels[6:] {
				if p.Name == "port fold" {
					continue // behind: the depth has been held against it
				}
				if reach, _ := b.Design.Mount.Reach(); p.Name == batten {
					// Above, below or behind the driver.
					z := o.Centre[1] - b.Design.Thickness
					if behind := p.At[1] > reach-b.Design.Thickness-1e-9; !behind && p.At[2] < z+half[1]-1e-9 && p.At[2]+p.Extent[2] > z-half[1]+1e-9 {
						t.Fatalf("%s at %v stands in the driver", p.Name, p.At)
					}
					continue
				}
				if p.At[0] < x+half[0] && p.At[0]+p.Extent[0] > x-half[0] {
					t.Fatalf("%s stands in the cutout %v", p.Name, o)
				}
			}
		}
		if drivers != b.Design.Drivers {
			t.Fatalf("%d cutouts for %d drivers", drivers, b.Design.Drivers)
		}
	})
}

// One box worked out by hand: 60 x 40 x 36 cm of 18 mm, a slot of 5 cm, 30 cm
// long. Inside 56.4 x 36.4 x 32.4 cm = 66.52 L; the slot holds 5 x 32.4 x 28.2
// cm = 4.568 L of air inside and its wall takes 1.8 x 32.4 x 28.2 cm = 1.645 L. The
// chamber is 49.6 cm wide and 36.4 deep, more than 36 both ways: a batten of 49.6 x 5 x
// 1.8 cm = 0.4464 L on top and bottom.
func TestByHand(t *testing.T) {
	d := Design{Outside: Size{0.60, 0.40, 0.36}, Thickness: 0.018, Drivers: 1,
		Mount: Mount{Size: 0.3048, Cutout: 0.28, Depth: 0.15, Displacement: 0.002}, Slot: 0.05, PortLength: 0.30}
	b, err := d.Build()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what      string
		got, want float64 // L
	}{
		{"inside", b.Gross, 66.515904}, {"air of the port", b.PortAir, 4.5684}, {"wall of the port", b.PortBox, 1.644624},
		{"net", b.Net(b.Displacement()), 66.515904 - 4.5684 - 1.644624 - 2*0.4464 - 2},
		// Package enclosure takes off the drivers and the whole port, with its 1.8 cm in the front.
		{"volume for the circuit", b.Enclosure.Volume, 66.515904 - 4.5684 - 1.644624 - 2*0.4464 + 5*32.4*30/1000},
	} {
		if math.Abs(1000*c.got-c.want) > 1e-6 {
			t.Errorf("%s: %.6f L, want %.6f", c.what, 1000*c.got, c.want)
		}
	}
	if b.Braces != 0 || b.Battens != 2 || len(b.Panels) != 9 {
		t.Errorf("%d braces, %d battens, %d panels", b.Braces, b.Battens, len(b.Panels))
	}
	if want := 0.018 + 0.364 - behind; math.Abs(b.Room-want) > 1e-12 {
		t.Errorf("depth %g, want %g", b.Room, want)
	}
}

// What does not fit is refused with the number that fails.
func TestRefusals(t *testing.T) {
	good := Design{Outside: Size{0.60, 0.40, 0.36}, Thickness: 0.018, Drivers: 1, Mount: Mount{Size: 0.3048, Cutout: 0.28, Depth: 0.15}}
	if _, err := good.Build(); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		change func(*Design)
		want   string // quantity
	}{
		{"thin", func(d *Design) { d.Thickness = 0.012 }, "thickness"},
		{"low", func(d *Design) { d.Outside[2] = 0.31 }, "inside height"},
		{"flat for the frame", func(d *Design) { d.Outside[2], d.Mount.Cutout, d.Thickness = 0.314, 0.25, 0.018 }, "outside height"},
		{"narrow", func(d *Design) { d.Outside[0] = 0.3 }, "inside width"},
		{"narrow for two", func(d *Design) { d.Drivers = 2 }, "inside width"},
		{"shallow", func(d *Design) { d.Outside[1] = 0.17 }, "driver's depth"},
		{"folded slot behind the driver", func(d *Design) { d.Outside[1], d.Slot, d.PortLength, d.Mount.Depth = 0.3, 0.06, 0.55, 0.2 }, "driver's depth"},
		{"slot into the corner", func(d *Design) { d.Slot, d.PortLength = 0.05, 0.36 }, "port length"},
		{"slot too long", func(d *Design) { d.Slot, d.PortLength = 0.05, 1.5 }, "port length"},
		{"no length", func(d *Design) { d.Slot = 0.05 }, "port length"},
		{"narrow slot", func(d *Design) { d.Slot, d.PortLength = 0.01, 0.3 }, "slot width"},
		{"tube too long", func(d *Design) { d.Tube, d.PortLength, d.Outside[0] = 0.1, 0.5, 0.7 }, "port length"},
		{"wide tube", func(d *Design) { d.Tube, d.PortLength, d.Outside[0], d.Outside[1] = 0.33, 0.03, 1, 0.44 }, "tube"},
		{"slack sides", func(d *Design) { d.Outside = Size{0.6, 0.6, 0.6} }, "inside depth and height"},
		{"no air left", func(d *Design) { d.Mount.Displacement = 0.08 }, "volume"},
		{"no inside", func(d *Design) { d.Outside[1] = 0.03 }, "outside depth"},
	} {
		d := good
		c.change(&d)
		_, err := d.Build()
		var fault *Error
		if !errors.As(err, &fault) || fault.Quantity != c.want {
			t.Errorf("%s: %v, want a fault of the %s", c.name, err, c.want)
		}
	}
}

// A slot's fold may be narrower than the sheet is thick; it is cut as wide as it is.
func TestFoldNarrowerThanTheSheet(t *testing.T) {
	d := Design{Thickness: 0.025, Drivers: 1, Mount: Mount{Size: 0.2032}, Outside: Size{1.4, 0.25, 0.5}, Slot: 0.0625, PortLength: 0.26953125}
	b, err := d.Rounded().Build()
	if err != nil {
		t.Fatal(err)
	}
	fold := b.Panels[slices.IndexFunc(b.Panels, func(p Panel) bool { return p.Name == "port fold" })]
	if wood := 0.45 * 0.02 * 0.025; math.Abs(fold.Length-0.45) > 1e-9 || math.Abs(fold.Width-0.02) > 1e-9 || math.Abs(fold.Wood()-wood) > 1e-12 {
		t.Errorf("cut %g x %g m, %g m3 of wood", fold.Length, fold.Width, fold.Wood())
	}
}
