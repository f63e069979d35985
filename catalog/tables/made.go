package tables

import (
	"strings"
	"unicode"

	"loudfor/catalog"
	"loudfor/catalog/grid"
	"loudfor/catalog/trade"
)

// What a list does not state in a column of its own, but says.

// complete adds the SKU of a part in a list without SKUs, and how a box works
// where only its name says so.
func (p *plan) complete(row []grid.Cell, kind catalog.Kind, values map[string]value) {
	if kind >= catalog.KindCount {
		return
	}
	if _, ok := values["sku"]; !ok && p.skuless {
		if name, ok := values["name"]; ok {
			if sku := madeSKU(values["maker"].text, name.text); sku != "" {
				values["sku"] = value{text: sku, cell: name.cell}
			}
		}
	}
	if _, ok := values["type"]; ok || kind != catalog.KindEnclosure && kind != catalog.KindLoaded {
		return
	}
	for _, c := range row {
		if how := trade.BoxType(c.Shown()); how != "" && c.Sort != grid.Formula {
			values["type"] = value{text: how, cell: c}
			return
		}
	}
}

// madeSKU makes a SKU of maker and model. It hangs on nothing else, so that it is
// the same in next month's list.
func madeSKU(words ...string) string {
	var out []string
	for _, text := range words {
		for word := range strings.FieldsFuncSeq(trade.Fold(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '.' }) {
			out = append(out, strings.ToUpper(word))
		}
	}
	return strings.Join(out, "-")
}
