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
