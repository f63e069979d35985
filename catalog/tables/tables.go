// Package tables turns spreadsheets of parts into the parts of a catalogue, and
// back.
//
//	list, report := tables.Read("amps.xlsx", content, tables.Options{Currency: "USD"})
//	if err := report.Err(); err != nil {
//		return err // every mistake of every row, by line or cell
//	}
//	for _, s := range list.Sheets {
//		for _, c := range s.Columns {
//			fmt.Println(c.Name, "is read as", c.Key, c.Why)
//		}
//	}
//	err := list.Write(os.Stdout) // YAML that catalog.Load reads
//
// A row is a part, or, where its kind says so, a deal or a store with the trip
// to it. Columns are found by their names, which shops choose as they
// like: the keys of the files, the words of the trade, with a unit in the name
// or in the cells. What a column with an unknown name holds, a Mapping can say;
// it is a file, so that next month's list is read without a thought.
//
// Each row becomes the very mapping that a YAML file would hold, each value
// with the place of its cell, and is read by the same tables of keys: a
// spreadsheet has no rules of its own. Nothing is guessed that could be two
// things: a number without a unit is an error that names the cell.
//
// WriteCSV and WriteXLSX write every value of a catalogue, so that Read gives
// back an equal one; what a cell cannot hold is an error that names the part,
// and nothing is written.
//
// Limits: one part a row; of the ratings of an amplifier, those whose column
// names the load ("watts 4 ohm bridged") or that stand in one cell as they are
// exported; the offers of other shops in one cell in the same way ("20.00 USD,
// 2 pieces, at North Road; 22.00 USD at Pier").
package tables

import (
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/grid"
)

// The bounds of a file, as for price lists.
const (
	MostBytes    = 64 << 20
	MostUnpacked = 256 << 20
	MostRows     = 200_000
)

// Options say what the file does not.
type Options struct {
	Kind     catalog.Kind // of every row; KindCount: as the rows or the sheet say
	Currency string       // of prices that name none; empty: they have to
	Sheet    string       // the only sheet to read; empty: all
	Mapping  Mapping
	// Units are those of bare numbers, by the name of their column or by key.
	Units map[string]string
	// SkipBad leaves rows with mistakes out instead of refusing the file; they
	// are in List.Skipped.
	SkipBad bool
}

// List is what was read from one file.
type List struct {
	Name   string
	Sheets []Sheet
	catalog.Items
	Skipped []catalog.Problem // what is wrong with the rows that were left out
	Unsure  int               // rows that were left out because they may be anything

	rows sources // where each was read
}

// Sheet tells how one list was understood.
type Sheet struct {
	Name     string // of the sheet of a workbook
	Encoding string // of a CSV file
	Kinds    []KindOf
	Rows     int // below the header
	Columns  []Column
}

// KindOf tells how the kind of some rows was found.
type KindOf struct {
	Kind catalog.Kind
	Rows int
	Why  string
}

// Column tells how one column was understood.
type Column struct {
	Name   string // as its header says
	Key    string // what it is read as; empty: it is not read
	Unit   string // of the cells that state none
	Filled int    // cells with a value
	Sample string // the first of them, as it is read
	Why    string // why it is not read
}

// unit is the unit that was stated for a column.
func (o Options) unit(name, key string) string {
	for said, unit := range o.Units {
		if tidied(said) == tidied(name) || tidied(said) == tidied(key) {
			return unit
		}
	}
	return ""
}

// Read reads the parts of a CSV file or a workbook. What kind of file it is,
// its first bytes tell. Where the report has an error, the list tells how the
// columns were understood, and its parts are not all there.
func Read(name string, content []byte, o Options) (*List, *catalog.Report) {
	report := &catalog.Report{}
	sheets, found := grid.Read(name, content, grid.Options{
		What: "a list of parts", Columns: "SKU, kind, name, price", Sample: "SKU, kind, name, price",
		Sheet: o.Sheet, IsHeader: o.Mapping.isHeader, MayBeHeader: mayBeHeader, MostRows: MostRows, MostUnpacked: MostUnpacked,
	})
	report.Add(found...)
	list := &List{Name: name}
	for i := range sheets {
		list.sheet(name, &sheets[i], o, report)
	}
	if report.Err() == nil && len(list.Parts)+len(list.Deals)+len(list.Stores) == 0 {
		report.Add(catalog.Problem{Summary: "the file holds no part", Detail: "add a row for each part below the header", Where: catalog.Position{File: name}})
	}
	list.twice(report)
	report.Sort(document.MostProblems)
	rows := 0
	for _, s := range list.Sheets {
		rows += s.Rows
	}
	report.Problems, list.Skipped = grouped(report.Problems, rows), grouped(list.Skipped, rows)
	return list, report
}

