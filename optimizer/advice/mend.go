package advice

import (
	"context"

	"loudfor/catalog"
	"loudfor/model/supply"
	"loudfor/optimizer"
)

// The cheapest thing that keeps the lamps from dimming. A catalogue has neither
// alternators nor batteries, so it is an amplifier that makes more of its current,
// or a cable that loses less: one of the two is changed, all else is kept, and the
// same note asks for the same watts of sound. What would not do by Ohm's law is left
// out beforehand; of the rest a search finds the cheapest that obeys every rule but
// the cap. (What is only quieter mends nothing: turning down is free.)

// mend finds it; nil where nothing does.
func mend(ctx context.Context, p optimizer.Problem, b *optimizer.Build) (best *Mended, err error) {
	watts, efficiency := b.Operation.Watts, b.Drive().Source.Efficiency
	p.Brief.Cap = catalog.Money{}
	for _, kind := range []catalog.Kind{catalog.KindAmplifier, catalog.KindKit} {
		would, q := make(map[string]bool), p
		for _, part := range p.Catalogue.Parts {
			switch {
			case part.Kind != kind:
			case b.Holds(part.SKU) > 0:
				q = never(q, part.SKU)
			case mends(p, part, b.Feed, watts, efficiency):
				would[part.SKU] = true
			}
		}
		if len(would) == 0 {
			continue
		}
		q = among(q, func(sku string) bool { return would[sku] || b.Holds(sku) > 0 })
		series, err := optimizer.NewSeries(q)
		if err != nil {
			return nil, err
		}
		builds, whole, err := series.From(ctx, q, b.Objective-optimizer.Noticed)
		if err == nil && !whole {
			err = ErrStopped
		}
		if err != nil {
			return nil, err
		}
		for i := range builds {
			m := &builds[i]
			d := sag(m.Feed, min(watts, m.Operation.Watts), m.Drive().Source.Efficiency)
			cost := catalog.Money{Minor: m.Cost.Minor - b.Cost.Minor, Currency: b.Cost.Currency}
			if !d.Dims() && (best == nil || cost.Minor < best.Cost.Minor) {
				best = &Mended{Build: *m, Cost: cost, Dip: d.Dip}
			}
		}
	}
	return best, nil
}

// mends tells whether a part does it in the place of the one there is.
func mends(p optimizer.Problem, part *catalog.Part, f supply.Feed, watts, efficiency float64) bool {
	switch part.Kind {
	case catalog.KindAmplifier:
		efficiency = part.Amplifier.Spec.Efficiency()
	case catalog.KindKit:
		f.CableResistance = supply.Resistance(part.Kit.Area, p.Vehicle.CableRun, part.Kit.CopperClad)
	}
	return part.Priced && !sag(f, watts, efficiency).Dims()
}
