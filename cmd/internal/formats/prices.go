package formats

import (
	"fmt"
	"strings"

	"loudfor/catalog/prices"
	"loudfor/cmd/internal/table"
)

// PriceList is an example of a price list.
const PriceList = `SKU;price;store;stock;date
OR-4C;79,00 USD;Pell Street Sound;3;7 Mar 2025
KE-K8;24,50 USD;;;7 Mar 2025
TM-12V;;;0;7 Mar 2025
`

// columnHelp says what each column is for, by its usual name.
var columnHelp = map[string]string{
	"SKU":      "the SKU of a part of the catalogue; has to be there",
	"price":    "of one piece, before tax; the currency with it, or as below",
	"currency": "of the row's price; or in the head of the price column: price (USD)",
	"store":    "the shop; without it, the part's own",
	"stock":    "pieces; 0 takes the part off the shelf, with or without a price",
	"date":     "from which day on; without the column, --date states it",
}

// priceLists is the part of the help about price lists.
func priceLists(width int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "\nA price list (reprice, book), CSV or XLSX, for example:\n\n%s\n", indented(PriceList))
	b.WriteString(`Columns in any order, parted by commas, semicolons or tabs; rows without a price
state only the stock. For each part and shop the row of the latest day counts. Several
shops of one part are its offers: where to buy each piece is a part of the choice,
with trips and most_stores. Refused, with the place: an unknown SKU, two prices for a part in a
shop on one day, another currency, a formula or a text where a number belongs, and
what can be read in two ways (1,234; 3/4/2025).

`)
	var rows [][]string
	for _, names := range prices.Columns() {
		rows = append(rows, []string{names[0], strings.Join(names[1:], ", "), columnHelp[names[0]]})
	}
	columns := []table.Column{{Title: "column"}, {Title: "other names", Fill: true}, {Title: "what for", Fill: true}}
	if err := table.WriteIndented(&b, width, "  ", columns, rows); err != nil {
		panic(err) // a string takes whatever is written to it
	}
	return b.String()
}
