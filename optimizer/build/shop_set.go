package build

import "loudfor/catalog"

// ShopSet is the shops that one question goes to, with what the price of a part
// in several of them has to be told from: the catalogue of such a question has
// one price a part.
type ShopSet struct {
	Stores    []string
	Catalogue *catalog.Catalogue         // as it is
	Sales     map[string][]catalog.Offer // of the parts with offers, by SKU: those of the shops, cheapest first
	OwnPrices map[string]int64           // what their own shops take, minor units
	Elsewhere []*catalog.Part            // blockers to be had in other shops only

	going map[string]bool // Stores by catalog.StoreKey
}

// NewShopSet is a set of shops that sell nothing yet.
func NewShopSet(c *catalog.Catalogue, stores []string) *ShopSet {
	s := &ShopSet{Stores: stores, Catalogue: c, Sales: map[string][]catalog.Offer{}, OwnPrices: map[string]int64{}, going: make(map[string]bool, len(stores))}
	for _, name := range stores {
		s.going[catalog.StoreKey(name)] = true
	}
	return s
}

// Goes says that a shop is among them.
func (s *ShopSet) Goes(store string) bool { return s.going[catalog.StoreKey(store)] }
