package cabin

import (
	"encoding/json"
	"fmt"
	"math"
	"math/cmplx"
	"os"
	"testing"

	"loudfor/model/air"
)

// solved is testdata/open-doors.json, whose origin it states itself.
type solved struct {
	Density    float64
	SoundSpeed float64 `json:"sound_speed"`
	Hz         []float64
	Cars       map[string]struct {
		Inside, Source     [3]float64
		Admittance, Ground float64
		DoorX              [2]float64 `json:"door_x"`
		DoorZ              [2]float64 `json:"door_z"`
		States             map[string]map[string]struct {
			At [3]float64
			DB []float64
		}
	}
}

// TestOpenDoors holds open doors, with their leaves and without, against a wave
// solve in three dimensions, the same damping put in.
func TestOpenDoors(t *testing.T) {
	text, err := os.ReadFile("testdata/open-doors.json")
	if err != nil {
		t.Fatal(err)
	}
	var s solved
	if err := json.Unmarshal(text, &s); err != nil {
		t.Fatal(err)
	}
	for name, car := range s.Cars {
		c := Cavity{Length: car.Inside[0], Width: car.Inside[1], Height: car.Inside[2], Admittance: car.Admittance,
			Ground: car.Ground, Air: air.Air{Density: s.Density, SoundSpeed: s.SoundSpeed}}
		x, z := car.DoorX, car.DoorZ
		door := Opening{U: x[0], V: z[0], Width: x[1] - x[0], Height: z[1] - z[0], Leaf: Leaf{Hinge: Near}}
		for _, state := range []struct {
			name  string
			angle float64 // degrees
			most  float64 // dB
		}{{"shut", 0, 0.6}, {"door", 180, 1.0}, {"leaf90", 90, 1.3}, {"leaf65", 65, 1.3}, {"leaf45", 45, 1.7}, {"leaf30", 30, 1.7}} {
			door.Leaf.Angle = state.angle * degree
			set := bothSides(door)
			if state.angle == 0 {
				set = nil
			}
			line := fmt.Sprintf("%s %-7s", name, state.name)
			for _, place := range []string{"dash", "kick panel", "headrest"} {
				at := car.States[state.name][place]
				// A cube of the grid's size is the solve's source.
				r, err := c.Respond(s.Hz, Piston(Point{car.Source[0], car.Source[1], car.Source[2]}, 0.0025), Point{at.At[0], at.At[1], at.At[2]}, set)
				if err != nil {
					t.Fatal(err)
				}
				worst := 0.0
				for i, p := range r.Transfer {
					off := 20*math.Log10(cmplx.Abs(p)) - at.DB[i]
					if math.Abs(off) > math.Abs(worst) {
						worst = off
					}
				}
				line += fmt.Sprintf("  %s %+.2f", place, worst)
				if math.Abs(worst) > state.most {
					t.Errorf("%s, %s, %s: %.2f dB from the solve, want at most %g", name, state.name, place, worst, state.most)
				}
			}
			t.Log(line)
		}
	}
}

