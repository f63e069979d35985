package optimizer

import (
	"fmt"
	"slices"

	"loudfor/catalog"
)

// How much money, or which other shops, would do.

func (c *court) moreMoney(dropped []int) []Fix {
	v := c.without(dropped)
	limit := c.p.Brief.Cap
	if !v.any || v.price <= limit.Minor {
		return nil
	}
	more := catalog.Money{Minor: v.price - limit.Minor, Currency: limit.Currency}
	return []Fix{{Words: fmt.Sprintf("%s more in the cap", more), Cap: catalog.Money{Minor: v.price, Currency: limit.Currency}}}
}

// moreStores names the stores of which any one would do, or else a set of which
// none can be spared.
func (c *court) moreStores(dropped []int) (fixes []Fix) {
	var others []string
	for _, p := range c.p.Catalogue.Parts {
		known := func(s string) bool { return catalog.SameStore(s, p.Store) }
		if p.Priced && p.Store != "" && !slices.ContainsFunc(c.p.Brief.Stores, known) && !slices.ContainsFunc(others, known) {
			others = append(others, p.Store)
		}
	}
	slices.Sort(others)
	with := func(stores []string) bool {
		return c.can(dropped, func(p *Problem, _ *relaxed) { p.Brief.Stores = slices.Concat(c.p.Brief.Stores, stores) })
	}
	for _, s := range others[:min(len(others), mostStores)] {
		if len(fixes) < namedStores && with([]string{s}) {
			fixes = append(fixes, Fix{Words: "allow " + s, Stores: []string{s}})
		}
	}
	if len(fixes) > 0 || !with(others) {
		return fixes
	}
	for i := 0; i < len(others); {
		if fewer := slices.Delete(slices.Clone(others), i, i+1); with(fewer) {
			others = fewer
		} else {
			i++
		}
	}
	return []Fix{{Words: "allow " + list(others), Stores: others}}
}
