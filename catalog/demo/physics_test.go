package demo

import (
	"math"
	"testing"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
)

// contradictory are the cards that were spoilt on purpose.
var contradictory = map[string]bool{"KE-12C": true}

const (
	// cardTolerance is what rounding to the two or three digits of a card
	// leaves of an identity: half a unit in 0.45 is 1 %, and a product of
	// four such numbers is off by that much four times.
	cardTolerance = 0.04

	// sensitivityTolerance is the same for a level printed to 0.1 dB.
	sensitivityTolerance = 0.2
)

// TestDriverCards holds that the cards obey the identities of Thiele (1971) and
// Small (1972), written out here once more: a demo made of random numbers
// would be put together by guesses about the drivers.
func TestDriverCards(t *testing.T) {
	a := air.At(20)
	checked := 0
	for _, p := range shelves(t).Parts {
		var c driver.Card
		switch {
		case p.Subwoofer != nil:
			c = p.Subwoofer.Card
		case p.Loaded != nil:
			c = p.Loaded.Card
		default:
			continue
		}
		fails := false
		fail := func(format string, args ...any) {
			if fails = true; !contradictory[p.SKU] {
				t.Errorf(p.SKU+": "+format, args...)
			}
		}
		coils := float64(c.Coils)
		identities := []struct {
			name        string
			left, right float64
		}{
			{"Qts = Qms Qes/(Qms+Qes)", c.Qts, c.Qms * c.Qes / (c.Qms + c.Qes)},
			{"Vas = rho c2 Sd2 Cms", c.Vas, a.Density * a.SoundSpeed * a.SoundSpeed * c.Sd * c.Sd * c.Cms},
			{"fs = 1/(2 pi sqrt(Mms Cms))", c.Fs, 1 / (2 * math.Pi * math.Sqrt(c.Mms*c.Cms))},
			{"Qes = 2 pi fs Mms Re/(coils Bl2)", c.Qes, 2 * math.Pi * c.Fs * c.Mms * c.Re / (coils * c.Bl * c.Bl)},
		}
		for _, i := range identities {
			if i.left == 0 || i.right == 0 || math.IsNaN(i.right) || math.IsInf(i.right, 0) {
				continue // the card does not state all of it
			}
			checked++
			if math.Abs(i.left/i.right-1) > cardTolerance {
				fail("%s: %.4g against %.4g", i.name, i.left, i.right)
			}
		}
		if c.Sensitivity > 0 && c.Vas > 0 && c.Qes > 0 {
			efficiency := 4 * math.Pi * math.Pi * c.Fs * c.Fs * c.Fs * c.Vas / (math.Pow(a.SoundSpeed, 3) * c.Qes)
			pressure := math.Sqrt(efficiency * a.Density * a.SoundSpeed / (2 * math.Pi))
			level := 20 * math.Log10(pressure/20e-6)
			if math.Abs(level-c.Sensitivity) > sensitivityTolerance {
				fail("%.1f dB from the parameters, %.1f dB on the card", level, c.Sensitivity)
			}
		}
		if contradictory[p.SKU] && !fails {
			t.Errorf("%s: the card was meant to contradict itself", p.SKU)
		}
		// Even a card that contradicts itself is one that could be used.
		if _, _, err := driver.Complete(c, a); err != nil {
			t.Errorf("%s: %v", p.SKU, err)
		}
	}
	if checked < leastIdentities {
		t.Errorf("%d identities could be checked, want %d at least", checked, leastIdentities)
	}
}

// leastIdentities keeps the test from passing because the cards say nothing.
const leastIdentities = 25

const (
	// thinnestWall is what boxes of the trade are made of at the least: 15 mm
	// chipboard; under a seat, 10 mm plywood (common practice, no source).
	thinnestWall, underSeatWall = 0.015, 0.010

	// underSeat is the height below which a box goes under a seat, m.
	underSeat = 0.13

	// mostOfInside leaves room for braces, battens and the back's slope.
	mostOfInside = 0.9
)

// TestBoxesHoldWhatTheySay holds that the stated volume, the port included,
// fits inside the stated outside once the walls are taken off.
func TestBoxesHoldWhatTheySay(t *testing.T) {
	for _, p := range shelves(t).Parts {
		var box enclosure.Box
		var out catalog.Size3
		switch {
		case p.Enclosure != nil:
			box, out = p.Enclosure.Box, p.Enclosure.Outside
		case p.Loaded != nil:
			box, out = p.Loaded.Box, p.Loaded.Outside
		default:
			continue
		}
		wall := thinnestWall
		if min(out.Width, out.Depth, out.Height) < underSeat {
			wall = underSeatWall
		}
		inside := (out.Width - 2*wall) * (out.Depth - 2*wall) * (out.Height - 2*wall)
		port := box.Port
		opening := float64(port.Count) * (math.Pi/4*port.Diameter*port.Diameter + port.Width*port.Height)
		taken := box.Volume + box.FrontVolume + opening*port.Length
		if taken > mostOfInside*inside {
			t.Errorf("%s: %.1f L in an inside of %.1f L", p.SKU, taken*1e3, inside*1e3)
		}
		if port.Length > max(out.Width, out.Depth, out.Height)-2*wall {
			t.Errorf("%s: a port of %.0f mm is longer than the box", p.SKU, port.Length*1e3)
		}
		if p.Enclosure != nil && p.Enclosure.Depth > max(out.Width, out.Depth, out.Height)-2*wall {
			t.Errorf("%s: %.0f mm free behind the baffle, more than the box is deep", p.SKU, p.Enclosure.Depth*1e3)
		}
		if box.Kind == enclosure.Sealed || opening == 0 {
			continue
		}
		// Helmholtz, with the usual end correction of one flanged and one
		// free end, 1.46 radii; near enough to tell a plausible tuning.
		chamber := box.Volume
		low, high := 30.0, 45.0
		if box.Kind == enclosure.BandPass {
			chamber, low, high = box.FrontVolume, 50, 80
		}
		radius := math.Sqrt(opening / float64(port.Count) / math.Pi)
		tuning := 343.2 / (2 * math.Pi) * math.Sqrt(opening/(chamber*(port.Length+1.46*radius)))
		if tuning < low || tuning > high {
			t.Errorf("%s: tuned to %.1f Hz, want %.0f to %.0f", p.SKU, tuning, low, high)
		}
	}
}
