package catalog

import (
	"strings"
	"testing"
	"testing/fstest"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

const dealtShelf = `parts:
  - {sku: TM-12V, kind: subwoofer, price: 39.00 USD, size: 12 in, coils: 2 x 4 ohm, store: Dock Street, stock: 4}
  - {sku: KE-S12, kind: enclosure, price: 42.00 USD, type: sealed, holes: 1 x 12 in, volume: 24 L}
`

const dealtDeals = `deals:
  - {name: twelve in its box, parts: [TM-12V, "KE-S12 x 1"], price: 70 USD, limit: 2, store: dock street}
  - name: from the third on
    sku: TM-12V
    from: 3
    price: 30 USD
  - {name: all of four, sku: TM-12V, from: 4, price: 33 USD, applies: all, note: "new: in May"}
  - {name: half, sku: KE-S12, every: 2, off: 12.5 %}
`

func TestDealsAreRead(t *testing.T) {
	c, report := LoadFS(fstest.MapFS{"parts.yaml": {Data: []byte(dealtShelf)}, "deals.yaml": {Data: []byte(dealtDeals)}}, []string{"."})
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	one := func(sku string) []Mention { return []Mention{{SKU: sku, Count: 1}} }
	want := []*Deal{
		{Name: "all of four", Form: DealFrom, Parts: one("TM-12V"), Price: Money{3300, "USD"}, From: 4, All: true, Limit: Unlimited, Note: "new: in May"},
		{Name: "from the third on", Form: DealFrom, Parts: one("TM-12V"), Price: Money{3000, "USD"}, From: 3, Limit: Unlimited},
		{Name: "half", Form: DealEvery, Parts: one("KE-S12"), Every: 2, OffPPM: 125_000, Limit: Unlimited},
		{Name: "twelve in its box", Form: DealSet, Parts: append(one("TM-12V"), one("KE-S12")...), Price: Money{7000, "USD"}, Limit: 2, Store: "dock street"},
	}
	places := gocmp.Options{cmpopts.IgnoreFields(Deal{}, "Where", "Keys"), cmpopts.IgnoreFields(Mention{}, "Where")}
	if diff := gocmp.Diff(want, c.Deals, places); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if at := c.Deals[1].At("price"); at.File != "deals.yaml" || at.Line != 6 || at.Column != 12 {
		t.Errorf("a price at %v", at)
	}
	if d := c.Deals[2]; d.Reduced(4200) != 3675 || d.Reduced(4) != 4 || d.Reduced(12) != 11 { // 3.5 and 10.5: half up
		t.Errorf("reduced to %d, %d, %d", d.Reduced(4200), d.Reduced(4), d.Reduced(12))
	}
	if sum, ok := c.Alone(c.Deals[3]); !ok || sum.Minor != 8100 {
		t.Errorf("alone %v", sum)
	}
	if next := c.With(c.Parts[0]); len(next.Deals) != len(c.Deals) {
		t.Error("a changed part loses the deals")
	}
	text := same(t, c)
	if !strings.Contains(text, "applies: all") || !strings.Contains(text, "off: 12.5 %") {
		t.Errorf("written as\n%s", text)
	}
}

func TestDealsThatNobodyTakes(t *testing.T) {
	c, report := reload(dealtShelf + `deals:
  - {name: dear, parts: [TM-12V, KE-S12], price: 81 USD}
  - {name: five, sku: TM-12V, from: 5, price: 30 USD}
  - {name: good, sku: KE-S12, from: 5, price: 30 USD}
`)
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	said := ""
	for _, p := range Check(c) {
		if p.Severity == Warning {
			said += p.Summary + "; "
		}
	}
	if said != "dear: the deal saves nothing; five: it needs 5 of TM-12V, and only 4 can be bought; " {
		t.Errorf("said %q", said)
	}
}

// The portions of a set add up, and none exceeds what its line costs alone.
func TestPortions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lines := rapid.SliceOfN(rapid.Int64Range(0, 1e12), 1, 8).Draw(t, "lines")
		var all int64
		for _, l := range lines {
			all += l
		}
		price := rapid.Int64Range(0, all).Draw(t, "price")
		var sum int64
		for i, p := range Portions(price, lines) {
			if sum += p; p < 0 || p > lines[i] {
				t.Fatalf("%d of %d", p, lines[i])
			}
		}
		if sum != price {
			t.Fatalf("%d instead of %d", sum, price)
		}
	})
	if got := Portions(100, []int64{50, 50, 51}); got[0] != 33 || got[1] != 33 || got[2] != 34 { // 33.1, 66.2
		t.Errorf("%v", got)
	}
}

func TestTaxesAndLabour(t *testing.T) {
	files := fstest.MapFS{"brief.yaml": {Data: []byte(`cap: 250 USD
vehicle: small sedan
tax: {default: 7.5 %, amplifier: 0 %, front-speakers: 19 %, labour: 5 %}
labour:
  - {name: fitting, price: 40 USD, per: amplifier}
  - {name: Doors, price: 25 USD, per: front speakers, pieces: installed, tax: 0 %}
`)}, "plain.yaml": {Data: []byte("cap: 250 USD\nvehicle: small sedan\ntax: 8 %\n")}}
	b, report := LoadBriefFS(files, "brief.yaml")
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	for k, want := range map[Kind]int64{KindSubwoofer: 75_000, KindAmplifier: 0, KindFront: 190_000} {
		if got := b.TaxOn(k); got != want {
			t.Errorf("tax on a %s: %d", k, got)
		}
	}
	v := Vehicle{Labour: []Labour{{Name: "doors", Per: KindFront}, {Name: "cleaning", Per: KindCount}}}
	lines := LabourLines(&b, &v)
	if len(lines) != 3 || lines[0].Name != "cleaning" || lines[1].Per != KindAmplifier || !lines[2].Installed || lines[2].Price.Minor != 2500 {
		t.Errorf("labour %+v", lines)
	}
	for i, want := range []int64{50_000, 50_000, 0} {
		if got := b.TaxOnLabour(&lines[i]); got != want {
			t.Errorf("tax on %s: %d", lines[i].Name, got)
		}
	}
	if b, report = LoadBriefFS(files, "plain.yaml"); report.Err() != nil || b.TaxOn(KindKit) != 80_000 || b.TaxOnLabour(&lines[1]) != 80_000 {
		t.Errorf("%v, %d", report.Err(), b.TaxPPM)
	}
}
