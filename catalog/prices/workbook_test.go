package prices

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
	"testing"
)

// withSheet puts other XML in place of the sheet of a workbook.
func withSheet(t testing.TB, workbook []byte, sheet string) []byte {
	t.Helper()
	r, err := zip.NewReader(bytes.NewReader(workbook), int64(len(workbook)))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	w := zip.NewWriter(&out)
	for _, f := range r.File {
		to, err := w.Create(f.Name)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasPrefix(f.Name, "xl/worksheets/sheet") {
			_, err = io.WriteString(to, sheet)
		} else {
			var from io.ReadCloser
			if from, err = f.Open(); err == nil {
				_, err = io.Copy(to, from)
				from.Close()
			}
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// What a spreadsheet has computed is read as it is shown there, with 15 digits, in
// whatever form the file has the number (ECMA-376, 18.18.22: a double of XML Schema).
func TestComputedNumbersAreReadAsShown(t *testing.T) {
	rows := `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>` +
		`<row r="1"><c r="A1" t="inlineStr"><is><t>SKU</t></is></c><c r="B1" t="inlineStr"><is><t>price</t></is></c><c r="C1" t="inlineStr"><is><t>stock</t></is></c></row>` +
		`<row r="2"><c r="A2" t="inlineStr"><is><t>A</t></is></c><c r="B2"><v>39.950000000000003</v></c><c r="C2"><v>2.9999999999999996</v></c></row>` +
		`<row r="3"><c r="A3" t="inlineStr"><is><t>B</t></is></c><c r="B3"><v>1.2E2</v></c><c r="C3"><v>1.2E1</v></c></row></sheetData></worksheet>`
	got := entries(t, "a.xlsx", withSheet(t, workbook(t, map[string][][]any{"S": {{"SKU"}}}, nil), rows), Options{Currency: "USD", Date: may9})
	for i, want := range []Entry{{Price: usd(3995), Stock: 3}, {Price: usd(12000), Stock: 12}} {
		if got[i].Price != want.Price || got[i].Stock != want.Stock {
			t.Errorf("%+v", got[i])
		}
	}
}
