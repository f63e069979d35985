package driver

import (
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/air"
)

// Estimate is Complete but for the spreads, whatever is stated.
func TestEstimateIsComplete(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		some := func(name string, low, high float64) float64 {
			if rapid.IntRange(0, 2).Draw(t, name+" stated") == 0 {
				return 0
			}
			return rapid.Float64Range(low, high).Draw(t, name)
		}
		c := Card{
			Size: some("size", 0.16, 0.46), Coils: rapid.IntRange(0, 2).Draw(t, "coils"), CoilLoad: some("load", 1, 8),
			Re: some("re", 0.5, 8), Fs: some("fs", 15, 80), Qms: some("qms", 1, 12), Qes: some("qes", 0.2, 2), Qts: some("qts", 0.2, 1.5),
			Vas: some("vas", 0.005, 0.3), Sd: some("sd", 0.01, 0.13), Xmax: some("xmax", 0.002, 0.03), Power: some("power", 20, 2000), Le: some("le", 1e-5, 1e-2),
		}
		whole, _, err := Complete(c, air.At(20))
		quick, fault := Estimate(c, air.At(20))
		if (err == nil) != (fault == nil) || err != nil && err.Error() != fault.Error() {
			t.Fatalf("%v, but %v", err, fault)
		}
		if whole.Spread = (Spread{}); whole != quick {
			t.Fatalf("%+v, but %+v", whole, quick)
		}
	})
}
