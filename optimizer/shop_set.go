package optimizer

import (
	"slices"
	"strings"

	"loudfor/catalog"
)

// shopSet is the shops that one question goes to, with what the price of a part
// in several of them has to be told from: the catalogue of such a question has
// one price a part.
type shopSet struct {
	stores    []string
	of        *catalog.Catalogue         // as it is
	sales     map[string][]catalog.Offer // of the parts with offers, by SKU: those of the shops, cheapest first
	own       map[string]int64           // what their own shops take, minor units
	elsewhere []*catalog.Part            // blockers to be had in other shops only
}

// goes says that a shop is among them.
func (s *shopSet) goes(store string) bool {
	return slices.ContainsFunc(s.stores, func(name string) bool { return strings.EqualFold(name, store) })
}
