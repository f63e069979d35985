package optimizer

import (
	"slices"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/pricing"
)

// Every rest of the oracle: source, front speakers, what drives them, line
// converter and bass blocker, by the rules of the package documentation.

// remainders lists every rest that the rules allow beside an amplifier.
func (o *oracle) remainders(amp *catalog.Part, k int, spare bool) []remainder {
	key := oracleKey{amp, k, spare}
	if l, known := o.list[key]; known {
		return l
	}
	var l []remainder
	none := []*catalog.Part{nil}
	for _, src := range o.of(catalog.KindSource) {
		for _, pair := range append(none, o.of(catalog.KindFront)...) {
			for _, own := range append(none, o.of(catalog.KindAmplifier)...) {
				for _, conv := range append(none, o.of(catalog.KindConverter)...) {
					for _, block := range append(none, o.of(catalog.KindBlocker)...) {
						l = append(l, o.remainder(amp, k, spare, src, pair, own, conv, block)...)
					}
				}
			}
		}
	}
	o.list[key] = l
	return l
}

func (o *oracle) must(p *catalog.Part) bool { return p != nil && mentioned(o.p.Brief.Must, p.SKU) > 0 }

func (o *oracle) mustKind(kind catalog.Kind) bool {
	return slices.ContainsFunc(o.of(kind), o.must)
}

// remainder lists the ways in which these parts complete a system.
func (o *oracle) remainder(amp *catalog.Part, k int, spare bool, src, pair, own, conv, block *catalog.Part) (l []remainder) {
	brief := &o.p.Brief
	music := brief.Goal == catalog.GoalMusic
	fresh, ok := o.pairAllowed(pair)
	if !ok {
		return nil
	}
	c := completion.Speakers{Load: build.StockLoad, Fresh: fresh}
	if pair != nil {
		c = completion.Speakers{Item: &pricing.Item{Part: pair}, Fresh: fresh, Load: pair.Front.Load}
	}
	type power struct {
		watts    float64
		amp      *catalog.Part
		highPass bool
	}
	var powers []power
	if own != nil {
		// For a reading not beside a source that can do it itself.
		missing := mentioned(brief.Must, own.SKU)
		if own == amp {
			missing -= k
		}
		if !music && missing <= 0 && o.sourceCan(src, c) {
			return nil
		}
		powers = append(powers, power{stereoWatts(own, c.Load), own, src.Source.HighPass || own.Amplifier.HighPass})
	} else {
		powers = append(powers, power{completion.SourcePower(src.Source, c.Load), nil, src.Source.HighPass})
		if spare {
			powers = append(powers, power{stereoWatts(amp, c.Load), amp, src.Source.HighPass || amp.Amplifier.HighPass})
		}
	}
	for _, w := range powers {
		if w.watts <= 0 {
			continue
		}
		f := completion.HighPass{}
		switch {
		case block != nil:
			f = completion.BlockerHighPass(block.Blocker, c.Load)
			if w.highPass {
				if !o.must(block) {
					continue // idle
				}
			} else if !music && !o.must(block) && o.ruled(c, w.watts, completion.HighPass{}) {
				continue // idle
			}
		}
		allowed := slices.DeleteFunc(o.filters(f, w.highPass), func(f completion.HighPass) bool { return !o.ruled(c, w.watts, f) })
		if len(allowed) == 0 {
			continue
		}
		need, reachable := lineChannels(src.Source, amp, w.amp)
		if !reachable || conv == nil && need > 0 || conv != nil && (conv.Converter.Channels < need || need == 0 && !o.must(conv)) {
			continue
		}
		r := remainder{own: own}
		for _, p := range []*catalog.Part{src, pair, own, conv, block} {
			if p != nil {
				r.parts = append(r.parts, p)
			}
		}
		if music {
			r.front = build.Silent
			for _, f := range allowed {
				db, _, _, _ := c.Stage(w.watts, f.Hz, f.Order).Level(o.t.Cabin)
				r.front = max(r.front, build.Round(db))
			}
		}
		l = append(l, r)
	}
	return l
}

