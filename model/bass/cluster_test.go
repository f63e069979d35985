package bass

import (
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/enclosure"
)

// flock draws boxes of one kind for one driver that are not too unlike.
func flock(t *rapid.T, d Setup) (all []enclosure.Box) {
	first := d.Box
	for range rapid.IntRange(1, 6).Draw(t, "boxes alike") {
		b, spread := first, rapid.SampledFrom([]float64{1, 1.02, 1.2, 2}).Draw(t, "spread")
		scale := func(name string) float64 { return draw(t, name, 1/spread, spread*1.0001) }
		b.Volume, b.FrontVolume = b.Volume*scale("volume"), b.FrontVolume*scale("front")
		b.Tuning *= scale("tuning")
		b.LeakQ, b.AbsorptionQ = draw(t, "leak", 0.5, 100), draw(t, "absorption", 1, 300)
		b.Port.Length *= scale("length")
		all = append(all, b)
	}
	return all
}

// What a cluster calls hopeless in all its boxes is below the level in each.
func TestClusterCoversEach(t *testing.T) {
	room, hopeless := car(Grid()), 0
	rapid.Check(t, func(t *rapid.T) {
		s := Setup{Driver: drawDriver(t), Box: drawBox(t), Boxes: rapid.IntRange(1, 3).Draw(t, "boxes"), Air: air.At(20)}
		l := drawLimits(t)
		l.PortSpeed = draw(t, "port speed", 3, 100)
		source := amplifier.Source{OpenVoltage: draw(t, "open", 1, 100), Resistance: draw(t, "resistance", 0.01, 3),
			Current: draw(t, "amperes", 0.3, 50), Efficiency: draw(t, "efficiency", 0.4, 0.9)}
		drivers := s.Boxes * s.Box.Drivers
		d := Drive{Outputs: drivers * s.Driver.Coils, Series: 1, Parallel: 1, Source: source, Feed: strongFeed()}
		displacement := enclosure.Displacement(s.Driver.Size)
		loudest := -200.0
		var usable []enclosure.Box
		for _, b := range flock(t, s) {
			s.Box = b
			p, err := Prepare(s, room)
			if err != nil {
				continue
			}
			usable, loudest = append(usable, b), max(loudest, p.Loudest(d, l).Level)
		}
		if loudest < -100 {
			t.Skip("nothing is heard")
		}
		var h Horizon
		volts, _, _ := d.Feed.Terminal(0, source.Efficiency)
		h.Look(&s.Driver, drivers, source, volts, l, room)
		for _, above := range []float64{-3, -1e-3, 0, 0.5, 3} {
			var aim Aim
			aim.Take(loudest+above, drivers, room)
			all := new(Cluster)
			for i, b := range usable {
				var target Target
				if err := target.Set(b, displacement, &aim, nil, l, s.Air); err != nil {
					t.Fatal(err)
				}
				one, both := new(Cluster), new(Cluster)
				one.Set(&target)
				if i == 0 {
					all = one
					continue
				}
				both.Join(all, one)
				all = both
			}
			if all.size != len(usable) {
				t.Fatalf("a cluster of %d, not %d", all.size, len(usable))
			}
			var p Prospect
			p.Look(&s.Driver, &h, &aim, choose(source), d, l)
			if p.AllHopeless(all) {
				if hopeless++; above <= 0 {
					t.Fatalf("one reads %.6f dB, and all are called hopeless for %.6f dB", loudest, loudest+above)
				}
			}
		}
	})
	if hopeless < 30 && !testing.Short() { // few draws give few
		t.Errorf("%d clusters are hopeless: the cases say little", hopeless)
	}
}

// A cluster of one is as sharp as its target, and one of close neighbours hardly
// less.
func TestClusterIsSharp(t *testing.T) {
	room := car(Grid())
	for name, box := range boxes() {
		one, many, all := 0, 0, 0
		for _, d := range manyDrives() {
			s := setup(box)
			level := prepare(t, s, room).Loudest(d, Reading()).Level + 2
			if !hopeless(t, s, room, level, d, Reading()) {
				continue
			}
			all++
			var aim Aim
			aim.Take(level, 1, room)
			var h Horizon
			volts, _, _ := d.Feed.Terminal(0, d.Source.Efficiency)
			h.Look(&s.Driver, 1, d.Source, volts, Reading(), room)
			var p Prospect
			p.Look(&s.Driver, &h, &aim, choose(d.Source), d, Reading())
			var clusters [3]Cluster
			for i, scale := range []float64{1, 1.01} {
				var target Target
				b := box
				b.Volume *= scale
				b.FrontVolume *= scale
				if err := target.Set(b, s.Displacement, &aim, nil, Reading(), s.Air); err != nil {
					t.Fatal(err)
				}
				clusters[i].Set(&target)
			}
			clusters[2].Join(&clusters[0], &clusters[1])
			if p.AllHopeless(&clusters[0]) {
				one++
			}
			if p.AllHopeless(&clusters[2]) {
				many++
			}
		}
		if all == 0 || one < all*9/10 || many < all*2/3 {
			t.Errorf("%s: of %d found out alone %d are as a cluster of one, %d with a neighbour", name, all, one, many)
		}
	}
}

// What a cluster asks for at a frequency is the least and the widest of what its boxes
// ask for there, and it has every frequency that one of them has.
func TestJoinedSpans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := map[int]span{}
		side := func(name string) (c Cluster) {
			at := 0
			for range rapid.IntRange(0, 5).Draw(t, name) {
				at += rapid.IntRange(1, 3).Draw(t, "further")
				v := func() float64 { return float64(rapid.IntRange(-9, 9).Draw(t, "value")) }
				s := span{at, v(), v(), v(), v(), v(), v(), v()}
				c.spans = append(c.spans, s)
				if o, known := want[at]; known {
					s = span{at, min(s.cone, o.cone), min(s.re, o.re), min(s.taken, o.taken), min(s.low, o.low), max(s.high, o.high), max(s.most, o.most), max(s.growth, o.growth)}
				}
				want[at] = s
			}
			return c
		}
		a, b := side("left"), side("right")
		var c Cluster
		c.Join(&a, &b)
		for i, s := range c.spans {
			if s != want[s.at] || i > 0 && s.at <= c.spans[i-1].at {
				t.Fatalf("%+v, want %+v", c.spans, want)
			}
		}
		if len(c.spans) != len(want) {
			t.Fatalf("%d frequencies of %d", len(c.spans), len(want))
		}
	})
}
