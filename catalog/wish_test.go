package catalog

import (
	"strings"
	"testing"
)

func TestWish(t *testing.T) {
	b := DefaultBrief()
	b.Owned = []Mention{{SKU: "RADIO", Count: 1}, {SKU: "A", Count: 1}}
	b.TaxByKind = map[Kind]int64{KindKit: 5}
	report := b.Wish(
		Wish{"owned", "--own", []string{"A x 2", "B"}}, Wish{"must", "--must", []string{"C"}}, Wish{"never", "--never", []string{"D"}},
		Wish{"space", "--space", []string{"90 x 40 x 50 cm"}}, Wish{"front", "--front", []string{"either"}}, Wish{"tax", "--tax", []string{"7.5"}}, Wish{"must", "--must", nil},
	)
	if report.Err() != nil {
		t.Fatal(report.Err())
	}
	at := Position{File: "--own"}
	want := []Mention{{SKU: "RADIO", Count: 1}, {SKU: "A", Count: 2, Where: at}, {SKU: "B", Count: 1, Where: at}}
	if len(b.Owned) != 3 || b.Owned[0] != want[0] || b.Owned[1] != want[1] || b.Owned[2] != want[2] {
		t.Errorf("%+v", b.Owned)
	}
	if b.Space != (Size3{0.9, 0.4, 0.5}) || b.Front != FrontEither || b.TaxPPM != 75_000 || b.TaxByKind != nil || len(b.Must) != 1 || len(b.Never) != 1 {
		t.Errorf("%+v", b)
	}
	for _, c := range []struct {
		wish Wish
		says string
	}{
		{Wish{"space", "--space", []string{"90 x 40"}}, "--space: "},
		{Wish{"front", "--front", []string{"maybe"}}, "--front: "},
		{Wish{"tax", "--tax", []string{"much"}}, "--tax: "},
		{Wish{"owned", "--own", []string{"A x 500"}}, "--own: "},
		{Wish{"never", "--never", []string{"C"}}, "C must be in the build and must not"},
		{Wish{"must", "--must", []string{": {"}}, ""}, // odd, and a SKU all the same
	} {
		report := b.Wish(c.wish)
		if err := report.Err(); c.says == "" && err != nil || c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)) {
			t.Errorf("%+v: %v", c.wish, err)
		}
		if c.wish.Key == "never" {
			b.Never = nil
		}
	}
}

// Whatever stands after a flag is a wish or a complaint that names the flag.
func FuzzWish(f *testing.F) {
	for _, text := range []string{"TM-12V x 2", "95 x 45 x 50 cm", "keep", "7.5 %", "&a [*a]", "---", "'", "\x00", "x 3"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, key := range wishable {
			b := DefaultBrief()
			for _, p := range b.Wish(Wish{key, "--flag", []string{text}}).Problems {
				if p.Where.File != "--flag" || p.Where.Line != 0 || p.Summary == "" {
					t.Errorf("%+v", p)
				}
			}
		}
	})
}
