package enclosure

import (
	"math"
	"strings"
	"testing"

	"loudfor/model/air"
	"loudfor/model/driver"
)

func twelve(t *testing.T) driver.Driver {
	t.Helper()
	d, _, err := driver.Complete(driver.Card{Size: 0.3048, Coils: 1, CoilLoad: 4, Fs: 30, Qts: 0.5, Vas: 0.058, Xmax: 0.01, Power: 250}, air.At(20))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func equal(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-9*math.Abs(want)+1e-15) {
		t.Errorf("%s: got %g, want %g", what, got, want)
	}
}

// A stated QP is that of the port's mass at the tuning (Small 1973: QP = 1/(w C R), with
// w^2 M C = 1); none loses nothing at low level.
func TestQualityFactorsAsStated(t *testing.T) {
	d, a := twelve(t), air.At(20)
	box := Box{Kind: BandPass, Drivers: 1, Volume: 0.03, FrontVolume: 0.04, Tuning: 50, LeakQ: 12, AbsorptionQ: 30, FrontAbsorptionQ: 60, PortQ: 25}
	c, err := box.Circuit(d, 0, a)
	if err != nil {
		t.Fatal(err)
	}
	w := 2 * math.Pi * c.Tuning
	equal(t, "QP", 1/(w*c.FrontCompliance*c.PortDrag), 25)
	equal(t, "QL", w*c.FrontCompliance/c.Leak, 12)
	equal(t, "QA of the vented chamber", 1/(w*c.FrontCompliance*c.FrontAbsorption), 60)
	equal(t, "QA of the rear chamber", 1/(2*math.Pi*c.Resonance(d)*c.Compliance*c.Absorption), 30)
	box.FrontAbsorptionQ = 0
	c, _ = box.Circuit(d, 0, a)
	equal(t, "QA of the vented chamber like the other", 1/(w*c.FrontCompliance*c.FrontAbsorption), 30)
	box.LeakQ, box.AbsorptionQ, box.PortQ = Lossless, Lossless, Lossless
	c, _ = box.Circuit(d, 0, a)
	var l Load
	c.Load(1.3*w, 0, &l)
	if lost := real(l.Reaction) / math.Abs(imag(l.Reaction)); lost > 1e-6 {
		t.Errorf("a lossless box takes %g of what it reacts with", lost)
	}
}

// A sealed box has leaks of its own, and what nobody stated varies.
func TestLeaksThatNobodyStated(t *testing.T) {
	d, a := twelve(t), air.At(20)
	sealed, vented := Box{Kind: Sealed, Drivers: 1, Volume: 0.03}, Box{Kind: Vented, Drivers: 1, Volume: 0.06, Tuning: 35}
	s, _ := sealed.Circuit(d, 0, a)
	v, _ := vented.Circuit(d, 0, a)
	equal(t, "sealed", s.LeakQ, 20)
	equal(t, "vented", v.LeakQ, 7)
	if words := strings.Join(s.Assumed.Words(), ";"); !strings.Contains(words, "QL 20") || strings.Contains(words, "QL 7") {
		t.Error(words)
	}
	z := [2]float64{1, -1}
	equal(t, "leak drawn", sealed.Leaking(z).LeakQ, 20*math.Exp(LossSpread))
	equal(t, "absorption drawn", sealed.Leaking(z).AbsorptionQ, 50*math.Exp(-LossSpread))
	sealed.LeakQ, sealed.AbsorptionQ = 15, 8
	if sealed.Leaking(z) != sealed {
		t.Error("stated losses moved")
	}
}

// Just either side of what can be built, by hand: the usual area of 30 L is 81.9 cm2;
// c^2 S/(w^2 V) is 1.23 m at 26 Hz, less 1.46 radii of 5.1 cm.
func TestPortsThatCannotBeBuilt(t *testing.T) {
	a := air.At(20)
	for _, test := range []struct {
		box   Box
		words string
	}{
		{Box{Kind: Vented, Volume: 0.03, Tuning: 36}, ""},
		{Box{Kind: Vented, Volume: 0.03, Tuning: 104}, ""},
		{Box{Kind: Vented, Volume: 0.03, Tuning: 106}, "no port of the usual area"},
		{Box{Kind: Vented, Volume: 0.03, Tuning: 150}, "no port of the usual area"},
		{Box{Kind: Vented, Volume: 0.03, Tuning: 10}, "no room"},
		{Box{Kind: BandPass, Volume: 0.03, FrontVolume: 0.03, Tuning: 10}, "no room"},
		{Box{Kind: Vented, Volume: 0.05, Port: Port{Count: 1, Width: 0.04, Height: 0.32, Length: 1.3}}, ""},
		{Box{Kind: Vented, Volume: 0.05, Port: Port{Count: 1, Width: 0.04, Height: 0.32, Length: 1.8}}, "of its chamber"},
		{Box{Kind: Sealed, Volume: 0.03, Tuning: 10}, ""},
	} {
		got := test.box.PortDoubt(a)
		if (got == "") != (test.words == "") || !strings.Contains(got, test.words) {
			t.Errorf("%+v: %q, want %q", test.box, got, test.words)
		}
	}
}
