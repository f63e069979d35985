package answer

import (
	"fmt"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/tables"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/table"
)

// Imported tells how a list of parts was understood: which column is read as
// what, which is not read and why, what is left out, what changes.
func (p *Page) Imported(list *tables.List, u *tables.Updated) {
	p.Understood(list)
	if len(list.Skipped) > 0 {
		p.head("Left out")
		for _, f := range list.Skipped {
			if f.Severity == catalog.Error {
				p.item("%s: %s", f.Where, f.Summary)
			}
		}
	}
	if u != nil {
		p.updated(u)
	}
}

// Understood tells how the columns of a list and the kinds of its rows were
// understood.
func (p *Page) Understood(list *tables.List) {
	p.heading(list.Name + ": " + counted(list.Items))
	for _, s := range list.Sheets {
		p.sheet(s)
	}
}

// counted tells how many items there are; deals and stores only where there are
// some.
func counted(items catalog.Items) string {
	words := []string{facts.Plural(len(items.Parts), "part")}
	if n := len(items.Deals); n > 0 {
		words = append(words, facts.Plural(n, catalog.DealWord))
	}
	if n := len(items.Stores); n > 0 {
		words = append(words, facts.Plural(n, catalog.StoreWord))
	}
	return facts.List(words)
}

// sheet is the table of the columns of one list.
func (p *Page) sheet(s tables.Sheet) {
	title := facts.Plural(s.Rows, "row")
	if s.Name != "" {
		title = "Sheet " + s.Name + ": " + title
	}
	if s.Encoding != "" && s.Encoding != "utf-8" {
		title += ", written in " + s.Encoding
	}
	p.head(title)
	for _, k := range s.Kinds {
		p.item("%s: %s (%s)", k.Kind, facts.Plural(k.Rows, "row"), k.Why)
	}
	if len(s.Kinds) > 0 {
		p.printf("\n")
	}
	var rows, unread [][]string
	for _, c := range s.Columns {
		name := c.Name
		if name == "" {
			name = "(no name)"
		}
		if c.Key == "" {
			unread = append(unread, []string{name, c.Why})
			continue
		}
		rows = append(rows, []string{name, c.Key, c.Unit, fmt.Sprint(c.Filled), c.Sample})
	}
	p.table(margin, []table.Column{{Title: "column", Width: 30}, {Title: "is read as", Width: 30}, {Title: "unit", Width: 6},
		{Title: "cells", Right: true}, {Title: "the first of them", Fill: true}}, rows)
	if len(unread) > 0 {
		p.printf("\n")
		p.table(margin, []table.Column{{Title: "column", Width: 30}, {Title: "is not read, because", Fill: true}}, unread)
	}
}

// updated lists what becomes of a file that the list is laid over.
func (p *Page) updated(u *tables.Updated) {
	p.head("Changes")
	if len(u.Changes)+len(u.Added) == 0 {
		p.say("None: the file says what the list says.")
	}
	if len(u.Changes) > 0 {
		var rows [][]string
		for _, c := range u.Changes {
			rows = append(rows, []string{c.SKU, c.Key, c.Old, c.New})
		}
		p.table(margin, []table.Column{{Title: "SKU", Width: 24}, {Title: "key", Width: 20}, {Title: "was", Fill: true}, {Title: "is", Fill: true}}, rows)
	}
	if len(u.Added) > 0 {
		p.item("new: %s", strings.Join(u.Added, ", "))
	}
	if len(u.Absent) > 0 {
		absent := slices.Clone(u.Absent)
		if more := len(absent) - mostAbsent; more > 0 {
			absent = append(absent[:mostAbsent], fmt.Sprintf("and %d more", more))
		}
		p.item("in the file and not in the list, left as they are: %s", strings.Join(absent, ", "))
	}
}

// mostAbsent keeps a short list over a large file readable.
const mostAbsent = 20
