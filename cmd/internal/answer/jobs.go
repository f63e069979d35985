package answer

import (
	"fmt"

	"loudfor/catalog/book"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/table"
)

// Jobs lists the jobs of a book.
func (p *Page) Jobs(file string, jobs []book.JobSummary) {
	p.heading(fmt.Sprintf("%s in %s", facts.Plural(len(jobs), "job"), file))
	if len(jobs) == 0 {
		return
	}
	p.printf("\n")
	columns := []table.Column{{Title: "job", Right: true}, {Title: "customer", Width: 20}, {Title: "brief", Fill: true}, {Title: "quotes", Right: true},
		{Title: "latest"}, {Title: "price", Right: true}, {Title: "level", Right: true}, {Title: "state"}}
	var rows [][]string
	for _, j := range jobs {
		row := []string{fmt.Sprint(j.ID), j.Customer, j.Name, fmt.Sprint(j.Quotes), "-", "-", "-", string(j.State)}
		if q := j.Latest; q != nil {
			level := facts.Decibels(q.Level)
			if q.Objective == "music" {
				level += " music"
			}
			row[4], row[5], row[6] = fmt.Sprintf("%d of %s", q.ID, q.Quoted.Local().Format("2006-01-02")), q.Price.String(), level
		}
		rows = append(rows, row)
	}
	p.table("", columns, rows)
}
