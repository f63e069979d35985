package bass

import (
	"math"
	"reflect"
	"testing"

	"loudfor/model/amplifier"
	"loudfor/model/enclosure"
)

// What holds at the ends of ranges, and how sharp the bounds are: one that is too
// careful errs in no answer, and so no other test sees it.

// From which level on a box is called hopeless is the same for a cluster of that box
// alone: to the last digits where it is sealed, and a hair above where its port
// chokes.
func TestClusterOfOneIsItsBox(t *testing.T) {
	room := car(Grid())
	lossy := sealedBox()
	lossy.LeakQ, lossy.AbsorptionQ = 4, 9
	for name, c := range map[string]struct {
		box   enclosure.Box
		apart float64 // dB
	}{
		"sealed": {sealedBox(), 1e-9}, "lossy": {lossy, 1e-9}, "vented": {ventedBox(), 0.05}, "band-pass": {bandPassBox(), 0.15},
	} {
		s := setup(c.box)
		for i, d := range manyDrives() {
			if i%20 > 0 {
				continue
			}
			var h Horizon
			volts, _, _ := d.Feed.Terminal(0, d.Source.Efficiency)
			h.Look(&s.Driver, 1, d.Source, volts, Reading(), room)
			begins := func(hopeless func(p *Prospect, target *Target) bool) float64 {
				low, high := 60.0, 170.0
				for high-low > 1e-10 {
					level := (low + high) / 2
					var aim Aim
					var target Target
					aim.Take(level, 1, room)
					if err := target.Set(c.box, s.Displacement, &aim, nil, Reading(), s.Air); err != nil {
						t.Fatal(err)
					}
					var p Prospect
					p.Look(&s.Driver, &h, &aim, choose(d.Source), d, Reading())
					if hopeless(&p, &target) {
						high = level
					} else {
						low = level
					}
				}
				return high
			}
			alone := begins((*Prospect).Hopeless)
			cluster := begins(func(p *Prospect, target *Target) bool {
				var one Cluster
				one.Set(target)
				return p.AllHopeless(&one)
			})
			if !(cluster >= alone-1e-9 && cluster-alone <= c.apart) {
				t.Errorf("%s, drive %d: hopeless from %.9f dB, a cluster of it from %.9f dB", name, i, alone, cluster)
			}
		}
	}
}

// A target that was set before is the same as a fresh one.
func TestTargetForgets(t *testing.T) {
	room := car(Grid())
	var aim Aim
	aim.Take(120, 1, room)
	free := Reading()
	free.PortSpeed = 0 // no limit
	var used Target
	for _, c := range []struct {
		box enclosure.Box
		l   Limits
	}{{ventedBox(), Reading()}, {ventedBox(), free}, {sealedBox(), free}, {bandPassBox(), Reading()}, {ventedBox(), free}} {
		var fresh Target
		for _, target := range []*Target{&fresh, &used} {
			if err := target.Set(c.box, 1e-3, &aim, nil, c.l, setup(c.box).Air); err != nil {
				t.Fatal(err)
			}
		}
		if fresh.kind != enclosure.Sealed && len(fresh.steps) == 0 {
			t.Fatal("no frequency is in reach")
		}
		if fresh.kind == enclosure.Sealed {
			fresh.grows, fresh.most, fresh.steps = used.grows, used.most, used.steps // of ports
		}
		if !reflect.DeepEqual(fresh, used) {
			t.Errorf("%v: %+v after others, %+v at first", c.box.Kind, used, fresh)
		}
	}
}

// Two of the same current, of which one has the voltage and the other next to no
// resistance, are not taken for one with both.
func TestChoiceKnowsResistance(t *testing.T) {
	room := car(Grid())
	for name, box := range boxes() {
		s := setup(box)
		high, stiff := modestDrive(), modestDrive()
		high.Source.OpenVoltage, high.Source.Resistance, high.Source.Current = 40, 8, 40
		stiff.Source.OpenVoltage, stiff.Source.Resistance, stiff.Source.Current = 14, 0.1, 40
		p, both := prepare(t, s, room), high
		both.Source = covering([]amplifier.Source{high.Source, stiff.Source})
		level := max(p.Loudest(high, Reading()).Level, p.Loudest(stiff, Reading()).Level) + 1
		if !p.Exceeds(level, both, Reading()) {
			t.Errorf("%s: the envelope is no stronger than its parts, so this test says nothing", name)
		}
		if p.AnyExceeds(level, choose(high.Source, stiff.Source), both, Reading()) {
			t.Errorf("%s: two are taken for one with the voltage of one and the resistance of the other", name)
		}
	}
}

// What a drive reached bounds it: asked once more with that as its ceilings, it gets
// there again, on a grid that misses the band centres as well.
func TestBandsReachTheirOwnCeilings(t *testing.T) {
	var hz []float64
	for f := 17.0; f < 140; f *= 1.09 {
		hz = append(hz, f)
	}
	for name, box := range boxes() {
		for _, slope := range []float64{-2, 0, 2} {
			room := car(hz)
			for i, f := range hz {
				room.Transfer[i] *= complex(math.Pow(f/50, slope), 0)
			}
			p, d, l := prepare(t, setup(box), room), modestDrive(), Music()
			var c Ceilings
			for i := range c {
				c[i] = 200
			}
			mean, ok := p.BandsAbove(0, d, l, &c)
			if want := p.Bands(d, l); !ok || math.Abs(mean-want) > 1e-9 {
				t.Errorf("%s: %.9f dB, %t, by the definition %.9f dB", name, mean, ok, want)
			}
			for _, below := range []float64{1e-6, 1e-3, 1} {
				own := c
				if again, ok := p.BandsAbove(mean-below, d, l, &own); !ok || again != mean {
					t.Errorf("%s: %.9f dB, %t below its %.9f dB", name, again, ok, mean)
				}
			}
			own := c
			if _, ok := p.BandsAbove(mean+1e-3, d, l, &own); ok {
				t.Errorf("%s: above itself", name)
			}
		}
	}
}

// The mouth of a band-pass box is what its port moves at the highest frequency with
// what the leak lets out beside it; at no frequency does more come out.
func TestMouthOfALeakyBandPass(t *testing.T) {
	box, l := bandPassBox(), Reading()
	box.LeakQ = 0.6
	s := setup(box)
	const highest = 120.0
	m, err := MouthOf(box, l, s.Air, highest)
	if err != nil {
		t.Fatal(err)
	}
	c, err := box.Circuit(s.Driver, s.Displacement, s.Air)
	if err != nil {
		t.Fatal(err)
	}
	most := 0.0
	for hz := 10.0; hz <= highest; hz += 0.5 {
		var load enclosure.Load
		c.Load(2*math.Pi*hz, 0, &load)
		most = max(most, math.Sqrt(load.Net2(l.PortSpeed*c.PortArea)))
	}
	if !(most <= m.Port*(1+1e-9) && most > 0.8*m.Port) {
		t.Errorf("%g m3/s come out at most, and the mouth is %g m3/s", most, m.Port)
	}
}

// A coil that no tone has time to warm may be allowed no warmth at all.
func TestColdCoilNeedsNoRise(t *testing.T) {
	p := prepare(t, setup(sealedBox()), car(Grid()))
	cold, free := Reading(), Reading()
	cold.Burst, cold.CoilRise = 0, 0
	free.Burst, free.CoilRise = 0, math.Inf(1)
	if a, b := p.Loudest(modestDrive(), cold), p.Loudest(modestDrive(), free); a != b {
		t.Errorf("%+v without any rise, %+v with every", a, b)
	}
}
