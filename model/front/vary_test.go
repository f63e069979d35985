package front

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

func TestVaryOfNothingChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, r := anyStage(t), anyRoom(t)
		l1, w1, limit1 := s.Play(r)
		l2, w2, limit2 := s.Vary([5]float64{}).Play(r.Vary([2]float64{}))
		if l1 != l2 || w1 != w2 || limit1 != limit2 {
			t.Fatalf("%+v in %+v: %g dB %g W %v, after Vary of zeros %g dB %g W %v", s, r, l1, w1, limit1, l2, w2, limit2)
		}
	})
}

func TestVaryByHand(t *testing.T) {
	// Where the amplifier limits, a decibel of sensitivity is one of level; a
	// stated sensitivity moves by its card's spread, an assumed one by the
	// prior's.
	s := door
	s.Watts, s.HighPass = 1, 120
	plain, _, _ := s.Play(sedan)
	moved, _, _ := s.Vary([5]float64{1}).Play(sedan)
	near(t, "stated sensitivity", moved-plain, statedSensitivitySpread, 1e-9)

	s.Sensitivity = 0
	plain, _, _ = s.Play(sedan)
	moved, _, _ = s.Vary([5]float64{-1}).Play(sedan)
	near(t, "assumed sensitivity", moved-plain, -sensitivityPrior.spread, 1e-9)

	// Where travel limits, the power goes as the square of Sd Xmax (Small 1972,
	// displacement-limited power; from memory).
	s = door
	s.Watts, s.Power = 1e3, 1e6
	_, before, limit := s.Play(sedan)
	_, after, _ := s.Vary([5]float64{0, 0, 0, 1, 1}).Play(sedan)
	if limit != LimitTravel {
		t.Fatalf("%v is the limit", limit)
	}
	near(t, "travel", math.Log(after/before)/2, statedSdSpread+statedXmaxSpread, 1e-9)
}

func TestVaryKeepsWhatIsStatedOfTheRoom(t *testing.T) {
	if got := sedan.Vary([2]float64{2, -2}); got != sedan {
		t.Errorf("a stated room moved: %+v", got)
	}
	got := Room{}.Vary([2]float64{1, -1})
	near(t, "absorption", got.Absorption, 0.4*math.Exp(0.25), 1e-12)
	near(t, "distance", got.Distance, math.Exp(-0.2), 1e-12)
}

// A Gaussian of a known width comes back: the level of a pair that only the
// amplifier limits scatters by its sensitivity's spread.
func TestVaryScatters(t *testing.T) {
	s := door
	s.Watts, s.HighPass, s.Power = 1, 120, 1e6
	middle, _, _ := s.Play(sedan)
	r := rand.New(rand.NewPCG(1, 2))
	const n = 20000
	sum := 0.0
	for range n {
		level, _, _ := s.Vary([5]float64{r.NormFloat64()}).Play(sedan)
		sum += (level - middle) * (level - middle)
	}
	// The standard deviation of n draws scatters by 1/sqrt(2n), half a percent.
	near(t, "scatter", math.Sqrt(sum/n)/statedSensitivitySpread, 1, 0.02)
}
