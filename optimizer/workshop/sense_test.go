package workshop

import (
	"math"
	"testing"

	"loudfor/catalog"
)

// Every box that the search thinks of is one to drive with: its tuning by Helmholtz,
// f = c/2 pi sqrt(S/(l V)), worked out here once more from its sizes, its port within
// Small's area for its drivers, and within a third of its inside. Without a lowest note
// it is as loud at least, and boxes are tuned higher.
func TestBoxesOneWouldDriveWith(t *testing.T) {
	p := shopProblem(t, "350-built")
	loudest := map[float64]float64{}
	highest := map[float64]float64{}
	for _, note := range []float64{0, 30, 45, catalog.AnyNote} {
		q := p
		q.Brief.LowestNote = note
		s := stocked(t, q)
		if len(s.Boxes) == 0 {
			t.Fatal(s.Why)
		}
		most := note
		if note == 0 {
			most = 35 // what a brief says that says nothing
		}
		ported := 0
		for _, b := range s.Boxes {
			j := b.Joinery
			if !j.Design.Vented() {
				continue
			}
			ported++
			slot, high := j.Design.Slot, j.Inside[2]
			area := slot * high
			// Two ends in walls, each 0.849 of the equivalent radius (Beranek and Mellow).
			long := j.Design.PortLength + 2*0.849*math.Sqrt(area/math.Pi)
			const soundSpeed = 343.2 // m/s at 20 C
			hz := soundSpeed / (2 * math.Pi) * math.Sqrt(area/(long*j.Net(j.Displacement())))
			highest[note] = max(highest[note], hz)
			if hz > most*1.01 {
				t.Errorf("lowest note %g Hz: a port tuned to %.1f Hz", most, hz)
			}
			driver := b.Driver.Subwoofer
			if sd, xmax := driver.Card.Sd, driver.Card.Xmax; sd > 0 && xmax > 0 && slot > 0.0251 {
				if quiet := 0.8 * hz * float64(j.Design.Drivers) * sd * xmax * 1.3; area > quiet*1.02 {
					t.Errorf("%s: a port of %.0f cm2, %.0f would do", b.Part.SKU, 1e4*area, 1e4*quiet)
				}
			}
			if area*(j.Design.PortLength-j.Design.Thickness) > j.Inside.Volume()/3*1.001 {
				t.Errorf("%s: a port of %.1f L in %.1f L", b.Part.SKU, 1e3*area*j.Design.PortLength, 1e3*j.Inside.Volume())
			}
		}
		if ported == 0 {
			t.Errorf("lowest note %g Hz: no box has a port", most)
		}
		q.Catalogue = s.Catalogue
		loudest[note] = picked(t, q).Builds[0].Objective
	}
	// Another bound is another grid, which may miss a box by what a dearer one has to win.
	if !(loudest[30] <= loudest[0]+priceGain && loudest[0] <= loudest[45]+priceGain && loudest[45] <= loudest[catalog.AnyNote]+priceGain) || highest[catalog.AnyNote] < 45 {
		t.Errorf("readings %v, tunings %v", loudest, highest)
	}
}
