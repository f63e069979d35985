package inputs

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/catalog/document"
)

// Text is a brief's file as it is: what a job book keeps.
type Text struct {
	Name    string // without its folder
	Content string
}

// Raw reads the text of the brief that a request names. Standard input can be
// read only once, so the request holds what was read from then on.
func (r *Request) Raw() (Text, error) {
	*r = r.Settled()
	name := r.Brief
	if name == "" {
		name = demoPrefix + strings.TrimSuffix(path.Base(demo.Brief), path.Ext(demo.Brief))
	}
	if inDemo, ok := strings.CutPrefix(name, demoPrefix); ok {
		full := path.Join(DemoBriefs, strings.TrimSuffix(inDemo, ".yaml")+".yaml")
		content, err := fs.ReadFile(demo.FS, full)
		if err != nil {
			return Text{}, UsageError{fmt.Sprintf("the demo has no %q; it has %s", inDemo, DemoNames(DemoBriefs))}
		}
		return Text{path.Base(full), string(content)}, nil
	}
	if name == "-" {
		content, err := io.ReadAll(io.LimitReader(r.Stdin, document.MostBytes+1))
		if err != nil {
			return Text{}, fmt.Errorf("standard input cannot be read: %w", err)
		}
		r.Stdin = bytes.NewReader(content)
		return Text{"brief.yaml", string(content)}, nil
	}
	content, err := os.ReadFile(name)
	if err != nil {
		return Text{}, nil // loading it says what is wrong, with its place
	}
	return Text{filepath.Base(name), string(content)}, nil
}

// CarFile is a file that a vehicle is described by: its own, or a measured
// curve.
type CarFile struct {
	Name    string
	Content []byte
}

// carFolder is where the files of a vehicle stand beside the brief of a job,
// so that none is taken for the brief.
const carFolder = "vehicle"

// CarFiles reads the files that describe a job's vehicle; none for a body
// style. LoadCar reads the vehicle from them again.
func CarFiles(job Job, invented bool) ([]CarFile, error) {
	name := job.Vehicle.Where.File
	if name == "" {
		return nil, nil
	}
	seen := &recorder{FS: demo.FS, seen: map[string][]byte{}}
	if !invented || !within(demo.FS, name) {
		seen.FS = os.DirFS(filepath.Dir(name))
		name = filepath.Base(name)
	}
	if _, report := catalog.LoadVehiclesFS(seen, name); report.Err() != nil {
		return nil, report.Err()
	}
	var files []CarFile
	for _, name := range slices.Sorted(maps.Keys(seen.seen)) {
		files = append(files, CarFile{path.Join(carFolder, name), seen.seen[name]})
	}
	return files, nil
}

func within(fsys fs.FS, name string) bool {
	_, err := fs.Stat(fsys, name)
	return err == nil
}

// LoadCars reads the vehicles of a job's files.
func LoadCars(fsys fs.FS, files []CarFile) ([]catalog.Vehicle, *catalog.Report) {
	all := &catalog.Report{}
	var vehicles []catalog.Vehicle
	for _, f := range files {
		if ext := path.Ext(f.Name); ext != ".yaml" && ext != ".yml" {
			continue
		}
		some, report := catalog.LoadVehiclesFS(fsys, f.Name)
		all.Merge(report)
		vehicles = append(vehicles, some...)
	}
	return vehicles, all
}

// recorder keeps the content of every file that is opened through it.
type recorder struct {
	fs.FS
	seen map[string][]byte
}

// Open implements fs.FS.
func (r *recorder) Open(name string) (fs.File, error) {
	f, err := r.FS.Open(name)
	if err != nil {
		return nil, err
	}
	if info, err := f.Stat(); err == nil && !info.IsDir() {
		if content, err := fs.ReadFile(r.FS, name); err == nil {
			r.seen[name] = content
		}
	}
	return f, nil
}
