package formats

import (
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/tables"
)

// The list in the help is read as the help says: three rows, two offers.
func TestPartsListIsRead(t *testing.T) {
	l, report := tables.Read("list.csv", []byte(PartsList), tables.Options{Kind: catalog.KindCount})
	if report.Err() != nil {
		t.Fatal(report.Problems)
	}
	c, report := catalog.Assemble(l.Items)
	if report.Err() != nil {
		t.Fatal(report.Problems)
	}
	for _, s := range l.Sheets {
		for _, c := range s.Columns {
			if c.Key == "" {
				t.Errorf("not read: %+v", c)
			}
		}
	}
	p := c.Part("B-2")
	if p == nil || len(p.Offers) != 2 || p.Offers[0].Stock != 2 || len(c.Deals) != 1 || c.Trip("Pier").String() != "3.00 USD" {
		t.Errorf("%+v", c)
	}
}
