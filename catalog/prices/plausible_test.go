package prices

import (
	"bytes"
	"encoding/csv"
	"reflect"
	"testing"

	"loudfor/catalog/internal/plausible"
)

// A dealer's list: columns under the names that shops use, prices, stocks and days as
// they write them. Whatever parts the cells, and in a workbook too where they are
// texts, the list says the same.
func FuzzPlausibleList(f *testing.F) {
	plausible.Seed(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		g := plausible.New(data)
		cells := [columnCount][]string{
			columnSKU:      {g.SKU(), g.SKU(), " P1 ", "P2", "", "x y"},
			columnPrice:    {"39.95", "1 USD", "39,95 USD", "USD 3", "$4", "1,234.50", "1.234,50", "0", "-3", "call", "1,234", "", "1e3", "12.345"},
			columnStore:    {"Gate", "gate ", "Pell Street", "", "Pier"},
			columnStock:    {"3", "0", "", "sold out", "yes", "1.0", "1000001", "-1"},
			columnDate:     {"2025-05-09", "9.5.2025", "May 9 2025", "13/1/2025", "3/4/2025", "7 Mar 2025", "", "2025-02-30", "45786"},
			columnCurrency: {"USD", "EUR", "usd", "", "dollars"},
		}
		rows := g.Table(columnWords[:], func(column int) string { return g.One(cells[column]...) })
		o := Options{Date: may9, Currency: "USD"}
		if g.Pick(3) == 2 {
			o = Options{}
		}
		var first *List
		for i, comma := range []rune{',', ';', '\t'} {
			var b bytes.Buffer
			w := csv.NewWriter(&b)
			w.Comma = comma
			_ = w.WriteAll(rows)
			l, report := Read("f", b.Bytes(), o)
			sound(t, l, report)
			if i == 0 {
				first = l
				continue
			}
			if (l == nil) != (first == nil) || l != nil && !sameEntries(l, first) {
				t.Fatalf("parted by %q it says something else: %q", comma, rows)
			}
		}
	})
}

// sameEntries compares lists but for where in the file a cell stands.
func sameEntries(a, b *List) bool {
	if len(a.Entries) != len(b.Entries) {
		return false
	}
	for i := range a.Entries {
		x, y := a.Entries[i], b.Entries[i]
		x.Where = y.Where
		if !reflect.DeepEqual(x, y) {
			return false
		}
	}
	return true
}
