package bass

import (
	"math"
	"testing"

	"loudfor/model/air"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
)

// The published alignments, held to 0.1 dB and 0.5 %.
const (
	alignmentLevel = 0.1   // dB
	alignmentRatio = 0.005 // relative
	coupled        = 0.01  // dB: the linear circuit is exact, so it is held closer where it can be
)

// lossless gives a driver of chosen Qts and no other losses, so that the
// handbooks' lossless alignments apply: Qms is out of the way.
func lossless(fs, qts, vas float64) driver.Driver {
	return build(driver.Driver{Size: 0.3, Coils: 1, CoilLoad: 8, Re: 6, Sd: 0.05, Xmax: 0.006, Power: 100,
		Fs: fs, Qms: 1e6, Qes: qts, Vas: vas})
}

// aligned prepares a lossless box in the open field at the given frequencies.
func aligned(t *testing.T, d driver.Driver, b enclosure.Box, hz []float64) *Prepared {
	t.Helper()
	const displacement = 1e-9
	c, err := b.Circuit(d, displacement, air.At(20))
	if err != nil {
		t.Fatal(err)
	}
	c.Leak, c.Absorption, c.PortDrag, c.PortTurbulence = 0, 0, 0, 0
	var p Prepared
	p.fill(&d, &c, 1, openField(hz))
	return &p
}

// passband is so far above the bass that the response is flat; the circuit has
// no inductance and the open field no upper end.
const passband = 20000.0

// response is the level re passband at hz.
func response(t *testing.T, d driver.Driver, b enclosure.Box, hz float64) float64 {
	p := aligned(t, d, b, []float64{hz, passband})
	drive := Drive{Outputs: 1, Series: 1, Parallel: 1}
	return p.SmallSignal(0, drive, 1).Level - p.SmallSignal(1, drive, 1).Level
}

// Small, "Closed-box loudspeaker systems", J. Audio Eng. Soc. 20 (1972): with
// alpha = Vas/Vb, fc/fs = Qtc/Qts = sqrt(1 + alpha), the response is the
// second-order high-pass with fc and Qtc, and f3 follows in closed form.
func TestClosedBox(t *testing.T) {
	for _, c := range []struct {
		qtc, f3 float64 // f3/fc, Small 1972, equation for f3; checked by hand
		name    string
	}{
		{0.5, 1.5538, "critically damped: sqrt(1 + sqrt 2)"},
		{0.5774, 1.2720, "Bessel"},
		{1 / math.Sqrt2, 1, "Butterworth"},
		{1.1, 0.7567, "2 dB Chebyshev"},
	} {
		for _, alpha := range []float64{0.8, 3} {
			ratio := math.Sqrt(1 + alpha)
			d := lossless(30, c.qtc/ratio, 0.08)
			box := enclosure.Box{Kind: enclosure.Sealed, Drivers: 1, Volume: d.Vas / alpha}
			fc := 30 * ratio

			// At fc the second-order high-pass passes Qtc.
			at := response(t, d, box, fc)
			if want := 20 * math.Log10(c.qtc); math.Abs(at-want) > coupled {
				t.Errorf("%s, alpha %g: %.3f dB at fc, want %.3f", c.name, alpha, at, want)
			}
			if got := halfPower(t, d, box, fc); math.Abs(got/fc/c.f3-1) > alignmentRatio {
				t.Errorf("%s, alpha %g: f3 %.4f fc, want %.4f", c.name, alpha, got/fc, c.f3)
			}
			for _, f := range []float64{0.3, 0.7, 1, 1.5, 3} {
				want := -10 * math.Log10(math.Pow(1-1/(f*f), 2)+1/(f*f*c.qtc*c.qtc))
				if got := response(t, d, box, f*fc); math.Abs(got-want) > coupled {
					t.Errorf("%s, alpha %g: %.3f dB at %g fc, want %.3f", c.name, alpha, got, f, want)
				}
			}
		}
	}
}

