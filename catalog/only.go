package catalog

import "slices"

// Only is the catalogue with the wanted parts alone, and with those deals that
// name no others: all that a build of these parts depends on.
func (c *Catalogue) Only(wanted func(sku string) bool) *Catalogue {
	out := &Catalogue{Currency: c.Currency, files: c.files}
	for _, p := range c.Parts {
		if wanted(p.SKU) {
			out.Parts = append(out.Parts, p)
		}
	}
	for _, d := range c.Deals {
		if !slices.ContainsFunc(d.Parts, func(m Mention) bool { return !wanted(m.SKU) }) {
			out.Deals = append(out.Deals, d)
		}
	}
	return out
}
