package bass

import (
	"math"
	"testing"
)

// IEC 61260-1: the exact midband frequencies in the base-ten system, 1000 x
// 10^(n/10) Hz, are within 1.3 % of the nominal ones that name the bands.
func TestBandCentres(t *testing.T) {
	for i, nominal := range []float64{31.5, 40, 50, 63, 80} {
		exact := 1000 * math.Pow(10, float64(i-15)/10)
		if math.Abs(bandCentres[i]/exact-1) > 1e-8 || math.Abs(exact/nominal-1) > 0.013 {
			t.Errorf("band %g Hz: centre %.7f, want %.7f", nominal, bandCentres[i], exact)
		}
	}
}

// On a grid that has the midband frequencies themselves, the music level is the
// plain mean of the levels there; on the usual grid it is nearly the same.
func TestMusicLevelIsTheMeanOfBands(t *testing.T) {
	exact := prepare(t, setup(sealedBox()), car(bandCentres[:]))
	d, sum := modestDrive(), 0.0
	for i := range bandCentres {
		sum += exact.At(i, d, Music()).Level
	}
	got := MusicLevel(exact, d)
	if math.Abs(got-sum/5) > 1e-6 {
		t.Errorf("music %.6f dB, mean of bands %.6f", got, sum/5)
	}
	grid := prepare(t, setup(sealedBox()), car(Grid()))
	if on := MusicLevel(grid, d); math.Abs(on-got) > 0.02 {
		t.Errorf("music %.3f dB on the grid, %.3f at the centres", on, got)
	}
}

// Twelve decibels of crest heat the coil 12 - 3.01 dB less than a sine with the
// same peaks, and touch nothing else.
func TestCrest(t *testing.T) {
	l := Music()
	if got, want := l.heatFactor(), 2/math.Pow(10, 1.2); math.Abs(got/want-1) > 1e-5 {
		t.Errorf("heat factor %.5f, want %.5f: mean square over peak square is 10^-1.2, of a sine 1/2", got, want)
	}
	p := prepare(t, setup(sealedBox()), car(Grid()))
	var sine, music state
	var a, b bounds
	p.bind(modestDrive(), l, &a)
	l.Crest = 0
	p.bind(modestDrive(), l, &b)
	p.at(p.seed, 0.5, &b, &sine)
	p.at(p.seed, 0.5, &a, &music)
	if got, want := sine.warmth/music.warmth, math.Pow(10, 1.2)/2; math.Abs(got/want-1) > 1e-5 {
		t.Errorf("a sine heats %.4f times as much, want %.4f", got, want)
	}
	if sine.current2 != music.current2 || sine.sound != music.sound {
		t.Error("crest changes current or sound at equal travel")
	}
	// With a sine for hours the coil is the limit of a strong amplifier,
	// with music it is not.
	d := modestDrive()
	d.Source.OpenVoltage, d.Source.Current = 90, 40
	i := len(p.hz) - 1
	if o := p.At(i, d, l); o.Limit != LimitHeat {
		t.Errorf("sine for hours: limit %v", o.Limit)
	}
	if o := p.At(i, d, Music()); o.Limit == LimitHeat {
		t.Error("music: limit coil heat")
	}
}

// BandsAbove is Bands where that is above a level, and says so where it is not;
// bounded by its horizon as well as by what a stronger drive reaches.
func TestBandsAbove(t *testing.T) {
	for name, b := range boxes() {
		p := prepare(t, setup(b), car(Grid()))
		d := modestDrive()
		l := Music()
		var c Ceilings
		for i := range c {
			c[i] = 200 // dB, above all
		}
		for _, weaker := range []float64{1, 0.7, 0.4} {
			d := d
			d.Source.OpenVoltage *= weaker
			want := p.Bands(d, l)
			above := c
			if _, ok := p.BandsAbove(want+1e-4, d, l, &above); ok || above != c {
				t.Errorf("%s: %.4f dB is said to be above %.4f", name, want, want+1e-4)
			}
			got, ok := p.BandsAbove(want-1e-4, d, l, &c)
			if !ok || got != want {
				t.Errorf("%s: %.9f dB, %v; want %.9f", name, got, ok, want)
			}
		}
	}
}
