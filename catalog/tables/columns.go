package tables

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"sync"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/expression"
	"loudfor/catalog/trade"
	"loudfor/catalog/units"
)

// What a column means for a kind: its name as it is, or in English, with a unit
// behind it or without, is looked up among the names for that kind.

// of gives what the columns mean for a sort of row.
func (p *plan) of(k catalog.Kind) []column {
	if out, ok := p.columns[k]; ok {
		return out
	}
	out := make([]column, len(p.names))
	for i, name := range p.names {
		out[i] = p.understand(cmp.Or(p.heads[i], name), k)
		spec := specOf(k, out[i].key)
		for _, unit := range []string{p.options.unit(name, out[i].key), p.unitBelow(i), p.bare[i]} {
			if out[i].unit == "" && out[i].key != "" && fits(unit, spec) {
				out[i].unit = unit
			}
		}
	}
	asked := slices.IndexFunc(out, func(c column) bool { return c.key == "price" && !c.list })
	for i, c := range out {
		if asked >= 0 && c.list {
			out[i] = column{why: "price is read from " + p.names[asked]}
		}
	}
	p.columns[k] = out
	return out
}

// unitBelow is the unit of a column in a row of units.
func (p *plan) unitBelow(i int) string {
	if p.units == nil {
		return ""
	}
	return p.units[i]
}

// understand finds what a name means for a kind.
func (p *plan) understand(name string, k catalog.Kind) column {
	if name == "" {
		return column{why: "it has no name"}
	}
	if m, ok := p.options.Mapping.find(name); ok {
		return m.column(k)
	}
	forms := formsOf(name)
	if m, ok := means(forms, k); ok {
		return column{meaning: m, list: slices.ContainsFunc(forms, func(f form) bool { return f.name == "list price" })}
	}
	if k == catalog.KindAmplifier {
		if r, ok := ratingColumn(name); ok {
			return column{meaning: meaning{key: "ratings", unit: "W"}, rating: &r}
		}
	}
	return column{why: "its name is not known for " + rowWords(k)}
}

var (
	// bracketed is a name with a unit in brackets: "fs (Hz)", "Vas [L]".
	bracketed = expression.Late(`^(.*?)[\s,_-]*[(\[]\s*(?:(?:in|en|em|w)\s+)?([^()\[\]]+?)\s*[)\]]$`)
	// trailing is a name with a unit behind it: "fs, Hz", "price in EUR", "xmax mm".
	trailing = expression.Late(`^(.*?)[\s,_-]+(?:(?:in|en|em|w)\s+)?([^\s,_-]+)$`)
)

// form is a way to read a name: as a whole, or with a unit at its end.
type form struct{ name, unit string }

// formsOf are the ways to read a name, as it is and in English, the likeliest
// first.
func formsOf(name string) (out []form) {
	texts := []string{strings.TrimSpace(name)}
	if english := trade.Heading(name); english != tidied(name) {
		texts = append(texts, english)
	}
	for _, text := range texts {
		out = append(out, form{name: tidied(text)})
		for _, ends := range []*regexp.Regexp{bracketed(), trailing()} {
			if parts := ends.FindStringSubmatch(text); parts != nil {
				out = append(out, form{tidied(parts[1]), parts[2]})
			}
		}
	}
	return out
}

// means looks a name up for a kind.
func means(forms []form, k catalog.Kind) (meaning, bool) {
	d := kindDictionaries()[k]
	for _, f := range forms {
		m, ok := d[f.name]
		switch {
		case !ok:
		case f.unit == "":
			return m, true
		case fits(f.unit, specOf(k, m.key)):
			return meaning{m.key, f.unit}, true
		}
		if unit, known := trade.Unit(f.unit); ok && known && fits(unit, specOf(k, m.key)) {
			return meaning{m.key, unit}, true
		}
	}
	return meaning{}, false
}

// meansAnywhere looks a name up for whatever kind of row.
func meansAnywhere(name string) (meaning, bool) {
	forms := formsOf(name)
	for k := range kindDictionaries() {
		if m, ok := means(forms, catalog.Kind(k)); ok {
			return m, true
		}
	}
	return meaning{}, false
}

// known tells whether a name means something for a kind that the list may hold.
func known(name string) bool {
	_, ok := meansAnywhere(name)
	if !ok {
		_, ok = ratingColumn(name)
	}
	return ok
}

// specOf describes the values of a key, or of a piece of one.
func specOf(k catalog.Kind, key string) document.Spec {
	if parent, ok := whole()[key]; ok {
		s := specOf(k, parent)
		switch {
		case strings.HasSuffix(key, " count"):
			return document.Spec{Key: key, Shape: document.Whole}
		case s.Shape == document.Size:
			return document.Spec{Key: key, Shape: document.Quantity, Dim: units.Length}
		}
		return document.Spec{Key: key, Shape: document.Quantity, Dim: s.Dim}
	}
	return specs()[k][key]
}

// pathSpecs are the keys of each sort of row in the order of the files.
var pathSpecs = sync.OnceValue(func() (out [rowSorts][]catalog.PathSpec) {
	for k := range catalog.KindCount {
		out[k] = catalog.PathSpecs(k)
	}
	out[dealRow], out[storeRow] = catalog.DealSpecs(), catalog.StoreSpecs()
	return out
})

// specs finds them by their paths.
var specs = sync.OnceValue(func() (out [rowSorts]map[string]document.Spec) {
	for k := range out {
		out[k] = map[string]document.Spec{}
		for _, s := range pathSpecs()[k] {
			out[k][s.Path] = s.Spec
		}
	}
	return out
})

// fits tells whether a text is a unit in which values of a key can be.
func fits(unit string, s document.Spec) bool {
	if unit == "" {
		return false
	}
	switch s.Shape {
	case document.Price:
		return currencyOf(strings.ToLower(unit), "") != ""
	case document.Wire:
		if strings.EqualFold(unit, "AWG") {
			return true
		}
		_, err := units.ParseWire("1 " + unit)
		return err == nil
	case document.Quantity, document.Named, document.Times, document.Sum:
		_, err := units.Parse("1 "+unit, s.Dim)
		return err == nil
	case document.Oval, document.Size, document.Point, document.Pair:
		_, err := units.Parse("1 "+unit, units.Length)
		return err == nil
	case document.Percent:
		return unit == "%"
	case document.Groups: // the powers of an amplifier
		_, err := units.Parse("1 "+unit, units.Power)
		return err == nil && s.Key == "ratings"
	}
	return false
}
