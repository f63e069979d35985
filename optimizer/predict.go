package optimizer

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/hookup"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/uncertainty"
)

// Predict computes one given build with its best valid hookup; mode ("bridged",
// or empty for any) and load (ohm at each output, or 0) narrow the choice.
//
// Cap, stock, stores, space, kit and front rule do not bind a build on which
// someone has settled already; what they would say comes back as warnings.
// What makes the sound must be there (driver, box, amplifier, and a wiring no
// lower than the rated load); what else is missing is said in the warnings,
// and left out of the prediction. The error is the context's where that ended
// beforehand.
func Predict(ctx context.Context, p Problem, parts []catalog.Mention, mode string, load float64) (Build, error) {
	if err := ctx.Err(); err != nil {
		return Build{}, err
	}
	if touring(&p) {
		return predictTouring(ctx, p, parts, mode, load)
	}
	t, given, err := given(p, parts)
	if err != nil {
		return Build{}, err
	}
	if !modeNamed(mode) {
		return Build{}, noMode(mode)
	}
	if err := missing(given, true); err != nil {
		return Build{}, err
	}
	g, box, err := t.blockOf(given)
	if err != nil {
		return Build{}, err
	}
	if err := t.mustGoIn(g, box); err != nil {
		return Build{}, err
	}
	a, ok, err := t.settled(given, g, box, demands{mode: mode, load: load})
	if err != nil {
		return Build{}, err
	}
	if !ok {
		return Build{}, t.whyNot(given, g, mode, load)
	}
	b := t.present(&a)
	b.Rank = 1
	b.Warnings = append(t.shortcomings(&a), b.Warnings...)
	builds := []Build{b}
	if !p.Bare {
		if _, err := uncertainty.Ranking(ctx, t.Setting, builds); err != nil {
			return Build{}, err
		}
	}
	return builds[0], nil
}

// SmallSignal is the linear response of a given driver and box to a steady
// voltage on each output, without any limit, over the frequencies of
// bass.Grid. An amplifier only decides the wiring, narrowed by mode and load as in
// Predict; without one all coils are on one output, in parallel or at load.
func SmallSignal(p Problem, parts []catalog.Mention, volts float64, mode string, load float64) ([]bass.Operation, Build, error) {
	if !(volts > 0) || math.IsInf(volts, 0) {
		return nil, Build{}, fmt.Errorf("a drive of %g V cannot be", volts)
	}
	if !modeNamed(mode) {
		return nil, Build{}, noMode(mode)
	}
	t, given, err := given(p, parts)
	if err != nil {
		return nil, Build{}, err
	}
	if err := missing(given, false); err != nil {
		return nil, Build{}, err
	}
	g, box, err := t.blockOf(given)
	if err != nil {
		return nil, Build{}, err
	}
	if err := t.mustGoIn(g, box); err != nil {
		return nil, Build{}, err
	}
	prepared, err := bass.Prepare(t.Setup(g, box), t.Room)
	if err != nil {
		return nil, Build{}, err
	}
	d, notes := t.Described(g.Driver)
	coils := g.Drivers() * d.Coils
	b := Build{Rank: 1, Lines: t.Lines(given),
		Plan: hookup.Plan{Outputs: 1, Series: 1, Parallel: coils, InnerSeries: 1, InnerParallel: d.Coils, Drivers: g.Drivers(), Coils: d.Coils,
			Split: 1, CoilLoad: d.CoilLoad, Load: d.CoilLoad / float64(coils), Words: "all coils in parallel on one output"}}
	amplified := len(given.Kinds()[catalog.KindAmplifier]) > 0
	if !amplified && load > 0 {
		plans := hookup.Enumerate(g.Drivers(), d.Coils, d.CoilLoad, amplifier.Mono, 1, 0)
		i := slices.IndexFunc(plans, func(p hookup.Plan) bool { return sameLoad(p.Load, load) })
		if i < 0 {
			return nil, Build{}, t.whyNot(given, g, "", load)
		}
		b.Plan = plans[i]
	}
	t.Bill(&b, given)
	drive := bass.Drive{Outputs: 1, Series: b.Plan.Series, Parallel: b.Plan.Parallel, Feed: t.Feed}
	a := arrangement{parts: given, block: g, box: box, choice: completion.Speakers{Load: build.StockLoad}}
	if amplified {
		best, ok, err := t.settled(given, g, box, demands{mode: mode, load: load})
		if err != nil {
			return nil, Build{}, err
		}
		if !ok {
			return nil, Build{}, t.whyNot(given, g, mode, load)
		}
		b = t.present(&best)
		b.Music, b.Front = Music{}, Front{} // of the amplifier at its limits, not of these volts
		drive, a = best.drive, best
	}
	var curve []bass.Operation
	peak := 0
	for i := range prepared.Hz() {
		curve = append(curve, prepared.SmallSignal(i, drive, volts))
		if curve[i].Level > curve[peak].Level {
			peak = i
		}
	}
	b.Curve, b.Operation = curve, curve[peak]
	b.Reading = Reading{DB: curve[peak].Level, Hz: curve[peak].Hz, Place: t.Place(), Openings: t.Openings()}
	b.Bass = Bass{Driver: d, Part: g.Driver.Part, Box: t.Setup(g, box).Box, Boxes: g.Boxes, Drivers: g.Drivers()}
	if !g.Loaded() {
		b.Bass.Enclosure = box.Part
	}
	a.power = FromNothing // volts on the bass outputs say nothing of the front
	b.Assumed = t.assumed(&a, notes, prepared)
	b.Objective = curve[peak].Level
	b.Doubts = t.doubts(&a, notes)
	b.Warnings = append(b.Doubts[:len(b.Doubts):len(b.Doubts)], fmt.Sprintf("linear, at %g V on each output whatever the parts stand", volts))
	return curve, b, nil
}

