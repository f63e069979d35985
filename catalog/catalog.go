// Package catalog holds the user's files: parts with prices, vehicles, briefs
// and builds. It reads them with units and positions and reports everything
// that is wrong in them at once.
package catalog

// Catalogue is a set of parts with one currency, in SKU order.
type Catalogue struct {
	Currency string
	Parts    []*Part
}