// halfPower finds where the response is -3.01 dB, by halving.
func halfPower(t *testing.T, d driver.Driver, b enclosure.Box, fc float64) float64 {
	low, high := fc/3, fc*3
	for range 40 {
		middle := math.Sqrt(low * high)
		if response(t, d, b, middle) < -sineCrest {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// The peak of the impedance shows fc and Qtc as a measurement would: the
// resonance where it is real, and from its height the Q (Small 1972,
// Re (1 + Qmc/Qec)).
func TestClosedBoxImpedance(t *testing.T) {
	d := twelve()
	d.Le, d.L2, d.R2 = 0, 0, 0
	box := enclosure.Box{Kind: enclosure.Sealed, Drivers: 1, Volume: 0.03, LeakQ: 1e9, AbsorptionQ: 1e9}
	c, err := box.Circuit(d, 1e-9, air.At(20))
	if err != nil {
		t.Fatal(err)
	}
	ratio := math.Sqrt(1 + d.Vas/0.03)
	if got := c.Resonance(d); math.Abs(got/(d.Fs*ratio)-1) > alignmentRatio {
		t.Errorf("fc %.3f Hz, want %.3f", got, d.Fs*ratio)
	}
	var p Prepared
	p.fill(&d, &c, 1, openField([]float64{d.Fs * ratio}))
	o := p.SmallSignal(0, Drive{Outputs: 1, Series: 1, Parallel: 1}, 1)
	if want := d.Re * (1 + d.Qms/d.Qes); math.Abs(o.Load/want-1) > 1e-5 || math.Abs(o.Phase) > 1e-5 {
		t.Errorf("impedance at fc %.4f ohm, phase %.5f; want %.4f real", o.Load, o.Phase, want)
	}
}

// Thiele, "Loudspeakers in vented boxes", Proc. IRE Australia 22 (1961),
// reprinted J. Audio Eng. Soc. 19 (1971), alignment 5 (B4): fb = fs = f3,
// Vas/Vb = sqrt 2, Qt = 0.383; Small 1973 gives the same. The response is the
// fourth-order Butterworth high-pass, 1/sqrt(1 + (f3/f)^8).
func TestVentedB4(t *testing.T) {
	const fs = 30.0
	d := lossless(fs, 0.3827, 0.1)
	box := enclosure.Box{Kind: enclosure.Vented, Drivers: 1, Volume: d.Vas / math.Sqrt2, Tuning: fs}
	for _, f := range []float64{0.5, 0.7, 0.9, 1, 1.1, 1.4, 2, 4} {
		want := -10 * math.Log10(1+math.Pow(f, -8))
		if got := response(t, d, box, f*fs); math.Abs(got-want) > alignmentLevel {
			t.Errorf("%.3f dB at %g f3, want %.3f", got, f, want)
		}
	}
	if got := halfPower(t, d, box, fs); math.Abs(got/fs-1) > alignmentRatio {
		t.Errorf("f3 %.4f fs, want 1", got/fs)
	}
}

// The open field's level in the pass band is the driver's efficiency: 112.2 dB
// + 10 log10 eta0 at 1 W, 1 m, half space (Small 1972; eta0 = 4 pi^2 fs^3
// Vas/(c^3 Qes)).
func TestPassbandEfficiency(t *testing.T) {
	d := lossless(30, 0.3827, 0.1)
	box := enclosure.Box{Kind: enclosure.Sealed, Drivers: 1, Volume: 0.05}
	p := aligned(t, d, box, []float64{passband})
	a := air.At(20)
	eta := 4 * math.Pi * math.Pi * math.Pow(30, 3) * d.Vas / (math.Pow(a.SoundSpeed, 3) * d.Qes)
	want := 10 * math.Log10(eta*a.Density*a.SoundSpeed/(2*math.Pi)/(air.ReferencePressure*air.ReferencePressure))
	got := p.SmallSignal(0, Drive{Outputs: 1, Series: 1, Parallel: 1}, math.Sqrt(d.Re)).Level
	if math.Abs(got-want) > coupled {
		t.Errorf("%.3f dB from a watt, want %.3f", got, want)
	}
}

// Small 1972, displacement-limited power: the acoustic power in the pass band
// when the travel, over all frequencies, just reaches Xmax is
// P = (4 pi^3 rho/c) fc^4 Vd^2/|X|max^2, |X|max^2 = Qtc^4/(Qtc^2 - 1/4) above
// Qtc = 0.707, else 1. Small's much quoted P = 0.85 f3^4 Vd^2 (SI) is that at
// Qtc = 1.1.
func TestDisplacementLimitedPower(t *testing.T) {
	a := air.At(20)
	for _, qtc := range []float64{1 / math.Sqrt2, 1.1, 1.5} {
		d := lossless(25, qtc/2, 0.09) // alpha 3
		box := enclosure.Box{Kind: enclosure.Sealed, Drivers: 1, Volume: d.Vas / 3}
		fc := 50.0
		var hz []float64
		for f := 0.05 * fc; f < 3*fc; f *= 1.005 {
			hz = append(hz, f)
		}
		p := aligned(t, d, box, append(hz, passband))
		drive := Drive{Outputs: 1, Series: 1, Parallel: 1}
		most := 0.0
		for i := range hz {
			most = max(most, p.SmallSignal(i, drive, 1).Travel)
		}
		volts := d.Xmax / most
		// A half space passes p^2 2 pi r^2/(rho c).
		pressure := air.Pressure(p.SmallSignal(len(hz), drive, volts).Level)
		power := pressure * pressure * 2 * math.Pi / (a.Density * a.SoundSpeed)

		vd := d.Sd * d.Xmax
		x2 := 1.0
		if qtc*qtc > 0.5+1e-9 {
			x2 = math.Pow(qtc, 4) / (qtc*qtc - 0.25)
		}
		want := 4 * math.Pow(math.Pi, 3) * a.Density / a.SoundSpeed * math.Pow(fc, 4) * vd * vd / x2
		if math.Abs(power/want-1) > alignmentRatio {
			t.Errorf("Qtc %.3f: %.5g W, want %.5g", qtc, power, want)
		}
		if qtc == 1.1 {
			// Small's air: 1.18 kg/m3, 345 m/s.
			f3, small := 0.7567*fc, (1.18/345)/(a.Density/a.SoundSpeed)
			if constant := small * power / (math.Pow(f3, 4) * vd * vd); math.Abs(constant-0.85) > alignmentRatio {
				t.Errorf("constant %.4f, Small gives 0.85", constant)
			}
		}
	}
}

// In the pressure zone of a small sealed cavity p = gamma P0 dV/V: with the
// room a bare compliance, the level follows the cone's travel alone.
func TestPressureZone(t *testing.T) {
	const volume = 2.5
	hz := []float64{5, 10, 20}
	room := &cabin.Response{Hz: hz}
	for _, f := range hz {
		z := complex(0, -air.HeatRatio*air.StandardPressure/(volume*2*math.Pi*f))
		room.Transfer, room.Back = append(room.Transfer, z), append(room.Back, z)
	}
	box := sealedBox()
	box.LeakQ, box.AbsorptionQ = 1e9, 1e9
	p := prepare(t, setup(box), room)
	for i := range hz {
		o := p.SmallSignal(i, modestDrive(), 5)
		want := air.Level(air.HeatRatio * air.StandardPressure * o.Travel / math.Sqrt2 * p.driver.Sd / volume)
		if math.Abs(o.Level-want) > coupled {
			t.Errorf("%g Hz: %.3f dB, want %.3f", hz[i], o.Level, want)
		}
	}
}