// TestLeafSteady: from 30 degrees to a leaf along the wall, which is none, the
// level goes on without a step, at the change of the formula at 90 degrees too,
// and so it does from the fitted constants to the flat hole above 120 Hz.
func TestLeafSteady(t *testing.T) {
	const most = 0.1 // dB for a degree, or for a fiftieth of an octave
	b, _ := BodyNamed("sedan")
	set, _ := b.Openings("doors open")
	c := b.at(roomTemperature)
	ear := Patch{Center: b.Places[0].Point}
	level := func(hz []float64, angle float64) []float64 {
		r := c.tiled(1, hz, Piston(b.Source, b.SourceArea), ear, leavesAt(set, angle), coarse)
		var db []float64
		for _, p := range r.Transfer {
			db = append(db, 20*math.Log10(cmplx.Abs(p)))
		}
		return db
	}
	hz := []float64{25, 40, 60, 80}
	before := level(hz, 40*degree)
	for angle := 41.0; angle <= 180; angle++ {
		now := level(hz, angle*degree)
		for i, f := range hz {
			if step := math.Abs(now[i] - before[i]); step > most {
				t.Errorf("%g Hz: %.2f dB from %g to %g degrees", f, step, angle-1, angle)
			}
		}
		before = now
	}
	// A step would show as a change that stays when the distance shrinks.
	for _, edge := range []float64{fittedTo, flatFrom} {
		around := level([]float64{edge * (1 - 1e-6), edge * (1 + 1e-6)}, 65*degree)
		if step := math.Abs(around[1] - around[0]); step > 1e-3 {
			t.Errorf("%g Hz: a step of %.4f dB", edge, step)
		}
	}
	// Beyond it the leaf is gone.
	high := []float64{flatFrom + 1, 400}
	open := make([]Opening, len(set))
	for i, o := range set {
		o.Leaf = Leaf{}
		open[i] = o
	}
	flat := c.tiled(1, high, Piston(b.Source, b.SourceArea), ear, open, coarse)
	for i, db := range level(high, 45*degree) {
		if want := 20 * math.Log10(cmplx.Abs(flat.Transfer[i])); math.Abs(db-want) > 1e-9 {
			t.Errorf("%g Hz: %.6f dB, the flat hole gives %.6f", high[i], db, want)
		}
	}
}

// TestDerivedOpenings: words that turn a car's set of openings into another.
func TestDerivedOpenings(t *testing.T) {
	b, _ := BodyNamed("small hatch")
	doors, _ := b.Openings("doors open")
	for _, name := range []string{"doors open 45 degrees", "Doors open 45 deg", " doors open 45° ", "left door open 45 degrees"} {
		set, ok := b.Openings(name)
		if !ok || set[0].Leaf.Angle != 45*degree || set[0].Area() != doors[0].Area() {
			t.Errorf("%q: %v, %v", name, set, ok)
		}
	}
	if set, ok := b.Openings("right door open"); !ok || len(set) != 1 || set[0].Wall != Right {
		t.Errorf("one door: %v", set)
	}
	if set, ok := b.Openings("left window open"); !ok || len(set) != 1 || set[0].Wall != Left || set[0].Leaf.Hinge != Unhinged {
		t.Errorf("one window: %v", set)
	}
	for _, name := range []string{"doors open 20 degrees", "doors open 200 degrees", "windows open 45 degrees", "roof open 45 degrees",
		"doors open NaN degrees", "doors open degrees", "45 degrees", "degrees", "left tailgate open", "left", "left door", "upper door open", "doors open 45 degrees 50 degrees"} {
		if set, ok := b.Openings(name); ok {
			t.Errorf("%q is taken for %v", name, set)
		}
	}
	if doors[0].Leaf.Angle == 45*degree {
		t.Error("the car's own doors moved")
	}
}

// A door is left as its check strap holds it: nine in ten, that is 1.645 standard
// deviations to either side, between 48 and 82 degrees; a lid is known to 20.
func TestUsualLeaves(t *testing.T) {
	for _, w := range []Wall{Left, Right} {
		l := w.Usual()
		if low, high := l.Angle-1.645*l.Spread, l.Angle+1.645*l.Spread; l.Hinge != Near || math.Abs(low/degree-48) > 0.5 || math.Abs(high/degree-82) > 0.5 {
			t.Errorf("%v: %+v, between %.1f and %.1f degrees", w, l, low/degree, high/degree)
		}
	}
	for _, w := range []Wall{Front, Rear} {
		if l := w.Usual(); l.Hinge != Top || math.Abs(l.Angle/degree-85) > 1e-9 || math.Abs(l.Spread/degree-20) > 1e-9 {
			t.Errorf("%v: %+v", w, l)
		}
	}
}
