package grid

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"loudfor/catalog"
)

// Workbooks hold typed cells: numbers are numbers, and dates are numbers that
// count days. What a formula showed when the file was saved may be long out of
// date, so formulas are refused where a value is needed.

// mostMerged bounds the merged cells of a sheet: the library looks through all
// of them for each cell.
const mostMerged = 1000

// tooLarge is in the library's message about a workbook that is too large when
// unpacked; its error has no type of its own. A test holds the words.
const tooLarge = "unzip size exceeds"

// book is a workbook while it is read.
type book struct {
	file *excelize.File
	era  bool // days are counted from 1904
}

// workbook reads the sheets of a workbook.
func (r *reader) workbook(content []byte) {
	whole := Cell{At: r.whole()}
	// The library trusts the inside of a workbook in places; a file that
	// makes it fail is damaged, and must not end the program.
	defer func() {
		if failure := recover(); failure != nil {
			r.sheets = nil
			r.bad(whole, "the workbook is damaged", "open it in a spreadsheet program and save it again")
		}
	}()
	f, err := excelize.OpenReader(bytes.NewReader(content), excelize.Options{
		RawCellValue: true, UnzipSizeLimit: r.options.MostUnpacked, UnzipXMLSizeLimit: r.options.MostUnpacked,
	})
	if err != nil && strings.Contains(err.Error(), tooLarge) {
		r.bad(whole, fmt.Sprintf("the workbook unpacks to more than %d MB", r.options.MostUnpacked>>20), "split it into several workbooks, or save the list as .csv")
		return
	}
	if err != nil {
		r.bad(whole, "the workbook cannot be read: "+firstLine(err), "open it in a spreadsheet program and save it again as .xlsx")
		return
	}
	defer f.Close()
	b := &book{file: f}
	if p, err := f.GetWorkbookProps(); err == nil && p.Date1904 != nil {
		b.era = *p.Date1904
	}
	lists := 0
	for _, sheet := range r.wanted(f) {
		rows := r.cells(b, sheet)
		f.Sheet.Clear() // the library would keep every sheet that was looked at
		if found := r.lists(rows); len(found) > 0 {
			lists++
			for i := range found {
				found[i].Name, found[i].Day = sheet, b.day
			}
			r.sheets = append(r.sheets, found...)
			continue
		}
		where := Cell{At: catalog.Position{File: r.name, Sheet: sheet}}
		if r.options.Sheet != "" {
			lists++
			r.bad(where, "the sheet has no header", "name the columns in its first row, such as "+r.options.Columns)
			continue
		}
		r.remark(where, "the sheet is not read: it has no header", r.options.What+" has columns such as "+r.options.Columns)
	}
	if lists == 0 && r.failed == 0 {
		r.bad(whole, "no sheet of the workbook is "+r.options.What, "name the columns in the first row of a sheet, such as "+r.options.Columns)
	}
}

func firstLine(err error) string {
	line, _, _ := strings.Cut(err.Error(), "\n")
	return line
}

// day turns the number of a date into the date.
func (b *book) day(serial float64) (time.Time, bool) {
	if serial < 1 || serial > 200_000 || math.IsNaN(serial) {
		return time.Time{}, false
	}
	at, err := excelize.ExcelDateToTime(math.Floor(serial), b.era)
	return at, err == nil
}

// wanted are the sheets to read.
func (r *reader) wanted(f *excelize.File) []string {
	if want := r.options.Sheet; want != "" {
		for _, s := range f.GetSheetList() {
			if strings.EqualFold(s, want) {
				return []string{s}
			}
		}
		r.bad(Cell{At: r.whole()}, fmt.Sprintf("the workbook has no sheet %q", want), "its sheets are "+strings.Join(f.GetSheetList(), ", "))
		return nil
	}
	var out []string
	for _, s := range f.GetSheetList() {
		if visible, err := f.GetSheetVisible(s); err == nil && visible {
			out = append(out, s)
		}
	}
	return out
}

// cells gives the rows of a sheet that have content.
func (r *reader) cells(b *book, sheet string) [][]Cell {
	where := catalog.Position{File: r.name, Sheet: sheet}
	fail := func(err error) [][]Cell {
		r.bad(Cell{At: where}, "the sheet cannot be read: "+firstLine(err), "save the workbook again, or leave the sheet out")
		return nil
	}
	if merged, err := b.file.GetMergeCells(sheet, true); err != nil {
		return fail(err)
	} else if len(merged) > mostMerged {
		return fail(fmt.Errorf("more than %d merged cells", mostMerged))
	}
	rows, err := b.file.Rows(sheet)
	if err != nil {
		return fail(err)
	}
	defer rows.Close()
	var out [][]Cell
	for n := 1; rows.Next(); n++ {
		values, err := rows.Columns()
		if err != nil {
			return fail(err)
		}
		row, blank := make([]Cell, len(values)), true
		for i, v := range values {
			at := where
			at.Line, at.Column = n, i+1
			row[i] = Cell{Text: strings.ReplaceAll(v, "\r\n", "\n"), At: at} // ends of lines within a cell, as in CSV
			if err := b.typed(sheet, &row[i]); err != nil {
				return fail(err)
			}
			blank = blank && row[i].Empty()
		}
		if blank {
			continue
		}
		if len(out) == r.options.MostRows {
			r.bad(row[0], fmt.Sprintf("more than %d rows", r.options.MostRows), "split the list into several files")
			return nil
		}
		out = append(out, row)
	}
	if err := rows.Error(); err != nil {
		return fail(err)
	}
	return out
}

// typed finds out what a cell holds.
func (b *book) typed(sheet string, c *Cell) error {
	name := c.At.Cell()
	content, err := b.file.GetCellFormula(sheet, name)
	if err != nil {
		return err
	}
	kind, err := b.file.GetCellType(sheet, name)
	if err != nil {
		return err
	}
	switch {
	case content != "" || kind == excelize.CellTypeFormula:
		c.Sort = Formula
		c.Text = "=" + content
	case kind == excelize.CellTypeBool:
		c.Sort = Truth
	case kind == excelize.CellTypeError:
		c.Sort = Fault
	case kind == excelize.CellTypeUnset || kind == excelize.CellTypeNumber:
		c.Sort = Number
	default:
		c.Sort = Text
	}
	return nil
}
