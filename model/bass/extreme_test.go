package bass

import (
	"math"
	"sync"
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/supply"
)

// Everything that passes the checks, over many decades: nothing that comes out
// is not a number or infinite, and the laws hold there too.
func TestExtremesStayFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := extremeDriver(t)
		b := drawBox(t)
		b.Volume, b.FrontVolume = draw(t, "volume", 1e-3, 1e2), draw(t, "front", 1e-3, 1e2)
		b.LeakQ, b.AbsorptionQ = draw(t, "leak", 0.1, 1e6), draw(t, "absorption", 0.1, 1e6)
		room := &cabin.Response{}
		f := draw(t, "first Hz", lowestHz, 1e3)
		number := func(name string) float64 {
			if rapid.IntRange(0, 9).Draw(t, name+" is nothing") == 0 {
				return 0
			}
			v := draw(t, name, 1e-37, 1e37)
			if rapid.Bool().Draw(t, name+" below zero") {
				v = -v
			}
			return v
		}
		for range rapid.IntRange(1, 6).Draw(t, "points") {
			room.Hz = append(room.Hz, f)
			room.Transfer = append(room.Transfer, complex(number("transfer"), number("transfer")))
			room.Back = append(room.Back, complex(number("back"), number("back")))
			f *= draw(t, "step", 1.001, 2)
		}
		s := Setup{Driver: d, Box: b, Boxes: rapid.IntRange(1, 50).Draw(t, "boxes"), Displacement: 1e-4, Air: air.At(20)}
		p, err := Prepare(s, room)
		if err != nil {
			t.Skip(err)
		}
		a := Drive{Outputs: 1, Series: rapid.IntRange(1, 8).Draw(t, "series"), Parallel: rapid.IntRange(1, 8).Draw(t, "parallel"),
			Source: amplifier.Source{OpenVoltage: draw(t, "open", 1e-6, 1e6), Resistance: draw(t, "resistance", 1e-6, 1e6),
				Current: draw(t, "current", 1e-6, 1e6), Efficiency: draw(t, "efficiency", 1e-3, 1)},
			Feed: supply.Feed{Volts: draw(t, "volts", 1, 100), Reserve: draw(t, "reserve", 1e-6, 1e4), BatteryVolts: draw(t, "battery", 1, 100),
				BatteryResistance: draw(t, "inside", 1e-6, 10), CableResistance: draw(t, "cable", 1e-6, 10)}}
		l := Limits{Overdrive: draw(t, "overdrive", 1e-3, 10), Burst: draw(t, "burst", 1e-3, 1e6),
			PortSpeed: draw(t, "speed", 1e-3, 1e3), CoilRise: draw(t, "rise", 1e-2, 1e4), Crest: draw(t, "crest", 0.1, 40)}
		for i, o := range p.Curve(a, l) {
			finiteOperation(t, o)
			finiteOperation(t, p.SmallSignal(i, a, 1))
			finiteOperation(t, p.At(i, Drive{}, l))
		}
		loudest := p.Loudest(a, l)
		var bound bounds
		p.bind(a, l, &bound)
		if _, want := plainLoudest(p, &bound); math.Abs(loudest.Level-level(want.sound)) > lawTolerance {
			t.Fatalf("loudest %v, by the definition %v", loudest.Level, level(want.sound))
		}
		finiteOperation(t, loudest)
		ceiling, music := p.Ceiling(l), MusicLevel(p, a)
		if math.IsNaN(ceiling-music) || math.IsInf(ceiling-music, 0) {
			t.Fatalf("ceiling %g, music %g", ceiling, music)
		}
		if loudest.Level > ceiling+lawTolerance {
			t.Fatalf("%g dB above the ceiling of %g", loudest.Level, ceiling)
		}
	})
}

// extremeDriver is one that passes the checks.
func extremeDriver(t *rapid.T) driver.Driver {
	return driver.Driver{
		Size: draw(t, "size", 0.01, 2), Coils: rapid.IntRange(1, 4).Draw(t, "coils"), CoilLoad: 4,
		Re: draw(t, "Re", 1e-3, 1e3), Bl: draw(t, "Bl", 1e-3, 1e3), Mms: draw(t, "Mms", 1e-5, 10),
		Cms: draw(t, "Cms", 1e-7, 0.1), Rms: draw(t, "Rms", 1e-4, 1e3), Sd: draw(t, "Sd", 1e-4, 1),
		Xmax: draw(t, "Xmax", 1e-5, 0.2), Power: draw(t, "power", 0.1, 1e6),
		Le: draw(t, "Le", 1e-7, 1), L2: draw(t, "L2", 1e-7, 1), R2: draw(t, "R2", 1e-4, 1e4),
	}
}

// A Prepared may be shared: many at once give the same as one alone.
func TestSharedPrepared(t *testing.T) {
	for name, b := range boxes() {
		shared, alone := prepare(t, setup(b), car(Grid())), prepare(t, setup(b), car(Grid()))
		ds := manyDrives()
		want := make([]Operation, len(ds))
		for i, d := range ds {
			want[i] = alone.Loudest(d, Reading())
		}
		var group sync.WaitGroup
		for worker := range 4 {
			group.Add(1)
			go func() {
				defer group.Done()
				for i := range ds {
					i = (i*(2*worker+1) + 50*worker) % len(ds)
					if got := shared.Loudest(ds[i], Reading()); got != want[i] {
						t.Errorf("%s, drive %d: %+v, alone %+v", name, i, got, want[i])
						return
					}
				}
			}()
		}
		group.Wait()
	}
}
