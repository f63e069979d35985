package driver

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// TestUnlikelyInWords: what is not believed is told in the words of the trade, with its
// unit, and how many spreads of the class it is off, the same in words and figures.
func TestUnlikelyInWords(t *testing.T) {
	units := map[string]string{"moving mass": " g", "resonance": " Hz", "force factor": " beside ", "efficiency": " at 1 W", "travel": " mm"}
	told := map[string]int{}
	g := rand.New(rand.NewPCG(1, 2))
	by := func(spread float64) float64 { return math.Exp(spread * g.NormFloat64()) }
	for range 400 {
		p := priorAt(12 * inch)
		c := Card{Size: 12 * inch, Coils: 1, CoilLoad: 4, Fs: p.fs * by(0.5), Qms: p.qms, Qts: p.qts * by(0.4), Vas: p.vas * by(1), Xmax: p.xmax * by(1)}
		_, notes, err := Complete(c, room)
		if err != nil {
			continue
		}
		for _, n := range notes {
			if n.Kind != Unlikely {
				continue
			}
			told[n.Quantity]++
			stated, rest, _ := strings.Cut(n.Source, ", ")
			_, used, ok := strings.Cut(rest, "used as ")
			if unit := units[n.Quantity]; !ok || !strings.Contains(stated, unit) || !strings.Contains(used, unit) {
				t.Fatalf("%s: %q, wanted in%s", n.Quantity, n.Source, unit)
			}
			if n.Quantity == "travel" {
				if off := math.Log(c.Xmax/p.xmax) / travelSpread; math.Abs(off-n.Spread) > 1e-9 {
					t.Fatalf("travel is %.3f spreads off, told %.3f", off, n.Spread)
				}
			}
		}
	}
	for name := range units {
		if told[name] < 3 {
			t.Errorf("%s was told of %d times", name, told[name])
		}
	}
}
