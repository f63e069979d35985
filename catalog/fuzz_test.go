package catalog

import (
	"io"
	"io/fs"
	"math"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/rogpeppe/go-internal/txtar"

	"loudfor/catalog/demo"
	"loudfor/catalog/document"
)

// No text from outside makes a reader panic, hang, or say something without a
// place in the file. Each target starts from the demo, from every bad input of
// testdata, and from the syntaxes of YAML.

// longestRead is far above what reading a fuzzer's text takes, even on a machine
// that has no time for it.
const longestRead = 5 * time.Minute

var syntaxes = []string{
	"", "~", "---\n...\n", "parts: [", "parts: {", "parts:\n\t- x", "\ufeffparts: []", "parts: &a [*a]", "a: &a x\nb: *a", "<<: {a: 1}", "? [a]\n: b",
	"!!binary aGk=", "!x y", "%YAML 1.1\n---\nparts: []", "parts: |\n  text\n", "parts: >-\n  text\n", "'a': \"b\\x41\"", "parts:\n- sku: A\n- sku: A\n", "[]: 1", "{[a]: b}",
	"parts: [{sku: A, kind: bass blocker, capacitance: 1 uF, <<: [{}, 3, *x]}]", "\x00", "\xff", "a: \u2028b", "a:\r b:\r",
	"\u2028\u20280", "parts:\u2029- x", "\u0085 a: [",
}

// seed adds the syntaxes, the demo's files and those of testdata whose name
// ends so.
func seed(f *testing.F, suffixes ...string) {
	for _, s := range syntaxes {
		f.Add(s)
	}
	wanted := func(name string) bool {
		for _, s := range suffixes {
			if strings.HasSuffix(name, s) {
				return true
			}
		}
		return false
	}
	_ = fs.WalkDir(demo.FS, ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && wanted(name) {
			text, _ := fs.ReadFile(demo.FS, name)
			f.Add(string(text[:min(len(text), 3000)]))
		}
		return nil
	})
	names, _ := filepath.Glob("testdata/bad/*.txt")
	for _, name := range names {
		if archive, err := txtar.ParseFile(name); err == nil {
			for _, file := range archive.Files {
				if wanted(file.Name) {
					f.Add(string(file.Data))
				}
			}
		}
	}
}

// sound holds what every report holds.
func sound(t *testing.T, name, text string, report *Report, start time.Time) {
	t.Helper()
	if took := time.Since(start); took > longestRead {
		t.Fatalf("reading %d bytes took %v", len(text), took)
	}
	lines := (&document.File{Text: []byte(text)}).Lines()
	for i, p := range report.Problems {
		if p.Summary == "" || p.Where.File == "" || p.Where.Line < 0 || p.Where.Line > lines+1 || p.Where.Column < 0 {
			t.Fatalf("problem %+v of %d lines", p, lines)
		}
		if p.Where.Line > 0 && p.Context != "" && (p.Length < 1 || p.Where.Column < 1) {
			t.Fatalf("problem %+v marks nothing", p)
		}
		if i > 0 && p.Where.Compare(report.Problems[i-1].Where) < 0 {
			t.Fatalf("%v comes after %v", p.Where, report.Problems[i-1].Where)
		}
	}
	if err := report.Write(io.Discard, true); err != nil {
		t.Fatal(err)
	}
}

