package counter

import (
	"context"
	"slices"

	"loudfor/catalog"
	"loudfor/catalog/letterhead"
	"loudfor/catalog/prices"
	"loudfor/cmd/internal/inputs"
)

// Loading: the files of the command line, and over the catalogue's prices
// those of the price lists and those that the job book has recorded, as the
// book's own commands lay them.

// PriceLists reads the price lists of the command line, whose rows may name no
// currency. It is asked again whenever a file changes.
type PriceLists func(currency string) (lists []*prices.List, asOf prices.Date, report *catalog.Report, err error)

// read makes a stock of all files.
func (c *Counter) read(generation int) (*stock, error) {
	shelf, err := c.load()
	if err != nil {
		return nil, err
	}
	s := newStock(generation, c.options.Now(), shelf)
	if c.options.Shop != "" {
		shop, report := letterhead.Load(c.options.Shop)
		if err := report.Err(); err != nil {
			return nil, err
		}
		s.shop = &shop
	}
	return s, nil
}

// load reads the shelf, as it would be if the job book had these rows of prices too,
// in place of those it has of the same part, shop and day.
func (c *Counter) load(more ...prices.Entry) (inputs.Shelf, error) {
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
		known := &prices.List{Name: recorded.Name, Recorded: true}
		for _, e := range restated(recorded.Entries, more) {
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

// restated are rows of which others take the place where they speak of the same.
func restated(rows, more []prices.Entry) []prices.Entry {
	type place struct{ sku, store, day string }
	of := func(e *prices.Entry) place { return place{e.SKU, catalog.StoreKey(e.Store), e.Date.String()} }
	newer := map[place]bool{}
	for i := range more {
		newer[of(&more[i])] = true
	}
	return append(slices.DeleteFunc(rows, func(e prices.Entry) bool { return newer[of(&e)] }), more...)
}
