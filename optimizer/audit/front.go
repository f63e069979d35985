package audit

import (
	"cmp"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/front"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
)

// The front, as far as it decides which builds are complete: which pairs the
// brief allows, what drives them, and whether a new one can use the watts that it
// is asked for.

// pair is front speakers; without a piece those that the car came with.
type pair struct {
	*piece
	fresh bool // the rule for new speakers binds
	load  float64
	stage front.Stage
}

// heard is a pair behind a high-pass, of which it is asked how much power it uses.
type heard struct {
	pair, blocker *piece
	builtIn       bool
}

const (
	headUnitLoad = 4.0 // ohm, where a head unit's card does not say (common practice, no source)
	everyWatt    = 1e9 // more than anything gives
)

func (a *auditor) fronts() {
	rule, owned := a.brief.Front, false
	for _, p := range a.kinds[catalog.KindFront] {
		owned = owned || p.owned > 0
	}
	// A pair that the customer owns is there even where another has to be in.
	for _, p := range a.bySKU {
		owned = owned || p.part.Kind == catalog.KindFront && p.owned > 0 && p.most > 0
	}
	if rule != catalog.FrontReplace && !owned && !a.forced[catalog.KindFront] {
		a.pairs = append(a.pairs, pair{load: build.StockLoad, stage: front.Stage{Load: build.StockLoad, Size: build.StockSize}})
	}
	for _, p := range a.kinds[catalog.KindFront] {
		if rule == catalog.FrontKeep && p.owned == 0 {
			continue
		}
		f := p.part.Front
		load := f.Load
		if !(load > 0) {
			load = build.StockLoad
		}
		a.pairs = append(a.pairs, pair{p, rule == catalog.FrontReplace || p.owned == 0, load, front.Stage{
			Load: load, Sensitivity: f.Sensitivity, Power: f.Power, Size: f.Size, Fs: f.Fs, Sd: f.Sd, Xmax: f.Xmax}})
	}
	slices.SortStableFunc(a.pairs, func(p, q pair) int { return cmp.Compare(p.lower(1), q.lower(1)) })
	a.rest = boundless
	if len(a.pairs) > 0 && len(a.kinds[catalog.KindSource]) > 0 {
		a.rest = a.pairs[0].lower(1) + a.kinds[catalog.KindSource][0].lower(1)
	}
}

// usable is how many watts a pair can use behind a blocker (nil: none), a
// built-in high-pass, or both.
func (a *auditor) usable(p *pair, blocker *piece, builtIn bool) float64 {
	key := heard{p.piece, blocker, builtIn}
	if most, known := a.used.Load(key); known {
		return most.(float64)
	}
	s, most := p.stage, 0.0
	s.Watts = everyWatt
	play := func(hz float64, order int) {
		s.HighPass, s.Order = hz, order
		_, usable, _ := s.Play(a.cabin)
		most = max(most, usable)
	}
	lowest := 0.0
	if blocker != nil {
		if c := blocker.part.Blocker.Capacitance; c > 0 {
			lowest = 1 / (2 * math.Pi * p.load * c)
		}
	}
	if blocker != nil || !builtIn {
		play(lowest, 1)
	}
	for _, hz := range front.Settings() {
		if builtIn && hz > lowest {
			play(hz, 2)
		}
	}
	a.used.Store(key, most)
	return most
}

// ruled tells whether the rule for new speakers holds with so much power.
func (a *auditor) ruled(p *pair, watts float64, blocker *piece, builtIn bool) bool {
	return watts > 0 && (!p.fresh || min(watts, a.usable(p, blocker, builtIn)) >= a.brief.FrontWatts*(1-build.WattsTolerance))
}

// sourceWatts is what a head unit's own channels give one side, W.
func sourceWatts(s *catalog.Source, load float64) float64 {
	rated, lowest, volts := s.Load, s.MinimumLoad, s.SupplyVolts
	if !(rated > 0) {
		rated = headUnitLoad
	}
	if !(lowest > 0) {
		lowest = rated
	}
	if !(volts > 0) {
		volts = supply.RunningVolts
	}
	if s.Channels < 2 || load < lowest*(1-amplifier.LoadTolerance) {
		return 0
	}
	most := front.HeadUnitCeiling(volts, load, s.Channels)
	if s.Power > 0 {
		most = min(most, s.Power*rated/load)
	}
	return most
}

// stereoWatts is what an amplifier's stereo channels give one side, W.
func stereoWatts(p *piece, load float64) float64 {
	spec := p.part.Amplifier.Spec
	src, lowest, _, ok := spec.Source(amplifier.Stereo)
	if !ok || spec.Outputs(amplifier.Stereo) < 2 || load < lowest*(1-amplifier.LoadTolerance) {
		return 0
	}
	return src.Power(load)
}

// sourceCan tells whether the source drives a pair by the rule, with any blocker
// there is: then an amplifier of the front's own is idle.
func (a *auditor) sourceCan(s *catalog.Source, p *pair) bool {
	watts := sourceWatts(s, p.load)
	if !(watts > 0) {
		return false
	}
	if !a.forced[catalog.KindBlocker] {
		if a.ruled(p, watts, nil, s.HighPass) {
			return true
		}
		if s.HighPass {
			return false
		}
	}
	return slices.ContainsFunc(a.kinds[catalog.KindBlocker], func(b *piece) bool { return a.ruled(p, watts, b, s.HighPass) })
}
