package catalog

import (
	"strings"
	"testing"
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
