package grid

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"loudfor/catalog"
)

// Each limit just below and just above, with the words that tell what to do.

// sheetOf is a workbook of one sheet, its header and so many rows.
func sheetOf(t *testing.T, rows int, change func(*excelize.File, string)) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	const sheet = "Sheet1"
	for n := range rows + 1 {
		values := &[]any{fmt.Sprintf("S-%d", n), n}
		if n == 0 {
			values = &[]any{"SKU", "price"}
		}
		if err := f.SetSheetRow(sheet, fmt.Sprintf("A%d", n+1), values); err != nil {
			t.Fatal(err)
		}
	}
	if change != nil {
		change(f, sheet)
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func limited() Options {
	return Options{What: "a list", Columns: "SKU, price", IsHeader: func(row []Cell) bool { return len(row) > 1 && row[0].Text == "SKU" },
		MostRows: 11, MostUnpacked: 8 << 20} // the header is a row as well
}

// only is the one problem that has to be there, an error with these words.
func only(t *testing.T, found []catalog.Problem, summary, detail, where string) {
	t.Helper()
	if len(found) != 1 || found[0].Severity != catalog.Error || !strings.Contains(found[0].Summary, summary) ||
		!strings.Contains(found[0].Detail, detail) || found[0].Where.String() != where {
		t.Errorf("%+v, want one error %q, %q at %s", found, summary, detail, where)
	}
}

func TestMostRows(t *testing.T) {
	csv := func(rows int) []byte { return []byte("SKU,price\n" + strings.Repeat("A,1\n\n", rows)) }
	for name, content := range map[string]func(int) []byte{
		"a.csv": csv, "a.xlsx": func(rows int) []byte { return sheetOf(t, rows, nil) },
	} {
		if sheets, found := Read(name, content(10), limited()); len(found) != 0 || len(sheets) != 1 || sheets[0].Len() != 11 {
			t.Errorf("%s: %v, %+v", name, sheets, found)
		}
	}
	_, found := Read("a.csv", csv(11), limited())
	only(t, found, "more than 11 rows", "split the list into several files", "a.csv:22:1")
	_, found = Read("a.xlsx", sheetOf(t, 11, nil), limited())
	if len(found) == 0 || found[0].Summary != "more than 11 rows" || found[0].Where.Line != 12 {
		t.Errorf("%+v", found)
	}
}

// A workbook of some kilobytes can unpack to as many gigabytes as it likes.
func TestMostUnpacked(t *testing.T) {
	content := sheetOf(t, 3, func(f *excelize.File, sheet string) {
		for n := range 400 {
			if err := f.SetCellValue(sheet, fmt.Sprintf("C%d", n+10), strings.Repeat("x", 30_000)+fmt.Sprint(n)); err != nil {
				t.Fatal(err)
			}
		}
	})
	if len(content) > 1<<20 {
		t.Fatalf("%d bytes packed: not a bomb", len(content))
	}
	_, found := Read("a.xlsx", content, limited())
	only(t, found, "the workbook unpacks to more than 8 MB", "split it into several workbooks", "a.xlsx")
	o := limited()
	o.MostUnpacked, o.MostRows = 64<<20, 1000
	if sheets, found := Read("a.xlsx", content, o); len(sheets) != 1 || len(found) != 0 {
		t.Errorf("%d sheets, %+v", len(sheets), found)
	}
}
