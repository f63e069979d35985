package formats

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loudfor/catalog"
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
	text := Help()
	var look func(prefix string, keys []catalog.Key)
	look = func(prefix string, keys []catalog.Key) {
		for _, key := range keys {
			if !strings.Contains(text, "\n  "+prefix+key.Name+" ") {
				t.Errorf("the key %s%s is missing", prefix, key.Name)
			}
			look(prefix+key.Name+".", key.Keys)
		}
	}
	for _, section := range catalog.Reference() {
		look("", section.Keys)
	}
}
