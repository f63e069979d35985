package worked

import (
	"context"
	"math"
	"testing"

	"loudfor/cmd/internal/inputs"
	"loudfor/optimizer"
)

// What the trade meters in a small car with one 12-inch value driver in a
// sealed box and about 150 W at the clamp, doors open, meter on the dash:
// 126 to 134 dB at 40 to 55 Hz, into 1.3 to 4 times the nominal load (common
// practice, no source). Neither the model nor the demo's car is fitted to this: the
// car is its body style as it stands, and reads 125.5 dB, half a decibel below. What
// is asked for is that the band reaches what the trade meters.
func TestOneTwelveInASmallSedan(t *testing.T) {
	const (
		quietest, loudest = 126.0, 134.0 // dB
		lowest, highest   = 40.0, 55.0   // Hz
		lightest, hardest = 1.3, 4.0     // of the nominal load
		least, most       = 135.0, 165.0 // W real: "about 150"
	)
	job, err := inputs.Load(inputs.Request{Build: "demo:value-12-sealed"})
	if err != nil {
		t.Fatal(err)
	}
	if job.Brief.Place != "dash" || job.Brief.Openings != "doors open" {
		t.Fatalf("the build is metered at the %s, %s", job.Brief.Place, job.Brief.Openings)
	}
	b, err := optimizer.Predict(context.Background(),
		optimizer.Problem{Catalogue: job.Catalogue, Brief: job.Brief, Vehicle: job.Vehicle},
		job.Parts, job.Mode, job.Load)
	if err != nil {
		t.Fatal(err)
	}
	within := func(what string, value, low, high float64) {
		t.Helper()
		if !(value >= low && value <= high) {
			t.Errorf("%s: %.2f, want %g to %g", what, value, low, high)
		}
	}
	within("the loud end of the band, dB", b.Reading.DB+b.Reading.Band, quietest, math.Inf(1))
	within("the quiet end of the band, dB", b.Reading.DB-b.Reading.Band, math.Inf(-1), loudest)
	within("peak, Hz", b.Reading.Hz, lowest, highest)
	within("load over nominal", b.Operation.Load/b.Plan.Load, lightest, hardest)
	within("power, W", b.Operation.Watts, least, most)
}
