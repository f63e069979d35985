package tables

import (
	"fmt"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
	"loudfor/catalog/expression"
	"loudfor/catalog/grid"
)

// What other shops take for a part stands in one cell, the pieces on their
// shelf between the price and the shop where they are known:
//
//	20.00 USD, 2 pieces, at North Road; 22.00 USD at Pier

// offerList is the cell with all of them.
var offerList = itemList{
	form:   "price, pieces on the shelf if known, and shop, and ; between them: 20.00 USD, 2 pieces, at North Road; 22.00 USD at Pier",
	item:   offerIn,
	write:  offerText,
	same:   sameOffer,
	values: []string{"price", "stock"},
}

// offered is one offer. Its first "at" ends the price, since no price holds
// that word; the name of a shop may.
var offered = expression.Late(`(?is)^(.+?)(?:,\s+(\d+)\s+(?:pieces?|pcs))?\s*,?\s+at\s+(\S.*)$`)

// offerIn reads one offer.
func offerIn(item string, c grid.Cell, price func(string) string) (*yaml.Node, error) {
	m := offered().FindStringSubmatch(item)
	if m == nil {
		return nil, fmt.Errorf("%q is not an offer", item)
	}
	n := mapping(c)
	n.Style = yaml.FlowStyle
	store := scalar(m[3], c)
	store.Tag = "!!str"
	put(n, "store", store)
	put(n, "price", scalar(price(m[1]), c))
	if m[2] != "" {
		put(n, "stock", scalar(m[2], c))
	}
	return n, nil
}

// offerText writes one offer.
func offerText(n *yaml.Node) string {
	text := lookup(n, "price").Value
	switch stock := lookup(n, "stock").Value; stock {
	case "":
	case "1":
		text += ", 1 piece,"
	default:
		text += ", " + stock + " pieces,"
	}
	return text + " at " + lookup(n, "store").Value
}

// sameOffer tells whether two offers are of one shop; the catalogue takes no
// notice of the case either.
func sameOffer(a, b *yaml.Node) bool {
	return catalog.SameStore(lookup(a, "store").Value, lookup(b, "store").Value)
}
