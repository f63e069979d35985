package bass

import (
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/enclosure"
)

func choose(all ...amplifier.Source) *Choice {
	var c Choice
	for _, s := range all {
		c.Add(s)
	}
	return c.Closed()
}

// covering is the weakest source that is nowhere weaker than any of some.
func covering(all []amplifier.Source) amplifier.Source {
	e := all[0]
	for _, s := range all {
		e.OpenVoltage, e.Current = max(e.OpenVoltage, s.OpenVoltage), max(e.Current, s.Current)
		e.Resistance, e.Efficiency = min(e.Resistance, s.Resistance), max(e.Efficiency, s.Efficiency)
	}
	return e
}

// Whatever one of the sources reaches is not called hopeless for all of them, nor
// is it denied that one does: by the choice, of which each is a part, and after
// other questions.
func TestChoiceCoversEach(t *testing.T) {
	room := car(Grid())
	rapid.Check(t, func(t *rapid.T) {
		s := Setup{Driver: drawDriver(t), Box: drawBox(t), Boxes: rapid.IntRange(1, 3).Draw(t, "boxes"), Air: air.At(20)}
		p, err := Prepare(s, room)
		if err != nil {
			t.Skip(err)
		}
		coils := s.Boxes * s.Box.Drivers * s.Driver.Coils
		d, l := Drive{Outputs: coils, Series: 1, Parallel: 1, Feed: drawDrive(t, p).Feed}, drawLimits(t)
		l.PortSpeed = draw(t, "port speed", 3, 100)
		var all []amplifier.Source
		for range rapid.IntRange(1, 6).Draw(t, "sources") {
			all = append(all, amplifier.Source{OpenVoltage: draw(t, "open", 1, 100), Resistance: draw(t, "resistance", 0.01, 3),
				Current: draw(t, "amperes", 0.3, 50), Efficiency: draw(t, "efficiency", 0.4, 0.9)})
		}
		c, envelope := choose(all...), d
		envelope.Source = covering(all)
		var aim Aim
		var target Target
		var h Horizon
		var prospect Prospect
		for _, source := range all {
			d.Source = source
			own, err := Prepare(s, room)
			if err != nil {
				t.Fatal(err)
			}
			level := own.Loudest(d, l).Level
			if level < -100 {
				continue
			}
			for _, below := range []float64{1e-9, 1e-3, 0.1, 1, 10} {
				if !p.AnyExceeds(level-below, c, envelope, l) {
					t.Fatalf("%+v reads %.6f dB, and none is to exceed %.6f dB", source, level, level-below)
				}
			}
			aim.Take(level, s.Boxes*s.Box.Drivers, room)
			if err := target.Set(s.Box, enclosure.Displacement(s.Driver.Size), &aim, nil, l, s.Air); err != nil {
				t.Fatal(err)
			}
			volts, _, _ := d.Feed.Terminal(0, envelope.Source.Efficiency)
			h.Look(&s.Driver, s.Boxes*s.Box.Drivers, envelope.Source, volts, l, room)
			prospect.Look(&s.Driver, &h, &aim, c, envelope, l)
			if prospect.Hopeless(&target) {
				t.Fatalf("%+v reads %.6f dB, for which all are called hopeless", source, level)
			}
		}
	})
}

// A choice of one is that one, on both sides of its level; and two of which one
// has the voltage and the other the current are not taken for one with both.
func TestChoiceIsSharp(t *testing.T) {
	room := car(Grid())
	for name, b := range boxes() {
		s := setup(b)
		for _, d := range manyDrives() {
			p := prepare(t, s, room)
			level := p.Loudest(d, Reading()).Level
			if p.AnyExceeds(level+1e-3, choose(d.Source), d, Reading()) {
				t.Errorf("%s: %+v exceeds its level", name, d.Source)
			}
			if !p.AnyExceeds(level-1e-3, choose(d.Source), d, Reading()) {
				t.Errorf("%s: %+v does not reach its level", name, d.Source)
			}
		}
		high, strong := modestDrive(), modestDrive()
		high.Source.OpenVoltage, high.Source.Current = 200, 1.5
		strong.Source.OpenVoltage, strong.Source.Current = 6, 60
		p, both := prepare(t, s, room), high
		both.Source = covering([]amplifier.Source{high.Source, strong.Source})
		level := max(p.Loudest(high, Reading()).Level, p.Loudest(strong, Reading()).Level) + 2
		if !p.Exceeds(level, both, Reading()) {
			t.Errorf("%s: the envelope is no stronger than its parts, so this test says nothing", name)
		}
		if p.AnyExceeds(level, choose(high.Source, strong.Source), both, Reading()) {
			t.Errorf("%s: two are taken for one with the voltage of one and the current of the other", name)
		}
	}
}