// sheet reads one list.
func (l *List) sheet(name string, s *grid.Sheet, o Options, report *catalog.Report) {
	p := newPlan(s, o, report)
	if p == nil {
		return
	}
	file := &document.File{Name: name}
	var unsure []catalog.Problem
	taken := 0
	for i := 1 + p.under; i < s.Len(); i++ {
		row := s.Row(i)
		if p.title(row) {
			continue
		}
		r, read, ok := p.readRow(file, row)
		if !ok {
			unsure = append(unsure, r.problems...)
			continue
		}
		if worst(r.problems) == catalog.Error && o.SkipBad {
			l.Skipped = append(l.Skipped, r.problems...)
			continue
		}
		report.Add(r.problems...)
		if r.item == nil || worst(r.problems) == catalog.Error {
			continue
		}
		for _, part := range read.Parts {
			part.Where.Sheet = s.Name
		}
		if r.told.Summary != "" {
			report.Add(r.told)
		}
		l.take(read, source{p, i, r.kind})
		taken++
	}
	if len(unsure) > 0 && taken == 0 && p.kindAt < 0 && len(p.tried) == 0 {
		report.Add(grid.Problem(catalog.Error, grid.Cell{At: p.header[0].At}, p.sheet.Line, "the list does not say what kind of parts it holds",
			"state the kind, or add a column named kind, or name the sheet or the file after it: "+strings.Join(kindWords, ", ")))
	} else {
		l.Unsure += len(unsure)
		report.Add(unsure...)
	}
	l.Sheets = append(l.Sheets, p.told())
}

// source is the row that a part, a deal or a store was read from. What would
// stand in a file is made anew from it when it is asked for: of a long list all
// of that would take more room than the rows.
type source struct {
	plan *plan
	row  int
	kind catalog.Kind
}

// sources are those of the items of a list, one for each.
type sources struct{ parts, deals, stores []source }

// node is the mapping of the row.
func (s source) node() *yaml.Node {
	return s.plan.item(s.plan.sheet.Row(s.row), s.kind, grid.Cell{}).item
}

// take adds what a row held.
func (l *List) take(read catalog.Items, from source) {
	for _, p := range read.Parts {
		l.Parts, l.rows.parts = append(l.Parts, p), append(l.rows.parts, from)
	}
	for _, d := range read.Deals {
		l.Deals, l.rows.deals = append(l.Deals, d), append(l.rows.deals, from)
	}
	for _, s := range read.Stores {
		l.Stores, l.rows.stores = append(l.Stores, s), append(l.rows.stores, from)
	}
}

// worst is the severity of the worst problem; Info where there is none.
func worst(problems []catalog.Problem) catalog.Severity {
	out := catalog.Info
	for _, p := range problems {
		out = min(out, p.Severity)
	}
	return out
}

// twice reports SKUs that stand in two rows: which of them is right, nobody
// here can know.
func (l *List) twice(report *catalog.Report) {
	first := map[string]catalog.Position{}
	for _, p := range l.Parts {
		if at, again := first[p.SKU]; again {
			report.Add(catalog.Problem{Summary: fmt.Sprintf("the SKU %q stands in two rows", p.SKU), Detail: "keep one of the two, or give each part its own SKU",
				Where: p.Where, Text: p.SKU, Related: &at, RelatedNote: "first used here"})
			continue
		}
		first[p.SKU] = p.Where
	}
}

// tidied is a name without the differences that mean nothing.
func tidied(name string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool {
		return strings.ContainsRune(" \t\n\r\u00a0_-.:#*/", r)
	}), " ")
}

// anyOf tells whether a word is one of a list.
func anyOf(word string, words ...string) bool { return slices.Contains(words, word) }
