// Package prices reads price lists, as shops send them, and lays them over a
// catalogue.
//
//	lists, report := prices.Load([]string{"may.csv", "dock-street.xlsx"}, prices.Options{Currency: c.Currency})
//	if err := report.Err(); err != nil {
//		return err // the report holds every mistake of every list, by line or cell
//	}
//	newer, changes, report := prices.Layer(c, prices.Layering{}, lists...)
//	for _, ch := range changes {
//		fmt.Println(ch.SKU, ch.Old, ch.New, ch.Date)
//	}
//
// A list is a CSV file (comma, semicolon or tab) or an XLSX workbook with the
// columns SKU, price, store, stock and date, in any order and under the names
// that shops give them; see Columns. A row states a price, or a stock, or
// both: stock 0 takes a part off the shelf without a price.
//
// What can be read in two ways is refused, as everywhere in the catalogue:
// 1,234 and 3/4/2025 are errors with both readings named. So are a formula or
// a text where a number belongs, two prices for one part on one day, a
// currency that differs and a SKU that nobody knows. All mistakes are reported
// at once, and with one of them nothing is applied.
//
// Limits: files up to 64 MB, 200,000 rows, however many shops, one currency,
// prices before tax; no quantity breaks; the older .xls workbooks are not read.
// The package has no clock: "today" is a date that the caller gives.
package prices

import (
	"cmp"
	"slices"

	"loudfor/catalog"
)

// The bounds of a list. A distributor with ten thousand parts in five shops
// sends fifty thousand rows, about 2 MB.
const (
	MostBytes    = 64 << 20  // of a file
	MostUnpacked = 256 << 20 // of a workbook when its compression is undone
	MostRows     = 200_000   // with content, of one file
)

// Entry is one row of a price list: what one shop says of one part on one day.
type Entry struct {
	SKU   string
	Store string // empty: not stated, the shop of the part in the catalogue
	Price catalog.Money
	// Priced is false where the row states only the stock.
	Priced bool
	Stock  int // pieces, or catalog.Unlimited where the row does not state it
	Date   Date
	Where  catalog.Position
}

// List is a price list without mistakes, in the order of its rows.
type List struct {
	Name    string // of the file
	Entries []Entry
	Undated int  // rows that state no day and took that of the options
	Day     Date // that day
	// Recorded rows came from many lists, and what they say is settled: of two
	// of one part, shop and day the later in the list holds.
	Recorded bool
}

// Only is the list with the rows that are to be kept.
func (l *List) Only(keep func(*Entry) bool) *List {
	out := &List{Name: l.Name, Recorded: l.Recorded}
	for i := range l.Entries {
		if keep(&l.Entries[i]) {
			out.Entries = append(out.Entries, l.Entries[i])
		}
	}
	return out
}

// Options are what a list itself may leave open.
type Options struct {
	// Date is the day of rows that state none; without it each row needs one.
	Date Date
	// Currency is that of prices that name none; empty: each must.
	Currency string
	// Sheet is the one sheet of a workbook to read; empty: every visible
	// sheet that looks like a price list.
	Sheet string
}

// keyed is an entry with its shop as shops are compared.
type keyed struct {
	*Entry
	store string
}

// keys finds the keys of names of shops: a long list says the same few names
// over and over.
type keys map[string]string

func (k keys) of(store string) string {
	key, known := k[store]
	if !known {
		key = catalog.StoreKey(store)
		k[store] = key
	}
	return key
}

// sorted are the entries by part, store and day, and those of one day by their
// place.
func sorted(entries []Entry) []keyed {
	out, key := make([]keyed, len(entries)), keys{}
	for i := range entries {
		out[i] = keyed{&entries[i], key.of(entries[i].Store)}
	}
	slices.SortStableFunc(out, func(a, b keyed) int {
		return cmp.Or(cmp.Compare(a.SKU, b.SKU), cmp.Compare(a.store, b.store), a.Date.Compare(b.Date), a.Where.Compare(b.Where))
	})
	return out
}
