package grid

import (
	"testing"
)

// A number is read as its user sees it.
func TestShown(t *testing.T) {
	for raw, want := range map[string]string{"39.950000000000003": "39.95", "1.0": "1", "12345678901": "12345678901", "4E-2": "0.04", "x": "x", "0.1": "0.1", "0.30000000000000004": "0.3"} {
		if got := (Cell{Text: raw, Sort: Number}).Shown(); got != want {
			t.Errorf("%s is %s, want %s", raw, got, want)
		}
	}
}

// A CSV file is parted by the character with which a header is found, a title
// above it is passed over, and every cell knows its place.
func TestReadCSV(t *testing.T) {
	isHeader := func(row []Cell) bool { return len(row) > 1 && row[0].Text == "SKU" }
	sheets, found := Read("a.csv", []byte("Our parts, all of them\n\nSKU;price\nA-1; 3,50\n;\n\"B;2\";4\n"),
		Options{What: "a list", IsHeader: isHeader, MostRows: 10})
	if len(found) > 0 || len(sheets) != 1 || len(sheets[0].Rows) != 3 {
		t.Fatalf("%v %v", sheets, found)
	}
	last := sheets[0].Rows[2]
	if last[0].Text != "B;2" || last[1].Shown() != "4" || last[1].At.Line != 6 || last[1].At.Column != 7 {
		t.Errorf("%+v", last)
	}
	if _, found = Read("a.csv", []byte("SKU,price\n1,2\n3,4\n"), Options{What: "a list", IsHeader: isHeader, MostRows: 2}); len(found) != 1 {
		t.Errorf("three rows are more than two: %v", found)
	}
}

// Whatever a file holds, reading it ends, and what it gives lies inside it.
func FuzzRead(f *testing.F) {
	f.Add([]byte("SKU,price\nA,1\n"))
	f.Add([]byte("PK\x03\x04"))
	f.Add([]byte("SKU\tprice\r\n\"A\"\"\t1\r\n"))
	f.Add([]byte("\xd0\xcf\x11\xe0"))
	f.Fuzz(func(t *testing.T, content []byte) {
		isHeader := func(row []Cell) bool { return len(row) > 1 }
		sheets, found := Read("x", content, Options{What: "a list", IsHeader: isHeader, MostRows: 100, MostUnpacked: 1 << 20})
		if len(sheets) == 0 && len(found) == 0 {
			t.Error("neither a list nor a word about it")
		}
		for _, s := range sheets {
			for _, row := range s.Rows {
				for _, c := range row {
					if s.Line != nil && c.At.Line < 1 {
						t.Errorf("%+v has no line", c)
					}
				}
			}
		}
	})
}
