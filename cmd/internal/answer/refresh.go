package answer

import (
	"fmt"
	"strings"

	"loudfor/catalog"
	"loudfor/cmd/internal/refresh"
	"loudfor/cmd/internal/table"
)

// Refresh writes what is new since the last refresh of a plan.
func (p *Page) Refresh(s *refresh.Summary) {
	p.heading("What a chain's refresh has found")
	p.pair("jobs", "%d, of which %d were computed", s.Jobs, s.Computed)
	p.pair("results", "%s", s.Results)
	p.head("Since the last time")
	if s.New > 0 {
		p.item("%d jobs were not asked the last time", s.New)
	}
	p.item("%d answers have changed", s.Changed)
	p.item("%d jobs have no build", s.Nothing)
	if s.Failed > 0 {
		p.item("%d jobs were set aside, each with its error in the results", s.Failed)
	}
	p.howOften("Where no build exists", "shop", "jobs", s.Empty)
	p.howOften("What went wrong", "error", "jobs", s.Errors)
	p.howOften("What wins most", "part", "answers", s.Wins)
	if len(s.Dearer) == 0 {
		return
	}
	p.head("What costs more than the last time")
	var rows [][]string
	for _, d := range s.Dearer {
		rows = append(rows, []string{d.Shop, d.Car, asked(d.Row), d.Was.String(), catalog.Money{Minor: d.Was.Minor + d.By, Currency: d.Was.Currency}.String()})
	}
	p.table(margin, []table.Column{{Title: "shop", Fill: true}, {Title: "car", Fill: true}, {Title: "asked", Fill: true}, {Title: "was", Right: true}, {Title: "costs", Right: true}}, rows)
}

// asked is the question of a row in words.
func asked(r refresh.Row) string {
	var words []string
	for _, text := range []string{r.Brief, r.Cap, r.Goal, r.Place, r.Openings} {
		if text != "" {
			words = append(words, text)
		}
	}
	return strings.Join(words, ", ")
}

func (p *Page) howOften(title, what, of string, all []refresh.Count) {
	if len(all) == 0 {
		return
	}
	p.head(title)
	var rows [][]string
	for _, c := range all {
		rows = append(rows, []string{c.What, fmt.Sprint(c.N)})
	}
	p.table(margin, []table.Column{{Title: what, Fill: true}, {Title: of, Right: true}}, rows)
}

// Estimate writes what a refresh would do.
func (p *Page) Estimate(e *refresh.Estimate) {
	p.heading("What this refresh would do")
	p.pair("jobs", "%d: %d shops x %d cars x %d questions", e.Jobs, e.Shops, e.Cars, e.Questions)
	p.pair("kept", "%d are answered already", e.Kept)
	if e.Missing == 0 {
		p.pair("time", "next to none: there is nothing to compute")
		return
	}
	p.pair("missing", "%d different ones", e.Missing)
	p.pair("time", "about %s of one core, by a sample of %d jobs; another may take half or twice that", coreTime(e.CPU.Seconds()), e.Sampled)
}

// coreTime is a guess in words.
func coreTime(seconds float64) string {
	switch {
	case seconds < 90:
		return fmt.Sprintf("%.0f s", max(1, seconds))
	case seconds < 90*60:
		return fmt.Sprintf("%.0f min", seconds/60)
	}
	return fmt.Sprintf("%.1f h", seconds/3600)
}
