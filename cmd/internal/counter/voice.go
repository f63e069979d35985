package counter

import (
	"math"
	"net/http"
	"net/url"
	"strings"

	"github.com/bojanz/currency"
	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/number"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
)

// A voice says figures the way a visitor is used to: the sign of a currency,
// on which side it stands, the decimal sign. The words stay English; the
// page's language attribute says so, with the region that shapes the figures.

type voice struct {
	Language string // BCP 47, of the page
	sums     *currency.Formatter
	figures  *message.Printer
	stated   string // lang of the query, if it holds one
}

// mostTag: longer names of languages than this are no names.
const mostTag = 35

// voiceOf takes the language of the query, else the browser's first.
func voiceOf(r *http.Request, query url.Values) voice {
	stated := one(query, keyLanguage)
	name := stated
	if name == "" {
		name, _, _ = strings.Cut(r.Header.Get("Accept-Language"), ",")
		name, _, _ = strings.Cut(name, ";")
	}
	name = strings.TrimSpace(name)
	tag, err := language.Parse(name)
	if len(name) > mostTag || err != nil || tag == language.Und {
		tag, stated = language.AmericanEnglish, ""
	}
	base, _ := tag.Base()
	region, known := tag.Region()
	// Without extensions, which could ask for other digits than the page's
	// scale has room for.
	plain, err := language.Compose(base, region)
	if err != nil {
		plain = language.AmericanEnglish
	}
	v := voice{Language: "en", stated: stated, figures: message.NewPrinter(plain), sums: currency.NewFormatter(currency.NewLocale(plain.String()))}
	if known != language.No {
		v.Language += "-" + region.String()
	}
	v.sums.MaxDigits = currency.DefaultDigits
	return v
}

// Money is a sum with the sign of its currency.
func (v voice) Money(m catalog.Money) string {
	if m.Currency == "" {
		return m.Decimal()
	}
	amount, err := currency.NewAmountFromInt64(m.Minor, m.Currency)
	if err != nil {
		return m.String() // a code that the tables do not know
	}
	return minus(v.sums.Format(amount))
}

// Round is a sum without its decimals, for the marks of an axis.
func (v voice) Round(m catalog.Money) string {
	f := *v.sums
	f.MinDigits, f.MaxDigits = 0, 0
	amount, err := currency.NewAmountFromInt64(m.Minor, m.Currency)
	if err != nil {
		return m.String()
	}
	return minus(f.Format(amount))
}

// Figure is a number with so many decimals.
func (v voice) Figure(value float64, decimals int) string {
	scale := math.Pow(10, float64(decimals))
	if value = math.Round(value*scale) / scale; value == 0 {
		value = 0 // not "-0"
	}
	return minus(v.figures.Sprint(number.Decimal(value, number.Scale(decimals))))
}

// minus has the sign as wide as a plus, and never at the end of a line.
func minus(text string) string { return strings.Replace(text, "-", "−", 1) }

// DB is a level with one decimal.
func (v voice) DB(value float64) string { return v.Figure(value, 1) }

// band is the half-width of a band; empty where none was drawn.
func (v voice) band(db float64) string {
	if db == 0 {
		return ""
	}
	return v.DB(db)
}

// banded is a level with its unit and, if it was drawn, its band.
func (v voice) banded(db, band float64) string { return facts.Level(v, db, band) }

// Join puts a figure before the half-width of its band.
func (v voice) Join(value, band string) string { return value + " ± " + band }

// Ohm is the unit by its sign.
func (v voice) Ohm() string { return "Ω" }

// Signed is a difference with its sign.
func (v voice) Signed(value float64) string {
	decimals := 1
	if abs := math.Abs(value); abs < 0.05 && abs > 0 {
		decimals = 2
	}
	text := v.Figure(value, decimals)
	if value > 0 && strings.Trim(text, "0.,") != "" {
		return "+" + text
	}
	return text
}

// Count is a whole number with its thousands apart.
func (v voice) Count(n int) string { return v.figures.Sprint(number.Decimal(n)) }
