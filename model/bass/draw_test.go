package bass

import (
	"math"

	"pgregory.net/rapid"

	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
)

// Random equipment, far beyond the sensible on purpose: a law that the search
// relies on must hold for bad parts too.

func draw(t *rapid.T, name string, low, high float64) float64 {
	return low * math.Pow(high/low, rapid.Float64Range(0, 1).Draw(t, name))
}

func drawDriver(t *rapid.T) driver.Driver {
	d := driver.Driver{
		Size: draw(t, "size", 0.1, 0.6), Coils: rapid.IntRange(1, 2).Draw(t, "coils"), CoilLoad: 4,
		Re: draw(t, "Re", 0.3, 15), Xmax: draw(t, "Xmax", 1e-3, 0.04), Power: draw(t, "power", 20, 5000),
		Fs: draw(t, "fs", 12, 120), Qms: draw(t, "Qms", 0.5, 30), Qes: draw(t, "Qes", 0.1, 20), Vas: draw(t, "Vas", 1e-3, 0.5),
	}
	d.Sd = math.Pi / 4 * d.Size * d.Size * 0.7
	if rapid.Bool().Draw(t, "inductive") {
		d.Le = draw(t, "Le", 1e-4, 1e-2)
		d.L2, d.R2 = d.Le, 3000*d.Le
	}
	return build(d)
}

func drawBox(t *rapid.T) enclosure.Box {
	b := enclosure.Box{
		Kind:    rapid.SampledFrom([]enclosure.Kind{enclosure.Sealed, enclosure.Vented, enclosure.BandPass}).Draw(t, "kind"),
		Drivers: rapid.IntRange(1, 2).Draw(t, "drivers"),
	}
	b.Volume = draw(t, "volume", 0.01, 0.4)
	b.FrontVolume = draw(t, "front volume", 0.01, 0.4)
	if rapid.Bool().Draw(t, "tuning stated") {
		b.Tuning = draw(t, "tuning", 15, 120)
	} else {
		b.Port = enclosure.Port{Count: 1, Diameter: draw(t, "port", 0.03, 0.2), Length: draw(t, "length", 0.01, 0.5), FlangedEnds: 1}
	}
	return b
}

// drawRoom draws a car of 1 to 12 points, not smooth over frequency, since
// nothing may depend on that.
func drawRoom(t *rapid.T) *cabin.Response {
	r := &cabin.Response{}
	f := draw(t, "first Hz", 8, 40)
	for range rapid.IntRange(1, 12).Draw(t, "points") {
		r.Hz = append(r.Hz, f)
		r.Transfer = append(r.Transfer, complex(draw(t, "transfer", 1, 1e5), draw(t, "transfer", 1, 1e5)))
		back := complex(draw(t, "back", 1, 1e5), rapid.Float64Range(-5e4, 5e4).Draw(t, "back"))
		if rapid.Bool().Draw(t, "open") {
			back = 0
		}
		r.Back = append(r.Back, back)
		f *= draw(t, "step", 1.01, 1.3)
	}
	return r
}

func drawPrepared(t *rapid.T) *Prepared {
	s := Setup{Driver: drawDriver(t), Box: drawBox(t), Boxes: rapid.IntRange(1, 2).Draw(t, "boxes"),
		Displacement: 0.001, Air: air.At(20)}
	p, err := Prepare(s, drawRoom(t))
	if err != nil {
		t.Skip(err)
	}
	return p
}

func drawDrive(t *rapid.T, p *Prepared) Drive {
	d := Drive{Outputs: 1, Series: 1, Parallel: int(p.coils)}
	if rapid.Bool().Draw(t, "all in series") {
		d.Series, d.Parallel = d.Parallel, d.Series
	}
	d.Source = amplifier.Source{
		OpenVoltage: draw(t, "open voltage", 0.5, 300), Resistance: rapid.Float64Range(0, 8).Draw(t, "resistance"),
		Current: draw(t, "current", 0.3, 200), Efficiency: rapid.Float64Range(0.3, 0.95).Draw(t, "efficiency"),
	}
	reserve := 0.0 // engine off
	if rapid.Bool().Draw(t, "engine running") {
		reserve = rapid.Float64Range(5, 100).Draw(t, "reserve")
	}
	d.Feed = supply.Feed{Volts: 14.4, Reserve: reserve, BatteryVolts: 12.6,
		BatteryResistance: rapid.Float64Range(0.001, 0.1).Draw(t, "battery"), CableResistance: rapid.Float64Range(0, 0.05).Draw(t, "cable")}
	return d
}

func drawLimits(t *rapid.T) Limits {
	l := rapid.SampledFrom([]Limits{Reading(), Music()}).Draw(t, "limits")
	l.Overdrive = rapid.Float64Range(0.3, MostOverdrive).Draw(t, "overdrive")
	return l
}
