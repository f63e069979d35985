package generate

import (
	"math"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
)

const inch = 0.0254

var sizes = [...]float64{8, 10, 12, 15}

// card is a driver with a quality between 0 (value) and 1 (competition).
func (g *shop) card(size, quality float64) driver.Card {
	radius := 0.41 * size * inch // of the piston
	sd := math.Pi * radius * radius
	fs := (46 - 1.5*size + 4*g.Float64()) * (1 - 0.1*quality)
	qms := 4 + 4*g.Float64()
	qes := 0.75 - 0.35*quality + 0.1*g.Float64()
	c := driver.Card{
		Size: size * inch, Coils: 1 + g.IntN(2), CoilLoad: pick(g, 2.0, 4.0),
		Fs: fs, Qms: qms, Qes: qes, Sd: sd,
		Vas:   0.058 * math.Pow(size/12, 4) * (0.7 + 0.6*g.Float64()),
		Xmax:  (5 + 0.3*size + 12*quality) * 1e-3,
		Power: (120 + 10*size) * math.Pow(8, quality),
	}
	c.Re = c.CoilLoad * 0.85
	if g.IntN(4) == 0 { // a card that says less
		c.Qts = qms * qes / (qms + qes)
		c.Qms, c.Qes, c.Sd, c.Re = 0, 0, 0, 0
	}
	return c
}

func cardWorth(size, quality float64) float64 { return 22 * (size / 10) * math.Exp(2.6*quality) }

func (g *shop) subwoofer() (*catalog.Subwoofer, float64) {
	size, q := pick(g, sizes[:]...), g.Float64()
	s := &catalog.Subwoofer{Card: g.card(size, q), Displacement: 0.0016 * math.Pow(size/10, 3)}
	if g.IntN(2) == 0 {
		s.Depth = (0.10 + 0.006*size + 0.05*q)
	}
	return s, cardWorth(size, q)
}

func (g *shop) amplifier() (*catalog.Amplifier, float64) {
	watts := g.between(40, 1500)
	a := &catalog.Amplifier{HighPass: g.IntN(2) == 0, LowPass: true, SpeakerInput: g.IntN(3) == 0}
	s := &a.Spec
	basis := pick(g, amplifier.Claimed, amplifier.Standard, amplifier.Measured)
	s.Class = pick(g, amplifier.ClassAB, amplifier.ClassD)
	s.Channels = pick(g, 1, 1, 2, 4, 4, 5)
	rate := func(m amplifier.Mode, load, w float64) {
		s.Ratings = append(s.Ratings, amplifier.Rating{Mode: m, Load: load, Watts: math.Round(w), Basis: basis})
	}
	if s.Channels%2 == 1 {
		rate(amplifier.Mono, 4, watts*0.6)
		rate(amplifier.Mono, 2, watts)
		if g.IntN(2) == 0 {
			rate(amplifier.Mono, 1, watts*1.5)
		}
	}
	if s.Channels >= 2 {
		each := watts / float64(s.Channels)
		rate(amplifier.Stereo, 4, each*0.65)
		rate(amplifier.Stereo, 2, each)
		rate(amplifier.Bridged, 4, each*2)
	}
	if g.IntN(3) > 0 {
		s.Fuse = math.Ceil(watts*1.6/0.7/supply.RunningVolts/5*(0.7+0.6*g.Float64())) * 5
	}
	return a, 25 + 0.3*watts + 12*float64(s.Channels)
}

// box is an enclosure for so many drivers of a size.
func (g *shop) box(size float64, holes int) (enclosure.Box, catalog.Size3) {
	volume := float64(holes) * 0.026 * math.Pow(size/12, 2.5) * g.between(0.7, 2)
	b := enclosure.Box{Kind: enclosure.Sealed, Drivers: holes, Volume: volume}
	whole := volume
	switch g.IntN(5) {
	case 0, 1:
		b.Kind = enclosure.Vented
		b.Volume *= 1.4
		whole = b.Volume
		if g.IntN(3) == 0 {
			b.Tuning = 30 + 15*g.Float64()
		} else {
			area := float64(holes) * 0.009 * math.Pow(size/12, 2) * g.between(0.7, 1.6)
			b.Port = enclosure.Port{Count: 1, Diameter: 2 * math.Sqrt(area/math.Pi), Length: 0.15 + 0.15*g.Float64(), FlangedEnds: 1}
		}
	case 2:
		if g.IntN(3) == 0 {
			b.Kind, b.FrontVolume, b.Tuning = enclosure.BandPass, volume*0.7, 45+15*g.Float64()
			whole += b.FrontVolume
		}
	}
	side := math.Cbrt(whole*1.3) * (0.95 + 0.1*g.Float64())
	return b, catalog.Size3{Width: side * 1.15, Depth: side * 0.9, Height: side}
}

func (g *shop) enclosure() (*catalog.Enclosure, float64) {
	size, holes := pick(g, sizes[:]...), pick(g, 1, 1, 2)
	e := &catalog.Enclosure{Hole: size * inch}
	e.Box, e.Outside = g.box(size, holes)
	if g.IntN(2) == 0 {
		e.Depth = e.Outside.Depth * 0.8
	}
	return e, 18 + 700*e.Box.Volume
}

func (g *shop) loaded() (*catalog.Loaded, float64) {
	size, holes, q := pick(g, sizes[:]...), pick(g, 1, 1, 2), g.Float64()
	l := &catalog.Loaded{Card: g.card(size, q)}
	l.Box, l.Outside = g.box(size, holes)
	return l, 0.9 * (float64(holes)*cardWorth(size, q) + 18 + 700*l.Box.Volume)
}

func (g *shop) front() (*catalog.FrontSpeakers, float64) {
	q := g.Float64()
	f := &catalog.FrontSpeakers{Load: pick(g, 4.0, 4.0, 2.0), Power: math.Round(20 + 80*q), Sensitivity: 86 + 6*q, Size: pick(g, 0.10, 0.13, 0.165)}
	if g.IntN(2) == 0 {
		f.Fs, f.Xmax = 60+40*g.Float64(), 0.002+0.004*q
	}
	return f, 20 * math.Exp(2*q)
}

func (g *shop) source() (*catalog.Source, float64) {
	s := &catalog.Source{PreOuts: g.IntN(4), Channels: pick(g, 4, 4, 4, 2, 0), Load: 4, HighPass: g.IntN(2) == 0}
	if s.Channels > 0 {
		s.Power = pick(g, 15.0, 17, 22, 50)
		s.PowerClaimed = s.Power > 22
	}
	return s, 30 + 18*float64(s.PreOuts) + g.between(5, 60)
}

func (g *shop) kit() (*catalog.WiringKit, float64) {
	awg := pick(g, 10, 8, 8, 4, 4, 2, 0)
	k := &catalog.WiringKit{Area: supply.AreaOfGauge(awg), CopperClad: g.IntN(2) == 0, Length: 5 + 2*g.Float64()}
	if g.IntN(3) > 0 {
		k.Fuse = supply.LargestFuse(supply.Ampacity(k.Area, k.CopperClad))
	}
	worth := 8 + 1.1e6*k.Area
	if k.CopperClad {
		worth *= 0.6
	}
	return k, worth
}
