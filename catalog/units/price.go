package units

import (
	"math"
	"strconv"
	"strings"

	"github.com/bojanz/currency"
)

func sqrt(x float64) float64 { return math.Sqrt(x) }

// Price is an exact sum of money.
type Price struct {
	Minor    int64  // minor units: cents where the currency has two digits
	Currency string // ISO 4217 code
}

// String writes the sum with all its decimals and the code of its currency:
// "250.00 USD".
func (p Price) String() string {
	a, err := currency.NewAmountFromInt64(p.Minor, p.Currency)
	if err != nil { // no currency: only a zero sum that nobody set
		return "0"
	}
	return a.Number() + " " + p.Currency
}

// ExamplePrice is a well-written price.
const ExamplePrice = "39.00 USD"

// largestMinor keeps sums of many prices, and products with a tax rate in
// millionths, far from the end of an int64.
const largestMinor = 1_000_000_000_000 // 10 thousand million of a currency with cents

// currencies maps each ISO 4217 code to its digits; the keys are the strings
// that prices share.
var currencies = func() map[string]coin {
	m := map[string]coin{}
	for _, code := range currency.GetCurrencyCodes() {
		if d, ok := currency.GetDigits(code); ok {
			m[code] = coin{code, int(d)}
		}
	}
	return m
}()

type coin struct {
	code   string
	digits int
}

// CurrencyCodes lists the known ISO 4217 codes.
func CurrencyCodes() []string { return currency.GetCurrencyCodes() }

// symbols that people write in place of a code, with what they may mean.
var symbols = [...]struct{ sign, codes string }{
	{"$", "USD, CAD or AUD"}, {"€", "EUR"}, {"£", "GBP"}, {"¥", "JPY or CNY"},
}

// ParsePrice reads "39.00 USD" or "USD 39.00" exactly; the sign is the
// caller's affair.
func ParsePrice(text string) (Price, *Error) {
	from, to := trimmed(text)
	s := text[from:to]
	fail := func(summary, remedy string) (Price, *Error) {
		return Price{}, &Error{Summary: summary, Remedy: remedy, Start: from, End: to}
	}
	if s == "" {
		return fail("the price is empty", "write a price, such as "+ExamplePrice)
	}
	for _, sym := range symbols {
		if strings.Contains(s, sym.sign) {
			return fail("\""+Clip(s)+"\" names no currency", "write the code of the currency in place of "+sym.sign+": "+sym.codes+", as in "+ExamplePrice)
		}
	}
	number, code := s, ""
	if isLetter(s[0]) {
		if k := strings.IndexAny(s, " 0123456789+-.,"); k > 0 {
			code, number = s[:k], strings.TrimSpace(s[k:])
		}
	} else {
		k := len(s)
		for k > 0 && isLetter(s[k-1]) {
			k--
		}
		code, number = s[k:], strings.TrimSpace(s[:k])
	}
	if code == "" {
		return fail("\""+Clip(s)+"\" names no currency", "write a price, such as "+ExamplePrice)
	}
	c, ok := currencies[code]
	if !ok {
		if c, ok = currencies[strings.ToUpper(code)]; !ok {
			return fail("\""+Clip(code)+"\" is not a currency", "write its ISO 4217 code, such as USD or EUR")
		}
	}
	digits, err := plainDigits(number)
	if err != nil {
		err.Start, err.End = from, to
		return Price{}, err
	}
	minor, why := scaled(digits, c.digits)
	if why != "" {
		return fail("\""+Clip(s)+"\" "+why, "write at most "+strconv.Itoa(c.digits)+" decimals in "+c.code)
	}
	if minor > largestMinor || minor < -largestMinor {
		return fail("\""+Clip(s)+"\" is out of all proportion", "write a plausible price")
	}
	return Price{minor, c.code}, nil
}

// ParsePercent reads "7.5 %" exactly, in millionths: 75000.
func ParsePercent(text string) (millionths int64, err *Error) {
	q, err := Parse(text, Ratio)
	if err != nil {
		return 0, err
	}
	from, to := trimmed(text)
	digits, err := plainDigits(strings.TrimSpace(strings.TrimSuffix(q.Text, q.Unit)))
	if err != nil {
		err.Start, err.End = from, to
		return 0, err
	}
	n, why := scaled(digits, 4)
	if why != "" {
		return 0, &Error{Summary: "\"" + Clip(q.Text) + "\" " + why, Remedy: "write at most 4 decimals", Start: from, End: to}
	}
	return n, nil
}

// plainDigits turns a number without exponent or fraction into an optional
// minus sign, digits and at most one point.
func plainDigits(s string) (string, *Error) {
	bad := &Error{Summary: "\"" + Clip(s) + "\" is not a decimal number", Remedy: "write digits with a decimal point, such as 39.00"}
	sign := ""
	switch {
	case strings.HasPrefix(s, "-"):
		sign, s = "-", s[1:]
	case strings.HasPrefix(s, "−"):
		sign, s = "-", s[len("−"):]
	case strings.HasPrefix(s, "+"):
		s = s[1:]
	}
	if s == "" || len(s) > longestNumber {
		return "", bad
	}
	for i := 0; i < len(s); {
		if !isDigit(s[i]) && !isSeparator(s, i, len(s)) {
			return "", bad
		}
		i += separatorWidth(s[i:])
	}
	digits, err := ungroup(s, 0)
	if err != nil {
		return "", err
	}
	return sign + digits, nil
}

// scaled multiplies a decimal number by 10^places exactly; why says what
// hinders it.
func scaled(digits string, places int) (n int64, why string) {
	sign, rest := int64(1), digits
	if strings.HasPrefix(rest, "-") {
		sign, rest = -1, rest[1:]
	}
	whole, frac, _ := strings.Cut(rest, ".")
	frac = strings.TrimRight(frac, "0")
	if len(frac) > places {
		return 0, "has too many decimals"
	}
	n, err := strconv.ParseInt(whole+frac+strings.Repeat("0", places-len(frac)), 10, 64)
	if err != nil {
		return 0, "is out of all proportion"
	}
	return sign * n, ""
}
