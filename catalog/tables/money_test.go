package tables

import "testing"

// Prices as shops write them, with the rest of their column. Common practice,
// no source.
func TestMoney(t *testing.T) {
	for _, c := range []struct {
		cells []string
		named string
		want  []string
	}{
		{[]string{"149,90 €", "1.249,00 €", "79,- €", "1.249 €", "€ 5"}, "", []string{"149.90 EUR", "1249.00 EUR", "79 EUR", "1249 EUR", "5 EUR"}},
		{[]string{"$1,149.00", "USD 159.90", "89.00 USD", "129", "$5"}, "", []string{"1149.00 USD", "159.90 USD", "89.00 USD", "129 USD", "5 USD"}},
		{[]string{"$1,149", "99.95"}, "CAD", []string{"1149 CAD", "99.95 CAD"}},
		{[]string{"1,149", "2,500"}, "USD", []string{"1,149", "2,500"}}, // nothing says which it is
		{[]string{"1 299,00 EUR", "1\u00a0049,50 zł"}, "", []string{"1299.00 EUR", "1049.50 PLN"}},
		{[]string{"€ 149,-", "€1.249"}, "", []string{"149 EUR", "1249 EUR"}},
		{[]string{"149.-", "1.249", "1'249"}, "CHF", []string{"149 CHF", "1.249", "1249 CHF"}},
		{[]string{"$5", "7"}, "", []string{"$5", "7"}},
		{[]string{"CHF 1'299.-", "12.50"}, "", []string{"1299 CHF", "12.50 CHF"}},
		{[]string{"from 5 EUR", "-5 EUR", "5-7 EUR", "£5"}, "", []string{"from 5 EUR", "-5 EUR", "5-7 EUR", "5 GBP"}},
		{[]string{"US$ 1,149.00", "12.345.678,90 EUR", "1.2.3,4 EUR"}, "", []string{"1149.00 USD", "12345678.90 EUR", "1.2.3,4 EUR"}},
	} {
		m := moneyOf(c.cells, c.named)
		for i, text := range c.cells {
			if got := m.read(text); got != c.want[i] {
				t.Errorf("%q of %q: %q, want %q", text, c.cells, got, c.want[i])
			}
		}
	}
}
