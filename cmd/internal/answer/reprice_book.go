package answer

import (
	"fmt"
	"strings"

	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/reprice"
	"loudfor/cmd/internal/table"
	"loudfor/optimizer"
)

// RepriceBook writes what new prices change in a whole job book: a row for each
// quote that changes, and how many stay.
func (p *Page) RepriceBook(book, lists string, results []reprice.Result) {
	p.heading("What the new prices change in the job book")
	p.pair("job book", "%s, %s", book, facts.Plural(len(results), "job"))
	p.pair("prices", "%s", lists)
	changed, stay, searched := 0, 0, 0
	var failed []reprice.Result
	var rows [][]string
	for _, r := range results {
		switch {
		case r.Err != nil:
			failed = append(failed, r)
			continue
		case r.Searched:
			searched++
		}
		if !r.Changed && !r.Otherwise {
			stay++
			continue
		}
		changed++
		rows = append(rows, []string{fmt.Sprint(r.Job), who(r), levelAndPrice(r, r.Before), levelAndPrice(r, r.After), strings.Join(consequences(r), "; ")})
	}
	switch {
	case changed == 0:
		p.head("No quote changes")
	case changed == 1:
		p.head("1 quote changes")
	default:
		p.head(fmt.Sprintf("%d quotes change", changed))
	}
	if len(rows) > 0 {
		columns := []table.Column{{Title: "job", Right: true}, {Title: "for", Width: 18}, {Title: "quoted", Right: true}, {Title: "best now", Right: true}, {Title: "what happened", Fill: true}}
		p.table(margin, columns, rows)
	}
	if stay > 0 {
		p.say("%s as quoted.", staysWords(stay))
	}
	if len(failed) > 0 {
		p.head("Could not be run again")
		for _, r := range failed {
			p.item("job %d (%s): %s", r.Job, who(r), r.Err)
		}
	}
	p.head("How this is known")
	p.say("%s searched again at the new prices; for %d it is proved without a search that nothing can have overtaken what was quoted.", searchedWords(searched), len(results)-len(failed)-searched)
}

func staysWords(n int) string {
	if n == 1 {
		return "1 quote stays"
	}
	return fmt.Sprintf("%d quotes stay", n)
}

func searchedWords(n int) string {
	if n == 1 {
		return "1 quote was"
	}
	return fmt.Sprintf("%d quotes were", n)
}

// who is the customer, or the brief's name.
func who(r reprice.Result) string {
	if r.Customer != "" {
		return r.Customer
	}
	return r.Name
}

// levelAndPrice is a build's objective over its price.
func levelAndPrice(r reprice.Result, b *optimizer.Build) string {
	if b == nil {
		return "none"
	}
	return b.Cost.String() + "\n" + facts.Decibels(b.Objective)
}

// consequences say what a change means for a customer who was quoted, and
// which parts did it.
func consequences(r reprice.Result) (all []string) {
	switch {
	case r.After == nil:
		all = append(all, "no build satisfies the brief any more")
	case r.Before != nil && r.Changed && sameParts(r):
		all = append(all, "the same build, "+costsWords(r.Before.Cost, r.After.Cost))
	case r.Before != nil && r.Changed:
		all = append(all, differs(r))
		if r.Now != r.Before.Cost {
			all = append(all, "the quoted one costs "+r.Now.String()+" now"+above(r))
		}
	}
	all = append(all, r.Gone...)
	if r.Otherwise {
		all = append(all, "this program predicts or prices the quoted build otherwise: quote it again")
	}
	for _, c := range r.Changes {
		for _, sku := range r.Matters {
			if c.SKU == sku && c.Old.Priced && c.New.Priced && c.Old.Price != c.New.Price {
				all = append(all, fmt.Sprintf("%s %s, was %s", sku, c.New.Price.Decimal(), c.Old.Price.Decimal()))
			}
		}
	}
	return all
}

// RepriceLine is a changed quote in one line, for a watcher.
func RepriceLine(r reprice.Result) string {
	text := who(r)
	if r.Job > 0 {
		text = fmt.Sprintf("job %d (%s)", r.Job, who(r))
	}
	short := func(b *optimizer.Build) string {
		if b == nil {
			return "no build"
		}
		return b.Cost.String() + " " + facts.Decibels(b.Objective)
	}
	return fmt.Sprintf("%s: %s -> %s; %s", text, short(r.Before), short(r.After), strings.Join(consequences(r), "; "))
}

// RepriceBack says that an answer that had changed is the old one again.
func RepriceBack(r reprice.Result) string {
	if r.Job > 0 {
		return fmt.Sprintf("job %d (%s): as quoted again", r.Job, who(r))
	}
	return fmt.Sprintf("%s: as before again", who(r))
}