func noMode(mode string) error {
	return fmt.Errorf("%q is no mode of an amplifier: mono, stereo, bridged or paralleled", mode)
}

// settled puts a given build together as the search would; where the rules leave no
// way, as well as it goes.
func (t *task) settled(given pricing.Set, g *drive.Block, box *pricing.Item, want demands) (a arrangement, ok bool, err error) {
	if by := given.Kinds(); by[catalog.KindSource].Only() != nil {
		if a, ok, err = t.arrange(given, g, box, want); ok || err != nil {
			return a, ok, err
		}
	}
	want.lenient = true
	return t.arrange(given, g, box, want)
}

// given makes a task and the set of parts of a given build. What has to be in it and
// is not, and what must not be and is, does not bind.
func given(p Problem, parts []catalog.Mention) (*task, pricing.Set, error) {
	p.Brief.Never = nil
	p.Brief.Must = slices.DeleteFunc(slices.Clone(p.Brief.Must), func(m catalog.Mention) bool { return !named(parts, m.SKU) })
	t, err := ready(p, setting.Relaxation{})
	if err != nil {
		return nil, nil, err
	}
	s, err := t.gather(parts)
	if err != nil {
		return nil, nil, err
	}
	// The parts are there already, whatever shelf they came from.
	for _, u := range s {
		if !u.Item.Offered() {
			u.Item.Most = u.Count
			if u.Item.Part.Kind == catalog.KindSubwoofer || u.Item.Part.Kind == catalog.KindLoaded {
				t.Drivers[u.Item] = t.CompleteDriver(u.Item)
			}
		}
	}
	return t, s, nil
}

// missing lists everything without which there is no sound.
func missing(s pricing.Set, amplifier bool) error {
	by := s.Kinds()
	var all []error
	if len(by[catalog.KindLoaded]) == 0 {
		if len(by[catalog.KindSubwoofer]) == 0 {
			all = append(all, errors.New("a bass driver is missing (a subwoofer, or a loaded enclosure)"))
		}
		if len(by[catalog.KindEnclosure]) == 0 {
			all = append(all, errors.New("an enclosure is missing"))
		}
	}
	if amplifier && len(by[catalog.KindAmplifier]) == 0 {
		all = append(all, errors.New("an amplifier is missing"))
	}
	return errors.Join(all...)
}

