package figure

import (
	"bytes"
	"encoding/xml"
	"io"
	"testing"
)

func TestStaircase(t *testing.T) {
	steps := []Step{{100, 120, ""}, {150, 122, "2 dB more cost more than 40 USD"}, {300, 123, ""}}
	first, err := Staircase("a & b", "USD", steps, 400)
	if err != nil {
		t.Fatal(err)
	}
	for d := xml.NewDecoder(bytes.NewReader(first)); ; {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
	}
	for _, want := range []string{"price, all in, USD", "2 dB more cost more than 40 USD", "level, dB"} {
		if !bytes.Contains(first, []byte(want)) {
			t.Errorf("the picture does not say %q", want)
		}
	}
	again, err := Staircase("a & b", "USD", steps, 400)
	if err != nil || !bytes.Equal(first, again) {
		t.Errorf("the same steps give other bytes (%v)", err)
	}
	if _, err := Staircase("one", "USD", steps[:1], 0); err != nil {
		t.Error(err)
	}
	if _, err := Staircase("none", "USD", nil, 0); err == nil {
		t.Error("no steps, no error")
	}
}
