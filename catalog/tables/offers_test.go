package tables

import (
	"bytes"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"loudfor/catalog"
)

// A cell with offers as people may write it; what is none is refused at its
// place, with the form of one.
func TestOffersInACell(t *testing.T) {
	read := func(cell, currency string) (*List, *catalog.Report) {
		return Read("list.csv", []byte("sku,kind,capacitance,store,price,offers\nB,bass blocker,220 uF,Gate,5 USD,\""+cell+"\"\n"), Options{Kind: catalog.KindCount, Currency: currency})
	}
	for cell, want := range map[string]string{
		"20.00 USD, 2 pieces, at North Road; 22.00 USD at Pier": "20.00 USD, 2 pieces, at North Road; 22.00 USD at Pier",
		"20 usd,  1 PIECE At Meet at Noon;":                     "20.00 USD, 1 piece, at Meet at Noon",
		"$20 at Pier":                                           "20.00 USD at Pier",
		"20.5, 3 pcs, at Pier, 2 pieces, at Gate":               "20.50 USD, 3 pieces, at Pier, 2 pieces, at Gate",
		"20,50 USD at Pier":                                     "20.50 USD at Pier",
		" ; ":                                                   "",
	} {
		l, report := read(cell, "USD")
		if report.Err() != nil {
			t.Errorf("%q: %v", cell, report.Problems)
			continue
		}
		var b bytes.Buffer
		if err := WriteCSV(&b, &catalog.Catalogue{Parts: l.Parts}); err != nil {
			t.Fatal(err)
		}
		if line := strings.Split(b.String(), "\n")[1]; !strings.Contains(line, want) || strings.Contains(line, " at ") != (want != "") {
			t.Errorf("%q is %s, want %s", cell, line, want)
		}
	}
	for cell, want := range map[string]string{
		"20.00 USD":                        `"20.00 USD" is not an offer`,
		"20.00 USD North Road; 5 USD at X": `"20.00 USD North Road" is not an offer`,
		"20.00 at Pier":                    "names no currency",
		"20 USD, two pieces, at Pier":      "not a currency",
		"20 USD, 9000000 pieces, at Pier":  "stock",
	} {
		_, report := read(cell, "")
		if report.Err() == nil {
			t.Errorf("%q is read", cell)
			continue
		}
		p := report.Problems[0]
		if p.Where.Line != 2 || p.Where.Column != 34 || !strings.Contains(p.Summary+p.Detail, want) {
			t.Errorf("%q: %s %s = %s", cell, p.Where, p.Summary, p.Detail)
		}
		if strings.HasPrefix(want, `"`) && !strings.Contains(p.Detail, "20.00 USD, 2 pieces, at North Road; 22.00 USD at Pier") {
			t.Errorf("%q: the form is not shown: %s", cell, p.Detail)
		}
	}
}

// What a cell cannot hold is refused by the part's name before a byte is
// written.
func TestExportRefuses(t *testing.T) {
	const shelf = `parts:
  - {sku: B-1, kind: bass blocker, name: NAME, store: Gate, price: 5 USD, capacitance: 220 uF, offers: [{store: SHOP, price: 4 USD}]}
  - {sku: SKU, kind: bass blocker, price: 5 USD, capacitance: 220 uF}
deals: [{name: two, parts: [B-1, SKU], price: 8 USD}]
stores: [{name: SHOP, trip: 1 USD}]
`
	for _, c := range []struct{ name, shop, sku, csv, xlsx string }{
		{"n", `Pier`, "B-2", "", ""},
		{"n; m", `Pier`, "B-2", "", ""}, // no list
		{"n", `"Pier; west"`, "B-2", `the part "B-1" cannot be written to a table: offers: "Pier; west" holds ";"`, `the part "B-1" cannot be written to a table: offers: "Pier; west" holds ";"`},
		{"n", `Pier`, `"B;2"`, `the deal "two" cannot be written to a table: parts: "B;2" holds ";"`, `the deal "two" cannot be written to a table: parts: "B;2" holds ";"`},
		{"a\rb", `Pier`, "B-2", `the part "B-1" cannot be written to a table: name: "a\rb": the text holds U+000D`, `name: "a\rb": the text holds U+000D`},
		{"a\x07b", `Pier`, "B-2", `name: "a\ab": the text holds U+0007`, `the part "B-1" cannot be written to a table: name: "a\ab": the text holds U+0007`},
		{"a_x0041_", `Pier`, "B-2", "", `name: "a_x0041_" holds "_x0041_"`},
	} {
		shop := loaded(t, strings.NewReplacer("SHOP", c.shop, "SKU", c.sku).Replace(shelf))
		shop.Parts[0].Name = c.name // readers refuse what acts; states of older books may hold it
		for file, want := range map[string]string{"parts.csv": c.csv, "parts.xlsx": c.xlsx} {
			var b bytes.Buffer
			err := exports[file](&b, shop)
			switch {
			case want == "" && err != nil:
				t.Errorf("%s: %v", file, err)
			case want == "":
				if diff := cmp.Diff(canonical(t, shop), canonical(t, back(t, file, b.Bytes()))); diff != "" {
					t.Errorf("%s: %s", file, diff)
				}
			case err == nil || !strings.Contains(err.Error(), want) || b.Len() > 0:
				t.Errorf("%s: %v, want %s; %d bytes", file, err, want, b.Len())
			}
		}
	}
}

