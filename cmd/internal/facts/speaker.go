package facts

import (
	"fmt"

	"loudfor/catalog"
)

// Speaker says figures the way whoever reads them is used to.
type Speaker interface {
	Figure(value float64, decimals int) string
	Money(catalog.Money) string
	Join(value, band string) string // a figure and the half-width of its band
	Ohm() string                    // the unit
}

// Terminal speaks to a terminal, in any language: a decimal point, and the code
// of a currency behind the sum.
type Terminal struct{}

// Figure is Fixed.
func (Terminal) Figure(value float64, decimals int) string { return Fixed(value, decimals) }

// Money is exact: "39.00 USD".
func (Terminal) Money(m catalog.Money) string { return m.String() }

// Join is "1.2 +/- 0.4".
func (Terminal) Join(value, band string) string { return value + " +/- " + band }

// Ohm is in letters, which every terminal has.
func (Terminal) Ohm() string { return "ohm" }

// within is a level with the half-width of its band.
func within(s Speaker, db, band float64) string { return s.Join(s.Figure(db, 1), s.Figure(band, 1)) }

// Level is a level with the half-width of its band, if one was drawn.
func Level(s Speaker, db, band float64) string {
	if band == 0 {
		return s.Figure(db, 1) + " dB"
	}
	return within(s, db, band) + " dB"
}

// priced says what a build costs against another.
func priced(s Speaker, b, than catalog.Money) string {
	switch extra := Less(b, than); {
	case extra.Minor > 0:
		return "costs " + s.Money(extra) + " more"
	case extra.Minor < 0:
		return "costs " + s.Money(Less(than, b)) + " less"
	}
	return "costs the same"
}

// Name is a part as people call it.
func Name(p *catalog.Part) string {
	if p.Name != "" {
		return p.Name
	}
	return p.SKU
}

// Times puts a count before what there are several of: "2 x part".
func Times(n int, what string) string {
	if n < 2 {
		return what
	}
	return fmt.Sprintf("%d x %s", n, what)
}
