package tables

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/grid"
	"loudfor/catalog/trade"
)

// Which kind of part a row is, a column of kinds says, or what stands over the
// list, or the words of the row itself, or else its values: only a driver has a
// size and voice coils. A row is taken for a kind only if it makes a whole part of
// that kind and of no other; otherwise it is named and left out, never guessed.

// inferred is how the kind of some rows was found.
type inferred struct {
	kind catalog.Kind
	by   string
}

// The ways, as the report words them.
const (
	byColumn = "its column says so"
	byList   = "the list is named so"
	byWords  = "their words and values say so"
	byValues = "only their values say so"
	byTitle  = "the row above them says so"
)

// read reads a row as what it is; ok is false where that stays unsure, and then
// the problem says so.
func (p *plan) readRow(file *document.File, row []grid.Cell) (r reading, read catalog.Items, ok bool) {
	kinds, word, how := p.kindsOf(row)
	if len(kinds) == 1 {
		p.tried[kinds[0]] = true
	}
	switch {
	case how == "":
		return reading{problems: []catalog.Problem{p.noKind(word)}}, read, true
	case how == byColumn || how == byList || how == byTitle:
		r, read = p.as(file, row, kinds[0], word)
		if how != byColumn && worst(r.problems) == catalog.Error && !p.telling(r, kinds[0]) {
			return reading{problems: []catalog.Problem{p.leftOut(p.first(row), "the row states nothing that "+rowWords(kinds[0])+" needs", "it is left out")}}, read, false
		}
		p.take(kinds[0], how, r)
		return r, read, true
	}
	type attempt struct {
		kind catalog.Kind
		reading
		catalog.Items
	}
	var whole []attempt
	var why string
	failed := 0 // columns that a kind reads of which the row makes no part
	for _, k := range kinds {
		r, read := p.as(file, row, k, word)
		if r.item != nil && worst(r.problems) != catalog.Error && (how == byWords && r.told.Summary != "" || p.telling(r, k) && (how == byWords || p.plain(r, k))) {
			whole = append(whole, attempt{k, r, read})
		} else if how == byWords {
			failed = max(failed, len(r.used))
			if at := slices.IndexFunc(r.problems, func(q catalog.Problem) bool { return q.Severity == catalog.Error }); at >= 0 && k == kinds[0] {
				why = r.problems[at].Summary
			}
		}
	}
	// What reads all that another kind reads of the row, and more, is meant: a
	// woofer's card would make a loudspeaker for a door as well.
	slices.SortStableFunc(whole, func(a, b attempt) int { return cmp.Compare(len(b.used), len(a.used)) })
	if len(whole) == 1 && len(whole[0].used) > failed || len(whole) > 1 && len(whole[0].used) > len(whole[1].used) && includes(whole[0].used, whole[1:], func(a attempt) []int { return a.used }) {
		p.take(whole[0].kind, how, whole[0].reading)
		return whole[0].reading, whole[0].Items, true
	}
	var could []string
	for _, a := range whole {
		could = append(could, a.kind.String())
	}
	summary := "what kind of part the row is, it does not say"
	switch {
	case len(could) > 1:
		summary = "the row may be one of several kinds: " + strings.Join(could, ", ")
	case len(kinds) == 1 && why == "":
		summary = fmt.Sprintf("the row may be %s, but states nothing that only this kind has", kinds[0])
	case why != "":
		summary = fmt.Sprintf("the row may be %s, but %s", kinds[0], why)
	}
	return reading{problems: []catalog.Problem{p.leftOut(p.first(row), summary, "it is left out; to have it read, add a column kind: "+strings.Join(kindWords, ", "))}}, read, false
}

// first is the first word of a row.
func (p *plan) first(row []grid.Cell) grid.Cell {
	for _, cell := range row {
		if !cell.Empty() && cell.Sort != grid.Number {
			return cell
		}
	}
	return grid.Cell{At: row[0].At}
}

// leftOut is the warning that a row is not taken.
func (p *plan) leftOut(c grid.Cell, summary, detail string) catalog.Problem {
	return grid.Problem(catalog.Warning, c, p.sheet.Line, summary, detail)
}

// plain tells whether the values of a row say what it is without a word: a count
// of channels has an amplifier, a converter and a radio.
func (p *plan) plain(r reading, k catalog.Kind) bool {
	return slices.ContainsFunc(r.used, func(i int) bool {
		key := p.of(k)[i].key
		_, common := everyPart[key]
		return !common && !anyOf(key, "channels", "power count")
	})
}

// title takes a row with one word for the title of the rows below it; ok is false
// where it is no such row. A title that names no kind, or several, ends what the
// one above it said.
func (p *plan) title(row []grid.Cell) (ok bool) {
	if p.kindAt >= 0 || p.options.Kind < catalog.KindCount || p.options.Mapping.Kind != nil {
		return false
	}
	filled, text := 0, ""
	for _, c := range row {
		if !c.Empty() {
			filled++
			text = c.Shown()
		}
	}
	if filled != 1 {
		return false
	}
	p.above = nil
	if k, known := catalog.KindNamed(text); known {
		p.above = []catalog.Kind{k}
	} else if kinds := trade.Kinds(text); len(kinds) == 1 {
		p.above = kinds
	}
	return p.above != nil
}

