package optimizer

import (
	"fmt"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer/setting"
)

// How much money, or which other shops, would do.

func (c *conflictSearch) moreMoney(dropped []int) []Fix {
	var v verdict
	if p, r := c.eased(dropped); touring(&p) {
		v = c.judgeTours(p, r, true)
	} else {
		v = c.without(dropped)
	}
	limit := c.p.Brief.Cap
	if !v.any || v.price <= limit.Minor {
		return nil
	}
	more := catalog.Money{Minor: v.price - limit.Minor, Currency: limit.Currency}
	return []Fix{{Words: fmt.Sprintf("%s more in the cap", more), Cap: catalog.Money{Minor: v.price, Currency: limit.Currency}}}
}

// moreStores names the stores of which any one would do, or else a set of which
// none can be spared.
func (c *conflictSearch) moreStores(dropped []int) (fixes []Fix) {
	anywhere := c.p
	anywhere.Brief.Stores = nil
	others := slices.DeleteFunc(shopsOf(&anywhere), c.p.Brief.Sells)
	with := func(stores []string) bool {
		return c.can(dropped, func(p *Problem, _ *setting.Relaxation) { p.Brief.Stores = slices.Concat(c.p.Brief.Stores, stores) })
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
