package optimizer

import (
	"context"
	"math"
	"slices"
	"testing"

	"loudfor/model/amplifier"
)

// The output voltage of what drives the front is uncertain by a share of itself, the
// spread of its rating, and the level follows it by 20 log10: with ratings of another
// kind on the same amplifier, whose draws are the same, the levels of a front with
// power and travel to spare move by 8.686 dB times the difference of the spreads, draw
// by draw, times a standard normal number.
func TestFrontFollowsTheVoltage(t *testing.T) {
	c := garage(t)
	tried := 0
	for seed := uint64(1); seed < 200 && tried < 5; seed++ {
		p, car := c.small(seed)
		r, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		at := slices.IndexFunc(r.Builds, func(b Build) bool { return b.Front.Amplifier != nil })
		if at < 0 {
			continue
		}
		tried++
		task, err := readyIn(p, relaxed{}, car)
		if err != nil {
			t.Fatal(err)
		}
		b := r.Builds[at]
		b.Front.stage.Watts, b.Front.stage.Power, b.Front.stage.Xmax = 1, 1000, 0.05
		rated := func(basis amplifier.Basis) (levels []float64, spread float64) {
			amp := *b.Front.Amplifier
			unit := *amp.Amplifier
			unit.Spec.Ratings = slices.Clone(unit.Spec.Ratings)
			for i := range unit.Spec.Ratings {
				unit.Spec.Ratings[i].Basis = basis
			}
			amp.Amplifier = &unit
			with := b
			with.Front.Amplifier = &amp
			return task.scatterFront(&with, 400), unit.Spec.Spread(amplifier.Stereo)
		}
		rough, wide := rated(amplifier.Claimed)
		fine, narrow := rated(amplifier.Measured)
		if !(wide > narrow) {
			t.Fatalf("spreads of %g and %g", wide, narrow)
		}
		var square float64
		for i := range rough {
			z := (rough[i] - fine[i]) / (20 / math.Ln10 * (wide - narrow))
			square += z * z / float64(len(rough))
		}
		// The mean square of 400 standard normal numbers is 1 +/- 0.07.
		if math.Abs(square-1) > 0.3 {
			t.Errorf("seed %d: the mean square of the draws is %.2f", seed, square)
		}
	}
	if tried == 0 {
		t.Error("no front has an amplifier")
	}
}
