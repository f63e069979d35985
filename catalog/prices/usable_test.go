package prices

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"loudfor/catalog"
)

// Rows of a job book never stop it: that without a shop and that of the part's own
// are of one shop here, and were not where they were recorded.
func TestLayerOfRecorded(t *testing.T) {
	c := loaded(t, several)
	own := c.Part("KIT").Store
	l := list(t, "KIT,,50,3,2025-05-09\nKIT,"+own+",60,,2025-05-09\nKIT,,40,,2025-05-08\n")
	if _, _, report := Layer(c, Layering{}, l); report.Err() == nil {
		t.Error("a list that contradicts itself was taken")
	}
	l.Recorded = true
	newer, _, report := Layer(c, Layering{}, l.Only(func(*Entry) bool { return true }))
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	for _, o := range append(OffersOf(newer.Part("KIT")).Others, OffersOf(newer.Part("KIT")).Offer) {
		if o.Store == own && (o.Price != usd(6000) || o.Stock != 3) {
			t.Errorf("%v", o)
		}
	}
}

// What a list is taken for can be used: the catalogue that comes of it is
// written and read back, however many shops sell a part, whatever they are
// called, and whatever of price and stock their rows state.
func TestLayerIsUsable(t *testing.T) {
	names := []string{"Strasse", "Stra\u017fse", "STRASSE", "Stra\u00dfe", "null", "~", "1e3", "a: b", "#x", "Dock Street", "dock  street", "- x", "'", "\"q\"", "{a}", "@", "\u00c4rger", "\u00e4rger", "\u03c3", "\u03c2", "\u212a", "k"}
	rapid.Check(t, func(rt *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(rt, "seed"), 41))
		text := "SKU,store,price,stock,date\n"
		for i := range rapid.IntRange(1, 130).Draw(rt, "rows") {
			name := fmt.Sprintf("Shop %02d", i)
			if r.IntN(4) == 0 {
				name = names[r.IntN(len(names))]
			}
			price, stock := fmt.Sprint(r.IntN(90)), ""
			if r.IntN(3) == 0 {
				stock = fmt.Sprint(r.IntN(3))
				if r.IntN(3) == 0 {
					price = ""
				}
			}
			text += fmt.Sprintf("%s,\"%s\",%s,%s,2025-05-%02d\n", []string{"KIT", "BOX", "BAG", "FREE"}[r.IntN(4)], bytes.ReplaceAll([]byte(name), []byte(`"`), []byte(`""`)), price, stock, 1+r.IntN(28))
		}
		l, report := Read("l.csv", []byte(text), Options{Currency: "USD"})
		if report.Err() != nil {
			return
		}
		o := Layering{}
		if r.IntN(2) == 0 {
			o.Stores = []string{"Dock Street", "Shop 07"}
		}
		c := loaded(t, several+"  - {name: FREEST}\n")
		newer, _, report := Layer(c, o, l.Only(func(e *Entry) bool { return c.Part(e.SKU) != nil }))
		if report.Err() != nil {
			return
		}
		var out bytes.Buffer
		if err := catalog.WriteParts(&out, newer); err != nil {
			rt.Fatalf("%v\n%s", err, text)
		}
		if _, report := catalog.LoadFS(fstest.MapFS{"p.yaml": {Data: out.Bytes()}}, []string{"p.yaml"}); report.Err() != nil {
			rt.Fatalf("%v\n%s\n%s", report.Err(), text, out.String())
		}
	})
}
