package worked

import (
	"context"
	"testing"

	"loudfor/cmd/internal/inputs"
	"loudfor/optimizer"
)

// What the trade meters in a small car with one 12-inch value driver in a
// sealed box and about 150 W at the clamp, doors open, meter on the dash:
// 126 to 134 dB at 40 to 55 Hz, into 1.3 to 4 times the nominal load (common
// practice, no source). Only the demo's car is stated so that it can be such a
// car (short, first mode of Q 7); nothing in the model is fitted to this.
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
		optimizer.Problem{Catalogue: job.Catalogue, Brief: job.Brief, Vehicle: job.Vehicle, Bare: true},
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
	within("reading, dB", b.Reading.DB, quietest, loudest)
	within("peak, Hz", b.Reading.Hz, lowest, highest)
	within("load over nominal", b.Operation.Load/b.Plan.Load, lightest, hardest)
	within("power, W", b.Operation.Watts, least, most)
}
