package counter

import (
	"errors"
	"fmt"

	"loudfor/catalog"
	"loudfor/catalog/prices"
	"loudfor/catalog/report"
	"loudfor/cmd/internal/facts"
	bookshop "loudfor/cmd/internal/shop"
)

// Lists of prices are recorded in the job book, as the command book prices does,
// and are laid over the catalogue from then on.

func (c *Counter) proposePrices(v *visit, p *proposal) *catalog.Report {
	o := prices.Options{Currency: v.stock.Catalogue.Currency}
	if p.Currency != "" {
		o.Currency = p.Currency
	}
	if p.Date != "" {
		day, err := prices.ParseDate(p.Date)
		if err != nil {
			return mistake(p.Name, err.Summary, err.Remedy)
		}
		o.Date = day
	}
	list, all := prices.Read(p.Name, p.Content, o)
	if all.Err() != nil {
		return all
	}
	p.prices = list
	found, err := bookshop.Shop{Book: c.book, Lists: []*prices.List{list}, Strict: c.options.Strict}.Check(v.context())
	if err != nil {
		return reportOf(p.Name, err)
	}
	if all.Merge(found); all.Err() != nil {
		return all
	}
	// Lists of the command line may say something else of the same day: then the
	// program would not start any more.
	if _, err := c.load(list.Entries...); err != nil {
		all.Merge(reportOf(p.Name, err))
		return all
	}
	_, changes, found := prices.Layer(v.stock.Catalogue, prices.Layering{Stores: v.stock.Brief.Stores, Strict: c.options.Strict}, list)
	p.changes = changes
	all.Merge(found)
	return all
}

// reportOf is an error as a report.
func reportOf(name string, err error) *catalog.Report {
	if refused := (*report.Failure)(nil); errors.As(err, &refused) {
		return refused.Report
	}
	return mistake(name, err.Error(), "mend that first")
}

type pendingBody struct {
	ID, Name string
	Wrong    bool
	Mistakes []string
	Remarks  []string
	// of parts
	Target  string
	New     bool
	Sheets  []sheetBody
	Skipped []string
	Changes []changeLine
	Added   []string
	Absent  int
	// of prices
	Prices bool
	Count  string // of parts, or of rows
}

// sheetBody is how one list was understood.
type sheetBody struct {
	Title   string
	Kinds   []string
	Columns []columnLine
}

type columnLine struct{ Name, Key, Unit, Sample, Why string }

type changeLine struct{ SKU, Key, Old, New string }

// mostShown keeps a report readable; the rest is counted.
const mostShown = 200

// pending is a proposal in words.
func (v voice) pending(p *proposal) *pendingBody {
	b := &pendingBody{ID: p.id, Name: p.Name, Wrong: p.wrong, Prices: p.Prices, New: p.Target == newFile}
	for _, problem := range p.problems {
		line := problem.Where.String() + ": " + problem.Summary
		if problem.Detail != "" {
			line += "; " + problem.Detail
		}
		if problem.Severity == catalog.Error {
			b.Mistakes = cut(b.Mistakes, line)
		} else {
			b.Remarks = cut(b.Remarks, line)
		}
	}
	if p.prices != nil {
		b.Count = facts.Plural(len(p.prices.Entries), "row")
	}
	for _, c := range p.changes {
		b.Changes = append(b.Changes, changeLine{c.SKU, "offers", c.Old.String(), c.New.String()})
	}
	if p.list == nil {
		return b
	}
	b.Target, b.Count = baseName(p.target), facts.Plural(len(p.list.Parts), "part")
	for _, s := range p.list.Sheets {
		one := sheetBody{Title: facts.Plural(s.Rows, "row")}
		if s.Name != "" {
			one.Title = "Sheet " + s.Name + ": " + one.Title
		}
		if s.Encoding != "" && s.Encoding != "utf-8" {
			one.Title += ", written in " + s.Encoding
		}
		for _, k := range s.Kinds {
			one.Kinds = append(one.Kinds, fmt.Sprintf("%s: %s (%s)", k.Kind, facts.Plural(k.Rows, "row"), k.Why))
		}
		for _, c := range s.Columns {
			one.Columns = append(one.Columns, columnLine{c.Name, c.Key, c.Unit, c.Sample, c.Why})
		}
		b.Sheets = append(b.Sheets, one)
	}
	for _, problem := range p.list.Skipped {
		if problem.Severity == catalog.Error {
			b.Skipped = cut(b.Skipped, problem.Where.String()+": "+problem.Summary)
		}
	}
	if p.updated != nil {
		for _, c := range p.updated.Changes {
			b.Changes = append(b.Changes, changeLine{c.SKU, c.Key, c.Old, c.New})
		}
		b.Added, b.Absent = p.updated.Added, len(p.updated.Absent)
	} else {
		for _, part := range p.list.Parts {
			b.Added = append(b.Added, part.SKU)
		}
	}
	return b
}

// cut appends a line, or counts it where there are many.
func cut(lines []string, line string) []string {
	switch {
	case len(lines) < mostShown:
		return append(lines, line)
	case len(lines) == mostShown:
		return append(lines, "and more")
	}
	return lines
}
