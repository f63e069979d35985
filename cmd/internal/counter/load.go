package counter

import (
	"context"

	"loudfor/catalog"
	"loudfor/catalog/prices"
	"loudfor/cmd/internal/inputs"
)

// Loading: the files of the command line, and over the catalogue's prices
// those of the price lists and those that the job book has recorded, as the
// book's own commands lay them.

// PriceLists reads the price lists of the command line, whose rows may name no
// currency. It is asked again whenever a file changes.
type PriceLists func(currency string) (lists []*prices.List, asOf prices.Date, report *catalog.Report, err error)

func (c *Counter) load() (inputs.Shelf, error) {
	shelf, err := inputs.LoadShelf(c.options.Request)
	if err != nil {
		return shelf, err
	}
	report := &catalog.Report{}
	var lists []*prices.List
	var asOf prices.Date
	if c.options.Lists != nil {
		if lists, asOf, report, err = c.options.Lists(shelf.Catalogue.Currency); err != nil {
			return shelf, err
		}
	}
	if c.book != nil {
		recorded, err := c.book.PriceList(context.Background())
		if err != nil {
			return shelf, err
		}
		known := &prices.List{Name: recorded.Name}
		for _, e := range recorded.Entries {
			if shelf.Catalogue.Part(e.SKU) != nil { // a part of another shop's catalogue is none of this one's
				known.Entries = append(known.Entries, e)
			}
		}
		if len(known.Entries) > 0 {
			lists = append(lists, known)
		}
	}
	if len(lists) == 0 {
		return shelf, nil
	}
	newer, _, found := prices.Layer(shelf.Catalogue, prices.Layering{AsOf: asOf, Stores: shelf.Brief.Stores, Strict: c.options.Strict}, lists...)
	report.Merge(found)
	report.Sort(0)
	if err := report.Err(); err != nil {
		return shelf, err
	}
	shelf.Catalogue = newer
	shelf.Remarks.Merge(report)
	return shelf, nil
}
