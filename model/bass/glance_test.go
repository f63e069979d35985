package bass

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/cabin"
)

// What a block plays is never above what a glance says, rough or close, at any
// frequency; so neither says no to what can be reached. Nor does it take less
// voltage or current than said.
func TestGlanceBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, l := drawPrepared(t), drawLimits(t)
		comb := CombOf(p.hz)
		var g Glance
		p.Glance(l, &comb, &g)
		for range rapid.IntRange(1, 3).Draw(t, "drives") {
			d := drawDrive(t, p)
			mean := p.Bands(d, l)
			least := LeastProduct(mean)
			for name, ask := range map[string]func(Drive, Product) bool{"rough": g.Rough, "close": g.Close} {
				if !ask(d, least) {
					t.Fatalf("%s: %.6f dB is said to be out of reach", name, mean)
				}
				ask(d, 0)
				var c Ceilings
				g.Ceilings(&c)
				for k, j := range comb.at {
					if got := p.At(j, d, l).Level; comb.weight[k] > 0 && got > c[k]+1e-9 {
						t.Fatalf("%s: %.9f dB at %g Hz, bounded by %.9f", name, got, p.hz[j], c[k])
					}
				}
			}
			open2, current2 := d.Idle()
			resistance := d.Source.Resistance * float64(d.Parallel) / float64(d.Series)
			needed2, flow2 := g.Least(least, resistance*rapid.Float64Range(0, 1).Draw(t, "less resistance"))
			if needed2 > open2*(1+1e-9) || flow2 > current2*(1+1e-9) {
				t.Fatalf("%.6f dB with %g V2 and %g A2 is said to take %g V2 and %g A2", mean, open2, current2, needed2, flow2)
			}
		}
	})
}

// A glance is not only right but near: with sensible equipment it rules out what
// is a few decibels beyond the drive.
func TestGlanceIsNear(t *testing.T) {
	for name, b := range boxes() {
		var room cabin.Response
		BandsOnly(car(Grid()), &room)
		p := prepare(t, setup(b), &room)
		comb := CombOf(room.Hz)
		var g Glance
		p.Glance(Music(), &comb, &g)
		for _, gain := range []float64{0.2, 0.5, 1, 2} {
			d := modestDrive()
			d.Source.OpenVoltage *= gain
			mean := p.Bands(d, Music())
			if g.Close(d, LeastProduct(mean+1)) {
				t.Errorf("%s: 1 dB above %.3f dB is left open", name, mean)
			}
			if g.Rough(d, LeastProduct(mean+5)) {
				t.Errorf("%s: 5 dB above %.3f dB is left open", name, mean)
			}
		}
		if open2, _ := g.Least(LeastProduct(200), 0); !math.IsInf(open2, 1) {
			t.Errorf("%s: 200 dB for %g V2", name, open2)
		}
	}
}

// What Least finds is near what a rough glance takes.
func TestLeastIsNear(t *testing.T) {
	for name, b := range boxes() {
		p := prepare(t, setup(b), car(Grid()))
		comb := CombOf(p.hz)
		var g Glance
		p.Glance(Music(), &comb, &g)
		for _, level := range []float64{80, 100, 110} {
			least := LeastProduct(level)
			open2, _ := g.Least(least, 0)
			d := Drive{Outputs: 1, Series: 1, Parallel: 1, Feed: strongFeed(), Source: amplifier.Source{Current: 1e9, Efficiency: 1}}
			volts, _, _ := d.Feed.Terminal(0, 1)
			for factor, want := range map[float64]bool{0.98: false, 1.1: true} {
				d.Source.OpenVoltage = factor * math.Sqrt(open2/2) * amplifier.RatedSupply / volts
				if got := g.Rough(d, least); got != want {
					t.Errorf("%s, %g dB with %g times the least voltage: %v", name, level, factor, got)
				}
			}
		}
	}
}

// Reaches agrees with Bands of the horizon, but for what neighbours differ.
func TestHorizonReaches(t *testing.T) {
	room := car(Grid())
	comb := CombOf(room.Hz)
	d := twelve()
	rapid.Check(t, func(t *rapid.T) {
		m := Mouth{Port: rapid.Float64Range(0, 0.2).Draw(t, "port"), Cones: rapid.Bool().Draw(t, "cones")}
		source := modestDrive().Source
		source.OpenVoltage *= rapid.Float64Range(0.05, 4).Draw(t, "gain")
		var h Horizon
		h.Look(&d, 1, source, 14.4, Music(), room)
		level := h.Bands(m)
		if !h.Reaches(LeastProduct(level), m, &comb) {
			t.Fatalf("%.6f dB is said to be out of reach", level)
		}
		if level > -100 && h.Reaches(LeastProduct(level+0.1), m, &comb) {
			t.Fatalf("%.6f dB is said to be within reach of %.6f dB", level+0.1, level)
		}
	})
}

// The product of bands that are all equally loud is that of their level.
func TestLeastProduct(t *testing.T) {
	p := air.Pressure(100)
	if got, want := LeastProduct(100), math.Pow(p, 10); math.Abs(got/want-1) > 1e-5 {
		t.Errorf("%g, want %g", got, want)
	}
}

func BenchmarkGlance(b *testing.B) {
	glance := func(b *testing.B, s Setup, run func(p *Prepared, g *Glance, c *Comb, d Drive)) {
		var room cabin.Response
		BandsOnly(car(Grid()), &room)
		p, ds := prepare(b, s, &room), manyDrives()
		comb := CombOf(room.Hz)
		var g Glance
		p.Glance(Music(), &comb, &g)
		n := 0
		for b.Loop() {
			run(p, &g, &comb, ds[n])
			n = (n + 1) % len(ds)
		}
	}
	for name, run := range map[string]func(p *Prepared, g *Glance, c *Comb, d Drive){
		"block": func(p *Prepared, g *Glance, c *Comb, d Drive) { p.Glance(Music(), c, g) },
		"rough": func(_ *Prepared, g *Glance, _ *Comb, d Drive) { g.Rough(d, 0) },
		"close": func(_ *Prepared, g *Glance, _ *Comb, d Drive) { g.Close(d, 0) },
		"least": func(_ *Prepared, g *Glance, _ *Comb, d Drive) { g.Least(1e13, 0.2) },
	} {
		b.Run(name, func(b *testing.B) { each(b, func(b *testing.B, s Setup) { glance(b, s, run) }) })
	}
}
