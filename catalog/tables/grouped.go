package tables

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loudfor/catalog"
)

// A column without units is one mistake, not one a row. What is wrong in the same
// way in many cells of a column is told once, with three of them, the most
// frequent first.

// shownAlone is how many alike are still told one by one.
const shownAlone = 3

// cause is what problems that are alike have in common.
type cause struct {
	severity                        catalog.Severity
	sheet, heading, summary, detail string
}

func causeOf(p catalog.Problem) cause {
	summary := p.Summary
	if p.Text != "" {
		summary = strings.ReplaceAll(summary, strings.TrimSpace(p.Text), "")
	}
	return cause{p.Severity, p.Where.Sheet, p.Heading, summary, p.Detail}
}

// grouped joins problems that are alike, of a list of so many rows; the order of
// the others stays.
func grouped(problems []catalog.Problem, rows int) []catalog.Problem {
	alike := map[cause][]catalog.Problem{}
	for _, p := range problems {
		alike[causeOf(p)] = append(alike[causeOf(p)], p)
	}
	type group struct {
		catalog.Problem
		cells int
	}
	var groups []group
	var alone []catalog.Problem
	for _, p := range problems {
		all := alike[causeOf(p)]
		switch {
		case len(all) <= shownAlone:
			alone = append(alone, p)
			continue
		case all[0].Where != p.Where:
			continue // told with the first
		}
		what := "rows"
		if p.Heading != "" {
			what = fmt.Sprintf("cells of the column %q", p.Heading)
		}
		p.Summary = fmt.Sprintf("%d of %d %s, such as: %s", len(all), rows, what, p.Summary)
		var others []string
		for _, o := range all[1:shownAlone] {
			others = append(others, fmt.Sprintf("%d (%s)", o.Where.Line, strings.TrimSpace(o.Text)))
		}
		p.Detail += fmt.Sprintf("; also in rows %s and %d more", strings.Join(others, ", "), len(all)-shownAlone)
		groups = append(groups, group{p, len(all)})
	}
	slices.SortStableFunc(groups, func(a, b group) int {
		return cmp.Or(cmp.Compare(a.Severity, b.Severity), cmp.Compare(b.cells, a.cells))
	})
	out := make([]catalog.Problem, 0, len(groups)+len(alone))
	for _, g := range groups {
		out = append(out, g.Problem)
	}
	return append(out, alone...)
}
