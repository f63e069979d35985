package tables

import (
	"slices"
	"strings"

	"loudfor/catalog"
)

// What is told of how a sheet was read: for every column, whether its rows were
// right or not.

// told describes the sheet for the user.
func (p *plan) told() Sheet {
	out := Sheet{Name: p.sheet.Name, Encoding: p.sheet.Encoding, Rows: p.sheet.Len() - 1 - p.under}
	seen := map[catalog.Kind]bool{}
	for k := range rowSorts {
		for _, how := range []string{byColumn, byList, byTitle, byWords, byValues} {
			if n := p.by[inferred{k, how}]; n > 0 {
				seen[k] = true
				out.Kinds = append(out.Kinds, KindOf{k, n, how})
			}
		}
	}
	for k := range p.tried { // rows that failed had columns too
		seen[k] = true
		p.of(k)
	}
	for i, name := range p.names {
		c := Column{Name: name, Filled: p.filled[i], Sample: p.sample[i]}
		var keys []string
		for k := range rowSorts {
			if p.columns[k] == nil || !seen[k] {
				continue
			}
			of := p.columns[k][i]
			key := of.key
			if of.rating != nil {
				key = of.rating.String()
			}
			switch {
			case key == "" && i != p.kindAt:
				c.Why = of.why
			case key != "" && !slices.Contains(keys, key):
				keys = append(keys, key)
				c.Unit = of.unit
			}
		}
		switch i {
		case p.kindAt:
			keys, c.Unit = []string{"kind"}, ""
		case p.currencyAt:
			keys = []string{"currency"}
		}
		if c.Key = strings.Join(keys, ", "); c.Key != "" {
			c.Why = ""
		} else if c.Why == "" && len(seen) == 0 {
			c.Why = "what the rows are is not known"
		} else if c.Why == "" {
			c.Why = "no row needs it"
		}
		out.Columns = append(out.Columns, c)
	}
	return out
}
