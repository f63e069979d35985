package prices

import (
	"bytes"
	"strings"
	"testing"
)

// A price of nothing is taken, and said aloud at its place: more often than a gift it
// is a cell that somebody meant to clear.
func TestGiftIsWarnedOf(t *testing.T) {
	l, report := Read("may.csv", []byte("SKU,price,date\nTM-12V,39.90 USD,2025-05-09\nOR-4C,0.00 USD,2025-05-09\n"), Options{})
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	if e := l.Entries[1]; !e.Priced || e.Price != usd(0) {
		t.Errorf("%+v", e)
	}
	var b bytes.Buffer
	if err := report.Write(&b, false); err != nil {
		t.Fatal(err)
	}
	if said := b.String(); strings.Count(said, "the part costs nothing") != 1 || !strings.Contains(said, "may.csv:3:7") || strings.Contains(said, "may.csv:2") {
		t.Errorf("said:\n%s", said)
	}
}
