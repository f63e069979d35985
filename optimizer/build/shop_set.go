package build

import (
	"slices"
	"strings"

	"loudfor/catalog"
)

// ShopSet is the shops that one question goes to, with what the price of a part
// in several of them has to be told from: the catalogue of such a question has
// one price a part.
type ShopSet struct {
	Stores    []string
	Catalogue *catalog.Catalogue         // as it is
	Sales     map[string][]catalog.Offer // of the parts with offers, by SKU: those of the shops, cheapest first
	OwnPrices map[string]int64           // what their own shops take, minor units
	Elsewhere []*catalog.Part            // blockers to be had in other shops only
}

// Goes says that a shop is among them.
func (s *ShopSet) Goes(store string) bool {
	return slices.ContainsFunc(s.Stores, func(name string) bool { return strings.EqualFold(name, store) })
}
