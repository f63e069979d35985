package prices

import (
	"bytes"
	"encoding/xml"
	"strings"
	"testing"

	"loudfor/catalog"
)

// sound holds what is true of every reading: entries or errors, never both;
// every error has a place, words and a remedy; every entry is whole.
func sound(t *testing.T, l *List, report *catalog.Report) {
	t.Helper()
	if (l == nil) != (report.Err() != nil) {
		t.Fatalf("a list %v with the error %v", l != nil, report.Err())
	}
	for _, p := range report.Problems {
		if p.Summary == "" || p.Detail == "" || p.Where.File != "f" {
			t.Fatalf("%+v", p)
		}
	}
	if l == nil {
		return
	}
	for _, e := range l.Entries {
		switch {
		case e.SKU == "" || strings.TrimSpace(e.SKU) != e.SKU,
			e.Priced && (e.Price.Minor < 0 || len(e.Price.Currency) != 3),
			!e.Priced && (e.Price != catalog.Money{} || e.Stock == catalog.Unlimited),
			e.Stock < catalog.Unlimited || e.Stock > catalog.MostStock, !e.Date.exists(), e.Where.Line < 1 || e.Where.Column < 1:
			t.Fatalf("%+v", e)
		}
	}
}

func FuzzCSV(f *testing.F) {
	for _, s := range []string{
		"SKU,price,date\nA,1 USD,2025-05-09\n", "SKU;price (EUR);stock;date\nA;1,50;3;9.5.2025\n", "\ufeffsku\tqty\tdate\r\nA\t0\t1/13/2025\r\n",
		"x\n\nSKU,price,date\n\"A\n\",\"1,234.5 USD\",2025-05-09\n", "SKU,price\n\"", "SKU,price\na\"b\n", "SKU,price in usd,store,stock,date,currency,\n,,,,,,,,\n",
		"SKU,stock,date\nA,sold out,May 9 2025\n", "\x00", "\xff\xfe", "SKU,price,price\n", "SKU,stok,date\n", strings.Repeat("\n", 50) + "SKU,price,date\n",
	} {
		f.Add(s, false)
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, text string, open bool) {
		o := Options{Date: may9, Currency: "USD"}
		if open {
			o = Options{}
		}
		if strings.HasPrefix(text, "PK\x03\x04") {
			return
		}
		l, report := Read("f", []byte(text), o)
		sound(t, l, report)
		again, _ := Read("f", []byte(text), o)
		if l != nil && (again == nil || len(again.Entries) != len(l.Entries)) {
			t.Fatal("read twice with two results")
		}
	})
}

// FuzzXLSX puts texts into the cells of a sheet as its XML has them, since the
// zip around it would hide nearly everything from the fuzzer; FuzzWorkbook
// spoils the bytes themselves.
func FuzzXLSX(f *testing.F) {
	f.Add("39.95", "n", "", "45786", "")
	f.Add("call", "inlineStr", "", "9.5.2025", "str")
	f.Add("", "", "A1*2", "#N/A", "e")
	f.Add("1e308", "", "", "-1", "b")
	f.Add("NaN", "", "", "Inf", "")
	base := workbook(f, map[string][][]any{"S": {{"SKU", "price", "stock", "date"}, {"A", 1, 2, 45786}}}, nil)
	f.Fuzz(func(t *testing.T, price, kind, formula, day, dayKind string) {
		escaped := func(s string) string {
			var b bytes.Buffer
			_ = xml.EscapeText(&b, []byte(s))
			return b.String()
		}
		typed := func(at, kind, formula, v string) string {
			out := `<c r="` + at + `" t="` + escaped(kind) + `">`
			if formula != "" {
				out += "<f>" + escaped(formula) + "</f>"
			}
			if kind == "inlineStr" {
				return out + "<is><t>" + escaped(v) + "</t></is></c>"
			}
			return out + "<v>" + escaped(v) + "</v></c>"
		}
		sheet := `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>` +
			`<row r="1"><c r="A1" t="inlineStr"><is><t>SKU</t></is></c><c r="B1" t="inlineStr"><is><t>price</t></is></c><c r="D1" t="inlineStr"><is><t>date</t></is></c></row>` +
			`<row r="3"><c r="A3"><v>7</v></c>` + typed("B3", kind, formula, price) + typed("D3", dayKind, "", day) + `</row></sheetData></worksheet>`
		l, report := Read("f", withSheet(t, base, sheet), Options{Currency: "USD"})
		sound(t, l, report)
	})
}

func FuzzWorkbook(f *testing.F) {
	base := workbook(f, map[string][][]any{"S": {{"SKU", "price", "stock", "date"}, {"A", 1, 2, 45786}}}, nil)
	f.Add(10, []byte("x"))
	f.Add(len(base)-30, []byte{0, 0, 0, 0})
	f.Fuzz(func(t *testing.T, at int, spoil []byte) {
		content := bytes.Clone(base)
		if at < 0 || at > len(content) {
			return
		}
		copy(content[at:], spoil)
		l, report := Read("f", content, Options{Currency: "USD"})
		sound(t, l, report)
	})
}
