package catalog

import (
	"cmp"
	"slices"
)

// With is the catalogue with some parts put in place of those with the same
// SKU, and all others as they were. The catalogue itself does not change: a
// search that still runs on it is not disturbed, and an old answer can be held
// against a new one. A part whose SKU is not in the catalogue is added.
//
// The parts must not be changed afterwards, and their prices must be in the
// currency of the catalogue; one without any prices takes theirs.
func (c *Catalogue) With(parts ...*Part) *Catalogue {
	out := &Catalogue{Currency: c.Currency, Parts: slices.Clone(c.Parts), Deals: c.Deals, Shops: c.Shops, files: c.files}
	bySKU := func(p *Part, sku string) int { return cmp.Compare(p.SKU, sku) }
	for _, p := range parts {
		if out.Currency == "" && p.Priced {
			out.Currency = p.Price.Currency
		}
		if i, ok := slices.BinarySearchFunc(out.Parts, p.SKU, bySKU); ok {
			out.Parts[i] = p
		} else {
			out.Parts = slices.Insert(out.Parts, i, p)
		}
	}
	return out
}
