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
	if len(found) > 0 || len(sheets) != 1 || sheets[0].Len() != 3 {
		t.Fatalf("%v %v", sheets, found)
	}
	last := sheets[0].Row(2)
	if last[0].Text != "B;2" || last[1].Shown() != "4" || last[1].At.Line != 6 || last[1].At.Column != 7 {
		t.Errorf("%+v", last)
	}
	if _, found = Read("a.csv", []byte("SKU,price\n1,2\n3,4\n"), Options{What: "a list", IsHeader: isHeader, MostRows: 2}); len(found) != 1 {
		t.Errorf("three rows are more than two: %v", found)
	}
}

// A text is read in the encoding that it was saved in, with a mark or without.
func TestEncodings(t *testing.T) {
	const want = "größe"
	isHeader := func(row []Cell) bool { return len(row) > 1 }
	for name, content := range map[string]string{
		"utf-8":        "größe;zł\n",
		"utf-16le":     "\xff\xfeg\x00r\x00\xf6\x00\xdf\x00e\x00;\x00z\x00B\x01\n\x00",
		"utf-16be":     "\x00g\x00r\x00\xf6\x00\xdf\x00e\x00;\x00z\x01\x42\x00\n",
		"windows-1252": "gr\xf6\xdfe;\x80\n",
		"windows-1250": "gr\xf6\xdfe;\xb3;cewka\xb3a;z\xb3oty\n",
	} {
		for _, mark := range []string{"", "\xef\xbb\xbf"} {
			if mark != "" && name != "utf-8" {
				continue
			}
			sheets, found := Read("a.csv", []byte(mark+content), Options{What: "a list", IsHeader: isHeader, MostRows: 10})
			if len(sheets) != 1 || sheets[0].Encoding != name || sheets[0].Row(0)[0].Text != want {
				t.Errorf("%s: %+v %v", name, sheets, found)
			}
		}
	}
	if _, found := Read("a.csv", []byte("a\x00b;\x01"), Options{What: "a list", IsHeader: isHeader, MostRows: 10}); len(found) == 0 {
		t.Error("bytes that are no text are read")
	}
}

// A second header begins a second list; the line above it is its title. Inches
// are no mistake, a quote that is not closed is one.
func TestSeveralLists(t *testing.T) {
	isHeader := func(row []Cell) bool { return len(row) > 1 && row[0].Text == "SKU" }
	o := Options{What: "a list", IsHeader: isHeader, MayBeHeader: isHeader, MostRows: 10}
	sheets, found := Read("a.csv", []byte("AMPS\nSKU|price\nA|1\nB|2\n\nSUBS\nSKU|size|price\nC|12\"|3\n"), o)
	if len(found) > 0 || len(sheets) != 2 {
		t.Fatalf("%+v %v", sheets, found)
	}
	if first, second := sheets[0], sheets[1]; first.Len() != 3 || first.Above[0][0].Text != "AMPS" || second.Len() != 2 || second.Above[0][0].Text != "SUBS" ||
		second.Row(1)[1].Text != "12\"" || second.Row(1)[2].At.Line != 8 || second.Row(1)[2].At.Column != 7 {
		t.Errorf("%+v", sheets)
	}
	if _, found = Read("a.csv", []byte("SKU|price\n\"A|1\nB|2\n"), o); len(found) == 0 {
		t.Error("a quote that is not closed swallows rows")
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
			for i := range s.Len() {
				for _, c := range s.Row(i) {
					if s.Line != nil && c.At.Line < 1 {
						t.Errorf("%+v has no line", c)
					}
				}
			}
		}
	})
}
