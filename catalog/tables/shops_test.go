package tables

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"loudfor/catalog"
	"loudfor/catalog/report"
)

// severalShops is a shelf of which some parts are sold in several shops, with
// the trips to them and deals.
const severalShops = `parts:
  - sku: K-4
    kind: wiring kit
    name: fat cable
    gauge: 4 AWG
    length: 5 m
    store: Gate
    price: 21 USD
    stock: 0
    offers: [{store: North Road, price: 20 USD, stock: 2}, {store: Pier, price: 22 USD}, {store: Meet at Noon, price: 23 USD, stock: 1}, {store: "by, 2 pieces, at \"x\"", price: 0 USD, stock: 0}]
  - {sku: B-1, kind: bass blocker, store: pier, price: 5 USD, capacitance: 220 uF}
stores:
  - {name: North Road, trip: 3 USD}
  - {name: Pier}
  - {name: Gate; upper, trip: 0 USD}
deals:
  - {name: two, parts: [K-4 x 2, B-1], price: 40 USD, store: Pier}
`

func loaded(t testing.TB, text string) *catalog.Catalogue {
	t.Helper()
	c, report := catalog.LoadFS(oneFile([]byte(text)), []string{"parts.yaml"})
	if report.Err() != nil {
		t.Fatal(report.Problems)
	}
	return c
}

// Offers, trips and stock go through a spreadsheet and back as all else does,
// and the file that import writes of it is the same catalogue.
func TestShopsAreNotLost(t *testing.T) {
	c := loaded(t, severalShops)
	want := canonical(t, c)
	for name, export := range exports {
		var b bytes.Buffer
		if err := export(&b, c); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, canonical(t, back(t, name, b.Bytes()))); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
		list, report := Read(name, b.Bytes(), Options{Kind: catalog.KindCount})
		if report.Err() != nil || len(list.Stores) != 3 || len(list.Parts) != 2 || len(list.Deals) != 1 {
			t.Fatalf("%s: %+v", name, list)
		}
		var file strings.Builder
		if err := list.Write(&file); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, canonical(t, loaded(t, file.String()))); diff != "" {
			t.Errorf("%s, written: %s", name, diff)
		}
	}
}

// wild are names with what may go wrong in a cell.
var wild = rapid.OneOf(
	rapid.SampledFrom([]string{"at Pier", "Pier", "a;b", "2 pieces, at", "x\ny", "\uffff", "_x0041_", "_x005F_x0041_", `"q"`, "=1+2", "-", "n/a", "12", "TRUE", "a, b", "\t.", "🔈 ü", "x at y"}),
	rapid.StringN(1, 12, -1),
)

// However a catalogue is made: it is written and read back the same, or refused
// with a word about which part, and then no byte is written.
func TestNothingIsLostAtRandom(t *testing.T) {
	shelf := demoParts(t)
	written, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		name := func(what string) string {
			text := strings.TrimSpace(strings.Map(func(r rune) rune {
				if report.Acts(r) {
					return '?' // every reader refuses it
				}
				return r
			}, strings.ToValidUTF8(wild.Draw(t, what), "")))
			if text == "" {
				return "none"
			}
			return text
		}
		c := &catalog.Catalogue{Currency: shelf.Currency}
		for i := range rapid.IntRange(1, 6).Draw(t, "parts") {
			p := *rapid.SampledFrom(shelf.Parts).Draw(t, "part")
			p.SKU = fmt.Sprint(i, name("sku"))
			p.Note = name("note")
			if rapid.Bool().Draw(t, "stocked") {
				p.Stock = rapid.IntRange(0, 9).Draw(t, "stock")
			}
			if p.Priced {
				p.Store = name("store")
				for range rapid.IntRange(0, 3).Draw(t, "offers") {
					p.Offers = append(p.Offers[:len(p.Offers):len(p.Offers)], catalog.Offer{Store: name("shop"), Stock: rapid.IntRange(0, 3).Draw(t, "pieces"),
						Price: catalog.Money{Minor: rapid.Int64Range(0, 9999).Draw(t, "minor"), Currency: shelf.Currency}})
					if rapid.Bool().Draw(t, "endless") {
						p.Offers[len(p.Offers)-1].Stock = catalog.Unlimited
					}
				}
			}
			c.Parts = append(c.Parts, &p)
		}
		for range rapid.IntRange(0, 3).Draw(t, "stores") {
			c.Shops = append(c.Shops, &catalog.Store{Name: name("place"), Trip: catalog.Money{Minor: rapid.Int64Range(0, 999).Draw(t, "trip"), Currency: shelf.Currency}})
		}
		if q := c.Parts[0]; q.Priced && rapid.Bool().Draw(t, "deal") {
			c.Deals = append(c.Deals, &catalog.Deal{Name: name("deal"), Form: catalog.DealSet, Parts: []catalog.Mention{{SKU: q.SKU, Count: 2}},
				Price: q.Price, Limit: catalog.Unlimited})
		}
		// Only what a file can hold at all is a catalogue.
		var file bytes.Buffer
		if err := catalog.WriteParts(&file, c); err != nil {
			t.Skip(err)
		}
		c, report := catalog.LoadFS(oneFile(file.Bytes()), []string{"parts.yaml"})
		if report.Err() != nil {
			t.Skip(report.Err())
		}
		file.Reset() // once more: in the order of a catalogue
		if err := catalog.WriteParts(&file, c); err != nil {
			t.Fatal(err)
		}
		want := file.String()
		for file, export := range exports {
			var b bytes.Buffer
			if err := export(&b, c); err != nil {
				refused++
				if b.Len() > 0 || !strings.Contains(err.Error(), "cannot be written to a table") {
					t.Errorf("%s: %v, and %d bytes", file, err, b.Len())
				}
				continue
			}
			written++
			l, report := Read(file, b.Bytes(), Options{Kind: catalog.KindCount})
			if report.Err() != nil {
				t.Fatalf("%s: %v\n%q", file, report.Problems, b.String())
			}
			got, report := catalog.Assemble(l.Items)
			if report.Err() != nil {
				t.Fatalf("%s: %v", file, report.Problems)
			}
			var again bytes.Buffer
			if err := catalog.WriteParts(&again, got); err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(want, again.String()); diff != "" {
				t.Errorf("%s: %s", file, diff)
			}
		}
	})
	if (written == 0 || refused == 0) && !testing.Short() {
		t.Errorf("%d written, %d refused: one of the two was not tried", written, refused)
	}
}
