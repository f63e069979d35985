package tables

import (
	"cmp"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/expression"
	"loudfor/catalog/grid"
	"loudfor/catalog/trade"
	"loudfor/catalog/units"
)

// What a column is for, its header says: by a name that is known for the kind
// of part, with the unit of its cells behind it ("fs (Hz)", "Vas, L", "price in
// EUR"). A header may have a second row: headings that stand above several
// columns ("RMS power" over "4 ohm" and "2 ohm"), or the units. What a column
// means can depend on the kind of the row: "size" is one thing for a cable and
// another for a driver.

// pieces are the values that a list may hold in several columns.
var pieces = map[string][]string{
	"coils":        {"coils count", "coils each"},
	"driver.coils": {"driver.coils count", "driver.coils each"},
	"holes":        {"holes count", "holes each"},
	"power":        {"power count", "power each"},
	"outside":      {"outside width", "outside depth", "outside height"},
}

// whole finds the key that a piece belongs to. It and the other lists below are
// made when first asked for: most commands read no table.
var whole = sync.OnceValue(func() map[string]string {
	m := map[string]string{}
	for key, list := range pieces {
		for _, p := range list {
			m[p] = key
		}
	}
	return m
})

// column is what one column means for one kind of part.
type column struct {
	meaning
	rating *rating // of an amplifier, when the name tells its load
	list   bool    // of the prices that makers recommend, not those that the shop asks
	why    string  // why it is not read
}

// plan is how a sheet is read.
type plan struct {
	options    Options
	sheet      *grid.Sheet
	header     []grid.Cell
	kind       catalog.Kind // of all rows, where stated
	stated     bool         // all rows are of one kind; otherwise each row says
	titled     bool         // only a title or a name states it
	names      []string
	anywhere   []meaning      // what a column means for whatever kind of row; no key: nothing
	units      []string       // from a row of units
	under      int            // rows below the header that belong to it
	kindAt     int            // the column of kinds; -1: there is none
	skuless    bool           // no column holds SKUs: they are made, see made.go
	bare       []string       // by column: the unit of bare numbers, by the other cells
	amounts    []money        // by column: how prices are written
	heads      map[int]string // columns that are read under another name than their own
	by         map[inferred]int
	tried      map[catalog.Kind]bool
	currencyAt int            // the column of currencies; -1: there is none
	code       string         // the row's currency, where it states one
	above      []catalog.Kind // the kind that the title above a row names
	columns    map[catalog.Kind][]column
	filled     []int
	sample     []string
	keyed      bool // all columns have the names of keys, as in what is exported
}

func newPlan(s *grid.Sheet, o Options, report *catalog.Report) *plan {
	p := &plan{options: o, sheet: s, header: s.Row(0), kind: o.Kind, stated: o.Kind < catalog.KindCount, kindAt: -1, currencyAt: -1, columns: map[catalog.Kind][]column{}, heads: map[int]string{}, tried: map[catalog.Kind]bool{}}
	p.readHeader()
	known := specs()
	p.keyed = !slices.ContainsFunc(p.names, func(name string) bool {
		return name != "kind" && !slices.ContainsFunc(known[:], func(keys map[string]document.Spec) bool { _, is := keys[name]; return is })
	})
	for _, name := range p.names {
		m, _ := meansAnywhere(name)
		p.anywhere = append(p.anywhere, m)
	}
	for i, name := range p.names {
		m, mapped := p.options.Mapping.find(name)
		if mapped && m.Key == "kind" || !mapped && p.kindAt < 0 && isKind(name) {
			p.kindAt = i
		}
	}
	p.currencyAt = slices.IndexFunc(p.names, func(name string) bool {
		english, _ := trade.Phrase(name)
		_, mapped := p.options.Mapping.find(name)
		return !mapped && (english == "currency" || tidied(name) == "currency")
	})
	texts := p.texts()
	p.typed(texts)
	if !p.stated && o.Mapping.Kind != nil {
		p.kind, p.stated = *o.Mapping.Kind, true
	}
	if !p.stated && p.kindAt < 0 {
		p.fromNames()
	}
	p.named()
	p.skuless = !slices.ContainsFunc(p.names, p.isSKU)
	p.amounts = make([]money, len(p.names))
	p.bare = make([]string, len(p.names))
	named := strings.ToUpper(cmp.Or(p.options.Mapping.Currency, p.options.Currency))
	for i, cells := range texts {
		p.bare[i] = unitsOf(cells)
		p.amounts[i] = moneyOf(cells, named)
		if p.amounts[i].currency == "" {
			p.amounts[i].currency = p.currencyAbove()
		}
	}
	if p.twice(report) {
		return nil
	}
	p.filled, p.sample = make([]int, len(p.names)), make([]string, len(p.names))
	return p
}

