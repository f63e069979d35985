package tables

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"loudfor/catalog"
	"loudfor/catalog/demo"
)

func demoParts(t testing.TB) *catalog.Catalogue {
	t.Helper()
	c, report := catalog.LoadFS(demo.FS, []string{demo.Parts})
	if report.Err() != nil {
		t.Fatal(report.Err())
	}
	return c
}

func canonical(t testing.TB, c *catalog.Catalogue) string {
	t.Helper()
	var b bytes.Buffer
	if err := catalog.WriteParts(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// back reads what was exported and puts a catalogue together.
func back(t testing.TB, name string, content []byte) *catalog.Catalogue {
	t.Helper()
	list, report := Read(name, content, Options{Kind: catalog.KindCount})
	if report.Err() != nil {
		var b strings.Builder
		_ = report.Write(&b, false)
		t.Fatalf("%s\n%.2000s", b.String(), content)
	}
	c, report := catalog.Assemble(list.Items)
	if report.Err() != nil {
		t.Fatal(report.Err())
	}
	return c
}

var exports = map[string]func(*bytes.Buffer, *catalog.Catalogue) error{
	"parts.csv":  func(b *bytes.Buffer, c *catalog.Catalogue) error { return WriteCSV(b, c) },
	"parts.xlsx": func(b *bytes.Buffer, c *catalog.Catalogue) error { return WriteXLSX(b, c) },
}

// A catalogue that goes through a spreadsheet and back is the same to the last
// bit of every value.
func TestNothingIsLost(t *testing.T) {
	c := demoParts(t)
	for name, export := range exports {
		var b bytes.Buffer
		if err := export(&b, c); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(canonical(t, c), canonical(t, back(t, name, b.Bytes()))); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
	}
}

func oneFile(text []byte) fstest.MapFS { return fstest.MapFS{"parts.yaml": {Data: text}} }

// A workbook is the same each time, byte for byte.
func TestSameWorkbook(t *testing.T) {
	c, report := catalog.LoadFS(demo.FS, []string{demo.Parts})
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	var first []byte
	for range 5 {
		var b bytes.Buffer
		if err := WriteXLSX(&b, c); err != nil {
			t.Fatal(err)
		}
		if first == nil {
			first = b.Bytes()
		}
		if !bytes.Equal(first, b.Bytes()) {
			t.Fatal("it differs")
		}
	}
}

// A long list is written in pieces, and is one list all the same.
func TestLongListIsOneList(t *testing.T) {
	var text strings.Builder
	text.WriteString("SKU,kind,price,capacitance,name,parts\n")
	const parts = 2*together + 1
	for i := range parts {
		fmt.Fprintf(&text, "B-%04d,bass blocker,%d USD,220 uF,b,\n", parts-i, 1+i%9)
	}
	text.WriteString(",deal,1 USD,,two,B-0001; B-0002\n")
	l, report := Read("list.csv", []byte(text.String()), Options{Kind: catalog.KindCount})
	var out strings.Builder
	if err := errors.Join(report.Err(), l.Write(&out)); err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(out.String(), "parts:\n  - sku: B-0001\n") || strings.Count(out.String(), "parts:\n") != 1 || strings.Count(out.String(), "\ndeals:\n") != 1 {
		t.Errorf("%.200s", out.String())
	}
	if c := loaded(t, out.String()); len(c.Parts) != parts || len(c.Deals) != 1 {
		t.Errorf("%d parts, %d deals", len(c.Parts), len(c.Deals))
	}
}
