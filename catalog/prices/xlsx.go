package prices

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/xuri/excelize/v2"

	"loudfor/catalog"
)

// Workbooks hold typed cells: numbers are numbers, and dates are numbers that
// count days. What a formula showed when the file was saved may be long out of
// date, so formulas are refused where a value is needed.

// mostMerged bounds the merged cells of a sheet: the library looks through all
// of them for each cell.
const mostMerged = 1000

// book is a workbook while it is read.
type book struct {
	name string
	file *excelize.File
	era  bool // days are counted from 1904
}

// readXLSX reads a workbook into the table, sheet after sheet.
func (t *table) readXLSX(name string, content []byte) {
	whole := cell{at: catalog.Position{File: name}}
	// The library trusts the inside of a workbook in places; a file that
	// makes it fail is damaged, and must not end the program.
	defer func() {
		if failure := recover(); failure != nil {
			t.entries = nil
			t.bad(whole, "the workbook is damaged", "open it in a spreadsheet program and save it again")
		}
	}()
	f, err := excelize.OpenReader(bytes.NewReader(content), excelize.Options{
		RawCellValue: true, UnzipSizeLimit: MostUnpacked, UnzipXMLSizeLimit: MostUnpacked,
	})
	if err != nil {
		t.bad(whole, "the workbook cannot be read: "+firstLine(err), "open it in a spreadsheet program and save it again as .xlsx")
		return
	}
	defer f.Close()
	b := &book{name: name, file: f}
	if p, err := f.GetWorkbookProps(); err == nil && p.Date1904 != nil {
		b.era = *p.Date1904
	}
	t.day = b.day
	lists := 0
	for _, sheet := range b.sheets(t) {
		rows := b.rows(t, sheet)
		if rows = findHeader(rows); rows != nil {
			lists++
			t.rows(rows)
			continue
		}
		where := cell{at: catalog.Position{File: name, Sheet: sheet}}
		if t.options.Sheet != "" {
			lists++
			t.bad(where, "the sheet has no header", "name the columns in its first row, such as "+known())
			continue
		}
		t.remark(where, "the sheet is not read: it has no header", "a price list has columns such as "+known())
	}
	if lists == 0 && t.failed == 0 {
		t.bad(whole, "no sheet of the workbook is a price list", "name the columns in the first row of a sheet, such as "+known())
	}
}

func firstLine(err error) string {
	line, _, _ := strings.Cut(err.Error(), "\n")
	return line
}

// day turns the number of a date into the date.
func (b *book) day(serial float64) (Date, bool) {
	if serial < 1 || serial > 200_000 || math.IsNaN(serial) {
		return Date{}, false
	}
	at, err := excelize.ExcelDateToTime(math.Floor(serial), b.era)
	d := DateOf(at)
	return d, err == nil && d.exists()
}

// sheets are the ones to read.
func (b *book) sheets(t *table) []string {
	if want := t.options.Sheet; want != "" {
		for _, s := range b.file.GetSheetList() {
			if strings.EqualFold(s, want) {
				return []string{s}
			}
		}
		t.bad(cell{at: catalog.Position{File: b.name}}, fmt.Sprintf("the workbook has no sheet %q", want), "its sheets are "+strings.Join(b.file.GetSheetList(), ", "))
		return nil
	}
	var out []string
	for _, s := range b.file.GetSheetList() {
		if visible, err := b.file.GetSheetVisible(s); err == nil && visible {
			out = append(out, s)
		}
	}
	return out
}

// rows gives the rows of a sheet that have content.
func (b *book) rows(t *table, sheet string) [][]cell {
	where := catalog.Position{File: b.name, Sheet: sheet}
	fail := func(err error) [][]cell {
		t.bad(cell{at: where}, "the sheet cannot be read: "+firstLine(err), "save the workbook again, or leave the sheet out")
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
	var out [][]cell
	for n := 1; rows.Next(); n++ {
		values, err := rows.Columns()
		if err != nil {
			return fail(err)
		}
		row, blank := make([]cell, len(values)), true
		for i, v := range values {
			at := where
			at.Line, at.Column = n, i+1
			row[i] = cell{text: v, at: at}
			if err := b.typed(sheet, &row[i]); err != nil {
				return fail(err)
			}
			blank = blank && row[i].empty()
		}
		if blank {
			continue
		}
		if len(out) == MostRows {
			t.bad(row[0], fmt.Sprintf("more than %d rows", MostRows), "split the list into several files")
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
func (b *book) typed(sheet string, c *cell) error {
	name := c.at.Cell()
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
		c.sort = formula
		c.text = "=" + content
	case kind == excelize.CellTypeBool:
		c.sort = truth
	case kind == excelize.CellTypeError:
		c.sort = fault
	case kind == excelize.CellTypeUnset || kind == excelize.CellTypeNumber:
		c.sort = number
	default:
		c.sort = text
	}
	return nil
}

// The first bytes of files that are not text.
var (
	zipped   = []byte("PK\x03\x04")
	compound = []byte{0xd0, 0xcf, 0x11, 0xe0}
)

// errCompound is for the older container, which also holds workbooks that are
// locked with a password.
var errCompound = errors.New("an .xls workbook, or one that is locked with a password")
