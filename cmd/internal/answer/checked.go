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
// what can hurt first, which is said whatever a screen holds, and warnings before the
// rest. more is how to see every one at its place.
func (p *Page) Checked(problems []catalog.Problem, more string) {
	left := 0 // groups that a screen does not hold
	for _, s := range []struct {
		head    string
		belongs func(catalog.Problem) bool
	}{
		{"What can hurt", func(p catalog.Problem) bool { return p.Hazard }},
		{"Warnings", func(p catalog.Problem) bool { return !p.Hazard && p.Severity == catalog.Warning }},
		{"Will be assumed, or is worth a look", func(p catalog.Problem) bool { return !p.Hazard && p.Severity == catalog.Info }},
	} {
		groups := alike(problems, s.belongs)
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

func alike(problems []catalog.Problem, belongs func(catalog.Problem) bool) (all []finding) {
	at := map[string]int{}
	for _, one := range problems {
		if !belongs(one) {
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
