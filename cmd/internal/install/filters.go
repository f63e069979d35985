package install

import (
	"loudfor/catalog"
	"loudfor/model/front"
	"loudfor/model/preferred"
	"loudfor/model/subsonic"
	"loudfor/optimizer"
	"loudfor/optimizer/uncertainty"
)

// Filters are the settings of the crossover.
type Filters struct {
	LowPass   float64 // Hz, of the bass
	LowPassBy string  // what makes it; empty: nothing of the build can

	Front front.Stage // as driven

	// HighPass is the lowest setting at which the cones of the front stand
	// their power, by the filter that there is (or the one to add), Hz; 0:
	// they stand it without. Enough is false where none is.
	HighPass float64
	Enough   bool

	FrontCut float64 // Hz, where to set the high-pass of the front; 0: none

	// Blocker is the capacitor, F, in the build, and Corner what it makes, Hz.
	Blocker, Corner float64
	BlockerSKU      string

	Subsonic subsonic.Setting
}

const (
	// usualLowPass is where bass ends when nothing else decides (common
	// practice, no source).
	usualLowPass = 80.0 // Hz

	// subsonicOrder is the slope of the subsonic filters of amplifiers, 24 dB
	// an octave (common practice, no source).
	subsonicOrder = 4

	// usualOrder is that of the high-pass filters of head units and
	// amplifiers, 12 dB an octave (common practice, no source).
	usualOrder = 2

	stockLoad = 4.0 // ohm, of speakers that nobody described (common practice, no source)
)

// frontLoad is the nominal load of one front speaker, ohm.
func (p *Plan) frontLoad() float64 {
	if part := p.Build.Front.Part; part != nil && part.Front.Load > 0 {
		return part.Front.Load
	}
	return stockLoad
}

// stage is the front pair as the model takes it.
func (p *Plan) stage() front.Stage {
	f := p.Build.Front
	s := front.Stage{Load: p.frontLoad(), Watts: f.Given, HighPass: f.HighPass, Order: usualOrder}
	if part := f.Part; part != nil {
		s.Sensitivity, s.Power, s.Size = part.Front.Sensitivity, part.Front.Power, part.Front.Size
		s.Fs, s.Sd, s.Xmax = part.Front.Fs, part.Front.Sd, part.Front.Xmax
	}
	return s
}

// filter fills in Filters.
func (p *Plan) filter() error {
	f := &p.Filters
	f.Front, f.Enough = p.stage(), true
	f.LowPass = usualLowPass
	if p.Build.Front.Power != optimizer.FromNothing {
		p.filterFront()
	}
	if f.FrontCut > 0 {
		f.LowPass = f.FrontCut
	}
	source := p.of(catalog.KindSource)
	switch {
	case p.Build.Bass.Amplifier.Amplifier.LowPass:
		f.LowPassBy = "the low-pass of " + p.Build.Bass.Amplifier.SKU
	case source != nil && source.Source.LowPass:
		f.LowPassBy = "the low-pass of " + source.SKU
	}
	var err error
	f.Subsonic, err = subsonic.Find(p.Build.Setup(p.Air()), p.Build.Drive(), p.Gain.Target, subsonicOrder)
	return err
}

// filterFront looks for the high-pass of the front.
func (p *Plan) filterFront() {
	f := &p.Filters
	blocker := p.of(catalog.KindBlocker)
	switch {
	case blocker != nil && p.Build.Front.HighPass > 0:
		f.Front.Order = 1
		f.Blocker, f.BlockerSKU = blocker.Blocker.Capacitance, blocker.SKU
		f.Corner = preferred.Corner(f.Front.Load, f.Blocker)
	case p.Build.Front.HighPass == 0:
		f.Front.Order = 1 // what could be added is a capacitor
	}
	f.HighPass, f.Enough = f.Front.HighPassFor(f.Front.Watts)
	switch {
	case f.Corner > 0:
		f.FrontCut = f.Corner // a capacitor is not set
	case p.Build.Front.HighPass > 0:
		f.FrontCut = p.Build.Front.HighPass // as predicted; the gain is for what the cones stand there
	}
}

// Passed is the band in which the bass plays with the filters as set.
func (p *Plan) Passed() uncertainty.Passed {
	return uncertainty.Passed{From: p.Filters.Subsonic.Corner, To: p.Filters.LowPass}
}
