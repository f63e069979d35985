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
	var taxes [][]string
	for _, c := range facts.Bill(b) {
		switch c.What {
		case "deal":
			rows = append(rows, []string{fmt.Sprint(c.Count), "deal: " + c.Name, "", "", "", c.Sum.Decimal()})
		case "labour":
			rows = append(rows, []string{fmt.Sprint(c.Count), "labour: " + c.Name, "", "", c.Each.Decimal(), c.Sum.Decimal()})
		default:
			what := "tax " + c.Name
			if len(b.Taxes) > 1 {
				what += " on " + c.On.String()
			}
			taxes = append(taxes, []string{"", what, "", "", "", c.Sum.Decimal()})
		}
	}
	if len(rows)+len(taxes) == 0 {
		return nil
	}
	sum := catalog.Money{Currency: b.Cost.Currency}
	for _, t := range b.Taxes {
		sum.Minor += t.Sum.Minor
	}
	return append(append(rows, []string{"", "sum", "", "", "", sum.Decimal()}), taxes...)
}
