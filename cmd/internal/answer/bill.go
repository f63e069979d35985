package answer

import (
	"fmt"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/optimizer"
)

// extras are the rows of the parts table that are no parts: what deals take
// off, labour, and the taxes of each rate with what they are laid on.
func extras(b optimizer.Build) (rows [][]string) {
	for _, d := range b.Deals {
		rows = append(rows, []string{fmt.Sprint(d.Times), "deal: " + d.Name, "", "", "", facts.Less(catalog.Money{Currency: d.Saving.Currency}, d.Saving).String()})
	}
	for _, l := range b.Labour {
		rows = append(rows, []string{fmt.Sprint(l.Count), "labour: " + l.Name, "", "", l.Each.String(), l.Cost.String()})
	}
	taxed := len(b.Taxes) > 1 || len(b.Taxes) == 1 && b.Taxes[0].PPM != 0
	if !taxed && len(rows) == 0 {
		return nil
	}
	sum := catalog.Money{Currency: b.Cost.Currency}
	for _, t := range b.Taxes {
		sum.Minor += t.Sum.Minor
	}
	rows = append(rows, []string{"", "", "", "", "sum", sum.String()})
	for _, t := range b.Taxes {
		what := "tax " + facts.Percent(t.PPM)
		if len(b.Taxes) > 1 {
			what += " on " + t.Sum.String()
		}
		if taxed {
			rows = append(rows, []string{"", "", "", "", what, t.Tax.String()})
		}
	}
	return rows
}
