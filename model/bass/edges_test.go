package bass

import (
	"math"
	"reflect"
	"testing"

	"loudfor/model/enclosure"
	"loudfor/model/supply"
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

// A source so weak that the first watt takes much of its supply: what one coil
// reaches by it is not denied to the choice of it alone.
func TestChoiceOfLessThanAWatt(t *testing.T) {
	room := car(Grid())
	for name, box := range boxes() {
		s := setup(box)
		for volts := 0.2; volts < 3; volts *= 1.2 {
			d := modestDrive()
			d.Source.OpenVoltage, d.Source.Efficiency = volts, 0.5
			d.Feed = supply.Feed{Volts: 14.4, BatteryVolts: 12.6, BatteryResistance: 20, CableResistance: 20}
			level := prepare(t, s, room).Loudest(d, Reading()).Level
			for _, below := range []float64{1e-6, 1e-3, 0.1} {
				if !prepare(t, s, room).AnyExceeds(level-below, choose(d.Source), d, Reading()) {
					t.Errorf("%s, %.2f V: reads %.6f dB, and is not to exceed %.6f dB", name, volts, level, level-below)
				}
			}
			if prepare(t, s, room).AnyExceeds(level+1e-6, choose(d.Source), d, Reading()) {
				t.Errorf("%s, %.2f V: exceeds its %.6f dB", name, volts, level)
			}
		}
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
