package optimizer

import (
	"fmt"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// What stock lacks. With stock and limits set aside some build exists; the
// pieces of the cheapest one that cannot be had are what is missing. Then as
// many as possible of them are spared again, so that with one piece less of any
// nothing can be built.

// moreStock finds pieces that would have to be had.
func (c *conflictSearch) moreStock(dropped []int) []Fix {
	p, r := c.eased(dropped)
	r.Stock = true
	if touring(&p) {
		return nil // of which shop, nobody can say
	}
	v := c.judge(p, r)
	if !v.ok {
		return nil
	}
	p.Brief.Cap = catalog.Money{Minor: v.price, Currency: c.car.Currency()}
	p.Top, p.Bare, p.Distinct, p.Progress = 1, true, DistinctParts, nil
	t, err := readyIn(p, r, c.car)
	if err != nil {
		return nil
	}
	s := t.search(c.ctx)
	found := s.total.best
	if c.stop = max(c.stop, s.Stop()); len(found) == 0 || c.stop != StopComplete {
		return nil
	}
	stocked, _ := c.eased(dropped)
	plain, err := readyIn(stocked, setting.Relaxation{}, c.car)
	if err != nil {
		return nil
	}
	var more []catalog.Mention
	for _, u := range found[0].parts {
		if lack := u.Count - plain.Shelf.BySKU[u.Item.Part.SKU].Most; lack > 0 {
			more = append(more, catalog.Mention{SKU: u.Item.Part.SKU, Count: lack})
		}
	}
	will := func(more []catalog.Mention) bool {
		return c.can(dropped, func(p *Problem, _ *setting.Relaxation) { p.Catalogue = stockedUp(p.Catalogue, more) })
	}
	if len(more) == 0 || !will(more) {
		return nil
	}
	for i := 0; i < len(more); {
		fewer := slices.Clone(more)
		if fewer[i].Count--; fewer[i].Count == 0 {
			fewer = slices.Delete(fewer, i, i+1)
		}
		if will(fewer) {
			more = fewer
		} else {
			i++
		}
	}
	var words []string
	for _, m := range more {
		words = append(words, fmt.Sprintf("%d more %s", m.Count, m.SKU))
	}
	return []Fix{{Words: list(words) + " to be had", Stock: more}}
}

// stockedUp is a catalogue with more pieces to be had.
func stockedUp(c *catalog.Catalogue, more []catalog.Mention) *catalog.Catalogue {
	full := *c
	full.Parts = slices.Clone(c.Parts)
	for i, part := range full.Parts {
		for _, m := range more {
			if m.SKU != part.SKU {
				continue
			}
			q := *part
			had := build.Plenty
			if q.Stock != catalog.Unlimited {
				had = min(had, max(q.Stock, 0))
			}
			if q.Limit != catalog.Unlimited {
				had = min(had, max(q.Limit, 0))
			}
			q.Stock, q.Limit = had+m.Count, catalog.Unlimited
			full.Parts[i] = &q
		}
	}
	return &full
}
