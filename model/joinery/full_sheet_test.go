package joinery

import "testing"

// TestSheetToTheLastCut: boards that fill a sheet to its edges, with the kerfs between
// them, come out of one, however the sum of their widths is rounded; a hair more and
// there are two.
func TestSheetToTheLastCut(t *testing.T) {
	for n := 2; n <= 12; n++ {
		for _, kerf := range []float64{0, 0.003} {
			const width = 0.07
			var panels []Panel
			for range n {
				panels = append(panels, Panel{Length: 0.6, Width: width})
			}
			high := float64(n)*width + float64(n-1)*kerf
			for more, want := range map[float64]int{0: 1, 1e-6: 2} {
				stock := Stock{Length: 0.6, Width: high - more, Kerf: kerf}
				got, err := Nest(panels, stock)
				if lying := nest(panels, stock, false, false); err != nil || got.Sheets != want || lying.Sheets != want {
					t.Errorf("%d boards with a kerf of %g, %g m too high: %d sheets, %d with all boards lying, %v", n, kerf, more, got.Sheets, lying.Sheets, err)
				}
			}
		}
	}
}
