package workshop

import (
	"context"
	"fmt"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// Boxes when prices change. The price of a built box moves with that of its
// sheets and hours, and at other prices other boxes are worth building. So both
// states of a catalogue get the boxes of both: those thought of before are made
// again at the new prices, and those that the new prices bring are not to be had
// before. Then between the two only prices differ, as with any other part.

// Reprice works out the boxes for a problem at its catalogue's prices and at
// those of a newer state. before has the boxes of before, and all others without
// a price; after has all of them.
func Reprice(ctx context.Context, p optimizer.Problem, newer *catalog.Catalogue) (before, after *Shop, err error) {
	if before, err = Stock(ctx, p); err != nil {
		return nil, nil, err
	}
	q := p
	q.Catalogue = newer
	fresh, err := Stock(ctx, q)
	if err != nil {
		return nil, nil, err
	}
	after = &Shop{Catalogue: newer, Considered: fresh.Considered, Pairs: fresh.Pairs, AllPairs: fresh.AllPairs, Rounds: fresh.Rounds, Gain: fresh.Gain,
		Why: fresh.Why, bySKU: map[string]*Box{}}
	known := map[catalog.BuiltBox]bool{}
	for _, box := range before.Boxes {
		known[unnamed(box)] = true
		again, err := Make(newer, &p.Brief, box.Description)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: %w", box.Part.SKU, err)
		}
		if again.Part.Stock = stockOf(again, &p.Brief); pieces(again.Sheet, &p.Brief) == 0 || pieces(again.Workshop, &p.Brief) == 0 {
			again.Part = unpriced(again.Part)
		}
		after.take(again)
	}
	for _, box := range fresh.Boxes {
		if known[unnamed(box)] {
			continue
		}
		named := *box
		for before.Catalogue.Part(named.Description.SKU) != nil || after.Catalogue.Part(named.Description.SKU) != nil {
			named.Description.SKU += "N"
		}
		stock := box.Part.Stock
		named.describe(newer.Currency)
		named.Part.Stock = stock
		after.take(&named)
		before.Catalogue = before.Catalogue.With(unpriced(named.Part))
	}
	if len(after.Boxes) > 0 {
		after.Why = nil
	}
	return before, after, nil
}

func (s *Shop) take(box *Box) {
	s.Boxes = append(s.Boxes, box)
	s.bySKU[box.Part.SKU] = box
	s.Catalogue = s.Catalogue.With(box.Part)
}

// unnamed is what a box is, whatever it is called.
func unnamed(box *Box) catalog.BuiltBox {
	d := box.Description
	d.SKU = ""
	return d
}

// unpriced is a part that is not on offer.
func unpriced(p *catalog.Part) *catalog.Part {
	q := *p
	q.Price, q.Priced = catalog.Money{}, false
	return &q
}