// currencyIn is a currency in a title; of codes only those that stand as such, since
// "in ALL shops" is no Albanian price.
var currencyIn = expression.Late(`(?:^|[\s(\[])(?:in|en|em|w|IN|EN|EM|W)\s+([A-Z]{3})\s*(?:[).,;:\]]|$)|[(\[]\s*([A-Z]{3})\s*[)\]]|(€|£|zł)`)

// currencyAbove is the one currency that the titles above the list name: "prices
// in PLN".
func (p *plan) currencyAbove() (code string) {
	for _, row := range p.sheet.Above {
		for _, c := range row {
			for _, m := range currencyIn().FindAllStringSubmatch(c.Text, -1) {
				found := currencyOf(strings.ToLower(m[1]+m[2]+m[3]), "")
				if found == "" || code != "" && code != found {
					return ""
				}
				code = found
			}
		}
	}
	return code
}

// isKind tells whether a column is named as one of kinds.
func isKind(name string) bool {
	if anyOf(tidied(name), append([]string{"kind"}, everyPart["kind"]...)...) {
		return true
	}
	english, ok := trade.Phrase(name)
	return ok && english == "kind"
}

// eitherWay are names that head SKUs in one list and names of parts in another.
var eitherWay = []string{"item", "part", "article", "artikel", "id", "articolo", "articulo", "artigo", "model no", "model number"}

// named takes a column such as "Item" for the names of parts where another has
// the SKUs and none the names.
func (p *plan) named() {
	weak, strong := -1, false
	for i, name := range p.names {
		if p.anywhere[i].key == "name" {
			return
		}
		if !p.isSKU(name) {
			continue
		}
		if anyOf(trade.Fold(name), eitherWay...) && weak < 0 {
			weak = i
		} else {
			strong = true
		}
	}
	if _, mapped := p.options.Mapping.find(p.nameOf(weak)); weak >= 0 && strong && !mapped {
		p.heads[weak] = "name"
	}
}

// isType tells whether a column is named "Type", which heads many things.
func isType(name string) bool {
	english, _ := trade.Phrase(name)
	return english == "type" || tidied(name) == "type"
}

// typed finds out what a column named "Type" holds: kinds, how boxes work, or, in
// a list without names, models. Its cells tell, since the heading does not.
func (p *plan) typed(texts [][]string) {
	named := slices.ContainsFunc(p.anywhere, func(m meaning) bool { return m.key == "name" })
	for i, name := range p.names {
		if _, mapped := p.options.Mapping.find(name); mapped || len(texts[i]) == 0 {
			continue
		}
		if !isType(name) {
			continue
		}
		kinds, boxes := 0, 0
		for _, text := range texts[i] {
			if _, ok := catalog.KindNamed(text); ok || len(trade.Kinds(text)) > 0 {
				kinds++
			} else if trade.BoxType(text) != "" {
				boxes++
			}
		}
		switch {
		case p.kindAt < 0 && kinds > boxes && 2*kinds >= len(texts[i]):
			p.kindAt = i
		case !named && 2*(kinds+boxes) < len(texts[i]):
			p.heads[i] = "name"
		}
	}
}

func (p *plan) nameOf(i int) string {
	if i < 0 {
		return ""
	}
	return p.names[i]
}

func (p *plan) isSKU(name string) bool {
	if m, ok := p.options.Mapping.find(name); ok {
		return m.Key == "sku"
	}
	m, ok := meansAnywhere(name)
	return ok && m.key == "sku"
}

