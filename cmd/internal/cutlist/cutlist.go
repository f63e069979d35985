// Package cutlist shows a built box to the carpenter: what to cut, where on the
// sheets, and what the box will be.
//
//	rows := cutlist.Rows(box)          // panels, alike ones together
//	text, err := cutlist.CSV(box)      // the same for a saw's list
//	picture := cutlist.SVG(box)        // front, all panels in place, plan of the sheets
//	drawing := cutlist.Text(box, 93)   // the same in characters
//	section := cutlist.Facts(box, air) // names and values, for a page or a sheet
//
// Every panel has a mark, a letter that alike panels share; the same mark stands
// in the list and on the plan. Sizes are in millimetres, as tapes are.
//
// Limit: how panels are joined is said in words.
package cutlist

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"

	"loudfor/cmd/internal/table"
	"loudfor/model/joinery"
	"loudfor/optimizer/workshop"
)

// Row is some panels that are cut alike.
type Row struct {
	Mark          string
	Count         int
	Names         []string
	Length, Width float64 // m
	Openings      []string
}

// Rows are the panels of a box, in the order of the list, alike ones together:
// of equal size and with equal openings.
func Rows(b *workshop.Box) []Row {
	rows, _ := rowsOf(b.Joinery.Panels)
	return rows
}

// Marks are the marks of the panels, in their order.
func Marks(b *workshop.Box) []string {
	_, marks := rowsOf(b.Joinery.Panels)
	return marks
}

// rowsOf also tells the mark of each panel.
func rowsOf(panels []joinery.Panel) (rows []Row, marks []string) {
	for _, p := range panels {
		var openings []string
		for _, o := range p.Openings {
			openings = append(openings, o.String())
		}
		k := -1
		for i, r := range rows {
			if sameSize(r.Length, p.Length) && sameSize(r.Width, p.Width) && strings.Join(r.Openings, ";") == strings.Join(openings, ";") {
				k = i
			}
		}
		if k < 0 {
			k = len(rows)
			rows = append(rows, Row{Mark: mark(k), Length: p.Length, Width: p.Width, Openings: openings})
		}
		rows[k].Count++
		if n := len(rows[k].Names); n == 0 || rows[k].Names[n-1] != p.Name {
			rows[k].Names = append(rows[k].Names, p.Name)
		}
		marks = append(marks, rows[k].Mark)
	}
	return rows, marks
}

// sameSize compares what is cut: a twentieth of a millimetre is no difference.
func sameSize(a, b float64) bool { return math.Abs(a-b) < 0.00005 }

// mark is A to Z, then AA and so on.
func mark(k int) string {
	text := ""
	for k++; k > 0; k = (k - 1) / 26 {
		text = string(rune('A'+(k-1)%26)) + text
	}
	return text
}

// mm writes a length in millimetres, to a tenth where it is not whole.
func mm(m float64) string {
	return strconv.FormatFloat(math.Round(m*1e4)/10, 'f', -1, 64)
}

// Columns are the columns of the CSV.
var Columns = []string{"mark", "count", "panel", "length_mm", "width_mm", "thickness_mm", "sheet_sku", "openings"}

// CSV is the cut list as comma-separated values (RFC 4180) with a header.
func CSV(b *workshop.Box) ([]byte, error) {
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	if err := w.Write(Columns); err != nil {
		return nil, err
	}
	for _, r := range Rows(b) {
		err := w.Write([]string{r.Mark, strconv.Itoa(r.Count), strings.Join(r.Names, ", "), mm(r.Length), mm(r.Width),
			mm(b.Joinery.Design.Thickness), b.Sheet.SKU, strings.Join(r.Openings, "; ")})
		if err != nil {
			return nil, err
		}
	}
	w.Flush()
	return out.Bytes(), w.Error()
}

// Table is the cut list for a page.
func Table(b *workshop.Box) (columns []table.Column, cells [][]string) {
	columns = []table.Column{{Title: "mark"}, {Title: "count", Right: true}, {Title: "panel", Width: 22},
		{Title: "length, mm", Right: true}, {Title: "width, mm", Right: true}, {Title: "to cut out", Fill: true}}
	for _, r := range Rows(b) {
		cells = append(cells, []string{r.Mark, strconv.Itoa(r.Count), strings.Join(r.Names, ", "), mm(r.Length), mm(r.Width), strings.Join(r.Openings, "\n")})
	}
	return columns, cells
}

// Caption says what the plan rests on.
func Caption(b *workshop.Box) string {
	n := &b.Nesting
	sheets := "1 sheet"
	if n.Sheets != 1 {
		sheets = fmt.Sprintf("%d sheets", n.Sheets)
	}
	return fmt.Sprintf("%s of %s, %s x %s mm, %s mm thick, saw cut %s mm; %.0f %% is waste",
		sheets, b.Sheet.SKU, mm(n.Stock.Length), mm(n.Stock.Width), mm(b.Joinery.Design.Thickness), mm(n.Stock.Kerf), 100*n.Waste())
}
