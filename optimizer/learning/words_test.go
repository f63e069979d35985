package learning

import (
	"math"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/enclosure"
	"loudfor/optimizer"
)

// TestCausesInNumbers: what a cause says in numbers, worked out by hand: half the
// voltage is 20 lg 2 = 6.0 dB, a coil's resistance grows by 0.393 % a kelvin (IEC
// 60028, annealed copper at 20 C), so 30 % more are 76 K.
func TestCausesInNumbers(t *testing.T) {
	c := &Case{Setup: bass.Setup{Boxes: 1, Box: enclosure.Box{Kind: enclosure.Vented, Drivers: 2, Volume: 0.05, LeakQ: 7}}}
	seen := map[CauseKind]bool{}
	for _, h := range hypotheses(c) {
		value, want := 0.0, ""
		switch h.kind {
		case Leak:
			value, want = 1.5, "QL 1.5 in place of 7"
		case SmallerBox:
			value, want = 0.7, "35.0 L in place of 50.0 L"
		case LargerBox:
			value, want = 1.5, "75.0 L in place of 50.0 L"
		case HotCoil:
			value, want = 1.3, "30 % more (as 76 K of heat)"
		case PortMoved:
			value, want = 0.9, "off by -10 %"
		case Reversed:
			value, want = 1, "in reverse"
		case WeakAmplifier:
			value, want = 0.5, "50 % of its rated voltage (6.0 dB less)"
			d := h.adjust(bass.Drive{Source: amplifier.Source{OpenVoltage: 40, Current: 20}}, value)
			if d.Source.OpenVoltage != 20 || d.Source.Current != 10 {
				t.Errorf("half an amplifier is %+v", d.Source)
			}
		}
		if got := h.words(value); want == "" || !strings.Contains(got, want) {
			t.Errorf("%q says nothing of %q", got, want)
		}
		seen[h.kind] = true
		// What is tried goes on in one direction, by steps of less than two.
		for i := 1; i < len(h.values); i++ {
			if a, b := h.values[i-1], h.values[i]; (a < b) != (h.values[0] < h.values[1]) || a == b || max(a/b, b/a) > 2 {
				t.Errorf("%v are tried", h.values)
			}
		}
		// Changes of the box and the coil are by the factor that is said.
		moved := *c
		if h.change(&moved, value) && (h.kind == SmallerBox || h.kind == LargerBox) && math.Abs(moved.Setup.Box.Volume/0.05-value) > 1e-12 {
			t.Errorf("%q makes %g m3", h.words(value), moved.Setup.Box.Volume)
		}
	}
	if len(seen) < 7 {
		t.Errorf("only %d causes", len(seen))
	}
}

// TestSum: an unknown is told in standard deviations: 1.2 of them above 2, each 0.5,
// are 2.6; what no reading narrowed keeps its spread.
func TestSum(t *testing.T) {
	f := &Fit{Study: &Study{unknowns: 1}, X: []float64{1.2}, Cov: identity(1), Cross: Cross{Widened: 1}}
	p := f.sum(0, Parameter{Before: 2, SpreadBefore: 0.5})
	if math.Abs(p.After-2.6) > 1e-12 || p.SpreadAfter != 0.5 || p.Verdict != Stayed {
		t.Errorf("%+v", p)
	}
}

// TestLargest: the first of those whose size none is above.
func TestLargest(t *testing.T) {
	for want, v := range map[int][]float64{0: {3, -2, 1}, 1: {1, -4, 3}, 2: {1, 2, -2.5}, 3: {0, 0.1, 0.2, 0.3, -0.3}} {
		if got := largest(v); got != want {
			t.Errorf("%v: %d, want %d", v, got, want)
		}
	}
}

// A port's tuning goes with one over the root of its length, as far as it is short enough
// to be of another length; without a port that is stated the tuning itself moves.
func TestPortMovedByItsTuning(t *testing.T) {
	for _, c := range []struct{ length, factor, want float64 }{{0.36, 0.9, 0.36 / 0.81}, {0.36, 1.25, 0.36 / 1.5625}, {0.015, 1.4, minPort}, {0, 0.9, 0}} {
		k := &Case{Setup: bass.Setup{Boxes: 1, Box: enclosure.Box{Kind: enclosure.Vented, Drivers: 1, Volume: 0.05, Tuning: 35}}}
		tuning := 35 * c.factor
		if c.length > 0 {
			k.Setup.Box.Port, tuning = enclosure.Port{Count: 1, Diameter: 0.1, Length: c.length}, 35
		}
		for _, h := range hypotheses(k) {
			if h.kind == PortMoved && (!h.change(k, c.factor) || math.Abs(k.Setup.Box.Port.Length-c.want) > 1e-12 || math.Abs(k.Setup.Box.Tuning-tuning) > 1e-12) {
				t.Errorf("%+v: %+v, tuned to %g Hz", c, k.Setup.Box.Port, k.Setup.Box.Tuning)
			}
		}
	}
}

// A case is held to what its brief allows, and where that says nothing to the usual.
func TestCaseOfABrief(t *testing.T) {
	b := optimizer.Build{}
	b.Bass.Amplifier, b.Bass.Part = &catalog.Part{Amplifier: &catalog.Amplifier{}}, &catalog.Part{Kind: catalog.KindLoaded}
	usual := bass.Reading()
	if got := CaseOf("usual", b, catalog.Brief{}).Limits; got != usual {
		t.Errorf("%+v, usual are %+v", got, usual)
	}
	if got := CaseOf("stated", b, catalog.Brief{Overdrive: 1.1, Burst: 2}).Limits; got.Overdrive != 1.1 || got.Burst != 2 {
		t.Errorf("%+v", got)
	}
}
