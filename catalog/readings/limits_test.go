package readings

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The limits of a file of readings, just below and just above.
func TestMostRows(t *testing.T) {
	file := func(rows int) []byte {
		return []byte("vehicle,build,frequency,level\n" + strings.Repeat("van,x,40 Hz,120 dB\n", rows))
	}
	list, report := Read("a.csv", file(mostRows))
	if report.Err() != nil || len(list) != mostRows {
		t.Errorf("%d readings, %v", len(list), report.Err())
	}
	list, report = Read("a.csv", file(mostRows+1))
	if list != nil || len(report.Problems) != 1 {
		t.Fatalf("%d readings, %d problems", len(list), len(report.Problems))
	}
	if p := report.Problems[0]; p.Summary != "more than 20000 readings" || p.Detail != "split the file" || p.Where.Line != mostRows+2 {
		t.Errorf("%+v", p)
	}
}

func TestMostBytes(t *testing.T) {
	name := filepath.Join(t.TempDir(), "a.yaml")
	if err := os.WriteFile(name, make([]byte, MostBytes+1), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, report := Load(name); report.Err() == nil || !strings.Contains(report.Err().Error(), "more than the 4 MB that are read") {
		t.Errorf("%v", report.Err())
	}
}
