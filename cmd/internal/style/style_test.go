package style

import (
	"bytes"
	"os"
	"testing"
)

// Nothing but a terminal is ever marked.
func TestPlainOutputs(t *testing.T) {
	file, err := os.CreateTemp(t.TempDir(), "out")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	none := func(string) string { return "" }
	for name, s := range map[string]Style{"buffer": For(&bytes.Buffer{}, none), "file": For(file, none), "zero": {}} {
		if got := s.Bold("a") + s.Warn("b") + s.Error("c"); got != "abc" {
			t.Errorf("%s: %q", name, got)
		}
	}
}

func TestMarks(t *testing.T) {
	s := Style{on: true}
	if got, want := s.Bold("a")+s.Warn("b")+s.Bold(""), "\x1b[1ma\x1b[0m\x1b[33mb\x1b[0m"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// The page is as wide as COLUMNS says, within reason, and usual where nobody
// knows; what is not written for a terminal has its own width.
func TestWidth(t *testing.T) {
	for columns, want := range map[string]int{"": 80, "none": 80, "-3": 80, "0": 80, "40": 60, "61": 61, "119": 119, "500": 120} {
		s := For(&bytes.Buffer{}, func(name string) string {
			if name == "COLUMNS" {
				return columns
			}
			return ""
		})
		if got := s.Width(); got != want {
			t.Errorf("COLUMNS=%s: %d, want %d", columns, got, want)
		}
	}
	if got := (Style{}).Width(); got != 100 {
		t.Errorf("no terminal: %d", got)
	}
}
