package joinery

import (
	"cmp"
	"fmt"
	"slices"
)

// Nesting: panels on stock sheets by levels. Panels are taken by falling width;
// each goes onto the first level that has room for it, else it opens a level as
// wide as itself on the first sheet that has room, else on a new sheet
// (first-fit decreasing height: E. Coffman, M. Garey, D. Johnson, R. Tarjan,
// "Performance bounds for level-oriented two-dimensional packing algorithms",
// SIAM J. Computing 9, 1980; levels into sheets: F. Chung, M. Garey, D. Johnson,
// "On packing two-dimensional bins", SIAM J. Algebraic and Discrete Methods 3,
// 1982). A level is one rip across the sheet and a panel one cross cut off it,
// so that every plan can be cut with a plain saw.
//
// It is done four ways, levels along or across the sheet and panels lying or
// standing on them, and the plan with the fewest sheets, then with the largest
// rest in one piece, is kept. It is no proof that fewer sheets do not suffice.

// Stock is what panels are cut from.
type Stock struct {
	Length, Width float64 // of one sheet
	Kerf          float64 // what the saw takes
}

// Placed is a panel on a sheet; x runs along the sheet's length.
type Placed struct {
	Panel         int // index in the list of panels
	Sheet         int // from 0
	X, Y          float64
	Length, Width float64 // along x and y
}

// Nesting is the cut list on its sheets.
type Nesting struct {
	Stock  Stock
	Sheets int
	Placed []Placed // in the order of the panels
	Used   float64  // area of the panels, m2
	Rest   float64  // area of the last sheet beyond the last level, in one piece, m2
}

// Waste is the share of the sheets that is in no panel.
func (n *Nesting) Waste() float64 {
	return 1 - n.Used/(float64(n.Sheets)*n.Stock.Length*n.Stock.Width)
}

// Nest places all panels. The error names a panel that is larger than a sheet.
func Nest(panels []Panel, s Stock) (Nesting, error) {
	if !(s.Length > 0) || !(s.Width > 0) || !(s.Kerf >= 0) {
		return Nesting{}, fmt.Errorf("joinery: sheets of %g x %g m with a kerf of %g m cannot be", s.Length, s.Width, s.Kerf)
	}
	long, short := max(s.Length, s.Width), min(s.Length, s.Width)
	for _, p := range panels {
		if p.Length > long+fit || p.Width > short+fit {
			e := &Error{Quantity: "sheet length", Value: long, Reason: fmt.Sprintf("the %s takes %s x %s, the sheet has %s x %s", p.Name, cm(p.Length), cm(p.Width), cm(long), cm(short))}
			if p.Length <= long+fit {
				e.Quantity, e.Value = "sheet width", short
			}
			return Nesting{}, e
		}
	}
	var best Nesting
	for _, across := range [...]bool{false, true} {
		for _, standing := range [...]bool{false, true} {
			n := nest(panels, s, across, standing)
			if best.Sheets == 0 || n.Sheets < best.Sheets || n.Sheets == best.Sheets && n.Rest > best.Rest+fit {
				best = n
			}
		}
	}
	return best, nil
}

// level is a strip of a sheet.
type level struct {
	sheet        int
	y, high, end float64
}

// nest does it one way: levels run along the length, or across it.
func nest(panels []Panel, s Stock, across, standing bool) Nesting {
	n := Nesting{Stock: s, Placed: make([]Placed, len(panels))}
	along, up := s.Length+s.Kerf, s.Width+s.Kerf // the last cut needs no kerf
	if across {
		along, up = up, along
	}
	order := make([]int, len(panels))
	size := make([][2]float64, len(panels)) // along the level, across it, each with a kerf
	for i, p := range panels {
		order[i] = i
		a, b := p.Length+s.Kerf, p.Width+s.Kerf
		if standing && a <= up+fit && b <= along+fit || a > along+fit || b > up+fit {
			a, b = b, a
		}
		size[i] = [2]float64{a, b}
		n.Used += p.Area()
	}
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(size[j][1], size[i][1]), cmp.Compare(size[j][0], size[i][0]))
	})
	var levels []level
	var filled []float64 // of each sheet
	for _, i := range order {
		a, b := size[i][0], size[i][1]
		k := slices.IndexFunc(levels, func(l level) bool { return b <= l.high+fit && l.end+a <= along+fit })
		if k < 0 {
			sheet := slices.IndexFunc(filled, func(y float64) bool { return y+b <= up+fit })
			if sheet < 0 {
				sheet = len(filled)
				filled = append(filled, 0)
			}
			k = len(levels)
			levels = append(levels, level{sheet: sheet, y: filled[sheet], high: b})
			filled[sheet] += b
		}
		l := &levels[k]
		p := Placed{Panel: i, Sheet: l.sheet, X: l.end, Y: l.y, Length: a - s.Kerf, Width: b - s.Kerf}
		if across {
			p.X, p.Y, p.Length, p.Width = p.Y, p.X, p.Width, p.Length
		}
		n.Placed[i] = p
		l.end += a
	}
	n.Sheets = len(filled)
	if n.Sheets > 0 {
		n.Rest = max(0, up-s.Kerf-filled[n.Sheets-1]) * (along - s.Kerf)
	}
	return n
}
