package audit

import (
	"cmp"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/front"
	"loudfor/optimizer/build"
)

// How the premises of a question are filled in.

// PremisesOf lists the premises of a question.
func PremisesOf(q Question) Premises {
	a := newAuditor(q)
	p := Premises{Schema: PremisesSchema, Currency: q.Catalogue.Currency, Limit: a.limit, Must: map[string]int{},
		Additive: len(q.Catalogue.Deals) == 0 && len(q.Catalogue.Shops) == 0 && a.brief.MostStores == 0,
		Rules: PremisedRules{Boxes: a.brief.Boxes, Drivers: a.brief.Drivers, Amplifiers: a.brief.Amplifiers, Music: a.music, Space: edges(a.space), Limits: a.limits,
			Supply:  []float64{a.feed.Volts, a.feed.Reserve, a.feed.BatteryVolts, a.feed.BatteryResistance},
			Density: a.medium.Density, Sound: a.medium.SoundSpeed, FrontWatts: a.brief.FrontWatts * (1 - build.WattsTolerance),
			Cabin: []float64{a.cabin.Length, a.cabin.Width, a.cabin.Height}},
		Car: PremisedCar{Hz: a.Room.Hz, Transfer: split(a.Room.Transfer), Back: split(a.Room.Back)}}
	if math.IsInf(a.limits.Burst, 1) {
		p.Rules.Limits.Burst = 0
	}
	if a.music {
		p.Rules.Lift = a.brief.BassLift
	}
	if b := q.Vehicle.Boot; b != ([2]float64{}) {
		p.Rules.Boot = b[:]
	}
	if q.Claim != nil {
		p.Claim = &PremisedClaim{a.claimed.Level.DB(), a.claimed.due, map[string]int{}}
		for _, m := range a.claimed.Parts {
			p.Claim.Parts[m.SKU] = m.Count
		}
	}
	for _, m := range a.musts {
		p.Must[m.sku()] = m.must
	}
	var loads []float64
	for i := range a.pairs {
		r := &a.pairs[i]
		known := slices.Index(loads, r.load)
		if known < 0 {
			known, loads = len(loads), append(loads, r.load)
		}
		one := PremisedPart{Kind: catalog.KindFront.String(), Most: 1}
		if r.piece != nil {
			one = a.premised(r.piece)
		}
		one.Pair = &PremisedPair{r.fresh, map[string][2][][2]float64{"": a.behindAll(r, nil)}, known, r.load, a.speaker(r, &one)}
		for _, b := range a.kinds[catalog.KindBlocker] {
			one.Pair.Behind[b.sku()] = a.behindAll(r, b)
		}
		p.Parts = append(p.Parts, one)
	}
	rest, spare := a.rest, a.spare
	a.louder = true
	a.leastRests()
	louder := [2][]PremisedRest{a.louderFronts(0), a.louderFronts(1)}
	for kind, list := range a.kinds {
		for _, piece := range list {
			if one := a.premised(piece); catalog.Kind(kind) != catalog.KindFront && a.describe(&one, piece, loads) {
				if amp := one.Amplifier; amp != nil {
					least, ways := min(boundless, rest[speakers(piece)]), louder[speakers(piece)]
					amp.Rest = [2]int64{least, min(least, spare[piece])}
					amp.Louder = [2][]PremisedRest{ways, a.payable(append(slices.Clone(ways), PremisedRest{a.spare[piece], 0}))}
				}
				p.Parts = append(p.Parts, one)
			}
		}
	}
	for _, k := range a.cables {
		one := a.premised(k.piece)
		run, clad := a.Vehicle.CableRun, 0.0
		if !(run > 0) {
			run = k.part.Kit.Length
		}
		if k.part.Kit.CopperClad {
			clad = 1
		}
		one.Kit = []float64{k.resistance, k.capacity, k.part.Kit.Area, run, clad}
		p.Parts = append(p.Parts, one)
	}
	return p
}

func (a *auditor) premised(p *piece) PremisedPart {
	at := p.part.Where.String()
	return PremisedPart{SKU: p.sku(), Kind: p.part.Kind.String(), At: at, Owned: p.owned, Most: p.most, Each: p.each, Least: p.least,
		Price: p.part.Price.Minor, Tax: a.brief.TaxOn(p.part.Kind), Work: a.work(p.part)}
}

// speaker completes one of a pair, and notes the origin of what its card leaves out.
func (a *auditor) speaker(p *pair, one *PremisedPart) PremisedSpeaker {
	s := PremisedSpeaker{p.stage.Sensitivity, p.stage.Power, p.stage.Fs, p.stage.Sd, p.stage.Xmax}
	_, _, _, notes := p.stage.Level(a.cabin)
	for _, n := range notes {
		if to := map[string]*float64{"sensitivity": &s.Sensitivity, "rated power": &s.Power, "fs": &s.Fs, "Sd": &s.Sd, "Xmax": &s.Xmax}[n.Quantity]; to != nil && n.Kind == front.Assumed {
			*to = n.Value
			one.Origin = append(one.Origin, n.Quantity+": "+n.Source)
		}
	}
	return s
}

