package enclosure

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"loudfor/model/air"
	"loudfor/model/driver"
)

// ten is an invented 10-inch driver with consistent parameters.
func ten() driver.Driver {
	a := air.At(20)
	d := driver.Driver{Size: 0.254, Coils: 1, CoilLoad: 4, Re: 3.4, Sd: 0.033, Xmax: 0.009, Power: 200,
		Fs: 34, Qms: 5.5, Qes: 0.6, Vas: 0.028}
	w := 2 * math.Pi * d.Fs
	d.Cms = d.Vas / (a.Density * a.SoundSpeed * a.SoundSpeed * d.Sd * d.Sd)
	d.Mms = 1 / (w * w * d.Cms)
	d.Rms = w * d.Mms / d.Qms
	d.Bl = math.Sqrt(w * d.Mms * d.Re / d.Qes)
	return d
}

func TestClosedBoxResonance(t *testing.T) {
	d := ten()
	for _, alpha := range []float64{0.3, 1, 3, 10} {
		// Small 1972: fc = fs sqrt(1 + alpha), alpha = Vas/Vb of the net volume.
		b := Box{Kind: Sealed, Drivers: 2, Volume: 2 * (d.Vas/alpha + 0.002)}
		c, err := b.Circuit(d, 0.002, air.At(20))
		if err != nil {
			t.Fatal(err)
		}
		if got, want := c.Resonance(d), d.Fs*math.Sqrt(1+alpha); math.Abs(got/want-1) > 1e-9 {
			t.Errorf("alpha %g: fc %.4f Hz, want %.4f", alpha, got, want)
		}
	}
}

// A box of two drivers with two ports is two boxes of one.
func TestSharesOfABox(t *testing.T) {
	port := Port{Count: 1, Diameter: 0.09, Length: 0.2, FlangedEnds: 1}
	for _, kind := range []Kind{Sealed, Vented, BandPass} {
		one := Box{Kind: kind, Drivers: 1, Volume: 0.04, FrontVolume: 0.03, Port: port}
		two := Box{Kind: kind, Drivers: 2, Volume: 0.08, FrontVolume: 0.06, Port: port}
		two.Port.Count = 2
		a := air.At(20)
		c1, err1 := one.Circuit(ten(), 0, a)
		c2, err2 := two.Circuit(ten(), 0, a)
		if err := errors.Join(err1, err2); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(c1, c2, cmpopts.EquateApprox(1e-12, 0)); diff != "" {
			t.Errorf("%v: one box (-), share of two (+):\n%s", kind, diff)
		}
	}
}

// A tuning stated alone gives the box that a port tuned to it gives, but for
// the port's own volume and area.
func TestStatedTuning(t *testing.T) {
	a := air.At(20)
	b := Box{Kind: Vented, Drivers: 1, Volume: 0.05, Tuning: 36}
	c, err := b.Circuit(ten(), 0.002, a)
	if err != nil {
		t.Fatal(err)
	}
	w := 2 * math.Pi * 36.0
	if got := w * w * c.PortMass * c.Compliance; math.Abs(got-1) > 1e-12 {
		t.Errorf("mass and compliance resonate at %g of the tuning", math.Sqrt(1/got))
	}
	// 12 square inches a cubic foot (common practice, no source) on 48 litres:
	// 48/28.317 x 12 x 6.4516 cm2.
	if want := 48 / 28.317 * 12 * 6.4516e-4; math.Abs(c.PortArea/want-1) > 1e-4 {
		t.Errorf("assumed area %g m2, want %g", c.PortArea, want)
	}
	if c.Assumed&AssumedPort == 0 || len(c.Assumed.Words()) != 3 {
		t.Errorf("assumed: %q", c.Assumed.Words())
	}
}

