package readings

import (
	"bytes"
	"fmt"
	"io/fs"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
	"loudfor/catalog/document"
)

// MostBytes is the largest file of readings: some ten thousand of them.
const MostBytes = 4 << 20

// Load reads a file of readings, YAML or CSV by what stands in it. With an
// error in the report there are no readings.
func Load(path string) ([]Reading, *catalog.Report) { return LoadFS(document.System{}, path) }

// LoadFS does the same in a file system.
func LoadFS(fsys fs.FS, path string) ([]Reading, *catalog.Report) {
	content, problem := document.ReadBytes(fsys, path, MostBytes)
	if problem != nil {
		return nil, &catalog.Report{Problems: []catalog.Problem{*problem}}
	}
	return Read(path, content)
}

// Read reads readings from memory; the name is for messages.
func Read(name string, content []byte) ([]Reading, *catalog.Report) {
	report := &catalog.Report{}
	file, problem := document.NewFile(name, content)
	if problem != nil {
		report.Add(*problem)
		return nil, report
	}
	t := top{}
	at := map[string]catalog.Position{}
	r := &document.Reader{File: file}
	switch root := (*yaml.Node)(nil); {
	case len(bytes.TrimSpace(file.Text)) == 0:
		r.Add(catalog.Problem{Summary: "the file is empty", Detail: sampleFile, Where: catalog.Position{File: name}})
	case isCSV(file):
		t.readCSV(r)
	default:
		if r, root = document.Parse(file); root != nil {
			topSchema.Decode(r, root, &t, func(k int, v *yaml.Node) { at[topSchema.Fields[k].Key] = r.Where(v) })
		} else if !r.Failed() {
			r.Add(catalog.Problem{Summary: "the file is empty", Detail: sampleFile, Where: catalog.Position{File: name}})
		}
	}
	t.inherit(at)
	r.Tell(report)
	for i := range t.list {
		t.list[i].file = file
		t.list[i].complete(report)
	}
	if len(t.list) == 0 && report.Err() == nil {
		report.Add(catalog.Problem{Summary: "the file holds no reading", Detail: sampleFile, Where: catalog.Position{File: name}})
	}
	report.Sort(document.MostProblems)
	if report.Err() != nil {
		return nil, report
	}
	return t.list, report
}

const sampleFile = "list readings under the key readings, such as {frequency: 40 Hz, level: 124.1 dB}, or as CSV with the columns frequency and level"

// complete reports what neither the reading nor the top of its file states.
func (r *Reading) complete(report *catalog.Report) {
	for _, k := range [...]struct{ key, value, sample string }{
		{"vehicle", r.Vehicle, "small sedan"}, {"build", r.Build, "demo:value-12-sealed"},
	} {
		if k.value == "" {
			report.Add(r.Problem(catalog.Error, "", fmt.Sprintf("the reading needs the key %q", k.key),
				fmt.Sprintf("add %s: %s to it, or above the list for all readings", k.key, k.sample)))
		}
	}
}

// mark shows the line of a problem.
func mark(file *document.File, p catalog.Problem) catalog.Problem {
	if file != nil && p.Where.Line > 0 && file.Name == p.Where.File {
		p.Context, p.Length = file.Line(p.Where.Line), 1
		if rest := []rune(p.Context); p.Where.Column-1 < len(rest) {
			p.Text = document.Scalar(string(rest[p.Where.Column-1:]), string(rest[:p.Where.Column-1]))
			p.Length = max(1, len([]rune(p.Text)))
			p.Text = strings.Trim(p.Text, `"'`)
		}
	}
	return p
}
