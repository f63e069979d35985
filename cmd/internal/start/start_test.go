package start

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loudfor/catalog"
)

// Whatever is wished for, the program reads what was written without an error
// and without a warning, and there is one part of each kind.
func TestEveryFolderCanBeRead(t *testing.T) {
	for _, body := range Bodies() {
		for _, w := range []Wishes{
			{}, {Currency: "EUR", Metric: true}, {Currency: "JPY", Cap: "80000 JPY", Stays: StayNothing}, {Metric: true, Stays: StayRadio},
		} {
			w.Body = body
			files, err := Files(w)
			if err != nil {
				t.Fatal(err)
			}
			folder := t.TempDir()
			if err := Write(folder, files); err != nil {
				t.Fatal(err)
			}
			own := catalog.OwnFiles(folder)
			if len(own.Parts) != 1 || len(own.Briefs) != 1 || len(own.Vehicles) != 1 {
				t.Fatalf("%+v", own)
			}
			c, report := catalog.Load(own.Parts)
			if report.Err() != nil {
				t.Fatal(report.Err())
			}
			for k := range catalog.KindCount {
				if n := len(c.ByKind(k)); n != 1 {
					t.Errorf("%+v: %d parts of the kind %s", w, n, k)
				}
			}
			b, report := catalog.LoadBrief(own.Briefs[0])
			if report.Err() != nil {
				t.Fatal(report.Err())
			}
			cars, report := catalog.LoadVehicles(own.Vehicles...)
			if report.Err() != nil {
				t.Fatal(report.Err())
			}
			v, report := catalog.CheckBrief(b, c, cars)
			report.Merge(&catalog.Report{Problems: catalog.Check(c)})
			if report.Err() != nil || report.Count(catalog.Warning) > 0 || v.Name != "my car" {
				t.Fatalf("%+v: %+v", w, report.Err())
			}
			for _, f := range files {
				other := map[bool]string{true: "AWG", false: "mm2"}[w.Metric]
				if strings.Contains(string(f.Content), other) {
					t.Errorf("%+v: %s in %s", w, other, f.Name)
				}
			}
		}
	}
}

func TestNothingIsOverwritten(t *testing.T) {
	folder := t.TempDir()
	files, err := Files(Wishes{})
	if err != nil {
		t.Fatal(err)
	}
	last := filepath.Join(folder, filepath.FromSlash(files[len(files)-1].Name))
	if err := os.WriteFile(last, []byte("mine"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := Write(folder, files); !errors.Is(err, ErrExists) {
		t.Fatal(err)
	}
	there, err := os.ReadDir(folder)
	if err != nil || len(there) != 1 {
		t.Errorf("%v, %v", there, err)
	}
	if _, err := Files(Wishes{Body: "spaceship"}); err == nil {
		t.Error("a body style that is none")
	}
}
