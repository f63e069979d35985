package prices

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"loudfor/catalog"
)

// several is a catalogue with a part that two shops sell, and one that a deal
// takes a share of.
const several = `
parts:
  - {sku: KIT, kind: wiring kit, price: 39 USD, store: Dock Street, stock: 2, gauge: 8 AWG, length: 5 m, offers: [{store: Pell Street, price: 35 USD, stock: 1}]}
  - {sku: BOX, kind: line converter, price: 12 USD, store: Dock Street, channels: 2}
  - {sku: BAG, kind: line converter, price: 12 USD, store: Dock Street, channels: 4}
deals:
  - {name: second at half price, every: 2, off: 50 %, sku: BOX}
  - {name: second for a bit less, every: 2, off: 5 %, sku: BAG, store: Dock Street}
stores:
  - {name: Mill Lane, trip: 3 USD}
`

func loaded(t *testing.T, text string) *catalog.Catalogue {
	t.Helper()
	c, report := catalog.LoadFS(fstest.MapFS{"parts.yaml": {Data: []byte(text)}}, []string{"parts.yaml"})
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	return c
}

func TestLayerOverOffers(t *testing.T) {
	for name, c := range map[string]struct {
		list string
		want []string
	}{
		"an offer is dearer":  {"KIT,pell street,36,,2025-05-09\n", []string{"KIT: 35.00 USD at Pell Street, 1 in stock -> 36.00 USD at Pell Street, 1 in stock; 39.00 USD at Dock Street, 2 in stock"}},
		"an offer is gone":    {"KIT,Pell Street,,0,2025-05-09\n", []string{"KIT: 35.00 USD at Pell Street, 1 in stock -> 39.00 USD at Dock Street, 2 in stock; 35.00 USD at Pell Street, out of stock"}},
		"what is known":       {"KIT,Pell Street,35,1,2025-05-09\nKIT,Dock Street,39,,2025-05-09\n", nil},
		"a third shop":        {"KIT,Mill Lane,30,,2025-05-09\n", []string{"KIT: 35.00 USD at Pell Street, 1 in stock -> 30.00 USD at Mill Lane; 35.00 USD at Pell Street, 1 in stock; 39.00 USD at Dock Street, 2 in stock"}},
		"a share of a price":  {"BOX,Pell Street,9,,2025-05-09\n", []string{"BOX: 12.00 USD at Dock Street -> 9.00 USD at Pell Street"}},
		"a share at a shop":   {"BAG,Pell Street,9,,2025-05-09\n", nil},
		"a dearer shop there": {"BOX,Pell Street,13,,2025-05-09\n", nil},
	} {
		t.Run(name, func(t *testing.T) {
			old := loaded(t, several)
			newer, changes, report := Layer(old, Layering{}, list(t, c.list))
			if len(report.Problems) > 0 {
				t.Fatal(report.Problems)
			}
			var words []string
			for _, ch := range changes {
				before := OffersOf(old.Part(ch.SKU))
				if len(before.Others) > 0 { // the cheaper first, to read better
					before = Offers{Offer: before.Others[0]}
				}
				words = append(words, fmt.Sprintf("%s: %s -> %s", ch.SKU, before, ch.New))
			}
			if diff := cmp.Diff(c.want, words); diff != "" {
				t.Error(diff)
			}
			// What came of it is a catalogue like any other: it can be written,
			// is sound when it is read, and means the same.
			var text bytes.Buffer
			if err := catalog.WriteParts(&text, newer); err != nil {
				t.Fatal(err)
			}
			back := loaded(t, text.String())
			for _, p := range newer.Parts {
				if got, want := OffersOf(back.Part(p.SKU)), OffersOf(p); !got.same(want) {
					t.Errorf("read back: %s, want %s", got, want)
				}
			}
			if again, changes, _ := Layer(back, Layering{}, list(t, c.list)); len(changes) > 0 {
				t.Errorf("the same list once more changes something: %v", changes[0])
			} else if len(again.Parts) != len(back.Parts) {
				t.Error("parts were lost")
			}
		})
	}
}

// However many shops sell a part, all of them are its offers: the one whose deal
// it is, and those that a customer goes to, may be the dearest.
func TestManyShops(t *testing.T) {
	const shops = 500
	rows := ""
	for i := range shops {
		rows += fmt.Sprintf("KIT,Shop %03d,%d,,2025-05-09\n", i, 1+i%30)
	}
	old := loaded(t, strings.Replace(several, "deals:", "deals:\n  - {name: kit and box, sku: KIT, from: 2, price: 30 USD, store: Dock Street}", 1))
	newer, _, report := Layer(old, Layering{}, list(t, rows))
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	kit := OffersOf(newer.Part("KIT"))
	if len(kit.Others) != shops+1 || kit.Store != "Shop 000" || kit.Others[shops].Store != "Dock Street" {
		t.Errorf("%d others: %s", len(kit.Others), kit)
	}
	var text bytes.Buffer
	if err := catalog.WriteParts(&text, newer); err != nil {
		t.Fatal(err)
	}
	loaded(t, text.String())
}
