package bass

import (
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/air"
	"loudfor/model/cabin"
)

// Exceeds agrees with LoudestAbove on both sides of the loudest level, whatever
// was asked before.
func TestExceeds(t *testing.T) {
	room := car(Grid())
	rapid.Check(t, func(t *rapid.T) {
		s := setup(boxes()[rapid.SampledFrom([]string{"sealed", "vented", "band-pass"}).Draw(t, "box")])
		p, err := Prepare(s, room)
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 4).Draw(t, "questions") {
			d := modestDrive()
			d.Source.OpenVoltage *= rapid.Float64Range(0.05, 4).Draw(t, "gain")
			apart := rapid.SampledFrom([]float64{-30, -3, -0.001, 0.001, 3, 30}).Draw(t, "apart")
			other, err := Prepare(s, room) // which has learnt nothing
			if err != nil {
				t.Fatal(err)
			}
			level := other.Loudest(d, Reading()).Level
			if got := p.Exceeds(level+apart, d, Reading()); got != (apart < 0) {
				t.Fatalf("%.3f dB, asked for %+g dB: %v", level, apart, got)
			}
		}
	})
}

// Mark and Marked of one horizon are Above; those of several are their union.
func TestMarkedIsAbove(t *testing.T) {
	room := car(Grid())
	d := twelve()
	rapid.Check(t, func(t *rapid.T) {
		marks := make([]bool, len(room.Hz))
		m := Mouth{Port: rapid.Float64Range(0, 0.2).Draw(t, "port"), Cones: rapid.Bool().Draw(t, "cones")}
		union := map[float64]bool{}
		for range rapid.IntRange(1, 3).Draw(t, "horizons") {
			source := modestDrive().Source
			source.OpenVoltage *= rapid.Float64Range(0.05, 4).Draw(t, "gain")
			var h Horizon
			h.Look(&d, 1, source, 14.4, Reading(), room)
			level := h.Loudest(m) + rapid.Float64Range(-20, 1).Draw(t, "apart")
			var to cabin.Response
			h.Above(level, m, room, &to)
			for _, hz := range to.Hz {
				union[hz] = true
			}
			if any := h.Mark(air.Pressure(level), m, marks); any != (len(to.Hz) > 0) {
				t.Fatalf("any: %v, yet %d", any, len(to.Hz))
			}
		}
		var to cabin.Response
		Marked(marks, room, &to)
		if len(to.Hz) != len(union) || len(to.Transfer) != len(union) || len(to.Back) != len(union) {
			t.Fatalf("%d marked, %d above", len(to.Hz), len(union))
		}
		for _, hz := range to.Hz {
			if !union[hz] {
				t.Fatalf("%g Hz marked", hz)
			}
		}
	})
}
