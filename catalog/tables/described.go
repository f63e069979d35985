package tables

import (
	"maps"
	"regexp"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/expression"
	"loudfor/catalog/grid"
)

// Many lists have a column for half of what they know, and the rest in the name:
// "Kabelset 20 mm², 5 m". A value that no column states is taken from the words of
// the row where it stands there once, with its unit, and can be nothing else; the
// report says so. Common practice, no source.

// described are the values that words state, by kind and key.
var described = map[catalog.Kind]map[string]func() *regexp.Regexp{
	catalog.KindSubwoofer: {"size": sizeWord, "coils": coilsWord, "rms": rmsWord},
	catalog.KindFront:     {"size": sizeWord, "load": loadWord, "rms": rmsWord},
	catalog.KindEnclosure: {"holes": holesWord, "volume": volumeWord, "tuning": hertzWord},
	catalog.KindLoaded:    {"driver.size": sizeWord, "driver.coils": coilsWord, "driver.rms": rmsWord, "volume": volumeWord, "tuning": hertzWord},
	catalog.KindKit:       {"gauge": gaugeWord, "length": lengthWord},
	catalog.KindBlocker:   {"capacitance": capacitanceWord},
}

const (
	start  = `(?i)(?:^|[\s,;(/–-])`
	stop   = `(?:$|[\s,;.)/–-])`
	inSize = `[4-9]\s*x\s*\d{1,2}\s*(?:` + inch + `)|\d{1,2}(?:[.,]\d{1,2})?[\s-]*(?:` + inch + `|cm)|[1-4]\d\d\s*mm`
	inch   = `"|″|”|''|in(?:ch(?:es)?)?|zoll|pouces?|pulg(?:adas?)?|pol(?:egadas?)?|pollici|duim|cali`
)

var (
	sizeWord  = expression.Late(start + `(` + inSize + `)` + stop)
	holesWord = expression.Late(start + `((?:[1-4]\s*x\s*)?(?:` + inSize + `))` + stop)
	coilsWord = expression.Late(start + `((?:(?:` + ones + `|` + twos + `)(?:[\s-]*(?:` + coiled + `))?[\s,-]*(?:\d\s*[x+]\s*)?|\d\s*[x+]\s*)\d(?:[.,]\d)?\s*` + ohmed + `|(?:[ds]vc|dual|single)\s*-?\d(?:[.,]\d)?` +
		`|\d(?:[.,]\d)?\s*` + ohmed + `(?:[\s,(-]*(?:` + ones + `|` + twos + `)(?:[\s-]*(?:` + coiled + `))?)?)` + stop)
	// coilCount is a word for how many coils there are.
	coilCount       = expression.Late(`(?i)(?:^|[^\pL])(?:[sd]vc|(?:` + ones + `|` + twos + `)[\s-]*(?:` + coiled + `)|doppelschwingspule)`)
	loadWord        = expression.Late(start + `(\d(?:[.,]\d)?\s*` + ohmed + `)` + stop)
	rmsWord         = expression.Late(start + `((?:` + number + `)\s*w(?:att?s?)?\s*rms|rms[\s:]*(?:` + number + `)\s*w(?:att?s?)?)` + stop)
	volumeWord      = expression.Late(start + `(` + number + `\s*(?:l|lit(?:er|re|res|ers|ros?|ri|row)|ltr|cu\.?\s?ft|ft3))` + stop)
	hertzWord       = expression.Late(start + `(\d{2}(?:[.,]\d)?\s*hz)` + stop)
	gaugeWord       = expression.Late(start + `((?:1/0|2/0|\d)\s*(?:awg|ga)|\d{1,2}(?:[.,]\d)?\s*(?:mm²|mm2|mmq|qmm))` + stop)
	lengthWord      = expression.Late(start + `(\d{1,2}(?:[.,]\d{1,2})?\s*(?:m|met(?:er|re|res|ers|ros?|ri|row)))` + stop)
	capacitanceWord = expression.Late(start + `(\d{2,4}\s*(?:uf|µf|μf))` + stop)
)

// describe adds what the words of a row state and no column does; the cells say
// which of them it was.
func (p *plan) describe(row []grid.Cell, kind catalog.Kind, values map[string]value) (found []string, at grid.Cell) {
	if p.keyed {
		return nil, at // where every value has its column, none is missing by oversight
	}
	for _, key := range slices.Sorted(maps.Keys(described[kind])) {
		word := described[kind][key]
		if _, have := values[key]; have || slices.ContainsFunc(pieces[key], func(piece string) bool { _, have := values[piece]; return have }) {
			continue
		}
		text, cell, counted := "", grid.Cell{}, false
		for i, c := range row {
			if i >= len(p.names) || c.Empty() || c.Sort == grid.Number || c.Sort == grid.Formula || !p.wordsIn(i, kind) {
				continue
			}
			counted = counted || strings.HasSuffix(key, "coils") && coilCount().MatchString(c.Shown())
			// Matches share the blanks between them.
			for shown, from := c.Shown(), 0; ; {
				m := word().FindStringSubmatchIndex(shown[from:])
				if m == nil {
					break
				}
				begin, end := from+m[2], from+m[3]
				switch said := shown[begin:end]; {
				case amid(shown, begin, end) || p.ofAnother(shown[:begin], kind, key):
				case text == "":
					text, cell = said, c
				case !strings.EqualFold(said, text):
					cell.Text = "" // two of them
				}
				from = end
			}
		}
		if text == "" || cell.Text == "" || counted && !strings.Contains(coils(text), " x ") {
			continue
		}
		if said, lost := inTradeWords(text, specOf(kind, key)); lost == "" {
			values[key] = value{text: said, cell: cell}
			found, at = append(found, key), cell
		}
	}
	return found, at
}

// ofAnother tells whether the words before a value name another of its sort: the
// depth is no size.
func (p *plan) ofAnother(before string, kind catalog.Kind, key string) bool {
	words := strings.Fields(strings.TrimRight(before, " :=(.,-"))
	for n := range min(3, len(words)) {
		forms := formsOf(strings.Join(words[len(words)-1-n:], " "))
		if m, ok := means(forms, kind); ok {
			return m.key != key && specOf(kind, m.key).Dim == specOf(kind, key).Dim
		}
		for k := range kindDictionaries() {
			if m, ok := means(forms, catalog.Kind(k)); ok && m.key != key && specOf(catalog.Kind(k), m.key).Dim == specOf(kind, key).Dim {
				return true
			}
		}
	}
	return false
}

// wordsIn tells whether a column holds words about the part: its name, its kind,
// or what is read as nothing.
func (p *plan) wordsIn(i int, kind catalog.Kind) bool {
	if i == p.kindAt {
		return true
	}
	c := p.of(kind)[i]
	return c.key == "name" || c.key == "" && !p.understoodElsewhere(i)
}

// understoodElsewhere tells whether a column is one of values for another kind.
func (p *plan) understoodElsewhere(i int) bool {
	return !anyOf(p.anywhere[i].key, "", "name", "type")
}