func TestImpossibleBoxes(t *testing.T) {
	port := Port{Count: 1, Diameter: 0.1, Length: 0.2, FlangedEnds: 1}
	sealed := Box{Kind: Sealed, Drivers: 1, Volume: 0.03}
	vented := Box{Kind: Vented, Drivers: 1, Volume: 0.05, Port: port}
	change := func(b Box, f func(*Box)) Box { f(&b); return b }
	for _, c := range []struct {
		name         string
		box          Box
		displacement float64
		quantity     string
	}{
		{"no volume", change(sealed, func(b *Box) { b.Volume = 0 }), 0, "volume"},
		{"litres for cubic metres", change(sealed, func(b *Box) { b.Volume = 30 }), 0, "volume"},
		{"not a number", change(sealed, func(b *Box) { b.Volume = math.NaN() }), 0, "volume"},
		{"no drivers", change(sealed, func(b *Box) { b.Drivers = 0 }), 0, "number of drivers"},
		{"smaller than its driver", change(sealed, func(b *Box) { b.Volume = 0.0025 }), 0.003, "net volume for each driver"},
		{"smaller than its drivers", change(sealed, func(b *Box) { b.Drivers = 10 }), 0.003, "net volume for each driver"},
		{"negative displacement", sealed, -0.001, "displacement"},
		{"unknown kind", change(sealed, func(b *Box) { b.Kind = 7 }), 0, "kind"},
		{"negative leakage", change(sealed, func(b *Box) { b.LeakQ = -7 }), 0, "leakage QL"},
		{"infinite absorption", change(sealed, func(b *Box) { b.AbsorptionQ = math.Inf(1) }), 0, "absorption QA"},
		{"neither port nor tuning", change(vented, func(b *Box) { b.Port = Port{} }), 0, "tuning"},
		{"port longer than the box", change(vented, func(b *Box) { b.Port.Length = 1 }), 0, "port length"},
		{"port wider than the box", change(vented, func(b *Box) { b.Port.Diameter = 0.5 }), 0, "port area"},
		{"port fills the box", change(vented, func(b *Box) { b.Port.Diameter = 0.3; b.Port.Length = 0.8 }), 0, "volume of the ports"},
		{"no ports", change(vented, func(b *Box) { b.Port.Count = 0 }), 0, "number of ports"},
		{"three ends", change(vented, func(b *Box) { b.Port.FlangedEnds = 3 }), 0, "flanged ends"},
		{"negative length", change(vented, func(b *Box) { b.Port.Length = -0.1 }), 0, "port length"},
		{"band-pass without front", change(vented, func(b *Box) { b.Kind = BandPass }), 0, "front volume"},
		{"no room for port in front", change(vented, func(b *Box) { b.Kind = BandPass; b.FrontVolume = 0.0017 }), 0, "net front volume for each driver"},
	} {
		_, err := c.box.Circuit(ten(), c.displacement, air.At(20))
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%s: got %v, want an Error", c.name, err)
			continue
		}
		if e.Quantity != c.quantity || !strings.Contains(err.Error(), c.quantity) {
			t.Errorf("%s: %v, want it to name %q", c.name, err, c.quantity)
		}
	}
}

// Just either side of the threshold, a port is refused and accepted.
func TestPortJustFits(t *testing.T) {
	edge := math.Cbrt(0.05)
	b := Box{Kind: Vented, Drivers: 1, Volume: 0.05, Port: Port{Count: 1, Diameter: 0.08}}
	b.Port.Length = straightPort*edge + 1e-6
	if b.Check() == nil {
		t.Error("a round port longer than the box passes")
	}
	b.Port.Length = straightPort*edge - 1e-6
	if err := b.Check(); err != nil {
		t.Error(err)
	}
	b.Port = Port{Count: 1, Width: 0.3, Height: 0.02, Length: straightPort*edge + 1e-6}
	if err := b.Check(); err != nil {
		t.Errorf("a slot may be folded: %v", err)
	}
}

func TestNoAir(t *testing.T) {
	b := Box{Kind: Sealed, Drivers: 1, Volume: 0.03}
	if _, err := b.Circuit(ten(), 0, air.Air{}); err == nil {
		t.Error("a box without air is accepted")
	}
}