// The cells of a workbook have an end: forty shops with long names do not fit.
func TestCellOfAWorkbookIsFull(t *testing.T) {
	for _, c := range []struct {
		length int
		fits   bool
	}{{32767 / 11, false}, {32767/11 - 20, true}} {
		p := &catalog.Part{SKU: "B", Kind: catalog.KindBlocker, Store: "Gate", Price: catalog.Money{Minor: 500, Currency: "USD"}, Priced: true,
			Stock: catalog.Unlimited, Limit: catalog.Unlimited, Blocker: &catalog.BassBlocker{Capacitance: 1e-4}}
		for i := range 11 {
			p.Offers = append(p.Offers, catalog.Offer{Store: string(rune('a'+i)) + strings.Repeat("x", c.length-1), Price: p.Price, Stock: catalog.Unlimited})
		}
		shelf := catalog.New("USD", []*catalog.Part{p})
		var b bytes.Buffer
		if err := WriteXLSX(&b, shelf); (err == nil) != c.fits {
			t.Errorf("%d: %v", c.length, err)
		} else if err == nil && canonical(t, shelf) != canonical(t, back(t, "parts.xlsx", b.Bytes())) {
			t.Errorf("%d: something is lost", c.length)
		}
	}
}

// A sheet of stores is known by its name and its trips; a list of parts that is
// called after the store is none.
func TestListOfStores(t *testing.T) {
	l, report := Read("stores.csv", []byte("name,trip (USD)\nPier,3\nNorth Road,\n"), Options{Kind: catalog.KindCount})
	if report.Err() != nil || len(l.Stores) != 2 || l.Stores[0].Trip.String() != "3.00 USD" {
		t.Errorf("%+v %v", l, report.Problems)
	}
	_, report = Read("store.csv", []byte("sku,name,price\nB-1,x,3 USD\n"), Options{Kind: catalog.KindCount})
	if len(report.Problems) != 1 || !strings.Contains(report.Problems[0].Summary, "does not say what kind of parts") {
		t.Error(report.Problems)
	}
	_, report = Read("stores.csv", []byte("name,trip\nPier,-3 USD\n"), Options{Kind: catalog.KindCount})
	if len(report.Problems) != 1 || report.Problems[0].Where.String() != "stores.csv:2:6" {
		t.Error(report.Problems)
	}
}

const sold = `parts:
  - sku: B-1
    kind: bass blocker
    store: Gate
    price: 5 USD
    capacitance: 220 uF
    offers:   # others
      - {store: Pier, price: 4.50 USD}   # far
      - store: north
        price: 4 USD # near
        stock: 3
  - {sku: B-2, kind: bass blocker, store: Gate, price: 6 USD, capacitance: 100 uF}
`

const soldNow = `parts:
  - sku: B-1
    kind: bass blocker
    store: Gate
    price: 5 USD
    capacitance: 220 uF
    offers:   # others
      - {store: Pier, price: 4.25 USD, stock: 2}   # far
      - store: north
        price: 4 USD # near
        stock: 1
      - {store: Hall, price: 3 USD}
  - {sku: B-2, kind: bass blocker, offers: [{store: Pier, price: 5 USD, stock: 1}], store: Gate, price: 6 USD, capacitance: 100 uF}
`

// Offers are laid over those of the same shops in a file; deals and stores are
// refused, whatever else the list holds.
func TestUpdateOffers(t *testing.T) {
	l := readList(t, `sku,kind,capacitance,offers
B-1,bass blocker,220 uF,"4.25 USD, 2 pieces, at Pier; 4.00 USD, 1 piece, at North; 3 USD at Hall"
B-2,bass blocker,100 uF,"5 USD, 1 piece, at Pier"
`)
	u, report := l.Update("shelf.yaml", []byte(sold))
	if report.Err() != nil {
		t.Fatal(report.Problems)
	}
	if diff := cmp.Diff(soldNow, string(u.Text)); diff != "" {
		t.Error(diff)
	}
	want := []Change{
		{"B-1", "offers", "4.50 USD at Pier", "4.25 USD, 2 pieces, at Pier"},
		{"B-1", "offers", "4 USD, 3 pieces, at north", "4.00 USD, 1 piece, at North"},
		{"B-1", "offers", "", "3 USD at Hall"},
		{"B-2", "offers", "", "[{store: Pier, price: 5 USD, stock: 1}]"},
	}
	if diff := cmp.Diff(want, u.Changes); diff != "" {
		t.Error(diff)
	}
	for rows, what := range map[string]string{
		"K,,store,,1 USD\n":                       "holds stores,",
		"K,,store,,1 USD\nD,B-1,deal,3\n":         "",
		"D,B-1 x 2,deal,3 USD\n":                  "holds deals,",
		"K,,store,,1 USD\nD,B-1 x 2,deal,3 USD\n": "holds deals and stores,",
	} {
		l, report := Read("list.csv", []byte("name,parts,kind,price,trip\n"+rows), Options{Kind: catalog.KindCount})
		if what == "" {
			if report.Err() == nil {
				t.Errorf("%q is read", rows)
			}
			continue
		}
		if report.Err() != nil {
			t.Fatal(report.Problems)
		}
		if _, report := l.Update("shelf.yaml", []byte(sold)); len(report.Problems) != 1 || !strings.Contains(report.Problems[0].Summary, what) {
			t.Errorf("%q: %v", rows, report.Problems)
		}
	}
}
