package optimizer

import (
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/driver"
	"loudfor/model/hookup"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
	"loudfor/optimizer/verify"
)

// Every bass block of the oracle, in every wiring to every amplifier, with
// every kit.

func (o *oracle) block(d, box *catalog.Part, m int) {
	var card driver.Card
	s := bass.Setup{Boxes: m, Air: o.t.Air}
	var outside catalog.Size3
	parts := []*catalog.Part{}
	if box == nil {
		card, s.Box, outside = d.Loaded.Card, d.Loaded.Box, d.Loaded.Outside
	} else {
		w, e := d.Subwoofer, box.Enclosure
		card, s.Box, outside, s.Displacement = w.Card, e.Box, e.Outside, w.Displacement
		if math.Abs(w.Card.Size-e.Hole) > build.SizeTolerance || w.Depth > 0 && e.Depth > 0 && w.Depth > e.Depth+build.CutTolerance ||
			w.Cutout > 0 && e.Cutout > 0 && w.Cutout > e.Cutout+build.CutTolerance || w.Displacement*float64(e.Box.Drivers) >= e.Box.Volume {
			return
		}
		parts = repeat(parts, box, m)
	}
	n := m * s.Box.Drivers
	if box == nil {
		parts = repeat(parts, d, m)
	} else {
		parts = repeat(parts, d, n)
	}
	space := o.p.Brief.Space
	if space == (catalog.Size3{}) {
		space = o.p.Vehicle.Space
	}
	if boot := o.p.Vehicle.Boot; boot != ([2]float64{}) && outside != (catalog.Size3{}) && !verify.SlidesIn(outside, boot) {
		return
	}
	if n > o.t.Brief.Drivers || space != (catalog.Size3{}) && outside != (catalog.Size3{}) && !verify.FitsInARow(outside, space, m) {
		return
	}
	var err error
	if s.Driver, _, err = driver.Complete(card, o.t.Air); err != nil {
		return
	}
	prepared, err := bass.Prepare(s, o.t.Room)
	if err != nil {
		return
	}
	for _, amp := range o.of(catalog.KindAmplifier) {
		spec := amp.Amplifier.Spec
		for k := 1; k <= o.t.Brief.Amplifiers; k++ {
			if n%k != 0 {
				continue
			}
			for _, mode := range spec.Modes() {
				src, lowest, _, ok := spec.Source(mode)
				if !ok {
					continue
				}
				for g := 1; g <= spec.Outputs(mode); g++ {
					for _, plan := range hookup.Enumerate(n/k, s.Driver.Coils, s.Driver.CoilLoad, mode, g, lowest) {
						o.wired(prepared, d, repeat(parts, amp, k), amp, k, bass.Drive{Outputs: k * g, Series: plan.Series, Parallel: plan.Parallel, Source: src},
							spareChannels(spec, mode, g) >= 2)
					}
				}
			}
		}
	}
}

func spareChannels(s amplifier.Spec, m amplifier.Mode, g int) int {
	pairs := s.Channels - s.Channels%2
	switch m {
	case amplifier.Mono:
		return pairs
	case amplifier.Stereo:
		return pairs - g
	}
	return pairs - 2*g
}

// repeat appends a part n times to a copy of a list.
func repeat(list []*catalog.Part, p *catalog.Part, n int) []*catalog.Part {
	list = slices.Clone(list)
	for range n {
		list = append(list, p)
	}
	return list
}

func (o *oracle) wired(p *bass.Prepared, sub *catalog.Part, parts []*catalog.Part, amp *catalog.Part, k int, d bass.Drive, spare bool) {
	rests := o.remainders(amp, k, spare)
	levels := map[float64]build.Level{}
	for _, kit := range o.of(catalog.KindKit) {
		k := kit.Kit
		run := o.p.Vehicle.CableRun
		if run <= 0 {
			run = k.Length
		}
		if k.Length > 0 && k.Length < run*0.98 {
			continue
		}
		ohms := supply.Resistance(k.Area, run, k.CopperClad)
		if _, known := levels[ohms]; !known {
			d.Feed = o.t.Feed
			d.Feed.CableResistance = ohms
			if o.p.Brief.Goal == catalog.GoalMusic {
				levels[ohms] = build.Round(bass.MusicLevel(p, d) - o.p.Brief.BassLift)
			} else {
				levels[ohms] = build.Round(p.Loudest(d, o.t.Reading).Level)
			}
		}
		for i := range rests {
			o.judge(levels[ohms], sub, amp, parts, kit, &rests[i])
		}
	}
}
