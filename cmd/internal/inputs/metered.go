package inputs

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/catalog/document"
	"loudfor/catalog/readings"
)

// DemoReadings is the folder of the demo's readings.
const DemoReadings = demo.Readings

// ReadVehicles reads the vehicles that the command line means.
func (r Request) ReadVehicles(all *catalog.Report) []catalog.Vehicle { return r.vehicles(all) }

// Readings reads a file of readings, "-" for standard input, or demo:NAME.
func (r Request) Readings(name string) ([]readings.Reading, *catalog.Report, error) {
	switch inDemo, isDemo := strings.CutPrefix(name, demoPrefix); {
	case isDemo:
		full := path.Join(DemoReadings, strings.TrimSuffix(inDemo, ".yaml")+".yaml")
		if _, err := fs.Stat(demo.FS, full); err != nil {
			return nil, nil, UsageError{fmt.Sprintf("the demo has no readings %q; it has %s", inDemo, DemoNames(DemoReadings))}
		}
		list, report := readings.LoadFS(demo.FS, full)
		return list, report, nil
	case name == "-":
		fsys, err := fromStdin(r.Stdin)
		if err != nil {
			return nil, nil, fmt.Errorf("standard input cannot be read: %w", err)
		}
		list, report := readings.LoadFS(fsys, stdinName)
		return list, report, nil
	}
	list, report := readings.Load(name)
	return list, report, nil
}

// MeteredBuild finds what a reading calls its build: demo:NAME, a file beside
// the readings, or parts in words. at is where the words stand; a problem
// without a place is about them.
func (r Request) MeteredBuild(words string, at catalog.Position) (catalog.BuildFile, *catalog.Problem) {
	fault := func(summary, detail string) (catalog.BuildFile, *catalog.Problem) {
		return catalog.BuildFile{}, &catalog.Problem{Summary: summary, Detail: detail}
	}
	if inDemo, ok := strings.CutPrefix(words, demoPrefix); ok {
		full := path.Join(DemoBuilds, strings.TrimSuffix(inDemo, ".yaml")+".yaml")
		if _, err := fs.Stat(demo.FS, full); err != nil {
			return fault(fmt.Sprintf("the demo has no build %q", inDemo), "it has "+DemoNames(DemoBuilds))
		}
		return of(catalog.LoadBuildFS(demo.FS, full))
	}
	if ext := strings.ToLower(filepath.Ext(words)); ext == ".yaml" || ext == ".yml" {
		name := words
		if !filepath.IsAbs(name) {
			name = filepath.Join(filepath.Dir(at.File), name)
		}
		if _, err := os.Stat(name); err != nil {
			return fault(fmt.Sprintf("the build is not known: there is no file %s", name), "the name of a build file is seen from the file of readings")
		}
		return of(catalog.LoadBuild(name))
	}
	parts, mode, load, err := readings.Parts(words)
	if err != nil {
		return fault("the build cannot be read: "+err.Error(), "write its parts parted by commas, such as OR-M3, TM-12V x 2, KE-D12; mono; 2 ohm")
	}
	return catalog.BuildFile{Brief: catalog.DefaultBrief(), Parts: parts, Mode: mode, Load: load}, nil
}

// of gives the first error of a report as a problem.
func of(file catalog.BuildFile, report *catalog.Report) (catalog.BuildFile, *catalog.Problem) {
	for i, p := range report.Problems {
		if p.Severity == catalog.Error {
			return file, &report.Problems[i]
		}
	}
	return file, nil
}

// VehicleText is the file that a vehicle comes from; empty for a body style.
func (r Request) VehicleText(v catalog.Vehicle) ([]byte, error) {
	if v.Where.File == "" {
		return nil, nil
	}
	if r = r.Settled(); len(r.Catalog) == 0 && r.Vehicles == "" {
		return fs.ReadFile(demo.FS, v.Where.File)
	}
	file, problem := document.ReadFile(document.System{}, v.Where.File, document.MostBytes)
	if problem != nil {
		return nil, fmt.Errorf("%s: %s", problem.Where, problem.Summary)
	}
	return file.Text, nil
}