// telling tells whether a row says anything that only some kinds of part have.
func (p *plan) telling(r reading, k catalog.Kind) bool {
	return slices.ContainsFunc(r.used, func(i int) bool {
		_, common := everyPart[p.of(k)[i].key]
		return !common
	})
}

// includes tells whether a set of columns, in order, has all of the others'.
func includes[T any](all []int, others []T, of func(T) []int) bool {
	for _, o := range others {
		for _, i := range of(o) {
			if !slices.Contains(all, i) {
				return false
			}
		}
	}
	return true
}

// as reads a row as a part of a kind, or as a deal or a store.
func (p *plan) as(file *document.File, row []grid.Cell, kind catalog.Kind, word grid.Cell) (reading, catalog.Items) {
	r := p.item(row, kind, word)
	if r.item == nil || worst(r.problems) == catalog.Error {
		return r, catalog.Items{}
	}
	read, found := catalog.ReadItems(file, nodesOf(kind, r.item))
	r.problems = append(r.problems, p.placed(row, found)...)
	return r, read
}

// nodesOf puts a mapping where a file would have it.
func nodesOf(kind catalog.Kind, item *yaml.Node) (nodes catalog.ItemNodes) {
	list := []*yaml.Node{item}
	switch kind {
	case dealRow:
		nodes.Deals = list
	case storeRow:
		nodes.Stores = list
	default:
		nodes.Parts = list
	}
	return nodes
}

// take counts what is told of the list.
func (p *plan) take(kind catalog.Kind, how string, r reading) {
	for _, i := range r.used {
		p.filled[i]++
	}
	if r.item == nil || worst(r.problems) == catalog.Error {
		return
	}
	if p.by == nil {
		p.by = map[inferred]int{}
	}
	p.by[inferred{kind, how}]++
}

// kindsOf are the kinds that a row may be, and how that is known; how is empty
// where a column of kinds has a word that is none.
func (p *plan) kindsOf(row []grid.Cell) (kinds []catalog.Kind, word grid.Cell, how string) {
	word = grid.Cell{At: row[0].At}
	if p.kindAt >= 0 && p.kindAt < len(row) && !row[p.kindAt].Empty() {
		word = row[p.kindAt]
		p.filled[p.kindAt]++
		if p.sample[p.kindAt] == "" {
			p.sample[p.kindAt] = word.Shown()
		}
		if k, ok := besideParts(word.Shown()); ok {
			return []catalog.Kind{k}, word, byColumn
		}
		if k, ok := catalog.KindNamed(word.Shown()); ok {
			return []catalog.Kind{k}, word, byColumn
		}
		if kinds = trade.Kinds(word.Shown()); len(kinds) == 1 {
			return kinds, word, byColumn
		}
		if p.stated || catalog.NearestKind(word.Shown()) != "" {
			return nil, word, ""
		}
	}
	if p.stated {
		kinds, how = []catalog.Kind{p.kind}, byList
		if len(p.above) == 1 {
			kinds, how = p.above, byTitle
		}
		if worded := p.worded(row); p.titled && len(worded) > 0 && !slices.Contains(worded, kinds[0]) {
			return append(worded, kinds[0]), word, byWords // a subwoofer among speakers
		}
		return kinds, word, how
	}
	if len(kinds) == 0 {
		kinds = p.worded(row)
	}
	switch {
	case len(kinds) == 0 && p.strange(row):
		return nil, word, byWords
	case len(p.above) == 1 && (len(kinds) == 0 || slices.Contains(kinds, p.above[0])):
		return p.above, word, byTitle
	case len(kinds) > 0:
		return kinds, word, byWords
	}
	for k := range catalog.KindWorkshop { // an hour's work has a price and nothing else
		kinds = append(kinds, k)
	}
	return kinds, word, byValues
}

// strange tells whether the words of a row name a thing that is no part here.
func (p *plan) strange(row []grid.Cell) bool {
	for i, c := range row {
		if i < len(p.names) && !c.Empty() && c.Sort != grid.Number && c.Sort != grid.Formula {
			if (anyOf(p.anywhere[i].key, "", "name") || i == p.kindAt) && trade.Strange(c.Shown()) {
				return true
			}
		}
	}
	return false
}

// worded are the kinds that the words of a row name: its name first, then what
// stands in columns that are not read.
func (p *plan) worded(row []grid.Cell) []catalog.Kind {
	for _, named := range []bool{true, false} {
		for i, c := range row {
			if i >= len(p.names) || c.Empty() || i == p.kindAt || c.Sort == grid.Number || c.Sort == grid.Formula {
				continue
			}
			if key := p.anywhere[i].key; named && key != "name" || !named && key != "" {
				continue
			}
			if kinds := trade.Kinds(c.Shown()); len(kinds) > 0 {
				return kinds
			}
		}
	}
	return nil
}

// noKind is the problem of a word that is no kind.
func (p *plan) noKind(word grid.Cell) catalog.Problem {
	return grid.Problem(catalog.Error, word, p.sheet.Line, fmt.Sprintf("%q is not a kind of part", word.Shown()), "write one of "+strings.Join(kindWords, ", "))
}
