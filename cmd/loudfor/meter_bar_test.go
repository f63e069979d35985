package main

import (
	"io"
	"os"
	"strings"
	"testing"
	"time"

	"loudfor/optimizer"
)

// Progress is shown from a second on, not before, and wiped at the end. (That it
// needs a terminal is in TestInterrupt: standard error is empty there.)
func TestProgressAfterASecond(t *testing.T) {
	shown := func(since time.Duration, p optimizer.Progress) string {
		r, w, err := os.Pipe()
		if err != nil {
			t.Fatal(err)
		}
		m := meter{file: w, start: time.Now().Add(-since)}
		m.show(p)
		m.clear()
		if err := w.Close(); err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	half := optimizer.Progress{Done: 50, Blocks: 100, Best: 131.4}
	if s := shown(patience/2, half); s != "" {
		t.Errorf("too early: %q", s)
	}
	if s := shown(2*patience, optimizer.Progress{}); s != "" {
		t.Errorf("of nothing: %q", s)
	}
	s := shown(2*patience, half)
	if !strings.Contains(s, "best so far 131.4 dB") {
		t.Errorf("after two seconds: %q", s)
	}
	if lines := strings.Split(strings.TrimRight(s, "\r"), "\r"); strings.TrimSpace(lines[len(lines)-1]) != "" {
		t.Errorf("not wiped: %q", s)
	}
}
