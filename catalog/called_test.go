package catalog

import (
	"strings"
	"testing"
	"testing/fstest"
)

func TestCalled(t *testing.T) {
	c := New("USD", []*Part{
		{SKU: "A-1", Name: "Tamsel 12-inch value", Maker: "Tamsel"}, {SKU: "A-2", Name: "Tamsel 12-inch", Maker: "Tamsel"},
		{SKU: "B-12", Name: "Kestrun mono 350", Maker: "Kestrun"}, {SKU: "bare"},
	})
	for words, want := range map[string]string{
		"A-1": "A-1", "a-1": "A-1", "value 12": "A-1", "tamsel 12-INCH": "A-2", "mono": "B-12", "kestrun 350": "B-12",
		"tamsel": "A-1 A-2", "12 inch": "A-1 A-2", "BARE": "bare", "": "", "--": "", "nothing": "", "12-in": "",
	} {
		var got []string
		for _, p := range c.Called(words) {
			got = append(got, p.SKU)
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%q: %v, want %s", words, got, want)
		}
	}
	list := []Mention{{SKU: "value 12", Count: 2}, {SKU: "tamsel", Count: 1}}
	got := c.Resolve(list)
	if got[0] != (Mention{SKU: "A-1", Count: 2}) || got[1].SKU != "tamsel" || list[0].SKU != "value 12" {
		t.Errorf("%+v, %+v", got, list)
	}
	if s := c.meant("tamsel"); s != "several parts are called so; write the SKU of one: A-1 (Tamsel 12-inch value), A-2 (Tamsel 12-inch)" {
		t.Error(s)
	}
}

// A deal may name parts by their names as a brief may; a part that it names twice,
// once by each, is one.
func TestDealsNameParts(t *testing.T) {
	const parts = "parts:\n  - {sku: B-1, kind: bass blocker, name: Holter blocker, price: 5 USD, capacitance: 220 uF}\n  - {sku: B-2, kind: bass blocker, name: Maroul blocker, price: 6 USD, capacitance: 220 uF}\ndeals:\n"
	load := func(deal string) (*Catalogue, *Report) {
		return LoadFS(fstest.MapFS{"parts.yaml": {Data: []byte(parts + "  - " + deal + "\n")}}, []string{"parts.yaml"})
	}
	for _, deal := range []string{"{name: d, parts: [holter blocker, B-2 x 2], price: 9 USD}", "{name: d, sku: holter, from: 2, price: 4 USD}"} {
		if c, report := load(deal); report.Err() != nil || c.Deals[0].Parts[0].SKU != "B-1" {
			t.Errorf("%s: %v", deal, report.Problems)
		}
	}
	for deal, want := range map[string]string{
		"{name: d, parts: [holter, B-1 x 2], price: 9 USD}":  "B-1 is named twice in the deal",
		"{name: d, parts: [blocker, B-1 x 2], price: 9 USD}": `no part has the SKU "blocker"`,
	} {
		if _, report := load(deal); report.Err() == nil || report.Problems[0].Summary != want {
			t.Errorf("%s: %v", deal, report.Problems)
		}
	}
}

// Everyday words of the trade are understood where a kind is written.
func TestKindsOfTheTrade(t *testing.T) {
	for word, want := range map[string]Kind{
		"head unit": KindSource, "Radio": KindSource, "high/low converter": KindConverter, "Hi-Lo converter": KindConverter,
		"line output converter": KindConverter, "amp": KindAmplifier, "sub": KindSubwoofer, "box": KindEnclosure, "amp kit": KindKit,
	} {
		if k, ok := KindNamed(word); !ok || k != want {
			t.Errorf("%q is %v, %v", word, k, ok)
		}
	}
}
