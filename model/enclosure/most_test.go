package enclosure

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// What is read off the flow agrees with the solved circuit, and the bounds hold
// everywhere between.
func TestMost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCircuit(t)
		if c.Kind == Sealed {
			t.Skip("no port")
		}
		var l Load
		c.Load(2*math.Pi*rapid.Float64Range(15, 150).Draw(t, "Hz"), drawCabin(t), &l)
		u := math.Pow(10, rapid.Float64Range(-5, 1).Draw(t, "cone"))
		y := l.Flow(u)
		const rounding = 1e-9
		if got := l.Cone(y); math.Abs(got/u-1) > 1e-6 {
			t.Fatalf("a flow of %g takes a cone with %g, not %g", y, u, got)
		}
		if most := l.MostFlow(u); most < y*(1-rounding) || most > 1.5*y {
			t.Fatalf("flow %g, at most %g", y, most)
		}
		reaction, output := l.At(y)
		if got, want := l.Net2(y), square(output)*u*u; math.Abs(got/want-1) > 1e-5 {
			t.Fatalf("net %g, want %g", got, want)
		}
		// From a smaller flow to a larger one.
		from, to := y*rapid.Float64Range(0, 1).Draw(t, "from"), y*rapid.Float64Range(1, 100).Draw(t, "to")
		if most := l.MostOutput2(from, to); square(output) > most*(1+rounding) {
			t.Fatalf("output2 %g, at most %g", square(output), most)
		}
		a, _ := l.At(from)
		b, _ := l.At(to)
		off, reach := math.Sqrt(square(reaction-(a+b)/2)), math.Sqrt(square(a-b))/2
		if off > reach+1e-7*math.Sqrt(square(a)+square(b)) {
			t.Fatalf("reaction %v is %g off the middle of %v and %v, which are %g from it", reaction, off, a, b, reach)
		}
	})
}
