package counter

import (
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"loudfor/catalog"
)

// Sums and figures as people of a region write them (Unicode CLDR, as package
// currency has it). Spaces there are no-break ones.
func TestVoices(t *testing.T) {
	sum := func(code string) catalog.Money { return catalog.Money{Minor: 123456, Currency: code} }
	for _, tc := range []struct{ accept, query, code, money, level, language string }{
		{"", "", "USD", "$1,234.56", "129.3", "en-US"},
		{"en-US,en;q=0.9", "", "USD", "$1,234.56", "129.3", "en-US"},
		{"de-DE,de;q=0.9", "", "EUR", "1.234,56 €", "129,3", "en-DE"},
		{"fr", "", "EUR", "1 234,56 €", "129,3", "en-FR"},
		{"en-US", "lang=de-CH", "CHF", "CHF 1'234.56", "129.3", "en-CH"},
		{"ja-JP", "", "JPY", "￥123,456", "129.3", "en-JP"},
		{"not a language at all", "lang=%3Cscript%3E", "USD", "$1,234.56", "129.3", "en-US"},
		{strings.Repeat("x", 5000), "", "USD", "$1,234.56", "129.3", "en-US"},
	} {
		r := httptest.NewRequest("GET", "/", nil)
		r.Header.Set("Accept-Language", tc.accept)
		query, err := url.ParseQuery(tc.query)
		if err != nil {
			t.Fatal(err)
		}
		v := voiceOf(r, query)
		plain := strings.NewReplacer("\u00a0", " ", "\u202f", " ").Replace
		if got := plain(v.Money(sum(tc.code))); got != tc.money {
			t.Errorf("%s %s: %q, want %q", tc.accept, tc.query, got, tc.money)
		}
		if got := v.DB(129.3); got != tc.level {
			t.Errorf("%s: a level is %q, want %q", tc.accept, got, tc.level)
		}
		if v.Language != tc.language {
			t.Errorf("%s: the page is in %q, want %q", tc.accept, v.Language, tc.language)
		}
	}
}

func TestSignedFigures(t *testing.T) {
	v := voiceOf(httptest.NewRequest("GET", "/", nil), nil)
	for value, want := range map[float64]string{1.04: "+1.0", -2.25: "−2.3", 0.041: "+0.04", 0: "0.0", -0.001: "0.00"} {
		if got := v.Signed(value); got != want && !(value == -2.25 && got == "−2.2") {
			t.Errorf("%g: %q, want %q", value, got, want)
		}
	}
	if figure, sum := v.Figure(-2.84, 1), v.Money(catalog.Money{Minor: -1000, Currency: "USD"}); figure != "−2.8" || sum != "−$10.00" {
		t.Errorf("the minus of %s and %s", figure, sum)
	}
}
