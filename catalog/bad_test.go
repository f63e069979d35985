package catalog

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"
)

// Each file of testdata/bad holds input files and, last, what is said about
// them: the exact words, lines and columns. UPDATE=1 writes the last
// section anew; read the difference before keeping it.
const update = "UPDATE"

const said = "said"

func TestBadInput(t *testing.T) {
	names, err := filepath.Glob("testdata/bad/*.txt")
	if err != nil || len(names) < 30 {
		t.Fatalf("%d cases, %v", len(names), err)
	}
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txt"), func(t *testing.T) {
			archive, err := txtar.ParseFile(name)
			if err != nil {
				t.Fatal(err)
			}
			archive.Files = slices.DeleteFunc(archive.Files, func(f txtar.File) bool {
				if f.Name == said {
					return os.Getenv(update) != ""
				}
				return false
			})
			files := fstest.MapFS{}
			want := ""
			for _, f := range archive.Files {
				if f.Name == said {
					want = string(f.Data)
					continue
				}
				files[f.Name] = &fstest.MapFile{Data: f.Data}
			}
			report := sayAbout(files)
			var got strings.Builder
			if err := report.Write(&got, false); err != nil {
				t.Fatal(err)
			}
			if report.Err() == nil {
				t.Error("no error was found")
			}
			if os.Getenv(update) != "" {
				archive.Files = append(archive.Files, txtar.File{Name: said, Data: []byte(got.String())})
				if err := os.WriteFile(name, txtar.Format(archive), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if diff := cmp.Diff(want, got.String()); diff != "" {
				t.Errorf("said otherwise (-want +got):\n%s", diff)
			}
		})
	}
}

// sayAbout reads all the files of a case as the program would.
func sayAbout(files fstest.MapFS) *Report {
	all := &Report{}
	var parts []string
	for name := range files {
		if strings.HasSuffix(name, ".yaml") && name != "brief.yaml" && name != "build.yaml" && name != "vehicles.yaml" {
			parts = append(parts, name)
		}
	}
	c := &Catalogue{}
	if len(parts) > 0 {
		loaded, report := LoadFS(files, parts)
		all.Merge(report)
		if loaded != nil {
			c = loaded
		}
	}
	var vehicles []Vehicle
	if _, err := fs.Stat(files, "vehicles.yaml"); err == nil {
		v, report := LoadVehiclesFS(files, "vehicles.yaml")
		all.Merge(report)
		vehicles = v
	}
	if _, err := fs.Stat(files, "brief.yaml"); err == nil {
		b, report := LoadBriefFS(files, "brief.yaml")
		all.Merge(report)
		if report.Err() == nil {
			_, report = CheckBrief(b, c, vehicles)
			all.Merge(report)
		}
	}
	if _, err := fs.Stat(files, "build.yaml"); err == nil {
		b, report := LoadBuildFS(files, "build.yaml")
		all.Merge(report)
		if report.Err() == nil {
			_, report = CheckBuild(b, c, vehicles)
			all.Merge(report)
		}
	}
	all.Sort(0)
	return all
}
