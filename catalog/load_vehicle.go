package catalog

import (
	"fmt"
	"io/fs"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
)

// LoadVehicles reads the cars of files and folders, in the order of the files.
func LoadVehicles(paths ...string) ([]Vehicle, *Report) {
	return loadVehicles(document.System{}, paths)
}

// LoadVehiclesFS does the same in a file system.
func LoadVehiclesFS(fsys fs.FS, paths ...string) ([]Vehicle, *Report) {
	return loadVehicles(fsys, paths)
}

func loadVehicles(fsys fs.FS, paths []string) ([]Vehicle, *Report) {
	report := &Report{}
	var out []Vehicle
	files := map[string]*document.File{}
	for _, name := range find(fsys, paths, "vehicles", report) {
		file, problem := document.ReadFile(fsys, name.path, document.MostBytes)
		if problem != nil {
			report.Add(*problem)
			continue
		}
		if !name.named && !hasTop(file.Text, "vehicles") {
			continue
		}
		files[file.Name] = file
		out = append(out, readVehicles(fsys, file, report)...)
	}
	for i, v := range out {
		for _, w := range out[:i] {
			if strings.EqualFold(v.Name, w.Name) && v.Where != w.Where {
				report.Add(problemIn(files[v.Where.File], Error, v.Where, fmt.Sprintf("the vehicle %q is described twice", v.Name), "give each vehicle its own name").
					Citing(w.Where, "first described here"))
				break
			}
		}
	}
	report.Sort(document.MostProblems)
	if report.Err() != nil {
		return nil, report
	}
	return out, report
}

// vehicleFile is the top of a file of vehicles.
type vehicleFile struct {
	fsys     fs.FS
	vehicles []Vehicle
}

var vehiclesSchema = document.NewSchema("a file of vehicles", []document.Field[vehicleFile]{
	{Spec: spec{Key: "vehicles", Shape: document.Groups, Required: true, Sub: vehicleSchema.Specs(), Help: "the cars, one item each", Example: "[{name: blue sedan, body: small sedan}]"},
		Nested: func(r *document.Reader, f *vehicleFile, n *yaml.Node) {
			for _, n := range r.Items(n, &spec{Key: "vehicles"}) {
				c := car{fsys: f.fsys, at: map[string]*yaml.Node{}}
				c.v.Where = r.Where(n)
				c.good = vehicleSchema.Decode(r, n, &c, func(field int, v *yaml.Node) { c.at[vehicleSchema.Fields[field].Key] = v })
				c.finish(r, n)
				f.vehicles = append(f.vehicles, c.v)
			}
		}},
})

func readVehicles(fsys fs.FS, file *document.File, report *Report) []Vehicle {
	f := vehicleFile{fsys: fsys}
	r, root := document.Parse(file)
	if root != nil {
		vehiclesSchema.Decode(r, root, &f, nil)
	} else if !r.Failed() {
		report.Add(Problem{Summary: "the file is empty", Detail: "list cars under the key vehicles, such as {name: blue sedan, body: small sedan}", Where: Position{File: file.Name}})
	}
	r.Tell(report)
	return f.vehicles
}