// fromNames takes the kind from a title above the list, from the name of the
// sheet, or of the file.
func (p *plan) fromNames() {
	var names []string
	for i := len(p.sheet.Above) - 1; i >= 0; i-- {
		for _, c := range p.sheet.Above[i] {
			if !c.Empty() {
				names = append(names, c.Shown())
			}
		}
	}
	file := filepath.Base(p.header[0].At.File)
	for _, name := range append(names, p.sheet.Name, strings.TrimSuffix(file, filepath.Ext(file))) {
		k, ok := catalog.KindNamed(name)
		if !ok {
			k, ok = besideParts(name)
		}
		if kinds := trade.Kinds(name); !ok && len(kinds) == 1 {
			k, ok = kinds[0], true
		}
		// Any list has names; only one of stores has trips, and a list of parts
		// may well be called after the store.
		if ok && (k != storeRow || slices.ContainsFunc(p.names, p.isTrip)) {
			p.kind, p.stated, p.titled = k, true, true
			return
		}
	}
}

func (p *plan) isTrip(name string) bool { return p.understand(name, storeRow).key == "trip" }

// readHeader joins the rows of the header into one name for each column.
func (p *plan) readHeader() {
	for _, c := range p.header {
		p.names = append(p.names, c.Shown())
	}
	for len(p.names) > 0 && p.names[len(p.names)-1] == "" {
		p.names = p.names[:len(p.names)-1]
	}
	if n := len(p.sheet.Above); n > 0 && len(p.sheet.Above[n-1]) > 1 {
		p.headings(p.sheet.Above[n-1])
	}
	for p.sheet.Len() > p.under+1 && p.under < 2 && p.belongs(p.sheet.Row(p.under+1)) {
		p.under++
	}
}

// headings puts a heading over several columns before the names that mean
// nothing without it.
func (p *plan) headings(row []grid.Cell) {
	heading := ""
	for i := range p.names {
		if i < len(row) && !row[i].Empty() {
			heading = row[i].Shown()
		}
		if heading != "" && p.names[i] != "" && !known(p.names[i]) && known(heading+" "+p.names[i]) {
			p.names[i] = heading + " " + p.names[i]
		}
	}
}

// belongs takes in a row below the header: further names, or units. Such a row
// has no SKU and no number.
func (p *plan) belongs(row []grid.Cell) bool {
	names, unit, filled := slices.Clone(p.names), make([]string, len(p.names)), 0
	heading := ""
	for i := range names {
		if names[i] != "" {
			heading = names[i]
		}
		if i >= len(row) || row[i].Empty() {
			continue
		}
		text := row[i].Shown()
		if m, ok := meansAnywhere(names[i]); ok && m.key == "sku" || row[i].Sort == grid.Number {
			return false
		}
		filled++
		switch text := strings.Trim(text, "()[] "); {
		case known(heading + " " + text):
			names[i] = heading + " " + text
		case isUnit(text):
			unit[i] = text
		default:
			return false
		}
	}
	if filled == 0 {
		return false
	}
	p.names = names
	if p.units == nil {
		p.units = make([]string, len(p.names))
	}
	for i, u := range unit {
		if u != "" {
			p.units[i] = u
		}
	}
	return true
}

// isUnit tells whether a text is a unit of any dimension, or a currency.
func isUnit(text string) bool {
	for d := units.Length; d.Known(); d++ {
		if _, err := units.Parse("1 "+text, d); err == nil {
			return true
		}
	}
	return currencyOf(strings.ToLower(text), "") != "" || strings.EqualFold(text, "AWG")
}

// twice reports two columns that are read as the same. Of two columns of words
// the first is read.
func (p *plan) twice(report *catalog.Report) bool {
	if !p.stated {
		return false // with several kinds a row has most columns empty
	}
	bad := false
	first := map[string]int{}
	columns := p.of(p.kind)
	for i, c := range columns {
		key := c.key
		if c.rating != nil {
			key = c.rating.String()
		}
		if key == "" {
			continue
		}
		at, again := first[key]
		switch {
		case !again:
			first[key] = i
		case specOf(p.kind, key).Shape == document.Text:
			columns[i] = column{why: key + " is read from " + p.names[at]}
		default:
			report.Add(grid.Problem(catalog.Error, p.header[i], p.sheet.Line, fmt.Sprintf("a second column for %s: %q", key, p.names[i]),
				"say in a mapping which of the two is meant").Citing(p.header[at].At, "the first one"))
			bad = true
		}
	}
	return bad
}
