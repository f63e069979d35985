package main

import (
	"bytes"
	"strings"
	"testing"

	"loudfor/cmd/internal/start"
)

// Four questions and no more; an empty answer takes the default, a wrong one is
// asked for again.
func TestFourQuestions(t *testing.T) {
	var b beginning
	var out bytes.Buffer
	in := strings.NewReader("lots\n900 EUR\nspaceship\nwagon\n\n\nnot read\n")
	if err := b.ask(in, &out); err != nil {
		t.Fatal(err)
	}
	if b.wishes.Cap != "900 EUR" || b.wishes.Body != "wagon" || b.stays != "" || b.from != "" {
		t.Errorf("%+v", b)
	}
	if n := strings.Count(out.String(), "?"); n != 6 { // four, two of them twice
		t.Errorf("%d questions:\n%s", n, &out)
	}
	if err := new(beginning).ask(strings.NewReader("900 EUR\n"), &out); err == nil {
		t.Error("questions that nobody answers were answered")
	}
	if err := b.staying("Radio"); err != nil || b.wishes.Stays != start.StayRadio {
		t.Errorf("%v, %v", b.wishes.Stays, err)
	}
}
