package catalog

import (
	"fmt"
	"io/fs"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
)

// LoadBrief reads one customer's brief.
func LoadBrief(path string) (Brief, *Report) { return LoadBriefFS(document.System{}, path) }

// LoadBriefFS does the same in a file system.
func LoadBriefFS(fsys fs.FS, path string) (Brief, *Report) {
	f, report := loadBuild(fsys, path, briefSchema)
	return f.Brief, report
}

// LoadBuild reads a build to predict.
func LoadBuild(path string) (BuildFile, *Report) { return LoadBuildFS(document.System{}, path) }

// LoadBuildFS does the same in a file system.
func LoadBuildFS(fsys fs.FS, path string) (BuildFile, *Report) {
	return loadBuild(fsys, path, buildSchema)
}

func loadBuild(fsys fs.FS, path string, s *document.Schema[BuildFile]) (BuildFile, *Report) {
	report := &Report{}
	file, problem := document.ReadFile(fsys, path, document.MostBytes)
	if problem != nil {
		report.Add(*problem)
		return BuildFile{}, report
	}
	f := readBuild(file, s, report)
	report.Sort(document.MostProblems)
	if report.Err() != nil {
		return BuildFile{}, report
	}
	return f, report
}

func readBuild(file *document.File, s *document.Schema[BuildFile], report *Report) BuildFile {
	f := BuildFile{Brief: DefaultBrief()}
	r, root := document.Parse(file)
	b := &f.Brief
	b.Keys, b.file = map[string]Position{}, file
	if root == nil {
		if !r.Failed() {
			report.Add(Problem{Summary: "the file is empty", Detail: s.What + " needs keys such as vehicle: small sedan", Where: Position{File: file.Name}})
		}
	} else {
		b.Where = r.Where(root)
		s.Decode(r, root, &f, func(field int, v *yaml.Node) { b.Keys[s.Fields[field].Key] = r.Where(v) })
		b.contradictions(report)
	}
	r.Tell(report)
	return f
}

// contradictions reports rules of one brief that cannot hold together.
func (b *Brief) contradictions(report *Report) {
	b.stepped(report)
	for _, never := range b.Never {
		for _, must := range b.Must {
			if must.SKU == never.SKU {
				report.Add(b.problem(Error, never.Where, fmt.Sprintf("%s must be in the build and must not", never.SKU),
					"remove it under must or under never").Citing(must.Where, "it must be in the build"))
			}
		}
	}
}

// problem points at a place of the brief's file.
func (b *Brief) problem(s Severity, at Position, summary, detail string) Problem {
	return problemIn(b.file, s, at, summary, detail)
}

// Problem points at the value of a key of the brief.
func (b *Brief) Problem(s Severity, key, summary, detail string) Problem {
	return b.problem(s, b.At(key), summary, detail)
}

// At is where the value of a key stands; the brief's start if it is not
// stated.
func (b *Brief) At(key string) Position {
	if at, ok := b.Keys[key]; ok {
		return at
	}
	return b.Where
}
