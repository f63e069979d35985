package hookup

import (
	"math"
	"testing"

	"loudfor/model/amplifier"
)

// TestEveryCoilIsWired: the networks of a plan, drawn out, hold every coil of every
// driver once, and have together the load that the plan says.
func TestEveryCoilIsWired(t *testing.T) {
	for drivers := 1; drivers <= 6; drivers++ {
		for coils := 1; coils <= 4; coils++ {
			for outputs := 1; outputs <= 4; outputs++ {
				for _, p := range Enumerate(drivers, coils, 4, amplifier.Stereo, outputs, 0) {
					type coil struct{ driver, coil int }
					seen := map[coil]int{}
					var walk func(Network)
					walk = func(n Network) {
						if n.Joint == Coil {
							seen[coil{n.Driver, n.Coil}]++
						}
						for _, part := range n.Parts {
							walk(part)
						}
					}
					for _, n := range p.Networks() {
						walk(n)
						if got := n.Load(4); math.Abs(got-p.Load) > 1e-9*p.Load {
							t.Fatalf("%+v: an output has %g ohm", p, got)
						}
					}
					for d := range drivers {
						for c := range coils {
							if seen[coil{d, c}] != 1 {
								t.Fatalf("%+v: coil %d of driver %d is wired %d times", p, c, d, seen[coil{d, c}])
							}
						}
					}
					if len(seen) != drivers*coils {
						t.Fatalf("%+v: %d coils are wired", p, len(seen))
					}
				}
			}
		}
	}
}
