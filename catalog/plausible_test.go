package catalog_test

import (
	"bytes"
	"strings"
	"testing"
	"testing/fstest"

	"loudfor/catalog"
	"loudfor/catalog/internal/plausible"
)

// Files that are nearly right, made by a grammar of the fuzzer's bytes: whatever is
// read can be written, and read again as the same; what is not read has a reason with
// a place.

// reasons holds that a refusal has reasons, each with a place in the file.
func reasons(t *testing.T, text string, report *catalog.Report) {
	t.Helper()
	lines := strings.Count(text, "\n") + 1
	for _, p := range report.Problems {
		if p.Summary == "" || p.Detail == "" || p.Where.File == "" || p.Where.Line > lines || p.Where.Line > 0 && p.Where.Column < 1 {
			t.Fatalf("%+v in\n%s", p, text)
		}
	}
}

func FuzzPlausibleParts(f *testing.F) {
	plausible.Seed(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		text := plausible.New(data).Parts()
		load := func(text string) (*catalog.Catalogue, *catalog.Report) {
			return catalog.LoadFS(fstest.MapFS{"parts.yaml": {Data: []byte(text)}}, []string{"parts.yaml"})
		}
		c, report := load(text)
		reasons(t, text, report)
		if (c == nil) != (report.Err() != nil) {
			t.Fatalf("a catalogue: %v, an error: %v\n%s", c != nil, report.Err(), text)
		}
		if c == nil {
			return
		}
		for _, p := range catalog.Check(c) {
			if said := p.Summary + p.Detail; strings.Contains(said, "NaN") || strings.Contains(said, "Inf") {
				t.Fatalf("%s of\n%s", said, text)
			}
		}
		var first, second bytes.Buffer
		if err := catalog.WriteParts(&first, c); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		again, report := load(first.String())
		if report.Err() != nil {
			t.Fatalf("%v: written\n%s\nof\n%s", report.Err(), first.String(), text)
		}
		if err := catalog.WriteParts(&second, again); err != nil || first.String() != second.String() {
			t.Fatalf("%v; first\n%s\nthen\n%s", err, first.String(), second.String())
		}
	})
}

func FuzzPlausibleBrief(f *testing.F) {
	plausible.Seed(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		g := plausible.New(data)
		text, shelf := g.Brief(), g.Parts()
		load := func(text string) (catalog.Brief, *catalog.Report) {
			return catalog.LoadBriefFS(fstest.MapFS{"brief.yaml": {Data: []byte(text)}}, "brief.yaml")
		}
		b, report := load(text)
		reasons(t, text, report)
		if report.Err() != nil {
			return
		}
		if c, _ := catalog.LoadFS(fstest.MapFS{"parts.yaml": {Data: []byte(shelf)}}, []string{"parts.yaml"}); c != nil {
			_, report := catalog.CheckBrief(b, c, nil)
			reasons(t, text, report)
		}
		var first, second bytes.Buffer
		if err := catalog.WriteBrief(&first, b); err != nil {
			t.Fatalf("%v\n%s", err, text)
		}
		again, report := load(first.String())
		if report.Err() != nil {
			t.Fatalf("%v: written\n%s\nof\n%s", report.Err(), first.String(), text)
		}
		if err := catalog.WriteBrief(&second, again); err != nil || first.String() != second.String() {
			t.Fatalf("%v; first\n%s\nthen\n%s", err, first.String(), second.String())
		}
	})
}

func FuzzPlausibleVehicle(f *testing.F) {
	plausible.Seed(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		text := plausible.New(data).Vehicles()
		cars, report := catalog.LoadVehiclesFS(fstest.MapFS{"cars.yaml": {Data: []byte(text)}, "cabin-gain.csv": {Data: []byte("frequency_hz,gain_db\n20,14.5\n80,3\n")}}, "cars.yaml")
		reasons(t, text, report)
		if report.Err() != nil {
			return
		}
		for i := range cars {
			if err := cars[i].Body.Check(); !cars[i].OpenField && err != nil {
				t.Fatalf("%v\n%s", err, text)
			}
		}
	})
}

// A good share of what the grammar makes is read: else the targets would try the
// syntax once more.
func TestPlausibleIsPlausible(t *testing.T) {
	read := 0
	for seed := range uint64(300) {
		text := plausible.New(plausible.Random(seed, 300)).Parts()
		if c, _ := catalog.LoadFS(fstest.MapFS{"parts.yaml": {Data: []byte(text)}}, []string{"parts.yaml"}); c != nil {
			read++
		}
	}
	if t.Logf("%d of 300 are read", read); read < 15 {
		t.Errorf("%d of 300 files are read", read)
	}
}
