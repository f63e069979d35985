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

// The front: which pairs the brief allows, what drives them, whether a new one can
// use the watts that it is asked for, and for music how loud they are.

// pair is front speakers; without a piece those that the car came with.
type pair struct {
	*piece
	fresh bool // the rule for new speakers binds
	load  float64
	stage front.Stage
	costs [2][]price // of the blocker, without a built-in high-pass and with one

	// What pair, source and blocker cost at least, driven by the source; and with an
	// amplifier of its own. Second where the bass takes speaker wires.
	bySource, byOwn [2]int64
}

// price is what a blocker costs behind which a pair does with so many watts.
type price struct {
	sum   int64
	watts float64
}

// heard is a pair behind high-passes.
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
		a.pairs = append(a.pairs, pair{piece: p, fresh: rule == catalog.FrontReplace || p.owned == 0, load: load, stage: front.Stage{
			Load: load, Sensitivity: f.Sensitivity, Power: f.Power, Size: f.Size, Fs: f.Fs, Sd: f.Sd, Xmax: f.Xmax}})
	}
	slices.SortStableFunc(a.pairs, func(p, q pair) int { return cmp.Compare(p.lower(1), q.lower(1)) })
	a.leastRests()
}

// filtered is a pair behind one high-pass: its level with 1 W a side, and how many
// watts it can use. In between ten times the power are ten decibels.
type filtered struct{ gain, most float64 }

// filters are what a pair is behind a blocker (nil: none), a built-in high-pass at
// any setting, or both: the blocker then has the lower frequency or is by itself.
func (a *auditor) filters(p *pair, blocker *piece, builtIn bool) (all []filtered) {
	key := heard{p.piece, blocker, builtIn}
	if known, ok := a.heard.Load(key); ok {
		return known.([]filtered)
	}
	play := func(hz float64, order int) {
		s := p.stage
		s.HighPass, s.Order, s.Watts = hz, order, everyWatt
		level, usable, _ := s.Play(a.cabin)
		if usable > 0 {
			all = append(all, filtered{level - 10*math.Log10(usable), usable})
		}
	}
	lowest, order := 0.0, 2
	if blocker != nil {
		if c := blocker.part.Blocker.Capacitance; c > 0 {
			lowest, order = 1/(2*math.Pi*p.load*c), 1
		}
	}
	if blocker != nil || !builtIn {
		play(lowest, order)
	}
	for _, hz := range front.Settings() {
		if builtIn && hz > lowest {
			play(hz, 2)
		}
	}
	a.heard.Store(key, all)
	return all
}

// ruled tells whether the rule for new speakers holds with so much power, and for
// music how loud the pair then is.
func (a *auditor) ruled(p *pair, watts float64, blocker *piece, builtIn bool) (l build.Level, ok bool) {
	if !(watts > 0) {
		return build.Silent, false
	}
	if !a.music && !p.fresh {
		return build.Loudest, true
	}
	l = build.Silent
	for _, f := range a.filters(p, blocker, builtIn) {
		usable := min(watts, f.most)
		if p.fresh && usable < a.brief.FrontWatts*(1-build.WattsTolerance) {
			continue
		}
		ok = true
		if l = max(l, build.Round(f.gain+10*math.Log10(usable))); !a.music {
			return build.Loudest, true
		}
	}
	return l, ok
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
		if _, ok := a.ruled(p, watts, nil, s.HighPass); ok {
			return true
		}
		if s.HighPass {
			return false
		}
	}
	return slices.ContainsFunc(a.kinds[catalog.KindBlocker], func(b *piece) bool {
		_, ok := a.ruled(p, watts, b, s.HighPass)
		return ok
	})
}