func FuzzParts(f *testing.F) {
	f.Add(everyKind)
	seed(f, "parts.yaml", "bass.yaml", "amplifiers.yaml", "boxes.yaml", "front.yaml", "wiring.yaml", "value.yaml", "a.yaml", "b.yaml", "deals.yaml", "shapes.yaml")
	f.Fuzz(func(t *testing.T, text string) {
		start := time.Now()
		c, report := LoadFS(inFile("parts.yaml", text), []string{"parts.yaml"})
		sound(t, "parts.yaml", text, report, start)
		if (c == nil) != (report.Err() != nil) {
			t.Fatalf("catalogue %v with %v", c, report.Err())
		}
		if c == nil {
			return
		}
		for _, p := range Check(c) {
			if strings.Contains(p.Summary+p.Detail, "NaN") || strings.Contains(p.Summary+p.Detail, "Inf") {
				if !strings.Contains(text, "NaN") && !strings.Contains(text, "Inf") {
					t.Fatalf("%s: %s", p.Summary, p.Detail)
				}
			}
		}
		for _, p := range c.Parts {
			if p.SKU == "" || p.Priced && p.Price.Minor < 0 {
				t.Fatalf("%+v", p)
			}
		}
	})
}

func fuzzJob(f *testing.F, name string, s *document.Schema[BuildFile]) {
	c := &Catalogue{Currency: "USD"}
	f.Fuzz(func(t *testing.T, text string) {
		start := time.Now()
		b, report := loadBuild(inFile(name, text), name, s)
		sound(t, name, text, report, start)
		if report.Err() != nil {
			return
		}
		_, report = CheckBuild(b, c, nil)
		sound(t, name, text, report, start)
		for _, v := range [...]float64{b.Load, b.Brief.Burst, b.Brief.Celsius, b.Brief.BassLift, b.Brief.Overdrive, b.Brief.Alternator} {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%+v", b)
			}
		}
	})
}

func FuzzBrief(f *testing.F) {
	seed(f, "brief.yaml", "reading.yaml", "music.yaml", "shop.yaml", "room.yaml")
	fuzzJob(f, "brief.yaml", briefSchema)
}

func FuzzBuild(f *testing.F) {
	seed(f, "build.yaml", "sealed.yaml", "vented.yaml", "hatch.yaml")
	fuzzJob(f, "build.yaml", buildSchema)
}

func FuzzVehicle(f *testing.F) {
	seed(f, "vehicles.yaml")
	f.Fuzz(func(t *testing.T, text string) {
		start := time.Now()
		files := inFile("vehicles.yaml", text)
		files["gain.csv"] = &fstest.MapFile{Data: []byte("frequency_hz,gain_db\n20,14.5\n80,3\n")}
		vehicles, report := LoadVehiclesFS(files, "vehicles.yaml")
		sound(t, "vehicles.yaml", text, report, start)
		if report.Err() != nil {
			return
		}
		for _, v := range vehicles {
			if !v.OpenField && v.Body.Check() != nil {
				t.Fatalf("%s: %v", v.Name, v.Body.Check())
			}
		}
	})
}

func FuzzCurve(f *testing.F) {
	for _, s := range []string{
		"", "frequency_hz,gain_db\n20,14.5\n80,3\n", "frequency_hz;gain_db\n20;14,5\n", "gain_db\tfrequency_hz\n1\t2\n", "# only a remark\n", "\"a\nb\",c\n", "frequency_hz,gain_db\n20\n",
		"frequency_hz,gain_db\n\"20,1\n", "frequency_hz,frequency_hz\n", ",\n,\n", "frequency_hz,gain_db\n20,NaN\n30,1e99\n", "\xff", "frequency_hz,gain_db\r20,1\r",
	} {
		f.Add(s)
	}
	seed(f, ".csv")
	f.Fuzz(func(t *testing.T, text string) {
		start := time.Now()
		file, problem := document.NewFile("gain.csv", []byte(text))
		if problem != nil {
			return
		}
		hz, gain, problems := readCurve(file)
		sound(t, "gain.csv", text, &Report{Problems: problems}, start)
		if len(problems) > 0 {
			return
		}
		if len(hz) < 2 || len(hz) != len(gain) {
			t.Fatalf("%d frequencies and %d gains", len(hz), len(gain))
		}
		for i := range hz {
			if i > 0 && hz[i] <= hz[i-1] || math.IsNaN(gain[i]) || math.Abs(gain[i]) > mostGain {
				t.Fatalf("%v, %v", hz, gain)
			}
		}
	})
}