// filters are what the front can have in its way: what is there, or a built-in
// filter at any setting of its scale above that.
func (o *oracle) filters(f completion.HighPass, builtIn bool) (all []completion.HighPass) {
	if !builtIn || f.Hz > 0 {
		all = append(all, f)
	}
	for hz := 50.0; builtIn && hz <= 250; hz += 10 {
		if hz > f.Hz {
			all = append(all, completion.HighPass{Hz: hz, Order: 2})
		}
	}
	return all
}

// pairAllowed says whether the brief wants this pair (nil: the car's own), and
// whether it is a new one.
func (o *oracle) pairAllowed(pair *catalog.Part) (fresh, ok bool) {
	brief := &o.p.Brief
	anyOwned := slices.ContainsFunc(o.of(catalog.KindFront), func(p *catalog.Part) bool {
		return mentioned(brief.Owned, p.SKU) > 0 && mentioned(brief.Never, p.SKU) == 0
	})
	if pair == nil {
		return false, brief.Front != catalog.FrontReplace && !anyOwned
	}
	owned := mentioned(brief.Owned, pair.SKU) > 0
	switch brief.Front {
	case catalog.FrontKeep:
		return false, owned
	case catalog.FrontReplace:
		return true, true
	}
	return !owned, true
}

func (o *oracle) ruled(c completion.Speakers, watts float64, f completion.HighPass) bool {
	if !c.Fresh {
		return true
	}
	_, usable, _, _ := c.Stage(watts, f.Hz, f.Order).Level(o.t.Cabin)
	return usable >= o.t.Brief.FrontWatts*(1-build.WattsTolerance)
}

// sourceCan says whether the source drives the pair by the rule, with what
// filters there are.
func (o *oracle) sourceCan(src *catalog.Part, c completion.Speakers) bool {
	w := completion.SourcePower(src.Source, c.Load)
	if w <= 0 {
		return false
	}
	forced := o.mustKind(catalog.KindBlocker)
	if !forced {
		if slices.ContainsFunc(o.filters(completion.HighPass{}, src.Source.HighPass), func(f completion.HighPass) bool { return o.ruled(c, w, f) }) {
			return true
		}
		if src.Source.HighPass {
			return false
		}
	}
	for _, b := range o.of(catalog.KindBlocker) {
		if forced && !o.must(b) || !o.canHave(b) {
			continue
		}
		f := completion.BlockerHighPass(b.Blocker, c.Load)
		if slices.ContainsFunc(o.filters(f, src.Source.HighPass), func(f completion.HighPass) bool { return o.ruled(c, w, f) }) {
			return true
		}
	}
	return false
}

// canHave says whether one piece of a part can be had, in any shop that the brief
// allows.
func (o *oracle) canHave(p *catalog.Part) bool {
	b := &o.p.Brief
	if mentioned(b.Never, p.SKU) > 0 {
		return false
	}
	if mentioned(b.Owned, p.SKU) > 0 {
		return true
	}
	sold := false
	for _, s := range append([]catalog.Offer{{Store: p.Store, Stock: p.Stock}}, p.Offers...) {
		sold = sold || s.Stock != 0 && b.Sells(s.Store)
	}
	return sold && p.Priced && p.Limit != 0
}

func stereoWatts(amp *catalog.Part, load float64) float64 {
	s := amp.Amplifier.Spec
	if s.Outputs(amplifier.Stereo) < 2 {
		return 0
	}
	src, lowest, _, ok := s.Source(amplifier.Stereo)
	if !ok || load < lowest*(1-amplifier.LoadTolerance) {
		return 0
	}
	return src.Power(load)
}

// lineChannels is how many channels a converter needs; reachable is false when
// even a converter is no help.
func lineChannels(src *catalog.Source, bassAmp, frontAmp *catalog.Part) (need int, reachable bool) {
	if src.PreOuts > 0 {
		return 0, true
	}
	if src.Channels < 2 {
		return 0, false
	}
	if !bassAmp.Amplifier.SpeakerInput {
		need = 1
	}
	if frontAmp != nil && !frontAmp.Amplifier.SpeakerInput {
		need = 2
	}
	return need, true
}
