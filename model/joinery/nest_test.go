package joinery

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Every panel is on the plan once, whole, inside its sheet, and a kerf away from
// every other; the rest is what lies beyond them all, and no way to lay them leaves more.
func TestNest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Stock{Length: rapid.Float64Range(0.5, 2.5).Draw(t, "length"), Width: rapid.Float64Range(0.3, 1.3).Draw(t, "width"),
			Kerf: rapid.SampledFrom([]float64{0, 0.0025, 0.003, 0.01}).Draw(t, "kerf")}
		var panels []Panel
		for range rapid.IntRange(1, 14).Draw(t, "panels") {
			a, b := rapid.Float64Range(0.02, 1).Draw(t, "a"), rapid.Float64Range(0.02, 1).Draw(t, "b")
			panels = append(panels, Panel{Name: "board", Length: max(a, b), Width: min(a, b)})
		}
		n, err := Nest(panels, s)
		if err != nil {
			var fault *Error
			if !errors.As(err, &fault) {
				t.Fatal(err)
			}
			for _, p := range panels {
				if p.Length > max(s.Length, s.Width) || p.Width > min(s.Length, s.Width) {
					return
				}
			}
			t.Fatalf("refused without reason: %v", err)
		}
		if len(n.Placed) != len(panels) {
			t.Fatalf("%d of %d panels", len(n.Placed), len(panels))
		}
		used := make([]bool, n.Sheets)
		for i, p := range n.Placed {
			if p.Panel != i || max(p.Length, p.Width)-panels[i].Length > 1e-9 || math.Abs(p.Length*p.Width-panels[i].Area()) > 1e-9 {
				t.Fatalf("panel %d is on the plan as %+v", i, p)
			}
			if p.X < 0 || p.Y < 0 || p.X+p.Length > s.Length+1e-8 || p.Y+p.Width > s.Width+1e-8 || p.Sheet < 0 || p.Sheet >= n.Sheets {
				t.Fatalf("%+v is not on its sheet", p)
			}
			used[p.Sheet] = true
			for _, q := range n.Placed[:i] {
				if p.Sheet != q.Sheet {
					continue
				}
				apart := max(p.X-q.X-q.Length, q.X-p.X-p.Length, p.Y-q.Y-q.Width, q.Y-p.Y-p.Width)
				if apart < s.Kerf-1e-8 {
					t.Fatalf("%+v and %+v are %g m apart, the saw takes %g", p, q, apart, s.Kerf)
				}
			}
		}
		for i, u := range used {
			if !u {
				t.Fatalf("sheet %d is empty", i)
			}
		}
		if w := n.Waste(); w < -1e-9 || w >= 1 {
			t.Fatalf("waste %g", w)
		}
		right, top := 0.0, 0.0
		for _, p := range n.Placed {
			if p.Sheet == n.Sheets-1 {
				right, top = max(right, p.X+p.Length), max(top, p.Y+p.Width)
			}
		}
		beside, above := max(0, s.Length-right-s.Kerf)*s.Width, max(0, s.Width-top-s.Kerf)*s.Length
		if math.Abs(n.Rest-beside) > 1e-9 && math.Abs(n.Rest-above) > 1e-9 {
			t.Fatalf("a rest of %g m2, beside all panels of the last sheet there are %g, above them %g", n.Rest, beside, above)
		}
		for i := range 4 {
			if other := nest(panels, s, i&1 > 0, i&2 > 0); other.Sheets < n.Sheets || other.Sheets == n.Sheets && other.Rest > n.Rest+1e-8 {
				t.Fatalf("%d sheets and a rest of %g m2, where %d and %g can be had", n.Sheets, n.Rest, other.Sheets, other.Rest)
			}
		}
	})
}

// A sheet smaller than a panel is refused with the edge that fails.
func TestNestRefuses(t *testing.T) {
	panels := []Panel{{Name: "front", Length: 0.7, Width: 0.4}}
	for _, c := range []struct {
		stock Stock
		want  string
	}{
		{Stock{Length: 0.6, Width: 0.6}, "sheet length"},
		{Stock{Length: 1.2, Width: 0.39}, "sheet width"},
	} {
		_, err := Nest(panels, c.stock)
		var fault *Error
		if !errors.As(err, &fault) || fault.Quantity != c.want {
			t.Errorf("%v: %v, want a fault of the %s", c.stock, err, c.want)
		}
	}
	if _, err := Nest(panels, Stock{Length: math.NaN(), Width: 1}); err == nil {
		t.Error("a sheet without a length was cut")
	}
}

// Level algorithms may not use more than 1.7 times the best height plus one
// level (Coffman, Garey, Johnson, Tarjan 1980, theorem for FFDH): held here
// against the area, which no plan can undercut.
func TestNestHeight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var panels []Panel
		area, highest := 0.0, 0.0
		for range rapid.IntRange(1, 40).Draw(t, "panels") {
			a, b := rapid.Float64Range(0.05, 0.9).Draw(t, "a"), rapid.Float64Range(0.05, 0.9).Draw(t, "b")
			p := Panel{Length: max(a, b), Width: min(a, b)}
			panels, area, highest = append(panels, p), area+p.Area(), max(highest, p.Width)
		}
		n := nest(panels, Stock{Length: 1, Width: 1000}, false, false)
		height := 0.0
		for _, p := range n.Placed {
			height = max(height, p.Y+p.Width)
		}
		// FFDH is within 2 areas/width plus the highest: the bound for
		// next-fit, which first-fit never exceeds.
		if height > 2*area+highest+1e-9 {
			t.Fatalf("%g high for an area of %g", height, area)
		}
	})
}
