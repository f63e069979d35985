package grid

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strings"
	"testing"
)

// archive is a workbook of files as they are written by hand.
func archive(t testing.TB, files map[string]string) []byte { return zipOf(t, files, zip.Deflate) }

// plain is one whose files are not compressed.
func plain(t testing.TB, files map[string]string) []byte { return zipOf(t, files, zip.Store) }

func zipOf(t testing.TB, files map[string]string, method uint16) []byte {
	t.Helper()
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, name := range []string{"_rels/.rels", `xl\Workbook.xml`, "xl/_rels/workbook.xml.rels", "xl/sharedStrings.xml", "xl/worksheets/sheet1.xml", "xl/worksheets/sheet2.xml"} {
		f, err := w.CreateHeader(&zip.FileHeader{Name: name, Method: method})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Write([]byte(files[name])); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// byHand is a workbook with what writers of workbooks do differently: prefixes,
// links from the root, lines that slant the other way.
func byHand(rows string) map[string]string {
	const kind = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
	return map[string]string{
		"_rels/.rels":     `<Relationships><Relationship Id="a" Type="` + kind + `officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		`xl\Workbook.xml`: `<x:workbook xmlns:x="m" xmlns:r="r"><x:workbookPr date1904="1"/><x:sheets><x:sheet name="Old" sheetId="2" state="veryHidden" r:id="rId2"/><x:sheet name="May" sheetId="1" r:id="rId1"/></x:sheets></x:workbook>`,
		"xl/_rels/workbook.xml.rels": `<Relationships><Relationship Id="rId1" Type="` + kind + `worksheet" Target="/xl/worksheets/sheet1.xml"/>` +
			`<Relationship Id="rId2" Type="` + kind + `worksheet" Target="worksheets\sheet2.xml"/><Relationship Id="rId3" Type="` + kind + `sharedStrings" Target="sharedStrings.xml"/></Relationships>`,
		"xl/sharedStrings.xml": `<sst><si><t>SKU</t></si><si><r><t>pri</t></r><r><t>ce</t></r><rPh><t>spoken</t></rPh></si><si><t xml:space="preserve">a_x005F_b_x000A_c</t></si></sst>`,
		"xl/worksheets/sheet1.xml": `<worksheet><dimension ref="A1:Z9"/><sheetData><row r="2"><c r="A2" t="s"><v>0</v></c><c r="C2" t="s"><v>1</v></c></row>` + rows +
			`</sheetData><mergeCells><mergeCell ref="A1:B1"/></mergeCells></worksheet>`,
		"xl/worksheets/sheet2.xml": `<worksheet><sheetData><row><c t="inlineStr"><is><t>SKU</t></is></c><c t="inlineStr"><is><t>hidden</t></is></c></row></sheetData></worksheet>`,
	}
}

// Cells are read by their types and places, as ECMA-376 Part 1, 18.3.1 and 18.18.11
// have them.
func TestCellsOfAWorkbook(t *testing.T) {
	content := archive(t, byHand(`<row><c t="inlineStr"><is><t>in</t><rPh><t>x</t></rPh><r><t>line</t></r></is></c><c t="b"><v>1</v></c><c t="e"><v>#N/A</v></c></row>`+
		`<row r="5"><c r="B5"><v>39.950000000000003</v></c><c r="D5"><f>B5*2</f><v>79.9</v></c><c r="E5"><f t="shared" si="0"/><v>7</v></c><c r="F5" t="str"><v>told</v></c><c r="G5" t="s"><v>2</v></c><c r="H5" t="s"><v>99</v></c><c r="J5"/></row><row/>`))
	o := limited()
	o.IsHeader = func(row []Cell) bool { return row[0].Text == "SKU" }
	sheets, found := Read("a.xlsx", content, o)
	if len(found) > 0 || len(sheets) != 1 || sheets[0].Name != "May" || sheets[0].Len() != 3 {
		t.Fatalf("%+v %v", sheets, found)
	}
	var got []string
	for i := range sheets[0].Len() {
		for _, c := range sheets[0].Row(i) {
			got = append(got, fmt.Sprintf("%s %d %q", c.At.Cell(), c.Sort, c.Shown()))
		}
	}
	want := []string{
		`A2 1 "SKU"`, `B2 0 ""`, `C2 1 "price"`,
		`A3 1 "inline"`, `B3 5 "1"`, `C3 4 "#N/A"`,
		`A5 0 ""`, `B5 2 "39.95"`, `C5 0 ""`, `D5 3 "=B5*2"`, `E5 3 "=7"`, `F5 1 "told"`, `G5 1 "a_b\nc"`,
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s", strings.Join(got, "\n"))
	}
	if day, ok := sheets[0].Day(1); !ok || day.Format("2006-01-02") != "1904-01-02" {
		t.Errorf("day 1 is %v", day)
	}
	o.Sheet = "old"
	if sheets, _ := Read("a.xlsx", content, o); len(sheets) != 1 || sheets[0].Row(0)[1].Text != "hidden" {
		t.Errorf("%+v", sheets)
	}
	o.Sheet = "June"
	_, found = Read("a.xlsx", content, o)
	only(t, found, `no sheet "June"`, "Old, May", "a.xlsx")
}

// What is no sheet is refused with a word, and a small file does not take the
// memory of a large one.
func TestDamagedWorkbooks(t *testing.T) {
	for rows, words := range map[string]string{
		`<row r="0"><c><v>1</v></c></row>`:               "outside of any sheet",
		`<row r="9"><c r="ZZZZZZZZ9"><v>1</v></c></row>`: "outside of any sheet",
		`<row r="9"><c r="-9"><v>1</v></c></row>`:        "outside of any sheet",
		`<row><c`:                  "cannot be read",
		strings.Repeat(" ", 9<<20): "unpacks to more than 8 MB",
	} {
		o := limited()
		o.IsHeader = func(row []Cell) bool { return row[0].Text == "SKU" }
		if sheets, found := Read("a.xlsx", archive(t, byHand(rows)), o); len(sheets) != 0 || len(found) == 0 || !strings.Contains(found[0].Summary, words) {
			t.Errorf("%.40s: %+v %v", rows, sheets, found)
		}
	}
	for what, harm := range map[string]func([]byte) []byte{
		"a bit": func(b []byte) []byte {
			b[bytes.Index(b, []byte("mergeCell"))]++ // behind the cells
			return b
		},
		"cut": func([]byte) []byte {
			files := byHand("")
			files["xl/worksheets/sheet1.xml"] = `<worksheet><sheetData><row><c t="inlineStr"><is><t>SKU</t></is></c></row>`
			return archive(t, files)
		},
	} {
		o := limited()
		o.IsHeader = func(row []Cell) bool { return row[0].Text == "SKU" }
		if sheets, found := Read("a.xlsx", harm(plain(t, byHand(""))), o); len(sheets) != 0 || len(found) == 0 {
			t.Errorf("%s: %+v %v", what, sheets, found)
		}
	}
	files := byHand("")
	delete(files, "xl/worksheets/sheet1.xml")
	if sheets, found := Read("a.xlsx", archive(t, files), limited()); len(sheets) != 0 || len(found) == 0 {
		t.Errorf("%+v %v", sheets, found)
	}
}

// A row is laid out as it was read: each place, the empty ones too.
func TestRowsAreLaidOutAsRead(t *testing.T) {
	isHeader := func(row []Cell) bool { return len(row) > 1 && row[0].Text == "SKU" }
	sheets, found := Read("a.csv", []byte("SKU,note,x,y,z\n\"é\"\"1\",\"two\nlines\",,  ,,\n"), Options{What: "a list", IsHeader: isHeader, MostRows: 10})
	if len(found) > 0 || len(sheets) != 1 {
		t.Fatal(found)
	}
	var got []string
	for _, c := range sheets[0].Row(1) {
		got = append(got, fmt.Sprintf("%d:%d %q", c.At.Line, c.At.Column, c.Text))
	}
	if want := `2:1 "é\"1", 2:8 "two\nlines", 3:8 "", 3:9 "", 3:12 "", 3:13 ""`; strings.Join(got, ", ") != want {
		t.Errorf("%s\n%s", strings.Join(got, ", "), want)
	}
	filled := 0
	for i, c := range sheets[0].Filled(1) {
		if filled++; c != sheets[0].Row(1)[i] {
			t.Errorf("%d: %+v", i, c)
		}
	}
	if filled != 2 {
		t.Errorf("%d cells have content", filled)
	}
}

// What is marked of a quoted cell is the cell with its quotes.
func TestQuotedCellsAreMarkedWhole(t *testing.T) {
	isHeader := func(row []Cell) bool { return len(row) > 1 && row[0].Text == "SKU" }
	sheets, _ := Read("a.csv", []byte("SKU,price,note\nA,\"1,5\"\"\",\"two\nlines\"\n"), Options{What: "a list", IsHeader: isHeader, MostRows: 10})
	row := sheets[0].Row(1)
	for i, want := range []int{1, len(`"1,5"""`), len(`"two`)} {
		if p := Problem(0, row[i], sheets[0].Line, "s", "d"); p.Length != want {
			t.Errorf("%q: %d characters are marked, not %d", row[i].Text, p.Length, want)
		}
	}
}

// Whatever stands in a sheet and in the texts that cells share: reading it ends, and
// each cell lies in its row.
func FuzzWorkbook(f *testing.F) {
	f.Add(`<row r="5"><c r="B5"><v>39.95</v></c><c r="D5" t="s"><f>B5*2</f><v>1</v></c></row>`, `<sst><si><r><t>a_x000A_</t></r><rPh><t>b</t></rPh></si></sst>`)
	f.Add(`<row r="1048576"><c r="XFD1" t="inlineStr"><is><t>x</t></is></c></row><row><c/></row>`, `<si/>`)
	f.Add(`<row><c r="$B$2" t="e"><v>#N/A</v></c></row></sheetData>`, `<si><t>`)
	f.Fuzz(func(t *testing.T, rows, shared string) {
		files := byHand(rows)
		files["xl/sharedStrings.xml"] = shared
		o := limited()
		o.IsHeader = func([]Cell) bool { return true }
		sheets, found := Read("a.xlsx", archive(t, files), o)
		if len(sheets) == 0 && len(found) == 0 {
			t.Error("neither a list nor a word about it")
		}
		for n := range sheets {
			for i := range sheets[n].Len() {
				row := sheets[n].Row(i)
				for at, c := range sheets[n].Filled(i) {
					if c.At.Column != at+1 || at >= len(row) || row[at] != c || c.At.Line < 1 {
						t.Errorf("%d: %+v", at, c)
					}
				}
			}
		}
	})
}
