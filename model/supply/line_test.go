package supply

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// plainly is the operating point by walking along the line once, with nothing
// prepared.
func plainly(f Feed, watts float64) (volts, amps float64, ok bool) {
	most := 0.0
	line := f.pieces()
	volts = line[0].open
	for _, p := range line {
		end := p.end
		if p.slope > 0 {
			end = min(end, p.open/(2*p.slope), (p.open-DropoutVolts)/p.slope)
		} else if p.open < DropoutVolts {
			return volts, amps, false
		}
		if end < p.start {
			continue
		}
		if watts <= p.power(end) {
			root := 2 * watts / (p.open + math.Sqrt(max(0, p.open*p.open-4*p.slope*watts)))
			amps = min(max(root, p.start), end)
			return p.open - p.slope*amps, amps, true
		}
		if power := p.power(end); power > most {
			most, amps, volts = power, end, p.open-p.slope*end
		}
	}
	return volts, amps, false
}

// A line answers as its feed does, to the last bit, however often it is asked.
func TestLineIsItsFeed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := anyFeed(t)
		l := f.Line()
		for range 4 {
			watts := rapid.OneOf(rapid.Float64Range(0, 4000), rapid.SampledFrom([]float64{0, math.MaxFloat64, math.Inf(1), f.Most(1), math.NaN(), -1})).Draw(t, "watts")
			efficiency := rapid.OneOf(rapid.Float64Range(0.2, 1), rapid.SampledFrom([]float64{0, 1, math.NaN()})).Draw(t, "efficiency")
			v1, i1, ok1 := l.Terminal(watts, efficiency)
			v2, i2, ok2 := f.Terminal(watts, efficiency)
			asked := watts >= 0 && efficiency > 0 && watts/efficiency <= math.MaxFloat64
			need := math.MaxFloat64
			if asked {
				need = watts / efficiency
			}
			v3, i3, ok3 := plainly(f, need)
			ok3 = ok3 && asked
			if math.IsNaN(v1+i1) || math.IsInf(v1+i1, 0) || math.IsInf(f.Most(efficiency), 0) {
				t.Fatalf("%+v: %g W at %g: %g V %g A, %g W at most", f, watts, efficiency, v1, i1, f.Most(efficiency))
			}
			if v1 != v2 || i1 != i2 || ok1 != ok2 || v1 != v3 || i1 != i3 || ok1 != ok3 {
				t.Fatalf("%+v: %g W at %g: line %g V %g A %v, feed %g V %g A %v, plainly %g V %g A %v",
					f, watts, efficiency, v1, i1, ok1, v2, i2, ok2, v3, i3, ok3)
			}
		}
	})
}

func TestZeroLine(t *testing.T) {
	var l Line
	if v, i, ok := l.Terminal(1, 0.6); v != 0 || i != 0 || ok {
		t.Errorf("%g V, %g A, %v", v, i, ok)
	}
}

func BenchmarkLineTerminal(b *testing.B) {
	b.ReportAllocs()
	l := smallCar.Line()
	for i := range b.N {
		l.Terminal(float64(i%1000), 0.6)
	}
}
