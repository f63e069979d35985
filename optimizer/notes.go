package optimizer

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/driver"
	"loudfor/model/front"
	"loudfor/model/hearing"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
)

// What a reader of a build has to know: what nobody stated and the prediction
// had to assume, and what to beware of.

// assumed lists what no card, brief or vehicle stated, most weighty first.
func (t *task) assumed(a *arrangement, notes []driver.Note, p *bass.Prepared) []string {
	var all []string
	say := func(format string, values ...any) {
		if s := fmt.Sprintf(format, values...); !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	if !t.Open {
		for _, s := range t.Vehicle.Assumed {
			say("%s", s)
		}
		for _, s := range t.Vehicle.Body.Assumed {
			say("%s", s)
		}
	}
	sku := a.block.Driver.Part.SKU
	for _, n := range notes {
		if n.Kind == driver.Assumed {
			say("%s: %s assumed, %.0f %% either way (%s)", sku, n.Quantity, 100*n.Spread, aside(n.Source))
		}
	}
	for _, s := range p.Circuit().Assumed.Words() {
		say("%s: %s", a.box.Part.SKU, s)
	}
	if a.choice.Item == nil && a.power != FromNothing {
		say("front: the speakers that came with the car, taken as a usual pair of %g ohm", build.StockLoad)
	}
	if a.power != FromNothing {
		_, _, _, notes := a.choice.Stage(a.given, a.filter.Hz, a.filter.Order).Level(t.Cabin)
		var quantities []string
		for _, n := range notes {
			if n.Kind == front.Assumed {
				quantities = append(quantities, n.Quantity)
			}
		}
		if len(quantities) > 0 {
			say("front: %s as usual for the size and the cabin (common practice, no source)", list(quantities))
		}
		if a.filter.Hz > 0 && a.filter.Order != 1 {
			say("front: high-pass set to %g Hz, where the pair plays loudest", a.filter.Hz)
		}
	}
	if !a.block.Loaded() {
		e, s := a.box.Part.Enclosure, a.block.Driver.Part.Subwoofer
		if e.Cutout == 0 || s.Cutout == 0 {
			say("%s in %s: cutout not stated by both, taken to fit", sku, a.box.Part.SKU)
		}
		if e.Depth == 0 || s.Depth == 0 {
			say("%s in %s: depth not stated by both, taken to fit", sku, a.box.Part.SKU)
		}
	}
	if a.outside() == (catalog.Size3{}) && !t.Open {
		say("%s: outside not stated, taken to fit the car", a.box.Part.SKU)
	}
	return all
}

// aside is a source fit to stand in parentheses: what it has in some of its own
// at its end follows a colon there.
func aside(source string) string {
	open := strings.LastIndex(source, " (")
	if open < 0 || !strings.HasSuffix(source, ")") {
		return source
	}
	return source[:open] + ": " + source[open+len(" ("):len(source)-1]
}

// doubts are what its cards say of a build that can hardly be so: also the customer
// has to know.
func (t *task) doubts(a *arrangement, notes []driver.Note) (all []string) {
	for _, n := range notes {
		if n.Kind == driver.Unlikely {
			all = append(all, fmt.Sprintf("%s: the %s of its card is hardly that of such a driver: %s", a.block.Driver.Part.SKU, n.Quantity, n.Source))
		}
	}
	for _, d := range a.box.Part.BoxDoubts() {
		all = append(all, fmt.Sprintf("%s: %s (%s)", a.box.Part.SKU, d.Summary, d.Detail))
	}
	return all
}

// warnings lists what to beware of.
func (t *task) warnings(a *arrangement, notes []driver.Note) []string {
	all := t.doubts(a, notes)
	say := func(format string, values ...any) {
		if s := fmt.Sprintf(format, values...); !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	if t.Vehicle.Outdated != "" {
		say("%s", t.Vehicle.Outdated)
	}
	for _, n := range notes {
		if n.Kind == driver.Inconsistent {
			say("%s: its card contradicts itself: %s (%s)", a.block.Driver.Part.SKU, n.Quantity, n.Source)
		}
	}
	for _, it := range []*pricing.Item{a.amp, a.own} {
		if it == nil {
			continue
		}
		spec := it.Part.Amplifier.Spec
		mode := a.plan.Mode
		if it == a.own && it != a.amp {
			continue
		}
		_, _, notes, _ := spec.Source(mode)
		for _, n := range notes {
			if n.CutTo < n.Claimed {
				say("%s: %.0f W %s at %g ohm cut to %.0f W: %s", it.Part.SKU, n.Claimed, mode, n.Rating.Load, n.CutTo, n.Reason)
			} else {
				say("%s: %.0f W %s at %g ohm: %s", it.Part.SKU, n.Claimed, mode, n.Rating.Load, n.Reason)
			}
		}
	}
	if a.plan.Caution != "" {
		say("%s", a.plan.Caution)
	}
	t.sourceWarnings(a, say)
	t.supplyWarnings(a, say)
	if dba := hearing.Weighted(a.reading.Level, a.reading.Hz); a.reading.Level > 85 {
		if c := hearing.Caution(a.reading.Level, dba); c != "" {
			say("%s", c)
		}
	}
	return all
}

func (t *task) sourceWarnings(a *arrangement, say func(string, ...any)) {
	if a.power == FromSource {
		s := a.source.Part.Source
		volts := s.SupplyVolts
		if volts <= 0 {
			volts = supply.RunningVolts
		}
		if c := front.HeadUnitCeiling(volts, a.choice.Load, s.Channels); s.Power > c*(1+0.01) {
			say("%s: %g W a channel claimed; %g V without a converter gives at most %.0f W", a.source.Part.SKU, s.Power, volts, c)
		}
	}
	if a.power != FromNothing && a.filter.Hz == 0 {
		say("front: no high-pass, so its travel limits it to %.0f W of %.0f W", a.usable, a.given)
	}
}

func (t *task) supplyWarnings(a *arrangement, say func(string, ...any)) {
	if a.kit != nil {
		k := a.kit.Part.Kit
		if k.CopperClad {
			say("%s: copper-clad aluminium, counted with its higher resistance", a.kit.Part.SKU)
		}
		if k.GaugeClaimed {
			say("%s: its gauge is a claim; measure the strands", a.kit.Part.SKU)
		}
	}
	for _, hazard := range t.hazards(a) {
		say("%s", hazard)
	}
	if t.Alternator() <= 0 {
		say("alternator: rating unknown, so the battery is taken to feed everything")
	}
}

// hazards are what currents can do to cable, fuse and battery.
func (t *task) hazards(a *arrangement) (all []string) {
	say := func(format string, values ...any) { all = append(all, fmt.Sprintf(format, values...)) }
	if a.kit != nil {
		k := a.kit.Part.Kit
		fuses := float64(a.number) * t.Amps[a.amp].Fuse
		if a.own != nil {
			fuses += t.Amps[a.own].Fuse
		}
		v := drive.SupplyKit(k).Carries(t.demand(a), fuses)
		for _, s := range append(slices.Clone(v.Reasons), v.Remarks...) {
			say("%s: %s", a.kit.Part.SKU, s)
		}
		if t.Kits[a.kit].Short {
			say("%s: its %.1f m cable does not reach over %.1f m", a.kit.Part.SKU, k.Length, t.Vehicle.CableRun)
		}
	}
	if t.Alternator() > 0 && a.reading.SupplyAmps > t.Feed.Reserve {
		say("alternator: the reading takes %.0f A, %.0f A to spare; the battery gives the rest, for short bursts only",
			a.reading.SupplyAmps, math.Max(0, t.Feed.Reserve))
	}
	return all
}
