package main

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"

	"loudfor/cmd/internal/style"
)

// Sheet and box come a section at a time; what was typed decides how far.
func TestPagesAreTurned(t *testing.T) {
	for _, args := range [][]string{{"sheet"}, {"box", "demo:twelve-built"}} {
		whole := at(t, 80, args)
		for typed, most := range map[string]int{"": 1, "\nq\n": 2, strings.Repeat("\n", 40): 40} {
			var out, asked bytes.Buffer
			c := &console{in: strings.NewReader(""), keys: strings.NewReader(typed), out: &outlet{to: &out}, err: &asked, interrupted: context.Background()}
			root := rootCommand(c)
			c.style = style.For(&out, os.Getenv)
			root.SetArgs(args)
			if err := root.ExecuteContext(context.Background()); err != nil {
				t.Fatal(err)
			}
			all := most == 40
			if turned := strings.Count(asked.String(), "-- page "); all && turned < 5 || !all && turned != most {
				t.Errorf("%v, %q typed: asked %d times", args, typed, turned)
			}
			if !strings.HasPrefix(whole, out.String()) || (out.String() == whole) != all {
				t.Errorf("%v, %q typed: %d of %d bytes, another text than at once", args, typed, out.Len(), len(whole))
			}
		}
	}
}

// Work that takes long is named, and leaves the terminal clean.
func TestLongWorkIsNamed(t *testing.T) {
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	c := &console{terminal: w}
	done := c.working("designing boxes")
	first := make([]byte, len("designing boxes ..."))
	if _, err := r.Read(first); err != nil || string(first) != "designing boxes ..." {
		t.Fatalf("%q, %v", first, err)
	}
	done()
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	var rest bytes.Buffer
	if _, err := rest.ReadFrom(r); err != nil || strings.Trim(rest.String(), "\r ") != "" {
		t.Errorf("left on the terminal: %q, %v", rest.String(), err)
	}
}
