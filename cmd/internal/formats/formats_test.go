package formats

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/letterhead"
	"loudfor/catalog/plan"
	"loudfor/catalog/tables"
	"loudfor/cmd/internal/table"
)

// The examples are real files: together they make a catalogue, a car, a
// customer and a build that are read without an error and fit each other.
func TestExamplesCanBeRead(t *testing.T) {
	dir := t.TempDir()
	for _, e := range Examples {
		if err := os.WriteFile(filepath.Join(dir, e.Name), []byte(e.Text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	c, report := catalog.Load([]string{dir})
	if report.Err() != nil {
		report.Write(os.Stderr, false)
		t.Fatal(report.Err())
	}
	if len(c.Parts) != 6 {
		t.Errorf("%d parts", len(c.Parts))
	}
	vehicles, report := catalog.LoadVehicles(filepath.Join(dir, "vehicles.yaml"))
	if report.Err() != nil {
		t.Fatal(report.Err())
	}
	brief, report := catalog.LoadBrief(filepath.Join(dir, "brief.yaml"))
	if report.Err() != nil {
		t.Fatal(report.Err())
	}
	if _, report := catalog.CheckBrief(brief, c, vehicles); report.Err() != nil {
		t.Error(report.Err())
	}
	if p, report := plan.Load(filepath.Join(dir, "plan.yaml")); report.Err() != nil || len(p.Caps) != 2 {
		t.Error(report.Err())
	}
	if shop, report := letterhead.Load(filepath.Join(dir, "shop.yaml")); report.Err() != nil || shop.ValidFor != 30 {
		t.Error(report.Err())
	}
	build, report := catalog.LoadBuild(filepath.Join(dir, "build.yaml"))
	if report.Err() != nil {
		t.Fatal(report.Err())
	}
	if _, report := catalog.CheckBuild(build, c, vehicles); report.Err() != nil {
		t.Error(report.Err())
	}
}

// Every key of every file is in the text, those of groups included.
func TestEveryKeyIsThere(t *testing.T) {
	text := Help(table.Most)
	var look func(prefix string, keys []document.Spec)
	look = func(prefix string, keys []document.Spec) {
		for _, key := range keys {
			if !strings.Contains(text, "\n  "+prefix+key.Key+" ") {
				t.Errorf("the key %s%s is missing", prefix, key.Key)
			}
			look(prefix+key.Key+".", key.Sub)
		}
	}
	for _, section := range catalog.Reference() {
		look("", section.Keys)
	}
	look("", letterhead.Reference())
	look("", plan.Reference())
}

// The mapping of the text is read, and reads the list that it is made for.
func TestMappingExample(t *testing.T) {
	m, report := tables.ReadMapping("dock-street.map", []byte(MappingExample))
	if report.Err() != nil {
		t.Fatalf("%+v", report.Problems)
	}
	l, report := tables.Read("list.csv", []byte(MappedList), tables.Options{Kind: catalog.KindCount, Mapping: m})
	if report.Err() != nil || l == nil || len(l.Parts) != 1 {
		t.Fatalf("%+v", report.Problems)
	}
	p := l.Parts[0]
	if p.SKU != "OR-2" || p.Kind != catalog.KindAmplifier || p.Price.Minor != 5900 || p.Amplifier == nil || p.Amplifier.Spec.Fuse != 25 || len(p.Amplifier.Spec.Ratings) != 1 || p.Amplifier.Spec.Ratings[0].Watts != 60 {
		t.Errorf("%+v, %+v", p, p.Amplifier)
	}
	if _, report := tables.Read("list.csv", []byte(MappedList), tables.Options{Kind: catalog.KindCount}); report.Err() == nil {
		t.Error("the list is read without its mapping: the example shows nothing")
	}
	text := Help(table.Most)
	for _, key := range tables.MappingSpecs() {
		if !strings.Contains(text, "\n  "+key.Key+" ") {
			t.Errorf("the key %s is missing", key.Key)
		}
	}
}
