package workshop

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/model/driver"
	"loudfor/model/parallel"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
)

// Shop is a catalogue with the boxes that the workshops could build for a brief.
type Shop struct {
	Catalogue  *catalog.Catalogue
	Boxes      []*Box // in the order in which they were thought of
	Considered int    // boxes worked out on grids and by the simplex's starts
	Pairs      int    // drivers, in so many in one box, that were considered
	AllPairs   int    // that the brief allows
	Rounds     int    // of ranking and refining
	Gain       float64
	// Why nothing can be built, where there is no box; else nil.
	Why error

	bySKU map[string]*Box
}

const (
	// mostPairs keeps the first step within seconds: pairs are taken by their
	// level in a few boxes.
	mostPairs = 48

	// mostStrengths is how many amplifiers stand for all.
	mostStrengths = 4

	// mostRounds and refined bound the second step: as many builds of each
	// ranking have their boxes refined.
	mostRounds = 5
	refined    = 5
)

// Box is the built box with a SKU, or nil.
func (s *Shop) Box(sku string) *Box { return s.bySKU[sku] }

// Of is the built box of a build, or nil where it has none.
func (s *Shop) Of(b *optimizer.Build) *Box {
	if s == nil || b.Bass.Enclosure == nil {
		return nil
	}
	return s.bySKU[b.Bass.Enclosure.SKU]
}

// Stock works out the boxes for a problem. The error is for problems that make
// no sense; that nothing can be built is said in Why, and the catalogue is then
// the one that came in. When the context ends there is no answer but its error: a
// catalogue with some of the boxes is another catalogue, and what is the best of it
// or not to be built from it would be no answer.
func Stock(ctx context.Context, p optimizer.Problem) (*Shop, error) {
	s := &Shop{Catalogue: p.Catalogue, bySKU: map[string]*Box{}}
	b, err := newBench(p)
	if b == nil {
		return nil, err
	}
	if err != nil {
		s.Why = err
		return s, nil
	}
	pairs := b.pairs()
	s.AllPairs = len(pairs)
	pairs = b.promising(pairs)
	s.Pairs = len(pairs)
	found := make([]first, len(pairs))
	parallel.Each(parallel.Workers(p.Workers), len(pairs), func(i int) {
		if ctx.Err() == nil {
			found[i] = b.candidates(pairs[i])
		}
	})
	smallest := math.Inf(1)
	for i, f := range found {
		s.Considered += f.considered
		for _, t := range f.trials {
			s.add(b, t)
		}
		// The smallest driver's refusal says most.
		if size := pairs[i].driver.Size * float64(pairs[i].n); f.why != nil && size < smallest {
			s.Why, smallest = fmt.Errorf("no box can be built for %s: %w", pairs[i].part.SKU, f.why), size
		}
	}
	if len(s.Boxes) > 0 {
		s.Why = nil
	} else if s.Why == nil {
		s.Why = fmt.Errorf("no box can be built: no subwoofer of the catalogue with an amplifier is within the cap")
	}
	if err := s.refine(ctx, b); err != nil {
		return nil, err
	}
	return s, ctx.Err()
}

// first is what the first step finds for a pair.
type first struct {
	trials     []trial
	considered int
	why        error
}

// candidates are the boxes of a pair for the catalogue.
func (b *bench) candidates(of pair) (f first) {
	money := b.money() - price(of.part, &b.p.Brief)*int64(of.n)
	strengths, why := b.strengths(of, b.affordable(money))
	if len(strengths) == 0 {
		f.why = why
		return f
	}
	drives := make([]bass.Drive, len(strengths))
	for i, s := range strengths {
		drives[i] = s.drive
	}
	all, why := b.trials(of, drives, coarse)
	f.considered = len(all)
	if len(all) == 0 {
		f.why = why
	}
	for i, s := range strengths {
		f.trials = append(f.trials, worthwhile(all, i, money-s.price, priceGain)...)
	}
	return f
}

