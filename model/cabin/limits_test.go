package cabin

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// The ranges that the messages and the documentation give, on their ends and just
// beyond.
func TestEveryRangeAtItsEnds(t *testing.T) {
	respond := func(c Cavity, hz float64, openings ...Opening) error {
		_, err := c.Respond([]float64{hz}, Point{1.95, 0.68, 0.3}, Point{0.35, 0.9, 0.7}, openings)
		return err
	}
	good := car(5)
	for _, c := range []struct {
		what       string
		try        func(v float64) error
		in, beyond []float64
	}{
		{"length", func(v float64) error { c := good; c.Length = v; return c.Check() }, []float64{0.05, 12}, []float64{0.0499, 12.01}},
		{"width", func(v float64) error { c := good; c.Width = v; return c.Check() }, []float64{0.05, 12}, []float64{0.0499, 12.01}},
		{"height", func(v float64) error { c := good; c.Height = v; return c.Check() }, []float64{0.05, 12}, []float64{0.0499, 12.01}},
		{"admittance", func(v float64) error { c := good; c.Admittance = v; return c.Check() }, []float64{0, 1}, []float64{-1e-6, 1.001}},
		{"exponent", func(v float64) error { c := good; c.Exponent = v; return c.Check() }, []float64{-4, 4}, []float64{-4.01, 4.01}},
		{"zone", func(v float64) error { c := good; c.Zone = v; return c.Check() }, []float64{-6, 6}, []float64{-6.01, 6.01}},
		{"ground", func(v float64) error { c := good; c.Ground = v; return c.Check() }, []float64{0, 12}, []float64{-0.01, 12.01}},
		{"panel's share", func(v float64) error { return Panel{Roof, v, 40}.check() }, []float64{0, 0.3}, []float64{-0.01, 0.301}},
		{"panel's resonance", func(v float64) error { return Panel{Roof, 0.1, v}.check() }, []float64{5, 500}, []float64{4.99, 500.1}},
		{"wall of a panel", func(v float64) error { return Panel{Wall(v), 0.1, 40}.check() }, []float64{0, 5}, []float64{-1, 6}},
		{"frequency", func(v float64) error { return respond(good, v) }, []float64{0.1, 500}, []float64{0.0999, 500.1, math.NaN()}},
		{"degrees of the air", func(v float64) error {
			b, _ := BodyNamed("small sedan")
			_, err := b.Respond([]float64{40}, "dash", "shut", v)
			return err
		}, []float64{-60, 90}, []float64{-60.1, 90.1}},
		{"side of an opening", func(v float64) error { return good.CheckOpenings([]Opening{{Left, 0.5, 0.5, v, 0.1, Leaf{}}}) }, []float64{0.02}, []float64{0.0199}},
		{"openings", func(v float64) error {
			var all []Opening
			for i := range int(v) {
				all = append(all, Opening{Left, 0.05 + 0.1*float64(i), 0.3, 0.05, 0.05, Leaf{}})
			}
			return good.CheckOpenings(all)
		}, []float64{12}, []float64{13}},
	} {
		for _, v := range c.in {
			if err := c.try(v); err != nil {
				t.Errorf("%s of %g: %v", c.what, v, err)
			}
		}
		for _, v := range c.beyond {
			if c.try(v) == nil {
				t.Errorf("%s of %g is taken", c.what, v)
			}
		}
	}
}

// Which of two openings is named first does not matter, be they a hair within touch.
func TestOverlapIsMutual(t *testing.T) {
	one := Opening{Wall: Left, Width: 1, Height: 1}
	for _, at := range []float64{0.5, 1 - 2*touch, 1 - touch, 1, 1.5} {
		for _, other := range []Opening{{Wall: Left, U: at, Width: 1, Height: 1}, {Wall: Left, V: at, Width: 1, Height: 1}} {
			if a, b := one.overlaps(other), other.overlaps(one); a != b || at < 1-touch != a {
				t.Errorf("at %.9f: %t, and the other way %t", at, a, b)
			}
		}
	}
}

