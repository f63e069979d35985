package grid

import (
	"bytes"
	"maps"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// Workbooks of a library that writes and reads them have the texts that it reads.
func TestCellsAreThoseOfALibrary(t *testing.T) {
	texts := []string{"a", " ä b ", "12\"", "a\nb", "a\tb", "<&>'", "_x0041_", "_x005F_", "日本", "007", "1.5", "=1", "\u00a0", "a\x0bb", ""}
	for seed := range uint64(40) {
		random := rand.New(rand.NewPCG(seed, 19))
		f := excelize.NewFile()
		set := func(cell string, v any) {
			if err := f.SetCellValue("Sheet1", cell, v); err != nil {
				t.Fatal(err)
			}
		}
		stream := seed%2 == 1 // texts in the cells, not shared
		var w *excelize.StreamWriter
		if stream {
			w, _ = f.NewStreamWriter("Sheet1")
		}
		for line := 1; line < 12; line++ {
			row := make([]any, 1+random.IntN(30))
			for i := range row {
				switch random.IntN(6) {
				case 0:
					row[i] = texts[random.IntN(len(texts))]
				case 1:
					row[i] = random.IntN(1e6) - 5e5
				case 2:
					row[i] = random.NormFloat64() * 1e3
				case 3:
					row[i] = random.IntN(2) == 0
				case 4:
					row[i] = []excelize.RichTextRun{{Text: "12 "}, {Text: "in", Font: &excelize.Font{Bold: true}}}
				}
				at, _ := excelize.CoordinatesToCellName(i+1, line)
				if runs, rich := row[i].([]excelize.RichTextRun); stream {
				} else if rich {
					if err := f.SetCellRichText("Sheet1", at, runs); err != nil {
						t.Fatal(err)
					}
				} else if row[i] != nil {
					set(at, row[i])
				}
			}
			if at, _ := excelize.CoordinatesToCellName(1, line); stream && w.SetRow(at, row) != nil {
				t.Fatal(seed)
			}
		}
		if stream {
			if err := w.Flush(); err != nil {
				t.Fatal(err)
			}
		} else if err := f.MergeCell("Sheet1", "B2", "D3"); err != nil {
			t.Fatal(err)
		}
		content, err := f.WriteToBuffer()
		if err != nil {
			t.Fatal(err)
		}
		again, err := excelize.OpenReader(bytes.NewReader(content.Bytes()), excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		want := map[string]string{}
		rows, _ := again.GetRows("Sheet1", excelize.Options{RawCellValue: true})
		for line, row := range rows {
			for i, text := range row {
				if at, _ := excelize.CoordinatesToCellName(i+1, line+1); strings.TrimSpace(text) != "" {
					want[at] = text
				}
			}
		}
		o := limited()
		o.IsHeader = func([]Cell) bool { return true }
		sheets, found := Read("a.xlsx", content.Bytes(), o)
		if len(sheets) != 1 {
			t.Fatalf("%d: %v", seed, found)
		}
		got := map[string]string{}
		for i := range sheets[0].Len() {
			for _, c := range sheets[0].Filled(i) {
				got[c.At.Cell()] = c.Text
			}
		}
		if !maps.Equal(got, want) {
			t.Errorf("%d:\n got %q\nwant %q", seed, got, want)
		}
	}
}
