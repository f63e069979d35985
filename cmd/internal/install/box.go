package install

import (
	"loudfor/cmd/internal/cutlist"
	"loudfor/cmd/internal/sheet"
	"loudfor/cmd/internal/table"
	"loudfor/model/air"
	"loudfor/optimizer/workshop"
)

// planWidth fits the narrowest page, cells.
const planWidth = 58

// BoxSection is the box that the shop builds: what it will be, what to cut, and
// where on the sheets. It is one of the sections that a Job may have as Extra.
func BoxSection(b *workshop.Box, a air.Air) sheet.Section {
	facts := sheet.Table{Columns: []table.Column{{Title: "the box"}, {Title: "will be", Fill: true}}}
	for _, f := range cutlist.Facts(b, a) {
		facts.Rows = append(facts.Rows, []string{f.Name, f.Text})
	}
	columns, cells := cutlist.Table(b)
	return sheet.Section{Title: "The box to build", Blocks: []sheet.Block{
		facts,
		sheet.Paragraph("Cut list, sizes in millimetres; a mark stands on the plan as in the list."),
		sheet.Table{Columns: columns, Rows: cells},
		sheet.Drawing{Caption: cutlist.Caption(b), Text: cutlist.Text(b, planWidth), SVG: cutlist.SVG(b)},
	}}
}
