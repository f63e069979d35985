package audit

import (
	"testing"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
)

// What a block is said to need is what the search's model takes: just below the level
// that a source reaches there is a frequency at which it is enough, and just above none.
// The two go from the circuit to the coil by different ways.
func TestNeedsAreThoseOfTheModel(t *testing.T) {
	medium := air.At(20)
	room, err := cabin.Bodies()[0].Respond(bass.Grid(), "dash", "shut", 20)
	if err != nil {
		t.Fatal(err)
	}
	port := enclosure.Port{Count: 1, Diameter: 0.1, Length: 0.25, FlangedEnds: 1}
	boxes := map[string]enclosure.Box{
		"sealed": {Kind: enclosure.Sealed, Volume: 0.03}, "lossy": {Kind: enclosure.Sealed, Volume: 0.03, LeakQ: 3, AbsorptionQ: 8},
		"vented": {Kind: enclosure.Vented, Volume: 0.06, Port: port}, "leaky": {Kind: enclosure.Vented, Volume: 0.06, Port: port, LeakQ: 1.5},
		"band-pass": {Kind: enclosure.BandPass, Volume: 0.025, FrontVolume: 0.03, Port: enclosure.Port{Count: 2, Diameter: 0.1, Length: 0.12, FlangedEnds: 1}},
	}
	weak := supply.Feed{Volts: 13.8, Reserve: 5, BatteryVolts: 12.4, BatteryResistance: 0.05, CableResistance: 0.03}
	asked, above := 0, 0
	for name, box := range boxes {
		for _, card := range []driver.Card{
			{Size: 0.3048, Coils: 2, CoilLoad: 4, Fs: 30, Qts: 0.5, Vas: 0.058, Xmax: 0.012, Power: 400},
			{Size: 0.254, Coils: 1, CoilLoad: 4, Fs: 36, Qts: 0.6, Vas: 0.03, Xmax: 0.006, Power: 80, Le: 0.003},
		} {
			d, err := driver.Estimate(card, medium)
			if err != nil {
				t.Fatal(err)
			}
			displacement := enclosure.Displacement(card.Size)
			box.Drivers = 1
			for n := 1; n <= 2; n++ {
				p, err := bass.Prepare(bass.Setup{Driver: d, Box: box, Boxes: n, Displacement: displacement, Air: medium}, &room)
				if err != nil {
					t.Fatal(err)
				}
				c, err := box.Circuit(d, displacement, medium)
				if err != nil {
					t.Fatal(err)
				}
				for _, feed := range []supply.Feed{supply.Stiff(), weak} {
					for _, a := range []amplifier.Source{
						{OpenVoltage: 12, Resistance: 0.05, Current: 30, Efficiency: 0.8}, {OpenVoltage: 45, Resistance: 0.2, Current: 4, Efficiency: 0.7},
						{OpenVoltage: 60, Resistance: 0.1, Current: 60, Efficiency: 0.8}, {OpenVoltage: 30, Resistance: 2, Current: 20, Efficiency: 0.5},
					} {
						for _, limits := range []bass.Limits{bass.Reading(), bass.Music()} {
							s := source{2 * a.OpenVoltage * a.OpenVoltage, 2 * a.Current * a.Current, a.Resistance, a.Efficiency}
							drive := s.drive(n*d.Coils, feed)
							level := p.Loudest(drive, limits).Level
							enough := func(level float64) bool {
								line := feed.Line()
								for _, need := range newMotor(&d, n, level, limits, &room).needs(&c, nil) {
									if s.allows(&need, &line) {
										return true
									}
								}
								return false
							}
							if asked++; !enough(level - 2e-3) {
								t.Errorf("%s, %d of %g in, %+v: %.4f dB by the model, and not by the needs", name, n, card.Size/0.0254, a, level)
							}
							if enough(level + 2e-3) {
								above++
							}
						}
					}
				}
			}
		}
	}
	// The model ends at the first travel that is refused; a band-pass may need less beyond.
	if asked != 5*2*2*2*4*2 || above > asked/100 {
		t.Errorf("of %d levels %d are thought possible that the model denies", asked, above)
	}
}

// The best of two sources is nowhere weaker than either.
func TestBestOfTwoSources(t *testing.T) {
	a, b := source{100, 50, 0.1, 0.6}, source{80, 70, 0.05, 0.8}
	if a.best(b) != (source{100, 70, 0.05, 0.8}) || b.best(a) != a.best(b) {
		t.Errorf("%+v", a.best(b))
	}
}

// A blocker is the cheapest that leaves a pair the watts there are.
func TestCostOfABlocker(t *testing.T) {
	p := &pair{}
	p.costs[0] = []price{{10, 50}, {20, 20}, {30, 5}}
	p.costs[1] = []price{{0, 40}}
	for _, c := range []struct {
		highPass bool
		watts    float64
		want     int64
	}{{false, 60, 10}, {false, 50, 10}, {false, 49, 20}, {false, 5, 30}, {false, 4, boundless}, {true, 40, 0}, {true, 39, boundless}} {
		if got := p.cost(c.highPass, c.watts); got != c.want {
			t.Errorf("%+v: %d", c, got)
		}
	}
}

// The stereo channels of an amplifier give nothing where they are not rated, are none, or
// may not drive the load.
func TestStereoWatts(t *testing.T) {
	stereo, bridged := amplifier.Rating{Mode: amplifier.Stereo, Load: 4, Watts: 50}, amplifier.Rating{Mode: amplifier.Bridged, Load: 4, Watts: 150}
	for _, c := range []struct {
		spec  amplifier.Spec
		load  float64
		plays bool
	}{
		{amplifier.Spec{Channels: 2, Ratings: []amplifier.Rating{stereo}}, 4, true},
		{amplifier.Spec{Channels: 2, Ratings: []amplifier.Rating{stereo}}, 3.97, true},
		{amplifier.Spec{Channels: 2, Ratings: []amplifier.Rating{stereo}}, 3.9, false},
		{amplifier.Spec{Channels: 2, Ratings: []amplifier.Rating{stereo}}, 8, true},
		{amplifier.Spec{Channels: 2, Ratings: []amplifier.Rating{bridged}}, 8, false},
		{amplifier.Spec{Channels: 1, Ratings: []amplifier.Rating{stereo}}, 4, false},
	} {
		p := &piece{part: &catalog.Part{Amplifier: &catalog.Amplifier{Spec: c.spec}}}
		if got := stereoWatts(p, c.load); (got > 0) != c.plays {
			t.Errorf("%+v into %g ohm: %g W", c.spec, c.load, got)
		}
	}
}
