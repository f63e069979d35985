package table

import (
	"strings"
	"testing"
)

// On a page too narrow for it the column of text stands under its row, and on
// a still narrower one each row is a paragraph; not a word is lost or broken.
func TestNarrowTables(t *testing.T) {
	columns := []Column{{Title: "step", Right: true}, {Title: "price", Right: true}, {Title: "level", Right: true}, {Title: "what changes", Fill: true}}
	rows := [][]string{
		{"1", "126.85", "117.8 +/- 5.5 dB", "an eight-inch driver in a sealed box"},
		{"2", "1137.60", "118.0 +/- 5.5 dB", "another cable"},
	}
	words := strings.Fields("1 126.85 117.8 +/- 5.5 dB an eight-inch driver in a sealed box 2 1137.60 118.0 another cable")
	for width := 16; width <= 110; width++ {
		var out strings.Builder
		if err := WriteIndented(&out, width, "  ", columns, rows); err != nil {
			t.Fatal(err)
		}
		for line := range strings.SplitSeq(out.String(), "\n") {
			if Cells(line) > width {
				t.Errorf("%d cells on a page of %d: %q", Cells(line), width, line)
			}
		}
		for _, word := range words {
			if !strings.Contains(" "+strings.NewReplacer("\n", " ", ";", " ").Replace(out.String())+" ", " "+word+" ") {
				t.Errorf("%d cells: %q is broken or lost\n%s", width, word, out.String())
			}
		}
	}
	var out strings.Builder
	if err := WriteIndented(&out, 44, "", columns, rows); err != nil {
		t.Fatal(err)
	}
	want := `step    price             level
----  -------  ----------------
   1   126.85  117.8 +/- 5.5 dB
    an eight-inch driver in a sealed box
   2  1137.60  118.0 +/- 5.5 dB
    another cable
`
	if out.String() != want {
		t.Errorf("got\n%swant\n%s", out.String(), want)
	}
}