// mustGoIn finds what cannot be put together by any means.
func (t *task) mustGoIn(g *drive.Block, box *pricing.Item) error {
	if g.Loaded() {
		return nil
	}
	s, e := g.Driver.Part, box.Part
	if !sameSize(s.Subwoofer.Card.Size, e.Enclosure.Hole) {
		const inch = 0.0254
		return fmt.Errorf("%s, a driver of %.3g in, does not go into %s, which has a hole for %.3g in",
			s.SKU, s.Subwoofer.Card.Size/inch, e.SKU, e.Enclosure.Hole/inch)
	}
	return nil
}

// whyNot explains why no hookup was found.
func (t *task) whyNot(given pricing.Set, g *drive.Block, mode string, load float64) error {
	amps := given.Kinds()[catalog.KindAmplifier]
	what := "no wiring"
	if load > 0 {
		what += fmt.Sprintf(" to %g ohm", load)
	}
	d := t.Drivers[g.Driver].Driver
	coils := fmt.Sprintf("%d drivers of %d x %g ohm", g.Drivers(), d.Coils, d.CoilLoad)
	if g.Drivers() == 1 {
		coils = fmt.Sprintf("one driver of %d x %g ohm", d.Coils, d.CoilLoad)
	}
	if mode != "" {
		return fmt.Errorf("%s of %s goes with %s in mode %s at or above its rated load", what, coils, pricing.SKUs(amps), mode)
	}
	return fmt.Errorf("%s of %s goes with %s at or above a rated load, with at most one amplifier left over for the front", what, coils, pricing.SKUs(amps))
}

// shortcomings says what a given build lacks or breaks.
func (t *task) shortcomings(a *arrangement) []string {
	var all []string
	say := func(format string, values ...any) { all = append(all, fmt.Sprintf(format, values...)) }
	if a.kit == nil {
		say("no wiring kit: the cable is taken to lose nothing")
	}
	if a.source == nil {
		say("no source: a signal is taken to be there")
	} else if !t.connected(a) {
		say("signal path: %s has no line outputs for %s; a line converter is missing", a.source.Part.SKU, a.amp.Part.SKU)
	}
	if a.power == FromNothing && !t.Open {
		say("front: nothing drives the front speakers; music is that of the bass alone")
	}
	switch {
	case t.Open:
	case a.choice.Item == nil && t.Brief.Front == catalog.FrontReplace:
		say("front: the brief asks for new speakers, and there is no pair among the parts")
	case a.choice.Fresh && a.power != FromNothing && a.usable < t.Brief.FrontWatts*(1-build.WattsTolerance):
		say("front: %s can use %.3g W a side of the %g W that the brief asks for", a.choice.Item.Part.SKU, a.usable, t.Brief.FrontWatts)
	}
	if !a.block.Loaded() && !setting.FitsHole(a.block.Driver.Part.Subwoofer, a.box.Part.Enclosure) {
		say("fit: by cutout, depth or volume %s does not go into %s", a.block.Driver.Part.SKU, a.box.Part.SKU)
	}
	outside := a.outside()
	if !t.Open && !setting.FitsSpace(outside, t.Space, a.block.Boxes) {
		say("space: %d x %s (%s) do not fit into %s", a.block.Boxes, a.box.Part.SKU, size(outside), size(t.Space))
	}
	if !t.Open && !setting.Passes(outside, t.Vehicle.Boot) {
		say("boot: %s (%s) does not go through its opening of %s", a.box.Part.SKU, size(outside), opening(t.Vehicle.Boot))
	}
	for _, u := range a.parts {
		if u.Count > u.Item.Owned && !u.Item.Part.Priced {
			say("price: %s has none and counts as nothing", u.Item.Part.SKU)
		}
	}
	if t.Exact(a.parts) > t.Limit {
		say("price: above the cap of %s", t.Brief.Cap)
	}
	return all
}
