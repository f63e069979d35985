package tables

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/grid"
	"loudfor/catalog/prices"
)

// A cell holds a value as its author thought fit: with a unit or without, "Y"
// for yes, a dash for nothing. Only what has one meaning is turned into the
// words of the files; all else goes on as it is, and the reader of parts says
// what is wrong with it.

// blanks are what people write where they do not know.
var blanks = []string{"-", "--", "–", "—", "n/a", "na", "n.a.", "?", "tbd", "unknown", "not stated", "."}

// blank tells whether a cell says nothing; a name may be anything.
func blank(c grid.Cell, s document.Spec) bool {
	return c.Empty() || s.Shape != document.Text && c.Sort != grid.Formula && anyOf(strings.ToLower(c.Shown()), blanks...)
}

// words are other words of the trade for those of the files.
var words = map[string]map[string]string{
	"type":     {"ported": "vented", "bass reflex": "vented", "reflex": "vented", "closed": "sealed", "bandpass": "band-pass", "4th order band-pass": "band-pass"},
	"class":    {"a/b": "AB", "class ab": "AB", "class a/b": "AB", "class d": "D"},
	"material": {"ofc": "copper", "oxygen-free copper": "copper", "cca": "copper-clad aluminium", "copper clad aluminum": "copper-clad aluminium", "copper-clad aluminum": "copper-clad aluminium", "copper clad aluminium": "copper-clad aluminium"},
}

var (
	yes = []string{"y", "yes", "x", "✓", "✔", "1", "true", "on", "included", "built in", "built-in"}
	no  = []string{"n", "no", "0", "false", "off", "none", "✗", "✘"}
)

// read turns a cell into the text of a value; the remedy says why it is none.
func (p *plan) read(c grid.Cell, col column, kind catalog.Kind) (text, remedy string) {
	s := specOf(kind, col.key)
	switch c.Sort {
	case grid.Formula:
		return "", "copy the column and paste it as values: what a formula showed may be out of date"
	case grid.Fault:
		return "", "mend the cell, or clear it"
	case grid.Truth:
		if s.Shape != document.Flag {
			return "", "write " + s.Expected()
		}
	}
	text = c.Shown()
	low := strings.ToLower(text)
	switch {
	case s.Shape == document.Flag && anyOf(low, yes...):
		return "true", ""
	case s.Shape == document.Flag && anyOf(low, no...):
		return "false", ""
	case s.Shape == document.Word && words[s.Key][low] != "":
		return words[s.Key][low], ""
	case s.Shape == document.Price:
		return p.price(text, col.unit), ""
	case col.unit != "" && bare(text):
		return text + " " + col.unit, ""
	}
	return text, ""
}

// price adds the currency where the cell states none.
func (p *plan) price(text, unit string) string {
	for _, code := range []string{unit, p.options.Mapping.Currency, p.options.Currency} {
		if code != "" {
			return prices.InCurrency(text, strings.ToUpper(code))
		}
	}
	return text
}

// bare tells whether a text ends with a number: a unit would stand there.
func bare(text string) bool {
	r, _ := utf8.DecodeLastRuneInString(text)
	return unicode.IsNumber(r)
}
