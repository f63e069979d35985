package bass

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/air"
	"loudfor/model/cabin"
	"loudfor/model/enclosure"
)

// hopeless asks the question of Prospect about a setup.
func hopeless(t interface {
	Helper()
	Fatalf(format string, values ...any)
}, s Setup, room *cabin.Response, level float64, d Drive, l Limits) bool {
	t.Helper()
	var aim, other Aim
	aim.Take(level, s.Boxes*s.Box.Drivers, room)
	other.Take(level-7, s.Boxes*s.Box.Drivers, room)
	displacement := s.Displacement
	if displacement == 0 {
		displacement = enclosure.Displacement(s.Driver.Size)
	}
	var target Target
	if err := target.Set(s.Box, displacement, &aim, nil, l, s.Air); err != nil {
		t.Fatalf("the setup could be prepared, and yet: %v", err)
	}
	// What each coil feels; the whole supply is for all of them.
	coils := s.Boxes * s.Box.Drivers * s.Driver.Coils
	each := d.Source
	each.OpenVoltage /= float64(d.Series)
	each.Resistance *= float64(d.Parallel) / float64(d.Series)
	each.Current /= float64(d.Parallel)
	volts, _, _ := d.Feed.Terminal(0, each.Efficiency)
	var h Horizon
	h.Look(&s.Driver, s.Boxes*s.Box.Drivers, each, volts, l, room)
	var p Prospect
	c, drive := choose(each), Drive{Outputs: coils, Series: 1, Parallel: 1, Source: each, Feed: d.Feed}
	p.Look(&s.Driver, &h, &aim, c, drive, l)
	verdict := p.Hopeless(&target)
	if p.Look(&s.Driver, &h, &other, c, drive, l); p.HopelessFor(&target, &aim) != verdict {
		t.Fatalf("having looked at another aim, the answer is not %v", verdict)
	}
	return verdict
}

// What is called hopeless stays below the level: far above it, just above it, and
// at it.
func TestHopelessIsQuieter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Setup{Driver: drawDriver(t), Box: drawBox(t), Boxes: rapid.IntRange(1, 3).Draw(t, "boxes"), Air: air.At(20)}
		s.Box.LeakQ, s.Box.AbsorptionQ = draw(t, "leak", 0.5, 100), draw(t, "absorption", 1, 300)
		room := drawRoom(t)
		if rapid.Bool().Draw(t, "a car") {
			room = car(Grid())
		}
		p, err := Prepare(s, room)
		if err != nil {
			t.Skip(err)
		}
		d, l := drawDrive(t, p), drawLimits(t)
		l.PortSpeed = draw(t, "port speed", 3, 100)
		got := p.Loudest(d, l).Level
		if got < -100 {
			t.Skip("nothing is heard")
		}
		for _, below := range []float64{0, 1e-9, 1e-3, 0.1, 1, 10} {
			if hopeless(t, s, room, got-below, d, l) {
				t.Fatalf("%v reads %.6f dB, and is called hopeless for %.6f dB", s.Box.Kind, got, got-below)
			}
		}
	})
}

// The same for what no shop sells; and nothing that is not a number counts for a proof.
func TestExtremesAreNotHopeless(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Setup{Driver: extremeDriver(t), Box: drawBox(t), Boxes: rapid.IntRange(1, 50).Draw(t, "boxes"), Displacement: 1e-4, Air: air.At(20)}
		s.Box.Volume, s.Box.FrontVolume = draw(t, "volume", 1e-3, 1e2), draw(t, "front", 1e-3, 1e2)
		s.Box.LeakQ, s.Box.AbsorptionQ = draw(t, "leak", 0.1, 1e6), draw(t, "absorption", 0.1, 1e6)
		room := drawRoom(t)
		for i := range room.Back {
			room.Back[i] *= complex(draw(t, "back", 1e-9, 1e9), 0)
			room.Transfer[i] *= complex(draw(t, "transfer", 1e-9, 1e9), 0)
		}
		p, err := Prepare(s, room)
		if err != nil {
			t.Skip(err)
		}
		d := drawDrive(t, p)
		d.Source.OpenVoltage, d.Source.Resistance = draw(t, "open", 1e-6, 1e6), draw(t, "resistance", 1e-6, 1e6)
		d.Source.Current, d.Source.Efficiency = draw(t, "amperes", 1e-6, 1e6), draw(t, "efficiency", 1e-3, 1)
		l := Limits{Overdrive: draw(t, "overdrive", 1e-3, 10), Burst: draw(t, "burst", 1e-3, 1e6),
			PortSpeed: draw(t, "speed", 1e-3, 1e3), CoilRise: draw(t, "rise", 1e-2, 1e4), Crest: draw(t, "crest", 0.1, 40)}
		got := p.Loudest(d, l).Level
		if got < -100 {
			t.Skip("nothing is heard")
		}
		for _, below := range []float64{0, 1e-3, 1} {
			if hopeless(t, s, room, got-below, d, l) {
				t.Fatalf("%v reads %.6f dB, and is called hopeless for %.6f dB", s.Box.Kind, got, got-below)
			}
		}
	})
}

// It is worth asking: with a level out of reach by a decibel most are found out.
// Left are drives so strong that the cone could go through the resonance of
// driver and box, where the force in phase has no sign.
func TestHopelessIsSharp(t *testing.T) {
	for name, b := range boxes() {
		room, found, all := car(Grid()), 0, 0
		for _, d := range manyDrives() {
			s := setup(b)
			level := prepare(t, s, room).Loudest(d, Reading()).Level
			all++
			if hopeless(t, s, room, level+1, d, Reading()) {
				found++
			}
		}
		if share, least := float64(found)/float64(all), 2.0/3; share < least {
			t.Errorf("%s: %.0f %% of what is a decibel short is found out, want %.0f %%", name, 100*share, 100*least)
		}
	}
}

func BenchmarkHopeless(b *testing.B) {
	each(b, func(b *testing.B, s Setup) {
		room, d := car(Grid()), modestDrive()
		level := prepare(b, s, room).Loudest(d, Reading()).Level + 1
		var aim Aim
		aim.Take(level, s.Boxes*s.Box.Drivers, room)
		var target Target
		if err := target.Set(s.Box, s.Displacement, &aim, nil, Reading(), s.Air); err != nil {
			b.Fatal(err)
		}
		volts, _, _ := d.Feed.Terminal(0, d.Source.Efficiency)
		var h Horizon
		h.Look(&s.Driver, 1, d.Source, volts, Reading(), room)
		var p Prospect
		p.Look(&s.Driver, &h, &aim, choose(d.Source), d, Reading())
		if math.IsNaN(aim.net[0]) {
			b.Fatal("no aim")
		}
		for b.Loop() {
			p.Hopeless(&target)
		}
	})
}

func BenchmarkProspect(b *testing.B) {
	s, room, d := setup(boxes()["sealed"]), car(Grid()), modestDrive()
	var aim Aim
	aim.Take(130, 1, room)
	var h Horizon
	h.Look(&s.Driver, 1, d.Source, 14.4, Reading(), room)
	var p Prospect
	for b.Loop() {
		p.Look(&s.Driver, &h, &aim, choose(d.Source), d, Reading())
	}
}

func BenchmarkTarget(b *testing.B) {
	each(b, func(b *testing.B, s Setup) {
		var aim Aim
		aim.Take(130, 1, car(Grid()))
		var target Target
		for b.Loop() {
			if err := target.Set(s.Box, s.Displacement, &aim, nil, Reading(), s.Air); err != nil {
				b.Fatal(err)
			}
		}
	})
}
