package tables

import (
	"bytes"
	"encoding/csv"
	"testing"
	"testing/fstest"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/internal/plausible"
)

// Any shelf that is read from a file goes into a table and comes back as it was, or is
// refused by name.
func FuzzPlausibleShelf(f *testing.F) {
	plausible.Seed(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		text := plausible.New(data).Parts()
		c, _ := catalog.LoadFS(fstest.MapFS{"parts.yaml": {Data: []byte(text)}}, []string{"parts.yaml"})
		if c == nil {
			return
		}
		var table, first, second bytes.Buffer
		if err := WriteCSV(&table, c); err != nil {
			return // what a cell cannot hold
		}
		l, report := Read("list.csv", table.Bytes(), Options{Kind: catalog.KindCount})
		if l == nil {
			t.Fatalf("%v\n%s\nof\n%s", report.Err(), table.String(), text)
		}
		again, report := catalog.Assemble(l.Items)
		if again == nil {
			t.Fatalf("%v\n%s\nof\n%s", report.Err(), table.String(), text)
		}
		if err := catalog.WriteParts(&first, c); err != nil {
			t.Fatal(err)
		}
		if err := catalog.WriteParts(&second, again); err != nil || first.String() != second.String() {
			t.Fatalf("%v; from the file\n%s\nby the table\n%s\n%s", err, first.String(), table.String(), second.String())
		}
	})
}

// A shop's list of one kind, its columns under the keys' names and its cells as people
// fill them, is read or told what is wrong with it; its cells mean the same whatever
// parts them.
func FuzzPlausibleList(f *testing.F) {
	plausible.Seed(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		g := plausible.New(data)
		kind := catalog.Kind(g.Pick(int(catalog.KindCount)))
		var columns [][]string
		var keys []document.Spec
		for _, s := range catalog.PathSpecs(kind) {
			names := []string{s.Path}
			for _, known := range []map[string][]string{everyPart, driverNames, mounting, filters} {
				names = append(names, known[s.Path]...)
			}
			columns = append(columns, names)
			keys = append(keys, s.Spec)
		}
		rows := g.Table(columns, func(column int) string {
			if column == 1 && g.Pick(4) > 0 {
				return kind.String()
			}
			return g.Value(keys[column])
		})
		var counts []int
		for _, comma := range []rune{',', ';', '\t'} {
			var b bytes.Buffer
			w := csv.NewWriter(&b)
			w.Comma = comma
			_ = w.WriteAll(rows)
			l, report := Read("list.csv", b.Bytes(), Options{Kind: kind, Currency: "USD", SkipBad: true})
			if l == nil && report.Err() == nil {
				t.Fatalf("nothing, and no word about it\n%s", b.String())
			}
			n := -1
			if l != nil {
				n = len(l.Parts)
			}
			counts = append(counts, n)
		}
		if counts[0] != counts[1] || counts[0] != counts[2] {
			t.Fatalf("%v parts by comma, semicolon and tab of\n%q", counts, rows)
		}
	})
}
