package tables

import (
	"cmp"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/expression"
	"loudfor/catalog/grid"
	"loudfor/catalog/prices"
	"loudfor/catalog/trade"
	"loudfor/catalog/units"
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
	"class":    {"a/b": "AB", "class ab": "AB", "class a/b": "AB", "class d": "D", "digital": "D", "klasse d": "D", "klasse ab": "AB", "classe d": "D", "classe ab": "AB", "clase d": "D", "clase ab": "AB", "klasa d": "D", "klasa ab": "AB"},
	"material": {"ofc": "copper", "oxygen-free copper": "copper", "kupfer": "copper", "vollkupfer": "copper", "cuivre": "copper", "cobre": "copper", "rame": "copper", "koper": "copper", "miedz": "copper", "miedź": "copper", "cca": "copper-clad aluminium", "copper clad aluminum": "copper-clad aluminium", "copper-clad aluminum": "copper-clad aluminium", "copper clad aluminium": "copper-clad aluminium"},
}

var (
	yes = []string{"ja", "oui", "si", "sí", "sì", "sim", "tak", "j", "y", "yes", "x", "✓", "✔", "1", "true", "on", "included", "built in", "built-in"}
	no  = []string{"nein", "non", "nee", "nao", "não", "nie", "ohne", "n", "no", "0", "false", "off", "none", "✗", "✘"}
)

// read turns a cell into the text of a value; the remedy says why it is none. lost
// says why nothing is left of a cell that is no mistake.
func (p *plan) read(c grid.Cell, i int, col column, kind catalog.Kind) (text, lost, remedy string) {
	s := specOf(kind, col.key)
	switch c.Sort {
	case grid.Formula:
		return "", "", "copy the column and paste it as values: what a formula showed may be out of date"
	case grid.Fault:
		return "", "", "mend the cell, or clear it"
	case grid.Truth:
		if s.Shape != document.Flag {
			return "", "", "write " + s.Expected()
		}
	}
	text = c.Shown()
	low := strings.ToLower(text)
	switch {
	case s.Shape == document.Flag && anyOf(low, yes...):
		return "true", "", ""
	case s.Shape == document.Flag && anyOf(low, no...):
		return "false", "", ""
	case s.Shape == document.Word && words[s.Key][low] != "":
		return words[s.Key][low], "", ""
	case s.Shape == document.Word && s.Key == "type" && trade.BoxType(text) != "":
		return trade.BoxType(text), "", ""
	case s.Shape == document.Price && trade.OnRequest(text):
		return "", "the part has no price (" + text + "), so it cannot be bought", ""
	case s.Key == "price" && trade.Beginning(text):
		return "", "it is where prices begin, not the price; the part has none, so it cannot be bought", ""
	case s.Key == "price" && several(text):
		return "", "it is more than one price; the part has none, so it cannot be bought", ""
	case s.Key == "stock":
		count, known, ok := trade.Pieces(text)
		switch {
		case ok && known:
			return count, "", ""
		case ok:
			return "", "how many there are it does not say; taken as enough", ""
		}
		return text, "", ""
	case s.Shape == document.Price:
		return p.price(text, i, col.unit), "", ""
	}
	if kind == catalog.KindFront && col.key == "rms" {
		text = pairOf().ReplaceAllString(text, "")
	}
	dim := s
	if col.rating != nil {
		dim = document.Spec{Shape: document.Named, Dim: units.Power}
	}
	if text, lost = inTradeWords(text, dim); lost != "" {
		return "", lost, ""
	}
	if col.unit != "" && bare(text) {
		return text + " " + col.unit, "", ""
	}
	return text, "", ""
}

// pairOf stands before the power of each of a pair.
var pairOf = expression.Late(`^2\s*[x×]\s*`)

// several tells whether a cell holds more than one price: a range, or one that was
// struck out beside the one that holds.
func several(text string) bool {
	text = percent().ReplaceAllString(text, "")
	if len(amountIn().FindAllString(text, -1)) < 2 || strings.HasPrefix(text, "=") { // a formula is wrong in itself
		return false
	}
	// Thousands may be parted by blanks: then each group has three digits, and a
	// hundred thousand stands with its decimals, or it is 259 219.
	return !oneAmount().MatchString(text)
}

var (
	amountIn  = expression.Late(`\d[\d.,'’]*`)
	percent   = expression.Late(`\d+(?:[.,]\d+)?\s*%`)
	oneAmount = expression.Late(`^\D*(?:\d{1,2}(?:[ \x{a0}\x{202f}]\d{3})+(?:[.,]\d{1,2})?|\d{3}(?:[ \x{a0}\x{202f}]\d{3})+[.,]\d{2})(?:,?-+)?\D*$`)
)

// price adds the currency where the cell states none.
func (p *plan) price(text string, i int, unit string) string {
	m := p.amounts[i]
	if code := cmp.Or(currencyOf(strings.ToLower(unit), ""), p.code); code != "" {
		m.currency = code
	}
	if out := m.read(text); out != text || m.currency == "" {
		return out
	}
	return prices.InCurrency(text, m.currency)
}

// bare tells whether a text ends with a number: a unit would stand there. The
// digit of "10 mm2" is none.
func bare(text string) bool { return ending().MatchString(text) }

var ending = expression.Late(`(?:^|[^\pL\d²³])[\d½¼¾⅛⅜⅝⅞][\d.,]*$`)
