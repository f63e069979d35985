package catalog

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loudfor/catalog/document"
)

// The limits of the readers of this package, just below and just above. Those
// of any YAML file (size, depth, aliases) are tested in the package document,
// those of lists in the package grid.

func TestCurveRows(t *testing.T) {
	curve := func(rows int) []Position {
		var b strings.Builder
		b.WriteString("frequency_hz,gain_db\n")
		for i := range rows {
			fmt.Fprintf(&b, "%g,3\n", 5+0.01*float64(i))
		}
		file, problem := document.NewFile("gain.csv", []byte(b.String()))
		if problem != nil {
			t.Fatal(problem)
		}
		hz, _, problems := readCurve(file)
		var where []Position
		for _, p := range problems {
			if p.Summary != "more than 20000 rows" || p.Detail != "keep fewer frequencies" {
				t.Errorf("%+v", p)
			}
			where = append(where, p.Where)
		}
		if len(problems) == 0 && len(hz) != rows {
			t.Errorf("%d of %d rows", len(hz), rows)
		}
		return where
	}
	if where := curve(mostCurveRows); where != nil {
		t.Errorf("%v", where)
	}
	if where := curve(mostCurveRows + 5); len(where) != 1 || where[0].Line != mostCurveRows+2 {
		t.Errorf("%v", where)
	}
}

// A curve of more bytes than are read is told by its vehicle's file.
func TestCurveBytes(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		name = filepath.Join(dir, name)
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return name
	}
	write("gain.csv", "frequency_hz,gain_db\n20,3\n30,3\n"+strings.Repeat("#\n", mostCurveBytes/2))
	vehicles := write("vehicles.yaml", "vehicles:\n  - name: a\n    body: van\n    curve: gain.csv\n")
	_, report := LoadVehicles(vehicles)
	if err := report.Err(); err == nil || !strings.Contains(err.Error(), "more than the 4 MB that are read") {
		t.Errorf("%v", err)
	}
}

// Names and notes end somewhere.
func TestTextLength(t *testing.T) {
	const longest = 4000
	part := func(n int) []Problem {
		text := "parts: [{sku: A, kind: bass blocker, capacitance: 100 uF, note: " + strings.Repeat("n", n) + "}]"
		_, report := LoadFS(inFile("parts.yaml", text), []string{"parts.yaml"})
		return report.Problems
	}
	if found := part(longest); len(found) != 0 {
		t.Errorf("%+v", found)
	}
	if found := part(longest + 1); len(found) != 1 || found[0].Summary != "note has 4001 characters" || found[0].Detail != "write at most 4000" {
		t.Errorf("%+v", found)
	}
}
