package answer

import (
	"fmt"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
)

// checkedLines leave room on a screen of 40 lines for what comes below the findings.
const checkedLines = 35

// Checked writes what a check found, grouped: whatever is mended alike stands together,
// warnings first, and what can hurt before the rest: that is said whatever a screen holds.
// more is how to see every one at its place.
func (p *Page) Checked(problems []catalog.Problem, more string) {
	left := 0 // groups that a screen does not hold
	for _, s := range []struct {
		severity catalog.Severity
		head     string
	}{{catalog.Warning, "Warnings"}, {catalog.Info, "Will be assumed, or is worth a look"}} {
		groups := alike(problems, s.severity)
		if len(groups) == 0 {
			continue
		}
		headed := false
		for _, g := range groups {
			text := g.words()
			if !g.first.Hazard && (left > 0 || !p.fits(text, checkedLines)) {
				left++
				continue
			}
			if !headed {
				headed = true
				p.heading(s.head)
			}
			p.item("%s", text)
		}
	}
	if left > 0 {
		p.item("%s.", facts.Plural(left, "more kind")+" of finding")
	}
	if len(problems) > 0 {
		p.say("%s", more)
	}
}

// finding is some problems that are mended alike.
type finding struct {
	first catalog.Problem
	about []string // SKUs
}

func alike(problems []catalog.Problem, s catalog.Severity) (all []finding) {
	at := map[string]int{}
	for _, one := range problems {
		if one.Severity != s {
			continue
		}
		mend, _, _ := strings.Cut(one.Detail, ",")
		i, known := at[mend]
		if !known {
			i = len(all)
			at[mend] = i
			all = append(all, finding{first: one})
		}
		g := &all[i]
		sku, what, _ := strings.Cut(one.Summary, ": ")
		switch {
		case known && sku == g.about[0]:
			g.first.Summary += "; " + what
		case !slices.Contains(g.about, sku):
			g.about = append(g.about, sku)
		}
	}
	slices.SortStableFunc(all, func(a, b finding) int {
		switch {
		case a.first.Hazard == b.first.Hazard:
			return 0
		case a.first.Hazard:
			return -1
		}
		return 1
	})
	return all
}

// mostNamed is how many parts are named; the rest is counted.
const mostNamed = 2

func (f *finding) words() string {
	text := f.first.Summary
	if f.first.Where.File != "" {
		text += fmt.Sprintf(" (%s:%d)", f.first.Where.File, f.first.Where.Line)
	}
	if len(f.about) > 1 {
		names := f.about[1:min(len(f.about), mostNamed)]
		text += "; also " + strings.Join(names, ", ")
		if n := len(f.about) - 1 - len(names); n > 0 {
			text += fmt.Sprintf(" and %d more", n)
		}
	}
	return text + ". " + facts.Sentence(f.first.Detail)
}
