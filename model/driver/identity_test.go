package driver

import (
	"math"
	"testing"

	"loudfor/model/air"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tolerance*math.Abs(want) {
		t.Errorf("%s: %v, want %v within %v %%", what, got, want, 100*tolerance)
	}
}

// The constants of the literature fall out of rho, c and the reference
// pressure.
func TestPublishedConstants(t *testing.T) {
	// "112 dB" for 1 W of sound in a half space at 1 m (Small 1972, as quoted
	// by every handbook; the exact figure depends on the air).
	if got := LevelOfWatt(air.At(20)); got < 112.1 || got > 112.2 {
		t.Errorf("level of one watt %v dB, want 112.1 to 112.2", got)
	}
	// Small 1972 takes c = 345 m/s and prints 4 pi^2/c^3 = 9.6e-7 (from memory).
	d := Driver{Fs: 1, Vas: 1, Qes: 1}
	near(t, "4 pi^2/c^3", d.Efficiency(air.Air{Density: 1.18, SoundSpeed: 345}), 9.6e-7, 0.005)
	// rho c^2 = gamma P0 = 1.42e5 Pa (Beranek and Mellow, chapter 1).
	k := constantsOf(air.At(20), 1)
	near(t, "rho c^2", math.Exp(k[compliance]), 1.4*101325, 1e-12)
}

// The reference efficiency has a second classical form that shares no step
// with the first: eta0 = rho/(2 pi c) (Bl)^2 Sd^2/(Re Mms^2) (Small 1972;
// Beranek and Mellow, chapter 6).
func TestEfficiencyOtherForm(t *testing.T) {
	d, _, err := Complete(Card{Size: 15 * inch, Coils: 2, CoilLoad: 2, Fs: 27, Qts: 0.5, Vas: 0.13}, room)
	if err != nil {
		t.Fatal(err)
	}
	other := room.Density / (2 * math.Pi * room.SoundSpeed) * 2 * d.Bl * d.Bl * d.Sd * d.Sd / (d.Re * d.Mms * d.Mms)
	near(t, "eta0", d.Efficiency(room), other, exact)
}

// A worked card. By hand, with c = 343.2 m/s and rho c^2 = 141855 Pa:
// Qes = 0.45*5/(5-0.45); Cms = 0.060/(141855*0.0490^2); Mms = 1/((2 pi 28)^2
// Cms); Bl = sqrt(2 pi 28 Mms 3.3/Qes); eta0 = 4 pi^2 28^3 0.060/(c^3 Qes).
func TestWorkedCard(t *testing.T) {
	d, notes, err := Complete(Card{Size: 12 * inch, Coils: 1, CoilLoad: 4, Re: 3.3, Fs: 28, Qts: 0.45, Qms: 5,
		Vas: 0.060, Sd: 0.0490, Le: 0.0015, Xmax: 0.01, Power: 300}, room)
	if err != nil {
		t.Fatal(err)
	}
	const digits = 0.001
	near(t, "Qes", d.Qes, 0.49451, digits)
	near(t, "Cms", d.Cms, 1.7616e-4, digits)
	near(t, "Mms", d.Mms, 0.18341, digits)
	near(t, "Bl", d.Bl, 14.674, digits)
	near(t, "Rms", d.Rms, 6.4535, digits)
	near(t, "eta0", d.Efficiency(room), 2.6018e-3, digits)
	near(t, "sensitivity", d.Sensitivity(room), 112.16-25.847, 2e-4)
	for _, n := range notes {
		if n.Kind != Derived && n.Quantity != "L2" && n.Quantity != "R2" {
			t.Errorf("unexpected %v: %+v", n.Kind, n)
		}
	}
}

// Two coils of Re and Bl are one coil of 2 Re and 2 Bl (series) or of Re/2 and
// Bl (parallel): the motor strength Bl^2/Re of the driver is the same, and so
// is all the rest.
func TestCoilsDoNotChangeTheDriver(t *testing.T) {
	base := Card{Size: 12 * inch, Fs: 30, Qms: 6, Vas: 0.058, Sd: 0.0485, Xmax: 0.01, Power: 250}
	double := base
	double.Coils, double.CoilLoad, double.Re, double.Bl = 2, 4, 3.4, 9
	series := base
	series.Coils, series.CoilLoad, series.Re, series.Bl = 1, 8, 6.8, 18
	parallel := base
	parallel.Coils, parallel.CoilLoad, parallel.Re, parallel.Bl = 1, 2, 1.7, 9
	var want Driver
	for i, c := range []Card{double, series, parallel} {
		d, _, err := Complete(c, room)
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			want = d
			near(t, "series load", d.Load(2), 8, exact)
			near(t, "parallel load", d.Load(1), 2, exact)
			continue
		}
		near(t, "Qes", d.Qes, want.Qes, exact)
		near(t, "Qts", d.Qts, want.Qts, exact)
		near(t, "sensitivity", d.Sensitivity(room), want.Sensitivity(room), exact)
	}
}

func TestCoilsMustDivide(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("two coils were joined three in series")
		}
	}()
	Driver{Coils: 2, CoilLoad: 4}.Load(3)
}
