package prices

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/xuri/excelize/v2"

	"loudfor/catalog"
)

func usd(minor int64) catalog.Money { return catalog.Money{Minor: minor, Currency: "USD"} }

var may9 = Date{2025, 5, 9}

// The same three rows in every form that shops send them.
var rows = []Entry{
	{SKU: "TM-12V", Store: "Dock Street", Price: usd(3990), Priced: true, Stock: 4, Date: may9},
	{SKU: "OR-4C", Price: usd(129900), Priced: true, Stock: catalog.Unlimited, Date: may9},
	{SKU: "KE-S12", Store: "Dock Street", Stock: 0, Date: may9},
}

func entries(t *testing.T, name string, content []byte, o Options) []Entry {
	t.Helper()
	l, report := Read(name, content, o)
	if err := report.Err(); err != nil {
		var b bytes.Buffer
		_ = report.Write(&b, false)
		t.Fatalf("%s", b.String())
	}
	return l.Entries
}

var anywhere = cmpopts.IgnoreFields(Entry{}, "Where")

func TestReadCSV(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		o    Options
	}{
		"commas":          {"SKU,price,store,stock,date\nTM-12V,39.90 USD,Dock Street,4,2025-05-09\nOR-4C,\"1,299.00 USD\",,,2025-05-09\nKE-S12,,Dock Street,0,2025-05-09\n", Options{}},
		"semicolons":      {"Article;Price (USD);Shop;Qty;Date\nTM-12V;39,90;Dock Street;4;9.5.2025\nOR-4C;1.299,00;;;09.05.2025\nKE-S12;;Dock Street;0;9. 5. 2025\n", Options{}},
		"tabs and marks":  {"\ufeffDate\tstock\tSTORE\tPart No.\tprice in usd\r\n2025/5/9\t4\tDock Street\tTM-12V\t39.9\r\nMay 9, 2025\t\t\tOR-4C\t1299\r\n9 May 2025\tsold out\tDock Street\tKE-S12\t\r\n", Options{}},
		"CR alone":        {"SKU,date,store,price,stock\rTM-12V,2025-05-09,Dock Street,39.90,4\rOR-4C,2025-05-09,,1299\rKE-S12,2025-05-09,Dock Street,,0\r", Options{Currency: "USD"}},
		"currency column": {"sku,currency,price,store,on hand,valid from\nTM-12V,USD,39.9,Dock Street,4,2025-05-09\nOR-4C,usd,1299,,,2025-05-09T08:00:00Z\n\nKE-S12,,,Dock Street,0,2025-05-09\n,,,,,\n", Options{}},
		"title, no dates": {"Dock Street spring list\n\nSKU,Description,Price,Store,Stock\nTM-12V,a driver,$39.90,Dock Street,4\nOR-4C,an amplifier,\"$1,299.00\",,\nKE-S12,,,Dock Street,out of stock\n", Options{Date: may9, Currency: "USD"}},
		"short rows":      {"SKU,date,store,price,stock\nTM-12V,2025-05-09,Dock Street,39.90,4\nOR-4C,2025-05-09,,1299\nKE-S12,2025-05-09,Dock Street,,0,,,\n", Options{Currency: "USD"}},
	} {
		t.Run(name, func(t *testing.T) {
			if diff := cmp.Diff(rows, entries(t, "may.csv", []byte(c.text), c.o), anywhere); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// Each mistake has its place, the words and a way out, and none hides another.
func TestReadBadCSV(t *testing.T) {
	for _, c := range []struct {
		text string
		o    Options
		want []string // "line:column summary | part of the remedy"
	}{
		{text: "", want: []string{"- the file is empty | SKU, price"}},
		{text: " \n\n", want: []string{"- the file is empty | SKU, price"}},
		{text: "SKU,price,date\n", want: []string{"1:1 the list is empty: there is no row below its header | add a row"}},
		{text: "TM-12V,39.90 USD,2025-05-09\n", want: []string{"1:1 the list has no header | name the columns"}},
		{text: "SKU,date\nA,2025-05-09\n", want: []string{"1:1 the list has neither prices nor stocks | price or stock"}},
		{text: "SKU,price\nA,1 USD\n", want: []string{"1:1 the list has no dates | 2025-03-09"}},
		{text: "SKU,price,unit price,date\nA,1 USD,2 USD,2025-05-09\n", want: []string{`1:11 a second column for the price: "unit price" | keep one`}},
		{text: "SKU,price,stok,date\nA,1 USD,,2025-05-09\n", want: []string{`1:11 "stok" is not the name of a column | did you mean "stock"`}},
		{text: "SKU,price,date\nA,1.00,2025-05-09\n", want: []string{`2:3 "1.00" names no currency | price (USD)`}},
		{text: "SKU,price,date\nA,$5,2025-05-09\n", want: []string{`2:3 "$5" names no currency | USD, CAD or AUD`}},
		{text: "SKU,price,date\nA,\"1,234\",2025-05-09\nB,call,2025-05-09\nC,-3,2025-05-09\nD,3.999,2025-05-09\n", o: Options{Currency: "USD"}, want: []string{
			`2:3 "1,234" can mean 1.234 or 1234 | 1.234 or 1234`, `3:3 "call" is not a price | clear`, `4:3 the price -3.00 USD is below zero | costs`, `5:3 "3.999 USD" has too many decimals | at most 2`}},
		{text: "SKU,price,stock,date\nA,x,y,z\n,1 USD,,2025-05-09\nB,,,2025-05-09\nC,1 USD,-1,3/4/2025\nD,1 USD,2.5,2025-02-29\nE,1 USD,1,\n", want: []string{
			`2:3 "x" is not a price | clear`, `2:5 "y" is not a whole number | pieces`, `2:7 "z" is not a date | 2025-03-09`,
			"3:1 the row names no SKU | SKU of the part", "4:1 B has neither a price nor a stock | stock 0",
			"5:9 the stock cannot be -1 | between 0", `5:12 "3/4/2025" can mean 2025-04-03 or 2025-03-04 | year-month-day`,
			`6:9 "2.5" is not a whole number | pieces`, `6:13 "2025-02-29" is no day between 1990 and 2100 | 2025-03-09`, "7:11 the row has no date | 2025-03-09"}},
		{text: "SKU,price,date\nA,39,90,2025-05-09\n", o: Options{Currency: "USD"}, want: []string{"2:9 the row has 4 values, but the header names 3 columns | double quotes"}},
		{text: "SKU,price,date\nA,1 USD,2025-05-09\n\"B,2 USD,2025-05-09\nC,3 USD,2025-05-09\n", want: []string{"3:1 a quote that opens in this row is not closed before line 4 | close it"}},
		{text: "SKU,price,date\nA\"x,1 USD,2025-05-09\nB,z USD,2025-05-09\n", want: []string{`3:3 "z USD" is not a price | clear`}},
		{text: "SKU,store,price,date\nA,S,1 USD,2025-05-09\nB,S,1 USD,2025-05-09\nA,s,2 USD,2025-05-09\nA,T,2 USD,2025-05-09\nA,S,2 USD,2025-05-10\n", want: []string{"4:1 two prices for A at s on 2025-05-09: 1.00 USD and 2.00 USD | right"}},
		{text: "SKU,stock,date\nA,1,2025-05-09\nA,1,2025-05-09\nA,0,9.5.2025\n", want: []string{"4:1 two stocks for A on 2025-05-09: 1 and 0 | right"}},
		{text: "SKU,price (EUR),date\nA,1 USD,2025-05-09\n", want: []string{"2:3 the price is in USD, but its column or row says EUR | one currency"}},
		{text: "größe;SKU;price;date\n12 ″;A;x;2025-05-09\n", o: Options{Currency: "USD"}, want: []string{`2:8 "x" is not a price | clear`}},
		{text: "\xff\xfeS\x00", want: []string{"1:1 the list has no header | name the columns"}},
		{text: "SKU,price\n\x00", want: []string{"2:1 the file is binary, not text | CSV file"}},
		{text: "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", want: []string{"- an .xls workbook, or one that is locked with a password | .xlsx"}},
		{text: "PK\x03\x04 nonsense", want: []string{"- the workbook cannot be read: zip: not a valid zip file | save it again"}},
	} {
		l, report := Read("may.csv", []byte(c.text), c.o)
		if l != nil {
			t.Errorf("%q was read", c.text)
		}
		same(t, c.text, report, c.want)
	}
}

func same(t *testing.T, text string, report *catalog.Report, want []string) {
	t.Helper()
	var got []string
	for _, p := range report.Problems {
		if p.Severity != catalog.Error {
			continue
		}
		place, remedy := "-", ""
		if _, at, ok := strings.Cut(p.Where.String(), ":"); ok {
			place = at
		}
		if n := len(got); n < len(want) {
			if _, part, _ := strings.Cut(want[n], " | "); strings.Contains(p.Detail, part) {
				remedy = part
			} else {
				remedy = p.Detail
			}
		}
		got = append(got, place+" "+p.Summary+" | "+remedy)
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%q (-want +got):\n%s", text, diff)
	}
}

// workbook makes an XLSX file; a value that starts with "=" is a formula.
func workbook(t testing.TB, sheets map[string][][]any, more func(*excelize.File)) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	for name, rows := range sheets {
		if _, err := f.NewSheet(name); err != nil {
			t.Fatal(err)
		}
		for r, row := range rows {
			for c, v := range row {
				at, _ := excelize.CoordinatesToCellName(c+1, r+1)
				if s, ok := v.(string); ok && strings.HasPrefix(s, "=") {
					if err := f.SetCellFormula(name, at, s); err != nil {
						t.Fatal(err)
					}
				} else if err := f.SetCellValue(name, at, v); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	if err := f.DeleteSheet("Sheet1"); err != nil {
		t.Fatal(err)
	}
	if more != nil {
		more(f)
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestReadXLSX(t *testing.T) {
	day := time.Date(may9.Year, may9.Month, may9.Day, 0, 0, 0, 0, time.UTC)
	sheets := map[string][][]any{
		"May": {{"Spring prices"}, {}, {"SKU", "Price", "Store", "Qty", "Date", "remark"},
			{"TM-12V", 39.9, "Dock Street", 4, day, "=1+1"}, {"OR-4C", "1,299.00 USD", nil, nil, "9.5.2025"}, {"KE-S12", nil, "Dock Street", 0, day}},
		"Notes": {{"Call before noon"}},
	}
	for name, more := range map[string]func(*excelize.File){
		"1900": nil,
		"hidden": func(f *excelize.File) {
			f.NewSheet("Old")
			f.SetCellValue("Old", "A1", "SKU")
			f.SetCellValue("Old", "B1", "price")
			f.SetSheetVisible("Old", false)
		},
	} {
		t.Run(name, func(t *testing.T) {
			got := entries(t, "may.xlsx", workbook(t, sheets, more), Options{Currency: "USD"})
			if diff := cmp.Diff(rows, got, anywhere); diff != "" {
				t.Error(diff)
			}
			if at := got[1].Where.String(); at != "may.xlsx:May!A5" {
				t.Errorf("the second row is at %s", at)
			}
		})
	}
	if _, report := Read("may.xlsx", workbook(t, sheets, nil), Options{Currency: "USD", Sheet: "June"}); report.Err() == nil || !strings.Contains(report.Problems[0].Summary, `no sheet "June"`) {
		t.Errorf("%v", report.Err())
	}
	if got := entries(t, "may.xlsx", workbook(t, sheets, nil), Options{Currency: "USD", Sheet: "may"}); len(got) != 3 {
		t.Errorf("%d rows of the named sheet", len(got))
	}
}

// A Mac may count days from 1904: the same number is another day.
func TestReadXLSX1904(t *testing.T) {
	content := workbook(t, map[string][][]any{"S": {{"SKU", "stock", "date"}, {"A", 1, 44324}}}, func(f *excelize.File) {
		yes := true
		if err := f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes}); err != nil {
			t.Fatal(err)
		}
	})
	// 1462 days lie between the two beginnings (ECMA-376, 18.17.4.1).
	if got := entries(t, "a.xlsx", content, Options{})[0].Date; got != (Date{2025, 5, 9}) {
		t.Errorf("%s", got)
	}
}

func TestReadBadXLSX(t *testing.T) {
	head := []any{"SKU", "price", "stock", "date"}
	for name, c := range map[string]struct {
		sheets map[string][][]any
		want   []string
	}{
		"cells": {map[string][][]any{"May": {head, {"A", "=39*2", 1, "2025-05-09"}, {"B", "39.90", "4", "2025-05-09"}, {"C", "call", true, 12}, {"D", -3.5, 2.5, "soon"}, {"=A2", 3.999, 1, 45786}, {nil, 1, 1, 45786}}}, []string{
			"May!B2 the cell holds a formula, not a price | paste it as values",
			`May!B3 the cell holds the text "39.90" where a number belongs | into a number`, `May!C3 the cell holds the text "4" where a number belongs | pieces`,
			`May!B4 "call" is not a price | clear`, "May!C4 the cell holds a yes or no, not a number of pieces | write", `May!D4 "12" is not a date | 2025-03-09`,
			"May!B5 the price -3.50 USD is below zero | costs", `May!C5 "2.5" is not a whole number | pieces`, `May!D5 "soon" is not a date | 2025-03-09`,
			"May!A6 the cell holds a formula, not a SKU | values", `May!B6 "3.999 USD" has too many decimals | at most 2`, "May!A7 the row names no SKU | SKU of the part"}},
		"no list":    {map[string][][]any{"Notes": {{"hello"}}}, []string{"- no sheet of the workbook is a price list | name the columns"}},
		"empty list": {map[string][][]any{"May": {head}}, []string{"May!A1 the list is empty: there is no row below its header | add a row"}},
		"two sheets": {map[string][][]any{"A": {head, {"X", 1, 1, 45786}}, "B": {head, {"X", 2, 1, 45786}}}, []string{"B!A2 two prices for X on 2025-05-09: 1.00 USD and 2.00 USD | right"}},
	} {
		l, report := Read("may.xlsx", workbook(t, c.sheets, nil), Options{Currency: "USD"})
		if l != nil {
			t.Errorf("%s was read", name)
		}
		same(t, name, report, c.want)
	}
}

func TestLoad(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	one := write("b.csv", "SKU,price,date\nA,1 USD,2025-05-09\n")
	write("a.CSV", "SKU;stock;date\nA;3;2025-05-10\n")
	write("~$a.xlsx", "lock")
	write(".hidden.csv", "no")
	write("read.me", "no")
	lists, report := Load([]string{dir, one}, Options{})
	if err := report.Err(); err != nil || len(lists) != 2 || lists[0].Name != filepath.Join(dir, "a.CSV") || lists[1].Entries[0].Where.String() != one+":2:1" {
		t.Errorf("%v, %+v", err, lists)
	}
	bad := write("c.csv", "SKU,price,date\nA,x,2025-05-09\n")
	lists, report = Load([]string{dir, filepath.Join(dir, "none.csv"), t.TempDir()}, Options{Currency: "USD"})
	if lists != nil || report.Count(catalog.Error) != 3 {
		t.Errorf("%+v", report.Problems)
	}
	if where := report.Problems[1].Where.String(); where != bad+":2:3" && report.Problems[0].Where.String() != bad+":2:3" && report.Problems[2].Where.String() != bad+":2:3" {
		t.Errorf("no problem at %s in %+v", bad, report.Problems)
	}
	if _, report := Load(nil, Options{}); report.Err() == nil {
		t.Error("nothing was loaded without an error")
	}
}

func TestLimits(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and about the text alone")
	}
	var b strings.Builder
	b.WriteString("SKU,stock,date\n")
	for i := range MostRows - 1 { // the header is a row as well
		fmt.Fprintf(&b, "S%d,1,2025-05-09\n", i)
	}
	if got := entries(t, "a.csv", []byte(b.String()), Options{}); len(got) != MostRows-1 {
		t.Errorf("%d rows", len(got))
	}
	b.WriteString("ONE-MORE,1,2025-05-09\n")
	if _, report := Read("a.csv", []byte(b.String()), Options{}); report.Err() == nil || !strings.Contains(report.Err().Error(), "more than 200000 rows") {
		t.Errorf("%v", report.Err())
	}
	big := filepath.Join(t.TempDir(), "big.csv")
	f, err := os.Create(big)
	if err != nil || f.Truncate(MostBytes+1) != nil || f.Close() != nil {
		t.Fatal(err)
	}
	if _, report := Load([]string{big}, Options{}); report.Err() == nil || !strings.Contains(report.Err().Error(), "more than the 64 MB") {
		t.Errorf("%v", report.Err())
	}
}
