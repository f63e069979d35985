package prices

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/grid"
	"loudfor/catalog/units"
)

// One row is one entry. Each cell is read by itself, so that every mistake of
// a row is found.

func (t *table) row(row []grid.Cell) {
	if t.stray(row) {
		return
	}
	before := t.failed
	sku := t.cell(row, columnSKU)
	e := Entry{SKU: t.name(sku, "a SKU"), Stock: catalog.Unlimited, Date: t.options.Date, Where: sku.At}
	if sku.Empty() {
		t.bad(sku, "the row names no SKU", "write the SKU of the part, or clear the row")
	}
	if c := t.cell(row, columnStore); !c.Empty() {
		e.Store = t.name(c, "the name of a store")
	}
	if c := t.cell(row, columnPrice); !c.Empty() {
		e.Price, e.Priced = t.price(c, t.cell(row, columnCurrency)), true
	}
	if c := t.cell(row, columnStock); !c.Empty() {
		e.Stock = t.stock(c)
	}
	if c := t.cell(row, columnDate); !c.Empty() {
		e.Date = t.date(c)
	} else if e.Date.IsZero() {
		t.bad(c, "the row has no date", dateRemedy+", or state the day of rows without one: --date 2025-03-09")
	} else {
		t.undated++
	}
	if !e.Priced && e.Stock == catalog.Unlimited && t.failed == before {
		t.bad(sku, fmt.Sprintf("%s has neither a price nor a stock", e.SKU), "write one of them: stock 0 says that there is none left")
	}
	if t.failed == before {
		t.entries = append(t.entries, e)
	}
}

// cell is the one of a column; where the row is shorter, an empty one at the
// row's start.
func (t *table) cell(row []grid.Cell, c column) grid.Cell {
	if i := t.header.at[c]; i >= 0 && i < len(row) {
		return row[i]
	}
	return grid.Cell{At: row[0].At}
}

// stray reports a row with values beyond the last column: most likely a
// decimal comma in a file whose columns are parted by commas, which moves all
// that follows.
func (t *table) stray(row []grid.Cell) bool {
	for i := t.header.width; i < len(row); i++ {
		if row[i].Sort == grid.Untyped && !row[i].Empty() {
			t.bad(row[i], fmt.Sprintf("the row has %d values, but the header names %d columns", len(row), t.header.width),
				"put a value that holds the separator, such as 39,90, in double quotes")
			return true
		}
	}
	return false
}

// plain refuses what is no value.
func (t *table) plain(c grid.Cell, what string) bool {
	switch c.Sort {
	case grid.Formula:
		t.bad(c, "the cell holds a formula, not "+what, "copy the column and paste it as values")
	case grid.Fault:
		t.bad(c, fmt.Sprintf("the cell holds %s, not %s", c.Text, what), "mend the cell, or clear it")
	case grid.Truth:
		t.bad(c, "the cell holds a yes or no, not "+what, "write "+what)
	default:
		// A spreadsheet that shows formulas saves them as text.
		if !strings.HasPrefix(strings.TrimSpace(c.Text), "=") {
			return true
		}
		t.bad(c, "the cell holds a formula, not "+what, "show values instead of formulas and save the list again")
	}
	return false
}

func (t *table) name(c grid.Cell, what string) string {
	s := strings.TrimSpace(c.Text)
	if c.Empty() || !t.plain(c, what) {
		return ""
	}
	if len(s) > document.LongestText {
		t.bad(c, fmt.Sprintf("%s of %d characters", what, len(s)), fmt.Sprintf("write at most %d", document.LongestText))
		return ""
	}
	return c.Shown()
}

// signs are the currencies that a sign before or after a number can mean.
var signs = map[string][]string{"$": {"USD", "CAD", "AUD", "NZD", "SGD", "MXN"}, "€": {"EUR"}, "£": {"GBP"}, "¥": {"JPY", "CNY"}}