// behindAll is a pair behind a blocker, without and beside a built-in high-pass.
func (a *auditor) behindAll(p *pair, blocker *piece) (all [2][][2]float64) {
	for k := range all {
		for _, f := range a.filters(p, blocker, k == 1) {
			all[k] = append(all[k], [2]float64{f.gain, f.most})
		}
	}
	return all
}

// louderFronts are the ways to have a front that is louder than the claim beside any
// amplifier that takes speaker wires (1), or not.
func (a *auditor) louderFronts(speaker int) (all []PremisedRest) {
	least := map[float64]int64{} // prices by current
	put := func(amps float64, price int64) {
		if known, ok := least[amps]; !ok || price < known {
			least[amps] = price
		}
	}
	for i := range a.pairs {
		p := &a.pairs[i]
		put(0, p.bySource[speaker])
		for k, own := range a.kinds[catalog.KindAmplifier] {
			put(own.demand, p.lower(1)+own.lower(1)+a.driving(p, own, a.ownWatts[p.load][k], speaker))
		}
	}
	for amps, price := range least {
		all = append(all, PremisedRest{price, amps})
	}
	return a.payable(all)
}

// payable keeps of some ways those that the cap allows, each dearer and with less
// current than the one before.
func (a *auditor) payable(all []PremisedRest) (kept []PremisedRest) {
	slices.SortFunc(all, func(x, y PremisedRest) int { return cmp.Or(cmp.Compare(x.Price, y.Price), cmp.Compare(x.Amps, y.Amps)) })
	for _, r := range all {
		if r.Price <= a.limit && (len(kept) == 0 || r.Amps < kept[len(kept)-1].Amps) {
			kept = append(kept, r)
		}
	}
	return kept
}

// describe fills in what a part is; false: it is no part of a build, or listed apart.
func (a *auditor) describe(one *PremisedPart, p *piece, loads []float64) bool {
	card := func(c driver.Card) bool {
		d, notes, err := driver.Complete(c, a.medium)
		for _, n := range notes {
			one.Origin = append(one.Origin, n.Quantity+": "+n.Source)
		}
		one.Driver, one.HeatTime, one.Size = &d, d.HeatTime(), c.Size
		return err == nil
	}
	boxed := func(b enclosure.Box, outside catalog.Size3) {
		b.Drivers = max(1, b.Drivers)
		one.Box, one.Outside, one.Type = &b, edges(outside), [...]string{"sealed", "vented", "band-pass"}[b.Kind]
		chamber := b.Volume
		if b.Kind == enclosure.BandPass {
			chamber = b.FrontVolume
		}
		if b.Kind != enclosure.Sealed && b.Port.Stated() {
			one.Helmholtz = b.Port.Tuning(chamber, a.medium)
		}
	}
	switch part := p.part; part.Kind {
	case catalog.KindSubwoofer:
		s := part.Subwoofer
		one.Displacement, one.Cutout, one.Depth = s.Displacement, s.Cutout, s.Depth
		return card(s.Card)
	case catalog.KindLoaded:
		boxed(part.Loaded.Box, part.Loaded.Outside)
		return card(part.Loaded.Card)
	case catalog.KindEnclosure:
		e := part.Enclosure
		boxed(e.Box, e.Outside)
		one.Size, one.Cutout, one.Depth = e.Hole, e.Cutout, e.Depth
	case catalog.KindAmplifier:
		spec := part.Amplifier.Spec
		one.Amplifier = &PremisedAmp{Stereo: spec.Outputs(amplifier.Stereo), Demand: p.demand, SpeakerWire: part.Amplifier.SpeakerInput, HighPass: part.Amplifier.HighPass, Fuse: spec.Fuse}
		for _, load := range loads {
			one.Watts = append(one.Watts, stereoWatts(p, load))
		}
		for _, m := range spec.Modes() {
			if src, least, _, ok := spec.Source(m); ok {
				takes := m.Channels()
				if m == amplifier.Mono {
					takes = 0
				}
				one.Modes = append(one.Modes, PremisedSource{src.OpenVoltage, src.Resistance, src.Current, src.Efficiency, least, spec.Outputs(m), takes, slices.DeleteFunc(slices.Clone(spec.Ratings), func(r amplifier.Rating) bool { return r.Mode != m })})
			}
		}
	case catalog.KindSource:
		one.Source = part.Source
		for _, load := range loads {
			one.Watts = append(one.Watts, sourceWatts(part.Source, load))
		}
	case catalog.KindConverter:
		one.Channels = part.Converter.Channels
	case catalog.KindBlocker:
		one.Capacitance = part.Blocker.Capacitance
	default:
		return false
	}
	return true
}

func edges(s catalog.Size3) []float64 {
	if s == (catalog.Size3{}) {
		return nil
	}
	return []float64{s.Width, s.Depth, s.Height}
}

func split(list []complex128) (all [][2]float64) {
	for _, z := range list {
		all = append(all, [2]float64{real(z), imag(z)})
	}
	return all
}
