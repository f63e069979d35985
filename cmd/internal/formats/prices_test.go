package formats

import (
	"strings"
	"testing"

	"loudfor/catalog/prices"
	"loudfor/cmd/internal/table"
)

// The example is a price list without mistakes, and every column is explained.
func TestPriceList(t *testing.T) {
	l, report := prices.Read("list.csv", []byte(PriceList), prices.Options{})
	if report.Err() != nil {
		t.Fatal(report.Err())
	}
	if len(l.Entries) != 3 || l.Entries[0].Price.Minor != 7900 || l.Entries[2].Priced || l.Entries[2].Stock != 0 {
		t.Errorf("%+v", l.Entries)
	}
	text := strings.ReplaceAll(Help(table.Most), "\n", " ")
	for _, names := range prices.Columns() {
		if columnHelp[names[0]] == "" {
			t.Errorf("the column %s is not explained", names[0])
		}
		for _, name := range names {
			if !strings.Contains(text, name) && !strings.Contains(name, " ") {
				t.Errorf("the name %s is missing", name)
			}
		}
	}
}
