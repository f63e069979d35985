package bass

import (
	"math"
	"testing"

	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
)

// twelve is an invented 12-inch value driver with all parameters consistent,
// written out rather than completed, so that these tests stand by themselves.
func twelve() driver.Driver {
	return build(driver.Driver{
		Size: 0.3048, Coils: 1, CoilLoad: 4, Re: 3.4, Le: 1.2e-3, L2: 1.2e-3, R2: 3.8,
		Sd: 0.049, Xmax: 0.009, Power: 250, Fs: 31, Qms: 5.5, Qes: 0.67, Vas: 0.058,
	})
}

// build fills in the mechanical side from Fs, Qms, Qes, Vas, Sd and Re (the
// identities of package driver's documentation).
func build(d driver.Driver) driver.Driver {
	a := air.At(20)
	w := 2 * math.Pi * d.Fs
	d.Cms = d.Vas / (a.Density * a.SoundSpeed * a.SoundSpeed * d.Sd * d.Sd)
	d.Mms = 1 / (w * w * d.Cms)
	d.Rms = w * d.Mms / d.Qms
	d.Bl = math.Sqrt(w * d.Mms * d.Re / d.Qes / float64(d.Coils))
	d.Qts = d.Qms * d.Qes / (d.Qms + d.Qes)
	return d
}

func sealedBox() enclosure.Box {
	return enclosure.Box{Kind: enclosure.Sealed, Drivers: 1, Volume: 0.027}
}

func ventedBox() enclosure.Box {
	return enclosure.Box{Kind: enclosure.Vented, Drivers: 1, Volume: 0.05,
		Port: enclosure.Port{Count: 1, Diameter: 0.1, Length: 0.25, FlangedEnds: 1}}
}

func bandPassBox() enclosure.Box {
	return enclosure.Box{Kind: enclosure.BandPass, Drivers: 1, Volume: 0.025, FrontVolume: 0.03,
		Port: enclosure.Port{Count: 2, Diameter: 0.1, Length: 0.12, FlangedEnds: 1}}
}

func boxes() map[string]enclosure.Box {
	return map[string]enclosure.Box{"sealed": sealedBox(), "vented": ventedBox(), "band-pass": bandPassBox()}
}

// car is a room of one damped chamber with the stiffness of 3 m3 of air and a
// resonance at 48 Hz: simple enough to be written into any simulator, and with
// a peak in the bass like a car's.
func car(hz []float64) *cabin.Response {
	a := air.At(20)
	r := &cabin.Response{Hz: hz}
	for _, f := range hz {
		z := carImpedance(a, 2*math.Pi*f)
		r.Back = append(r.Back, z)
		r.Transfer = append(r.Transfer, z*complex(0.8, -0.2))
	}
	return r
}

// The car: compliance, mass and resistance in parallel.
const (
	carVolume    = 3.0
	carResonance = 48.0
	carQ         = 4.0
)

func carElements(a air.Air) (compliance, mass, resistance float64) {
	compliance = carVolume / (a.Density * a.SoundSpeed * a.SoundSpeed)
	w := 2 * math.Pi * carResonance
	return compliance, 1 / (w * w * compliance), carQ / (w * compliance)
}

func carImpedance(a air.Air, w float64) complex128 {
	c, m, r := carElements(a)
	return 1 / (complex(1/r, w*c-1/(w*m)))
}

func openField(hz []float64) *cabin.Response {
	r := cabin.OpenField(hz, 1, air.At(20))
	return &r
}

func setup(b enclosure.Box) Setup {
	return Setup{Driver: twelve(), Box: b, Boxes: 1, Displacement: 0.0028, Air: air.At(20)}
}

func strongFeed() supply.Feed {
	return supply.Feed{Volts: 14.4, Reserve: 60, BatteryVolts: 12.6, BatteryResistance: 0.02, CableResistance: 0.008}
}

func modestDrive() Drive {
	return Drive{Outputs: 1, Series: 1, Parallel: 1, Feed: strongFeed(),
		Source: amplifier.Source{OpenVoltage: 30, Resistance: 0.6, Current: 12, Efficiency: 0.6}}
}

func prepare(t testing.TB, s Setup, room *cabin.Response) *Prepared {
	t.Helper()
	p, err := Prepare(s, room)
	if err != nil {
		t.Fatal(err)
	}
	return p
}
