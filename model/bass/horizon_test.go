package bass

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/cabin"
)

// No box takes a driver beyond its horizon.
func TestHorizonBoundsEveryBox(t *testing.T) {
	room := car(Grid())
	open := openField(Grid())
	rapid.Check(t, func(t *rapid.T) {
		d := twelve()
		for _, v := range []*float64{&d.Re, &d.Le, &d.Mms, &d.Cms, &d.Rms, &d.Sd, &d.Xmax, &d.Bl} {
			*v *= rapid.Float64Range(0.6, 1.6).Draw(t, "factor")
		}
		all := boxes()
		name := rapid.SampledFrom([]string{"sealed", "vented", "band-pass"}).Draw(t, "box")
		b, ok := all[name]
		if !ok {
			t.Fatalf("no box %q among the fixtures", name)
		}
		b.Volume *= rapid.Float64Range(0.7, 2).Draw(t, "volume")
		if rapid.Bool().Draw(t, "open field") {
			room = open
		} else {
			room = car(Grid())
		}
		s := setup(b)
		s.Driver = d
		s.Boxes = rapid.IntRange(1, 3).Draw(t, "boxes")
		p, err := Prepare(s, room)
		if err != nil {
			t.Skip(err.Error())
		}
		source := amplifier.Source{
			OpenVoltage: rapid.Float64Range(1, 90).Draw(t, "volts"), Resistance: rapid.Float64Range(0, 2).Draw(t, "ohm"),
			Current: rapid.Float64Range(1, 60).Draw(t, "amps"), Efficiency: 0.8,
		}
		drive := Drive{Outputs: p.Drivers() * d.Coils, Series: 1, Parallel: 1, Source: source, Feed: strongFeed()}
		volts, _, _ := drive.Feed.Terminal(0, source.Efficiency)
		for _, l := range []Limits{Reading(), Music()} {
			m, err := MouthOf(b, l, air.At(20), room.Hz[len(room.Hz)-1])
			if err != nil {
				t.Fatal(err)
			}
			var h Horizon
			h.Look(&d, p.Drivers(), source, volts, l, room)
			const rounding = 1e-6 // dB
			got, most := p.Loudest(drive, l).Level, h.Loudest(m)
			if got > most+rounding {
				t.Fatalf("%s reads %.3f dB, beyond its horizon of %.3f dB", name, got, most)
			}
			var aim Aim
			aim.Take(got-0.5, p.Drivers(), room)
			open, shut := h.Narrow(&aim)
			if a, b := h.Narrowest(got-0.5-aimSlack, true), h.Narrowest(got-0.5-aimSlack, false); !near(open, a) || !near(shut, b) {
				t.Fatalf("%s: the narrowest ports are %g and %g m3/s, for an aim %g and %g", name, a, b, open, shut)
			}
			var some cabin.Response
			if h.Above(got-0.5, m, room, &some); len(some.Hz) > 0 {
				if q, err := Prepare(s, &some); err != nil || math.Abs(q.Loudest(drive, l).Level-got) > rounding {
					t.Fatalf("%s reads otherwise at the %d frequencies above %.3f dB", name, len(some.Hz), got-0.5)
				}
			} else {
				t.Fatalf("%s reads %.3f dB, and no frequency is above", name, got)
			}
			BandsOnly(room, &some)
			if q, err := Prepare(s, &some); err != nil || q.Bands(drive, l) != p.Bands(drive, l) {
				t.Fatalf("%s plays otherwise at the %d frequencies of its bands", name, len(some.Hz))
			}
			if got, most := p.Bands(drive, l), h.Bands(m); got > most+rounding {
				t.Fatalf("%s plays %.3f dB, beyond its horizon of %.3f dB", name, got, most)
			}
		}
	})
}

// A coil of much inductance, which turns the current, is bounded at every frequency
// by itself: over a whole grid the loudest hides all others.
func TestHorizonBoundsEveryFrequency(t *testing.T) {
	room := car(Grid())
	s, drive, l := setup(sealedBox()), modestDrive(), Reading()
	s.Driver.Le *= 6
	drive.Source.OpenVoltage, drive.Source.Current, drive.Source.Resistance = 5, 100, 0
	volts, _, _ := drive.Feed.Terminal(0, drive.Source.Efficiency)
	closest := math.Inf(1)
	for i := range room.Hz {
		one := &cabin.Response{Hz: room.Hz[i : i+1], Transfer: room.Transfer[i : i+1], Back: room.Back[i : i+1]}
		var h Horizon
		h.Look(&s.Driver, 1, drive.Source, volts, l, one)
		m, err := MouthOf(s.Box, l, s.Air, one.Hz[0])
		if err != nil {
			t.Fatal(err)
		}
		got, most := prepare(t, s, one).Loudest(drive, l).Level, h.Loudest(m)
		closest = min(closest, most-got)
		if got > most+1e-6 {
			t.Errorf("%g Hz: %.3f dB, beyond the horizon of %.3f dB", one.Hz[0], got, most)
		}
	}
	if closest > 2 {
		t.Errorf("the horizon is %.2f dB away, so this test says little", closest)
	}
}

// near says that two figures differ by rounding.
func near(a, b float64) bool { return a == b || math.Abs(a-b) <= 1e-9*math.Abs(b) }

// Where the port sets the limit the bound is met, and the loudest travel is a little
// beyond it.
func TestHorizonAtThePort(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	met := 0
	for n := range 1000 {
		room := openField([]float64{30 + 90*r.Float64()})
		d, b := twelve(), boxes()["band-pass"]
		d.Xmax *= 1.6
		d.Mms *= 0.6 + r.Float64()
		d.Cms *= 0.6 + r.Float64()
		b.Volume *= 0.7 + 1.3*r.Float64()
		b.Port.Diameter = 0.02 + 0.05*r.Float64()
		s := setup(b)
		s.Driver = d
		p, err := Prepare(s, room)
		if err != nil {
			continue
		}
		m, err := MouthOf(b, Reading(), air.At(20), room.Hz[len(room.Hz)-1])
		if err != nil {
			t.Fatal(err)
		}
		drive := Drive{Outputs: p.Drivers() * d.Coils, Series: 1, Parallel: 1, Feed: strongFeed(),
			Source: amplifier.Source{OpenVoltage: 40 + 40*r.Float64(), Current: 60, Efficiency: 0.8}}
		volts, _, _ := drive.Feed.Terminal(0, drive.Source.Efficiency)
		var h Horizon
		h.Look(&d, p.Drivers(), drive.Source, volts, Reading(), room)
		switch got, most := p.Loudest(drive, Reading()).Level, h.Loudest(m); {
		case got > most:
			t.Fatalf("case %d: %.9f dB, beyond the horizon of %.9f dB", n, got, most)
		case got > most-1e-5:
			met++
		}
	}
	if met < 50 {
		t.Fatalf("the port sets the level in %d cases", met)
	}
}

func BenchmarkHorizon(b *testing.B) {
	d, room := twelve(), car(Grid())
	var h Horizon
	for b.Loop() {
		h.Look(&d, 1, amplifier.Source{OpenVoltage: 20, Resistance: 0.1}, amplifier.RatedSupply, Reading(), room)
	}
}
