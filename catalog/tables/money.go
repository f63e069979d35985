package tables

import (
	"slices"
	"strings"
	"unicode"

	"loudfor/catalog/grid"
	"loudfor/catalog/units"
)

// Prices as shops write them: "€ 139,00", "79,- €", "$1,149.00", "1 299,00 EUR".
// A sign names one currency or, as the dollar's, one of several; a list has one
// currency, which it states somewhere: in the heading, in other cells, or with
// what is asked for by the reader. Whether 1.249 is a thousand or one is told by
// the other prices of the column too; where they do not tell, the cell goes on as
// it is, and is refused.

// signs are those that name one currency.
var signs = map[string]string{"€": "EUR", "euro": "EUR", "euros": "EUR", "£": "GBP", "zł": "PLN", "zl": "PLN", "fr": "CHF", "sfr": "CHF", "r$": "BRL"}

// dollars are the currencies that a dollar's sign may mean.
var dollars = []string{"USD", "CAD", "AUD", "NZD", "SGD", "HKD"}

// money is how the prices of a column are written.
type money struct {
	currency string // of cells that name none; empty: not known
	decimal  rune   // what decimals stand behind; 0: not known
}

// moneyOf looks at the cells of a column; named is the currency that the heading
// or the user says.
func moneyOf(cells []string, named string) (m money) {
	count := map[string]int{}
	points, commas := 0, 0
	for _, text := range cells {
		digits, sign := parted(text)
		if code := currencyOf(sign, ""); code != "" {
			count[code]++
		}
		if i := strings.LastIndexAny(digits, ".,"); i >= 0 && (len(digits)-i == 3 || len(digits)-i == 2 || strings.ContainsAny(digits[:i], ".,") && digits[i] != digits[strings.IndexAny(digits, ".,")]) {
			if digits[i] == '.' {
				points++
			} else {
				commas++
			}
		}
		switch dashed(text, digits) {
		case '.':
			points++
		case ',':
			commas++
		}
	}
	switch {
	case points > 0 && commas == 0:
		m.decimal = '.'
	case commas > 0 && points == 0:
		m.decimal = ','
	}
	if m.currency = named; m.currency == "" {
		codes := make([]string, 0, len(count))
		for code := range count {
			codes = append(codes, code)
		}
		slices.Sort(codes)
		for _, code := range codes {
			if m.currency == "" || count[code] > count[m.currency] {
				m.currency = code
			}
		}
	}
	return m
}

// parted takes the number of a price from its sign or code; both are empty where
// the text has no such form.
func parted(text string) (digits, sign string) {
	t := strings.TrimSpace(text)
	from := strings.IndexFunc(t, unicode.IsDigit)
	to := strings.LastIndexFunc(t, unicode.IsDigit)
	if from < 0 {
		return "", ""
	}
	if from > 0 && strings.ContainsRune("-−+", rune(t[from-1])) {
		return "", ""
	}
	before, after := strings.TrimSpace(t[:from]), strings.TrimSpace(t[to+1:])
	for _, none := range []string{",-", ",–", ",—", ".-", ".–", ",--"} { // "79,- €"
		after = strings.TrimSpace(strings.TrimPrefix(after, none))
	}
	if before != "" && after != "" {
		return "", ""
	}
	return t[from : to+1], strings.ToLower(strings.Trim(before+after, ".* \u00a0\u202f"))
}

// currencyOf is the code of a sign or a code; dollar is what a dollar's sign is.
func currencyOf(sign, dollar string) string {
	if code := signs[sign]; code != "" {
		return code
	}
	if code := strings.ToUpper(sign); slices.Contains(units.CurrencyCodes(), code) {
		return code
	}
	if sign == "$" && slices.Contains(dollars, dollar) {
		return dollar
	}
	for _, code := range dollars { // "US$", "CA$", "AU$"
		if prefix, ok := strings.CutSuffix(sign, "$"); ok && prefix != "" && strings.HasPrefix(strings.ToLower(code), prefix) {
			return code
		}
	}
	return ""
}

// read is the text of a price as the files have it.
func (m money) read(text string) string {
	digits, sign := parted(text)
	code := currencyOf(sign, m.currency)
	if sign == "" {
		code = m.currency
	}
	if digits == "" || code == "" {
		return text
	}
	if decimal := dashed(text, digits); decimal != 0 {
		m.decimal = decimal
	}
	if plain := m.plain(digits); plain != "" {
		return plain + " " + code
	}
	return text
}

// dashed is what stands before a dash in place of decimals, "1.299,-"; 0: none does.
func dashed(text, digits string) rune {
	_, after, _ := strings.Cut(text, digits)
	for _, dash := range "-–—" {
		for _, decimal := range ".," {
			if digits != "" && strings.HasPrefix(after, string(decimal)+string(dash)) {
				return decimal
			}
		}
	}
	return 0
}

// plain is a number with a point before its decimals and nothing else; empty
// where it could be two.
func (m money) plain(digits string) string {
	digits = strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || r == '\'' || r == '’' {
			return -1
		}
		return r
	}, digits)
	if strings.Trim(digits, "0123456789.,") != "" {
		return ""
	}
	at := strings.LastIndexAny(digits, ".,")
	if at < 0 {
		return digits
	}
	last := rune(digits[at])
	other := "."
	if last == '.' {
		other = ","
	}
	group := func(s string) string {
		parts := strings.FieldsFunc(s, func(r rune) bool { return r == '.' || r == ',' })
		for i, part := range parts {
			if len(parts) > 1 && (i > 0 && len(part) != 3 || len(part) > 3) {
				return ""
			}
		}
		return strings.Join(parts, "")
	}
	switch whole, decimals := digits[:at], digits[at+1:]; {
	case strings.Contains(whole, string(last)) && strings.Contains(whole, other):
		return ""
	case strings.Contains(whole, string(last)): // 1.234.567
		return group(digits)
	case strings.Contains(whole, other) || len(decimals) != 3: // 1.234,50; 149,9
		if whole = group(whole); whole == "" {
			return ""
		}
		return whole + "." + decimals
	case m.decimal != 0 && m.decimal != last: // 1.249 among prices such as 79,90
		return group(digits)
	}
	return ""
}

// looked is how many cells of a column are looked at for how it is written.
const looked = 500

// texts are the first texts of each column.
func (p *plan) texts() [][]string {
	out := make([][]string, len(p.names))
	for i := 1 + p.under; i < p.sheet.Len(); i++ {
		for at, c := range p.sheet.Filled(i) {
			if at < len(out) && len(out[at]) < looked && (c.Sort == grid.Untyped || c.Sort == grid.Text) {
				out[at] = append(out[at], c.Shown())
			}
		}
	}
	return out
}
