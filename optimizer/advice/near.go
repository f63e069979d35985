package advice

import (
	"cmp"
	"slices"

	"loudfor/catalog"
)

// Near lists the parts of the best build and of the runners-up that have a
// price, those of the best build first.
func (d *Desk) Near() (parts []*catalog.Part) {
	for i := range d.Result.Builds {
		for _, line := range d.Result.Builds[i].Lines {
			part := d.bySKU[line.Part.SKU]
			if part.Priced && !slices.Contains(parts, part) {
				parts = append(parts, part)
			}
		}
	}
	return parts
}

// sortParts puts the dearest first, then by SKU.
func sortParts(parts []*catalog.Part) {
	slices.SortFunc(parts, func(a, b *catalog.Part) int {
		return cmp.Or(cmp.Compare(b.Price.Minor, a.Price.Minor), cmp.Compare(a.SKU, b.SKU))
	})
}
