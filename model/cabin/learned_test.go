package cabin

import (
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// A vector of unknowns and a deviation are the same thing.
func TestDeviationVector(t *testing.T) {
	b, _ := BodyNamed("sedan")
	n := len(b.Unknowns())
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.Float64Range(-3, 3), n, n).Draw(t, "vector")
		back := DeviationOf(v).Vector()
		for i := range v {
			if back[i] != v[i] {
				t.Fatalf("%d: %g became %g", i, v[i], back[i])
			}
		}
	})
}

// A learned car that was moved by nothing and narrowed by nothing is the car
// as stated, draw by draw.
func TestLearnedNothing(t *testing.T) {
	b, _ := BodyNamed("small sedan")
	b.Places = b.Places[:1]
	l := b
	l.Learned = &Learned{Shift: DeviationOf(make([]float64, len(b.Unknowns()))), Widened: 1}
	hz := []float64{30, 50}
	want, err := b.Ensemble(hz, "dash", "windows open", 20, 4, 5)
	if err != nil {
		t.Fatal(err)
	}
	got, err := l.Ensemble(hz, "dash", "windows open", 20, 4, 5)
	if err != nil {
		t.Fatal(err)
	}
	for i := range want {
		for j := range hz {
			if cmplx.Abs(got[i].Transfer[j]/want[i].Transfer[j]-1) > 1e-9 {
				t.Errorf("draw %d at %g Hz: %v, want %v", i, hz[j], got[i].Transfer[j], want[i].Transfer[j])
			}
		}
	}
}

// A car that is known in every direction is drawn as itself each time, and it
// is the deviated car with its smooth error.
func TestLearnedAll(t *testing.T) {
	b, _ := BodyNamed("small hatch")
	n := len(b.Unknowns())
	shift := make([]float64, n)
	for i := range shift {
		shift[i] = 0.7 * math.Sin(float64(3*i))
	}
	l := b
	l.Learned = &Learned{Shift: DeviationOf(shift), Widened: 1}
	for i := range n {
		along := make([]float64, n)
		along[i] = 1
		l.Learned.Determined = append(l.Learned.Determined, Direction{Spread: 0, Along: along})
	}
	if err := l.Check(); err != nil {
		t.Fatal(err)
	}
	hz := []float64{30, 45, 60}
	stated, err := l.Respond(hz, "kick panel", "doors open", 20)
	if err != nil {
		t.Fatal(err)
	}
	list, err := l.Ensemble(hz, "kick panel", "doors open", 20, 3, 1)
	if err != nil {
		t.Fatal(err)
	}
	moved, err := b.Deviated(DeviationOf(shift)).Respond(hz, "kick panel", "doors open", 20)
	if err != nil {
		t.Fatal(err)
	}
	for j, f := range hz {
		for i := range list {
			if cmplx.Abs(list[i].Transfer[j]/stated.Transfer[j]-1) > 1e-9 {
				t.Errorf("draw %d at %g Hz: %v, want %v", i, f, list[i].Transfer[j], stated.Transfer[j])
			}
		}
		smooth := l.Learned.Shift.factor(f, b.PlaceNumber("kick panel"), b.Spread)
		if cmplx.Abs(moved.Transfer[j]*smooth/stated.Transfer[j]-1) > 1e-9 {
			t.Errorf("%g Hz: the learned car gives %v, the deviated one %v", f, stated.Transfer[j], moved.Transfer[j]*smooth)
		}
	}
	// One direction known, the level scatters less; widened, more.
	near := func(l Learned) float64 {
		car := b
		car.Learned = &l
		list, err := car.Ensemble(hz[:1], "dash", "shut", 20, 64, 1)
		if err != nil {
			t.Fatal(err)
		}
		sum, square := 0.0, 0.0
		for _, r := range list {
			db := 20 * math.Log10(cmplx.Abs(r.Transfer[0]))
			sum, square = sum+db, square+db*db
		}
		return math.Sqrt(square/64 - sum*sum/64/64)
	}
	level := make([]float64, n)
	level[ShapeFrom] = 1
	none := near(Learned{Shift: DeviationOf(make([]float64, n)), Widened: 1})
	some := near(Learned{Shift: DeviationOf(make([]float64, n)), Widened: 1, Determined: []Direction{{Spread: 0.1, Along: level}}})
	wide := near(Learned{Shift: DeviationOf(make([]float64, n)), Widened: 2})
	if !(some < none) || math.Abs(wide/none-2) > 0.5 {
		t.Errorf("scatter %.2f dB unlearned, %.2f with the level known, %.2f widened twice", none, some, wide)
	}
}

