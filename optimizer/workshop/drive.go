package workshop

import (
	"cmp"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/hookup"
	"loudfor/model/joinery"
)

// Amplifiers for the grid. The grid has to show boxes for weak and for strong
// amplifiers, not for each one of a catalogue: those stand for all that give
// more power than every one no dearer, and of those a few are heard.

// frontier are the amplifiers that are stronger than all that are no dearer.
func (b *bench) frontier() (out []*catalog.Part) {
	var all []*catalog.Part
	for _, p := range b.p.Catalogue.Parts {
		if p.Kind == catalog.KindAmplifier && pieces(p, &b.p.Brief) > 0 {
			all = append(all, p)
		}
	}
	slices.SortStableFunc(all, func(x, y *catalog.Part) int {
		return cmp.Or(cmp.Compare(price(x, &b.p.Brief), price(y, &b.p.Brief)), cmp.Compare(strongest(y), strongest(x)))
	})
	most := 0.0
	for _, p := range all {
		if w := strongest(p); w > most {
			out, most = append(out, p), w
		}
	}
	return out
}

// strongest is the most power that an amplifier gives in any mode, W.
func strongest(p *catalog.Part) (most float64) {
	spec := p.Amplifier.Spec
	for _, mode := range spec.Modes() {
		most = max(most, spec.Most(mode)*float64(spec.Outputs(mode)))
	}
	return most
}

// affordable are the first amplifiers, whose price leaves something of a sum.
func (b *bench) affordable(money int64) []*catalog.Part {
	n := 0
	for n < len(b.amps) && price(b.amps[n], &b.p.Brief) <= money {
		n++
	}
	return b.amps[:n]
}

// priced is a drive and what its amplifier costs.
type priced struct {
	drive bass.Drive
	price int64
	level float64
}

// drives are all ways of driving a pair with one of some amplifiers.
func (b *bench) drives(of pair, amps []*catalog.Part) (all []priced) {
	for _, p := range amps {
		spec := p.Amplifier.Spec
		for _, mode := range spec.Modes() {
			source, minimum, _, ok := spec.Source(mode)
			if !ok {
				continue
			}
			for outputs := 1; outputs <= spec.Outputs(mode); outputs++ {
				for _, plan := range hookup.Enumerate(of.n, of.driver.Coils, of.driver.CoilLoad, mode, outputs, minimum) {
					all = append(all, priced{price: price(p, &b.p.Brief),
						drive: bass.Drive{Outputs: plan.Outputs, Series: plan.Series, Parallel: plan.Parallel, Source: source, Feed: b.feed}})
				}
			}
		}
	}
	return all
}

// strengths are a few drives from the weakest to the strongest, of those that
// are louder than every one no dearer, by what they do in a middling box. Where
// no box can be built there is nothing to hear them in, and the error says why.
func (b *bench) strengths(of pair, amps []*catalog.Part) ([]priced, error) {
	middling, err := b.middling(of)
	if err != nil {
		return nil, err
	}
	all := b.drives(of, amps)
	drives := make([]bass.Drive, len(all))
	for i := range all {
		drives[i] = all[i].drive
	}
	levels, err := b.hear(of, middling, drives)
	if err != nil {
		return nil, err
	}
	for i := range all {
		all[i].level = levels[i]
	}
	slices.SortStableFunc(all, func(x, y priced) int { return cmp.Or(cmp.Compare(x.price, y.price), cmp.Compare(y.level, x.level)) })
	var steps []priced
	for _, d := range all {
		if len(steps) == 0 || d.level > steps[len(steps)-1].level+Tolerance {
			steps = append(steps, d)
		}
	}
	if len(steps) <= mostStrengths {
		return steps, nil
	}
	var few []priced
	for i := range mostStrengths {
		few = append(few, steps[i*(len(steps)-1)/(mostStrengths-1)])
	}
	return few, nil
}

// roomy is how many times its least volume a middling box has.
const roomy = 2.5

// middling is a sealed box, neither small nor large.
func (b *bench) middling(of pair) (*joinery.Box, error) {
	var why error
	for _, with := range b.stuff {
		low, high, err := b.volumes(of, with)
		if err == nil {
			var box *Box
			if box, err = b.build(of, point{gross: math.Min(high, roomy*low)}, with); err == nil {
				return box.Joinery, nil
			}
			if box, small := b.build(of, point{gross: low}, with); small == nil {
				return box.Joinery, nil
			}
		}
		if why == nil {
			why = err
		}
	}
	return nil, why
}