// money is the cap in minor units.
func (b *bench) money() int64 {
	if b.p.Brief.Cap.Minor <= 0 {
		return math.MaxInt64 / 4
	}
	return b.p.Brief.Cap.Minor
}

func price(p *catalog.Part, brief *catalog.Brief) int64 {
	if owned(brief, p.SKU) > 0 || !p.Priced {
		return 0
	}
	return p.Price.Minor
}

// pairs are the drivers in every number that the brief allows in one box.
func (b *bench) pairs() (all []pair) {
	brief := &b.p.Brief
	most := brief.Drivers
	if most <= 0 {
		most = catalog.DefaultBrief().Drivers
	}
	wanted := map[string]bool{}
	for _, m := range brief.Must {
		if p := b.p.Catalogue.Part(m.SKU); p != nil && p.Kind == catalog.KindSubwoofer {
			wanted[p.SKU] = true
		}
	}
	for _, p := range b.p.Catalogue.Parts {
		if p.Kind != catalog.KindSubwoofer || len(wanted) > 0 && !wanted[p.SKU] {
			continue
		}
		d, _, err := driver.Complete(p.Subwoofer.Card, b.air)
		if err != nil {
			continue
		}
		for n := 1; n <= min(most, pieces(p, brief)); n++ {
			if price(p, brief)*int64(n) <= b.money() {
				all = append(all, pair{p, d, n})
			}
		}
	}
	return all
}

// promising keeps the pairs that are loudest in a few boxes with the strongest
// amplifier that money allows.
func (b *bench) promising(all []pair) []pair {
	if len(all) <= mostPairs {
		return all
	}
	levels := make([]float64, len(all))
	parallel.Each(parallel.Workers(b.p.Workers), len(all), func(i int) {
		of := all[i]
		levels[i] = math.Inf(-1)
		money := b.money() - price(of.part, &b.p.Brief)*int64(of.n)
		amps := b.affordable(money)
		if len(amps) == 0 {
			return
		}
		strengths, _ := b.strengths(of, amps[len(amps)-1:])
		if len(strengths) == 0 {
			return
		}
		trials, _ := b.trials(of, []bass.Drive{strengths[len(strengths)-1].drive}, grid{2, 1, 2})
		for _, t := range trials {
			levels[i] = max(levels[i], t.levels[0])
		}
	})
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(levels[y], levels[x]) })
	order = order[:mostPairs]
	slices.Sort(order)
	kept := make([]pair, mostPairs)
	for i, k := range order {
		kept[i] = all[k]
	}
	return kept
}

// add puts a box into the catalogue, once.
func (s *Shop) add(b *bench, t trial) bool {
	d := unnamed(t.box) // it has a name already where a weaker amplifier asked for it
	count := 0
	for _, other := range s.Boxes {
		o := other.Description
		if o.Driver == d.Driver && o.Holes == d.Holes {
			count++
		}
		if o.SKU = ""; o == d {
			return false
		}
	}
	letter := "S"
	if t.box.Joinery.Design.Vented() {
		letter = "V"
	}
	d.SKU = fmt.Sprintf("SHOP-%s-%d%s%d", d.Driver, d.Holes, letter, count+1)
	for s.Catalogue.Part(d.SKU) != nil {
		d.SKU += "A"
	}
	box := t.box
	box.Description = d
	box.describe(b.p.Catalogue.Currency)
	box.Part.Stock = stockOf(box, &b.p.Brief)
	s.Boxes = append(s.Boxes, box)
	s.bySKU[d.SKU] = box
	s.Catalogue = s.Catalogue.With(box.Part)
	return true
}

// stockOf is how many of a box can be built at its price: sheets in the
// customer's hands are free once.
func stockOf(box *Box, brief *catalog.Brief) int {
	have, own := pieces(box.Sheet, brief), owned(brief, box.Sheet.SKU)
	switch {
	case own > 0:
		return max(1, own/box.Nesting.Sheets)
	case have >= build.Plenty:
		return catalog.Unlimited
	}
	return have / box.Nesting.Sheets
}
