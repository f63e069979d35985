package main

import (
	"bytes"
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"loudfor/catalog"
)

// Characters that act on a terminal come in through no reader, and each refusal
// names the place.
func TestHiddenCharactersAreRefused(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		write(t, path, text)
		return path
	}
	const plain = "parts:\n  - {sku: B-1, kind: bass blocker, price: 5 USD, capacitance: 220 uF}\n"
	sheet := excelize.NewFile()
	for cell, text := range map[string]string{"A1": "sku", "B1": "price", "C1": "store", "A2": "B-1", "B2": "4 USD", "C2": "Pi\u202eer"} {
		if err := sheet.SetCellStr("Sheet1", cell, text); err != nil {
			t.Fatal(err)
		}
	}
	book := filepath.Join(dir, "list.xlsx")
	if err := sheet.SaveAs(book); err != nil {
		t.Fatal(err)
	}
	parts := file("parts.yaml", plain)
	brief := file("brief.yaml", "cap: 250 USD\nvehicle: sedan\n")
	for _, c := range []struct {
		where string // of the problem; empty: on the command line
		args  []string
	}{
		{"name.yaml:2:22", []string{"check", "--catalog", file("name.yaml", `parts:
  - {sku: B-1, name: "a\e[2Jb", kind: bass blocker, price: 5 USD, capacitance: 220 uF}
`)}},
		{"sku.yaml:2:10", []string{"check", "--catalog", file("sku.yaml", "parts:\n  - sku: \"B\\x7f1\"\n    kind: bass blocker\n    price: 5 USD\n    capacitance: 220 uF\n")}},
		{"turned.yaml:1:8", []string{"pick", file("turned.yaml", "name: a\u202eb\ncap: 250 USD\nvehicle: sedan\n")}},
		{"place.yaml:6:7", []string{"pick", brief, "--vehicles", file("place.yaml", "vehicles:\n  - name: blue sedan\n    body: sedan\n    note: fine\n    places:\n      \"a\\u009bb\": 245 40 100 cm\n")}},
		{"build.yaml:2:9", []string{"predict", file("build.yaml", "vehicle: sedan\nparts: [\"HU\\a\"]\n")}},
		{"list.csv:2:11", []string{"reprice", "--catalog", parts, "--prices", file("list.csv", "sku,price,store\nB-1,4 USD,Pi\x1ber\n"), brief}},
		{"list.xlsx", []string{"reprice", "--catalog", parts, "--prices", book, brief}},
		{"new.csv:2:5", []string{"import", file("new.csv", "sku,name,kind,price,capacitance\nB-2,a\x1bb,bass blocker,5 USD,220 uF\n"), "--dry-run"}},
		{"read.csv:2:1", []string{"meter", "list", file("read.csv", "place,openings,frequency,level\nda\x1bsh,shut,40 Hz,120 dB\n")}},
		{"read.yaml:1:20", []string{"meter", "list", file("read.yaml", "readings: [{place: \"da\\esh\", frequency: 40 Hz, level: 120 dB}]\n")}},
		{"", []string{"book", "add", "demo:250-reading", "--book", filepath.Join(dir, "a.db"), "--customer", "Ro\x1bsa"}},
		{"", []string{"book", "add", "demo:250-reading", "--book", filepath.Join(dir, "b.db"), "--note", "turned \u2066"}},
	} {
		got := call(c.args...)
		if got.status != statusBadInput || !strings.Contains(got.stderr, "acts on what is shown") || !strings.Contains(got.stderr, c.where) {
			t.Errorf("%q: status %d, want it at %s:\n%s%s", c.args, got.status, c.where, got.stdout, got.stderr)
		}
	}
}

// On a terminal nothing acts but the program's own marks; in JSON such characters
// are escapes, wherever it goes.
func TestNothingActsOnATerminal(t *testing.T) {
	var shown bytes.Buffer
	text := "\x1b[1mhead\x1b[0m \x1b[2J\x1b]0;title\x07 a\u202eb \u009b31m ünï\tx\n"
	want := "\x1b[1mhead\x1b[0m \ufffd[2J\ufffd]0;title\ufffd a\ufffdb \ufffd31m ünï\tx\n"
	for size := 1; size <= len(text); size++ { // however a buffer parts it
		shown.Reset()
		s := &screen{to: &shown}
		for piece := range slices.Chunk([]byte(text), size) {
			if n, err := s.Write(piece); n != len(piece) || err != nil {
				t.Fatal(n, err)
			}
		}
		if shown.String() != want {
			t.Fatalf("in pieces of %d: %q", size, shown.String())
		}
	}
	shown.Reset()
	var problems bytes.Buffer
	all := &catalog.Report{Problems: []catalog.Problem{{Severity: catalog.Error, Summary: "wrong", Detail: "mend it", Where: catalog.Position{File: "a.yaml", Line: 1, Column: 2}, Context: " b", Length: 1}, {Severity: catalog.Warning, Summary: "odd"}, {Severity: catalog.Info, Summary: "so"}}}
	if err := errors.Join(all.Write(&problems, true), all.Write(&screen{to: &shown}, true)); err != nil || shown.String() != problems.String() {
		t.Errorf("%v: marks of a report are lost: %q", err, shown.String())
	}
	shown.Reset()
	if err := encodeJSON(&shown, map[string]string{"name": "a\x1b\u202e\u009b\x7fü"}); err != nil {
		t.Fatal(err)
	}
	if strings.ContainsAny(shown.String(), "\x1b\u202e\u009b\x7f") || decode(t, shown.String())["name"] != "a\x1b\u202e\u009b\x7fü" {
		t.Errorf("%q", shown.String())
	}
}
