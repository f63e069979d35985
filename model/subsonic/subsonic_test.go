package subsonic

import (
	"math"
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/air"
	"loudfor/model/bass"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
)

var normal = air.At(20)

// twelve is a usual driver, completed from its card.
func twelve(t interface{ Fatal(...any) }) driver.Driver {
	d, _, err := driver.Complete(driver.Card{Size: 0.3048, Coils: 1, CoilLoad: 4, Re: 3.4, Fs: 31, Qts: 0.6, Qms: 5.5, Vas: 0.058, Sd: 0.049, Xmax: 0.009, Power: 250}, normal)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func vented(diameter float64) enclosure.Box {
	return enclosure.Box{Kind: enclosure.Vented, Drivers: 1, Volume: 0.05, LeakQ: 1000, AbsorptionQ: 1000,
		Port: enclosure.Port{Count: 1, Diameter: diameter, Length: 0.25, FlangedEnds: 1}}
}

var one = bass.Drive{Outputs: 1, Series: 1, Parallel: 1}

// travelOf is the peak travel by the textbook's circuit (Small 1973), without
// losses of the box: the force of the coil on mass, suspension, and the air of
// the chamber with the port's mass beside it.
func travelOf(d driver.Driver, b enclosure.Box, displacement, hz, volts float64) float64 {
	w := 2 * math.Pi * hz
	stiffness := normal.Density * normal.SoundSpeed * normal.SoundSpeed / (b.Volume - displacement - b.Port.Air())
	chamber := complex(0, -stiffness/w)
	port := complex(0, w*b.Port.Mass(normal))
	box := chamber * port / (chamber + port) * complex(d.Sd*d.Sd, 0)
	mechanical := complex(d.Rms, w*d.Mms-1/(w*d.Cms)) + box
	coil := complex(d.Re, w*d.Le)
	if d.R2 > 0 {
		second := complex(0, w*d.L2)
		coil += second * complex(d.R2, 0) / (second + complex(d.R2, 0))
	}
	velocity := complex(volts*d.Bl, 0) / (coil*mechanical + complex(d.Bl*d.Bl, 0))
	return math.Sqrt2 * cmplx.Abs(velocity) / w
}

// Where the travel is passed, and that the filter found keeps it and no lower
// one would, by the textbook's circuit. Its box has no losses at all, hence
// the tolerance.
func TestAgainstTheTextbook(t *testing.T) {
	const tolerance = 0.04
	d := twelve(t)
	for _, diameter := range []float64{0.07, 0.1, 0.13} {
		for _, volts := range []float64{15, 25, 35} {
			box := vented(diameter)
			setup := bass.Setup{Driver: d, Box: box, Boxes: 1, Displacement: 0.003, Air: normal}
			got, err := Find(setup, one, volts, 4)
			if err != nil {
				t.Fatal(err)
			}
			travel := func(hz float64) float64 { return travelOf(d, box, 0.003, hz, volts) / d.Xmax }
			if got.Exceeds > 0 {
				if x := travel(got.Exceeds); x < 1-tolerance {
					t.Errorf("%g m, %g V: at %.1f Hz the cone moves %.3f Xmax", diameter, volts, got.Exceeds, x)
				}
				if x := travel(got.Exceeds * math.Exp2(1.0/perOctave)); x > 1+tolerance && got.Exceeds*1.02 < closest*got.Tuning {
					t.Errorf("%g m, %g V: above %.1f Hz it still moves %.3f Xmax", diameter, volts, got.Exceeds, x)
				}
			}
			most := func(corner float64) (most float64) {
				for hz := lowest; hz < closest*got.Tuning; hz += 0.1 {
					most = max(most, travel(hz)/math.Sqrt(1+math.Pow(corner/hz, 8)))
				}
				return most
			}
			if got.Corner > 0 && got.Enough {
				if x := most(got.Corner); x > 1+tolerance {
					t.Errorf("%g m, %g V: a filter at %g Hz lets %.3f Xmax through", diameter, volts, got.Corner, x)
				}
				if x := most(got.Corner - 1); got.Corner > lowest && x < 1-tolerance {
					t.Errorf("%g m, %g V: a filter at %g Hz would do, %.3f Xmax", diameter, volts, got.Corner-1, x)
				}
			}
			if got.Corner > 0 && !got.Enough {
				if x := most(got.Corner) * got.Volts / volts; math.Abs(x-1) > tolerance {
					t.Errorf("%g m: at the %.1f V allowed the cone moves %.3f Xmax", diameter, got.Volts, x)
				}
			}
		}
	}
}

func TestKinds(t *testing.T) {
	d := twelve(t)
	setup := bass.Setup{Driver: d, Box: vented(0.1), Boxes: 1, Air: normal}
	quiet, err := Find(setup, one, 1, 4)
	if err != nil || quiet.Corner != 0 || !quiet.Enough || quiet.Volts != 1 {
		t.Errorf("at 1 V no filter is needed: %+v, %v", quiet, err)
	}
	loud, err := Find(setup, one, 200, 4)
	if err != nil || loud.Enough || !(loud.Volts < 200) || loud.Corner != math.Floor(closest*loud.Tuning) {
		t.Errorf("200 V is too much for any filter: %+v, %v", loud, err)
	}
	setup.Box = enclosure.Box{Kind: enclosure.Sealed, Drivers: 1, Volume: 0.027}
	sealed, err := Find(setup, one, 20, 4)
	if err != nil || sealed.Tuning != 0 || sealed.Corner != 0 {
		t.Errorf("a closed box holds its cone at 20 V: %+v, %v", sealed, err)
	}
	setup.Box.Volume = 0
	if _, err := Find(setup, one, 20, 4); err == nil {
		t.Error("a box without volume goes through")
	}
}

// More volts never ask for a lower filter.
func TestLaws(t *testing.T) {
	d := twelve(t)
	setup := bass.Setup{Driver: d, Box: vented(0.1), Boxes: 1, Air: normal}
	rapid.Check(t, func(t *rapid.T) {
		volts := rapid.Float64Range(1, 60).Draw(t, "volts")
		more := volts * rapid.Float64Range(1, 2).Draw(t, "ratio")
		a, err := Find(setup, one, volts, 4)
		if err != nil {
			t.Fatal(err)
		}
		b, _ := Find(setup, one, more, 4)
		if b.Corner < a.Corner || b.Exceeds < a.Exceeds || a.Enough == false && b.Enough {
			t.Fatalf("%g V: %+v, %g V: %+v", volts, a, more, b)
		}
		if a.Volts > volts || b.Volts > more {
			t.Fatalf("allowed volts above those asked for: %+v %+v", a, b)
		}
	})
}