// Broken knowledge is refused.
func TestLearnedCheck(t *testing.T) {
	b, _ := BodyNamed("van")
	n := len(b.Unknowns())
	good := func() *Learned {
		along := make([]float64, n)
		along[2] = 1
		return &Learned{Shift: DeviationOf(make([]float64, n)), Widened: 1, Determined: []Direction{{Spread: 0.5, Along: along}}}
	}
	for name, spoil := range map[string]func(*Learned){
		"short shift":  func(l *Learned) { l.Shift.Receivers = nil },
		"far shift":    func(l *Learned) { l.Shift.Length = 7 },
		"no number":    func(l *Learned) { l.Shift.Area = math.NaN() },
		"narrowed":     func(l *Learned) { l.Widened = 0.5 },
		"short along":  func(l *Learned) { l.Determined[0].Along = nil },
		"not a unit":   func(l *Learned) { l.Determined[0].Along[1] = 1 },
		"grown spread": func(l *Learned) { l.Determined[0].Spread = 1.5 },
	} {
		b.Learned = good()
		if err := b.Check(); err != nil {
			t.Fatal(err)
		}
		spoil(b.Learned)
		if b.Check() == nil {
			t.Errorf("%s was accepted", name)
		}
	}
}

// What was learned means the same car as long as its equations are the same. Where
// these levels move, count Equations up, and write the new ones here.
func TestEquationsMeanTheSameCar(t *testing.T) {
	const known = 2
	if Equations != known {
		t.Fatalf("equations %d: say here what they give", Equations)
	}
	const moved = 0.05 // dB, far below what readings tell
	b, _ := BodyNamed("sedan")
	z := make([]float64, len(b.Unknowns()))
	for i := range z {
		z[i] = 0.5 - float64(i%3)/2
	}
	b.Learned = &Learned{Shift: DeviationOf(z), Widened: 1}
	for _, c := range []struct {
		place, openings string
		level           [3]float64 // of Pa per m3/s, dB, at 25, 40 and 63 Hz
	}{
		{"dash", "shut", [3]float64{48.72, 47.53, 54.36}},
		{"kick panel", "windows open", [3]float64{53.98, 49.49, 53.38}},
		{"headrest", "doors open", [3]float64{46.97, 52.64, 46.31}},
	} {
		r, err := b.Respond([]float64{25, 40, 63}, c.place, c.openings, 20)
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range r.Transfer {
			if level := 20 * math.Log10(cmplx.Abs(p)); math.Abs(level-c.level[i]) > moved {
				t.Errorf("%s, %s, %g Hz: %.2f dB, want %.2f", c.place, c.openings, r.Hz[i], level, c.level[i])
			}
		}
	}
}

// What is wrong with what was learned is said of the direction that it stands in.
func TestFaultsOfDirections(t *testing.T) {
	b, _ := BodyNamed("small hatch")
	n := len(b.Unknowns())
	along := make([]float64, n)
	along[0] = 1
	for want, bad := range map[string]Direction{
		"direction 2 has 1 numbers": {Spread: 0.5, Along: along[:1]},
		"direction 2 leaves 1.5 of": {Spread: 1.5, Along: along},
		"direction 2 leaves NaN":    {Spread: math.NaN(), Along: along},
	} {
		b.Learned = &Learned{Shift: DeviationOf(make([]float64, n)), Widened: 1, Determined: []Direction{{Spread: 0, Along: along}, bad}}
		if err := b.Check(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// Deviated is the car as it is with a deviation: dimensions, damping, openings
// and source. Places keep their relative position, moved by the deviation.
func (b Body) Deviated(d Deviation) Body {
	car, _ := b.drawn(d, 0, Point{})
	for i, p := range b.Places {
		_, at := b.drawn(d, i, p.Point)
		car.Places[i].Point = at
	}
	return car
}