// The static sum is right for cabins of any size, whichever way it runs: six times as
// many terms change it by less than a thousandth of what stands on the diagonal.
func TestStaticSumReachesFarEnough(t *testing.T) {
	for _, c := range []Cavity{{Length: 12, Width: 1.4, Height: 1.2}, {Length: 2.5, Width: 1.4, Height: 1.1}, {Length: 8, Width: 8, Height: 8}, {Length: 0.6, Width: 0.5, Height: 0.4}} {
		c.Air = car(5).Air
		size := c.lengths()
		at := func(wall Wall, share, side float64) grid {
			n := wall.normal()
			u, v := wall.plane()
			var g grid
			x := 0.0
			if wall.far() {
				x = size[n]
			}
			g.spans[n] = []span{{x, x}}
			for _, axis := range []int{u, v} {
				g.spans[axis] = []span{{share * size[axis], share*size[axis] + side*size[axis]}}
			}
			return g
		}
		holes := []grid{at(Left, 0.2, 0.3), at(Left, 0.6, 0.1), at(Right, 0.3, 0.2), at(Rear, 0.1, 0.4), at(Roof, 0.5, 0.2)}
		for _, a := range holes {
			own := c.static(a, a)[0]
			for _, b := range holes {
				axis, terms := c.closedAxis(a, b)
				many := terms
				for i := range many {
					many[i] *= 6
				}
				if got, want := c.staticAlong(a, b, axis, terms)[0], c.staticAlong(a, b, axis, many)[0]; !(math.Abs(got-want) < 2e-3*own) {
					t.Errorf("%v: %g, with more terms %g; a hole to itself %g", size, got, want, own)
				}
			}
		}
	}
}

// Spaces more or fewer in the words of openings mean nothing.
func TestWordsOfOpenings(t *testing.T) {
	b, _ := BodyNamed("small sedan")
	want, ok := b.Openings("doors open 45 degrees")
	if !ok {
		t.Fatal("no doors")
	}
	for _, name := range []string{"  doors open 45 degrees ", "doors open 45  degrees", "Doors open 45 Degrees"} {
		if got, ok := b.Openings(name); !ok || len(got) != len(want) {
			t.Errorf("%q: %v", name, got)
		}
	}
}

// What no equation determines is taken as nothing.
func TestUndeterminedIsNothing(t *testing.T) {
	b := []complex128{6, 5}
	if solve([]complex128{2, 0, 0, 0}, b, 2); b[0] != 3 || b[1] != 0 {
		t.Errorf("%v", b)
	}
}

// A panel that gives way too much is named with its per cent.
func TestPanelInPerCent(t *testing.T) {
	if err := (Panel{Roof, 0.4, 40}).check(); err == nil || !strings.Contains(err.Error(), "gives way with 40 % of its area: between 0 and 30 %") {
		t.Error(err)
	}
}

// A system whose diagonal is empty is solved by changing its rows (Gaussian elimination
// with row pivoting, any text on linear algebra): here each row holds one number, or next
// to nothing beside it.
func TestSolveChangesRows(t *testing.T) {
	g := rand.New(rand.NewPCG(1, 0x736f6c7665))
	for range 200 {
		n := 2 + g.IntN(6)
		matrix, b, want := make([]complex128, n*n), make([]complex128, n), make([]complex128, n)
		for i := range want {
			want[i] = complex(g.NormFloat64(), g.NormFloat64())
		}
		for i, j := range g.Perm(n) {
			for k := range n {
				matrix[i*n+k] = complex(1e-13*g.NormFloat64(), 0)
			}
			matrix[i*n+j] = complex(1, g.Float64())
			for k := range n {
				b[i] += matrix[i*n+k] * want[k]
			}
		}
		solve(matrix, b, n)
		for i := range b {
			if d := b[i] - want[i]; !(math.Hypot(real(d), imag(d)) < 1e-9) {
				t.Fatalf("%d by %d: %v, want %v", n, n, b, want)
			}
		}
	}
}