func (t *table) price(c, stated grid.Cell) catalog.Money {
	if !t.plain(c, "a price") {
		return catalog.Money{}
	}
	s := strings.TrimSpace(c.Text)
	if c.Sort == grid.Number {
		s = c.Shown()
	}
	if !strings.ContainsAny(s, "0123456789") {
		t.bad(c, fmt.Sprintf("%q is not a price", units.Clip(s)), "write a price, such as "+units.ExamplePrice+", or clear the cell")
		return catalog.Money{}
	}
	code := t.currency(stated)
	own := lettered(s)
	if c.Sort == grid.Text && !own {
		t.bad(c, fmt.Sprintf("the cell holds the text %q where a number belongs", units.Clip(s)), "turn the cell into a number, or write the currency with it, such as "+units.ExamplePrice)
		return catalog.Money{}
	}
	p, err := units.ParsePrice(InCurrency(s, code))
	switch {
	case err != nil && !own && code == "":
		t.bad(c, err.Summary, err.Remedy+"\nor add a column named currency, or name the price column such as price (USD)")
	case err != nil:
		t.bad(c, err.Summary, err.Remedy)
	case p.Minor < 0:
		t.bad(c, fmt.Sprintf("the price %s is below zero", catalog.Money(p)), "write what the part costs")
	case own && code != "" && p.Currency != code && (t.header.currency != "" || !stated.Empty()):
		t.bad(c, fmt.Sprintf("the price is in %s, but its column or row says %s", p.Currency, code), "write one currency")
	case p.Minor == 0:
		t.add(catalog.Warning, c, "the part costs nothing", "write what it costs; for a part that is gone, clear the price and write stock 0")
	}
	return catalog.Money(p)
}

// currency is the one of a row whose price names none.
func (t *table) currency(stated grid.Cell) string {
	switch {
	case !stated.Empty() && t.plain(stated, "a currency"):
		return strings.ToUpper(strings.TrimSpace(stated.Text))
	case t.header.currency != "":
		return t.header.currency
	}
	return t.options.Currency
}

// InCurrency writes a sum with the code of a currency, unless it names one
// itself; a sign that can mean the currency is taken off.
func InCurrency(sum, code string) string {
	if lettered(sum) {
		return sum
	}
	return strings.TrimSpace(unsigned(sum, code) + " " + code)
}

func lettered(s string) bool {
	return strings.ContainsFunc(s, func(r rune) bool { return r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' })
}

// unsigned takes the sign of the currency off where it can mean it.
func unsigned(s, code string) string {
	for sign, codes := range signs {
		if !strings.Contains(s, sign) {
			continue
		}
		for _, c := range codes {
			if c == code {
				return strings.TrimSpace(strings.Replace(s, sign, "", 1))
			}
		}
	}
	return s
}

func (t *table) stock(c grid.Cell) int {
	if !t.plain(c, "a number of pieces") {
		return catalog.Unlimited
	}
	s := strings.TrimSpace(c.Text)
	switch strings.ToLower(s) {
	case "out of stock", "sold out", "none":
		return 0
	}
	if c.Sort == grid.Text {
		t.bad(c, fmt.Sprintf("the cell holds the text %q where a number belongs", units.Clip(s)), "write the number of pieces; 0 if there is none")
		return catalog.Unlimited
	}
	if c.Sort == grid.Number {
		s = c.Shown()
	}
	n, err := units.Whole(s)
	switch {
	case err != nil:
		t.bad(c, err.Summary, "write the number of pieces; 0 if there is none")
	case n < 0 || n > catalog.MostStock:
		t.bad(c, fmt.Sprintf("the stock cannot be %d", n), fmt.Sprintf("the stock lies between 0 and %d", catalog.MostStock))
	default:
		return n
	}
	return catalog.Unlimited
}

func (t *table) date(c grid.Cell) Date {
	if !t.plain(c, "a date") {
		return Date{}
	}
	if c.Sort == grid.Number {
		v, err := strconv.ParseFloat(strings.TrimSpace(c.Text), 64)
		d, ok := Date{}, false
		if err == nil && t.day != nil {
			var at time.Time
			at, ok = t.day(v)
			d = DateOf(at)
			ok = ok && d.exists()
		}
		if !ok {
			t.bad(c, fmt.Sprintf("%q is not a date", c.Text), dateRemedy)
		}
		return d
	}
	d, err := ParseDate(c.Text)
	if err != nil {
		t.bad(c, err.Summary, err.Remedy)
	}
	return d
}
