package learning

import (
	"math"
	"testing"
)

// score is how well readings that were held out are foretold, over many cars.
type score struct {
	square, blind            float64 // of errors after and before the readings, dB2
	cars, count, in, widened int
}

// add learns a car from readings and holds what is foretold of others against what
// they show.
func (c *score) add(t testing.TB, s *Study, taken []Reading, asked []Setting, truth []Reading) {
	t.Helper()
	s, err := NewStudy(s.Body, s.Celsius, s.Cases, taken)
	if err != nil {
		t.Fatal(err)
	}
	fit, err := s.Fit()
	if err != nil {
		t.Fatal(err)
	}
	prior, err := s.Prior()
	if err != nil {
		t.Fatal(err)
	}
	guess, err := fit.Predict(asked)
	if err != nil {
		t.Fatal(err)
	}
	before, err := prior.Predict(asked)
	if err != nil {
		t.Fatal(err)
	}
	c.cars++
	if fit.Cross.Widened > 1 {
		c.widened++
	}
	for i, e := range guess {
		off := truth[i].DB - e.DB
		c.square += off * off
		c.blind += math.Pow(truth[i].DB-before[i].DB, 2)
		c.count++
		if math.Abs(off) <= ninety*math.Hypot(e.Sigma, truth[i].Tolerance) {
			c.in++
		}
	}
}

// rms is of the errors after and before the readings, dB.
func (c *score) rms() (after, before float64) {
	return math.Sqrt(c.square / float64(c.count)), math.Sqrt(c.blind / float64(c.count))
}

// share is that of the held-out readings which lie in their bands, with three times
// what chance makes of it: it scatters by the root of a(1-a)/n.
func (c *score) share() (share, slack float64) {
	return float64(c.in) / float64(c.count), 3 * math.Sqrt(0.09/float64(c.count))
}

// many is the number of cars from which figures count as they are.
const many = 400

// holds fails where the errors are larger than they may be, or the bands hold too few
// readings or too many. The rms of some fifty readings scatters by a fifth: the full
// number decides, the ordinary run watches.
func (c *score) holds(t *testing.T, name string, most float64) {
	t.Helper()
	after, before := c.rms()
	share, slack := c.share()
	t.Logf("%s, %d cars: %.2f dB rms (%.2f before), %.1f %% in the bands, %d widened", name, c.cars, after, before, 100*share, c.widened)
	if c.cars >= many {
		slack = 0
	} else {
		most *= 1.4
	}
	if after > most {
		t.Errorf("%s: others are %.2f dB off rms, want at most %.2f", name, after, most)
	}
	if share < 0.85-slack || share > 0.95+slack {
		t.Errorf("%s: %.1f %% of the others lie in their 90 %% bands, want 85 to 95", name, 100*share)
	}
}
