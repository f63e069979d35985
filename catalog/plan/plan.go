// Package plan reads the plan of a refresh: which questions a chain asks of all
// its shops.
//
//	p, report := plan.Load("chain.yaml")
//	if err := report.Err(); err != nil {
//		return err // every mistake, with its place and how to mend it
//	}
//
// The file is YAML:
//
//	catalogues: [shops/*, outlet.yaml]   # a shop each
//	centre: centre/                      # what the shops differ from in prices and stock
//	vehicles: [cars.yaml]
//	caps: [250 USD, 500 USD]
//	goals: [reading, music]
//	results: night.csv
//
// A question is asked for every shop, car, brief, cap, goal, place and openings;
// what is not listed is as the brief has it. Names of files are taken from the
// plan's own folder. Limit: the files that it names are not opened.
package plan

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
	"loudfor/catalog/document"
)

// Plan is what a plan file says. Names of files are as they can be opened, with the
// plan's folder before them.
type Plan struct {
	Catalogues []string // a shop each; one that ends in /* stands for all that lies in a folder
	Centre     string   // empty: there is none
	Vehicles   []string // files and folders of cars
	Cars       []string // names; none: all of Vehicles, or else that of each brief
	Briefs     []string // files; none: a brief with nothing but a cap
	Caps       []catalog.Money
	Goals      []catalog.Goal
	Places     []string
	Openings   []string
	Results    string // file
	Kept       string // folder

	file *document.File
	at   map[string]catalog.Position
}

// Formats are the endings of the name of a file of results.
var Formats = []string{".csv", ".jsonl", ".parquet"}

const (
	defaultResults = "results.csv"
	everything     = "*" // as the last of a path: whatever lies in the folder
)

// mostListed bounds what a list of a plan may name.
const mostListed = 10_000

type (
	spec  = document.Spec
	field = document.Field[Plan]
)

// list is a key that holds texts; keep turns each into what is meant, or says what is
// wrong with it and how to mend it.
func list(key, sample, help string, keep func(p *Plan, text string) (summary, detail string)) field {
	s := spec{Key: key, Shape: document.Texts, Example: sample, Help: help}
	return field{Spec: s, Nested: func(r *document.Reader, p *Plan, n *yaml.Node) {
		var v document.Value
		if !r.Read(n, &s, &v) {
			return
		}
		if len(v.Texts) > mostListed {
			r.Complain(n, fmt.Sprintf("%s lists %d things", key, len(v.Texts)), fmt.Sprintf("list at most %d", mostListed))
			return
		}
		seen := map[string]*yaml.Node{}
		for _, n := range v.Texts {
			text := strings.TrimSpace(document.Resolve(n).Value)
			if first := seen[text]; first != nil {
				r.Twice(n, fmt.Sprintf("%q is listed twice under %s", text, key), "keep one of the two", r.Where(first))
				continue
			}
			seen[text] = n
			if summary, detail := keep(p, text); summary != "" {
				r.Complain(n, summary, detail)
			}
		}
	}}
}

// texts are kept as they are.
func texts(to func(*Plan) *[]string) func(*Plan, string) (string, string) {
	return func(p *Plan, text string) (string, string) {
		*to(p) = append(*to(p), text)
		return "", ""
	}
}

func keepCap(p *Plan, text string) (string, string) {
	sum, err := catalog.ParseMoney(text)
	switch {
	case err != nil:
		return fmt.Sprintf("the cap %q is no price", text), "write a number and a currency, such as 250 USD"
	case sum.Minor <= 0:
		return fmt.Sprintf("the cap %q is not above zero", text), "write what may be spent, such as 250 USD"
	case len(p.Caps) > 0 && p.Caps[0].Currency != sum.Currency:
		return fmt.Sprintf("the cap %q is in another currency than %s", text, p.Caps[0]), "write all caps in the currency of the catalogues"
	case slices.Contains(p.Caps, sum):
		return fmt.Sprintf("the cap %q is listed already, written otherwise", text), "keep one of the two"
	}
	p.Caps = append(p.Caps, sum)
	return "", ""
}

func keepGoal(p *Plan, text string) (string, string) {
	goal, ok := catalog.ParseGoal(text)
	if !ok {
		return fmt.Sprintf("%q is no goal", text), "write reading or music"
	}
	if slices.Contains(p.Goals, goal) {
		return fmt.Sprintf("the goal %q is listed already", text), "keep one of the two"
	}
	p.Goals = append(p.Goals, goal)
	return "", ""
}

var schema = document.NewSchema("a plan", []field{
	func() field {
		f := list("catalogues", "[shops/*, outlet.yaml]", "files and folders of parts, a shop each; FOLDER/* stands for whatever lies in a folder, a shop each", texts(func(p *Plan) *[]string { return &p.Catalogues }))
		f.Required = true
		return f
	}(),
	document.String(spec{Key: "centre", Shape: document.Text, Example: "centre/", Help: "the chain's own catalogue: where a shop differs from it only in prices and stock, and not for the better, its answers need no search"},
		func(p *Plan) *string { return &p.Centre }),
	list("vehicles", "[cars.yaml]", "files and folders of cars", texts(func(p *Plan) *[]string { return &p.Vehicles })),
	list("cars", "[blue sedan, van]", "the cars that are asked for, by name; not stated: all of the vehicles, or without those the car of each brief", texts(func(p *Plan) *[]string { return &p.Cars })),
	list("briefs", "[brief.yaml]", "files of briefs; not stated: a brief of caps alone", texts(func(p *Plan) *[]string { return &p.Briefs })),
	list("caps", "[250 USD, 500 USD]", "in place of the cap of each brief", keepCap),
	list("goals", "[reading, music]", "in place of the goal of each brief", keepGoal),
	list("places", "[dash, headrest]", "in place of the place of each brief", texts(func(p *Plan) *[]string { return &p.Places })),
	list("openings", "[shut, doors open]", "in place of the openings of each brief", texts(func(p *Plan) *[]string { return &p.Openings })),
	document.String(spec{Key: "results", Shape: document.Text, Default: defaultResults, Example: "night.csv", Help: "the file of results, one row a job: its ending .csv, .jsonl or .parquet says how it is written"},
		func(p *Plan) *string { return &p.Results }),
	document.String(spec{Key: "kept", Shape: document.Text, Example: "night.kept", Help: "the folder in which answers are kept from one refresh to the next; not stated: beside the results, under their name and .kept"},
		func(p *Plan) *string { return &p.Kept }),
})

// Reference lists the keys of the file.
func Reference() []document.Spec { return schema.Specs() }

// Load reads a plan. With an error in the report there is none.
func Load(name string) (Plan, *catalog.Report) {
	report := &catalog.Report{}
	content, problem := document.ReadBytes(document.System{}, name, document.MostBytes)
	if problem != nil {
		report.Add(*problem)
		return Plan{}, report
	}
	return Read(name, content)
}

// Read is Load of bytes that were read already.
func Read(name string, content []byte) (Plan, *catalog.Report) {
	report := &catalog.Report{}
	file, problem := document.NewFile(name, content)
	if problem != nil {
		report.Add(*problem)
		return Plan{}, report
	}
	p := Plan{Results: defaultResults, file: file, at: map[string]catalog.Position{}}
	r, root := document.Parse(file)
	if root != nil {
		p.at[""] = r.Where(root)
		if schema.Decode(r, root, &p, func(field int, n *yaml.Node) { p.at[schema.Fields[field].Key] = r.Where(n) }) {
			p.check(r, root)
		}
	} else if !r.Failed() {
		report.Add(catalog.Problem{Summary: "the file is empty", Detail: "a plan needs keys such as catalogues: [shops/*]", Where: catalog.Position{File: name}})
	}
	r.Tell(report)
	report.Sort(document.MostProblems)
	if report.Err() != nil {
		return Plan{}, report
	}
	p.root(filepath.Dir(name))
	return p, report
}

// check says what of a plan cannot be meant together.
func (p *Plan) check(r *document.Reader, root *yaml.Node) {
	at := func(key string) *yaml.Node {
		if n := r.Lookup(document.Resolve(root), key); n != nil {
			return n
		}
		return root
	}
	if len(p.Catalogues) == 0 {
		r.Complain(at("catalogues"), "the plan names no catalogue", "list files and folders of parts, such as catalogues: [shops/*]")
	}
	if len(p.Briefs) == 0 && len(p.Caps) == 0 {
		r.Complain(root, "the plan says neither briefs nor caps", "list what may be spent, such as caps: [250 USD, 500 USD], or files of briefs")
	}
	if len(p.Briefs) == 0 && len(p.Vehicles) == 0 && len(p.Cars) == 0 {
		r.Complain(root, "the plan says neither briefs nor cars", "name files of vehicles, such as vehicles: [cars.yaml], or cars: [small sedan]")
	}
	if ext := strings.ToLower(filepath.Ext(p.Results)); !slices.Contains(Formats, ext) {
		r.Complain(at("results"), fmt.Sprintf("results go into %q, whose ending says no format", p.Results), "end the name in "+strings.Join(Formats, ", "))
	}
	if base, all := cutAll(p.Centre); all {
		r.Complain(at("centre"), "the centre is one catalogue", fmt.Sprintf("name the folder, %s, or one file of it", base))
	}
}

// cutAll tells whether a name stands for all that lies in a folder, and in which.
func cutAll(name string) (folder string, all bool) {
	if filepath.Base(filepath.FromSlash(name)) != everything {
		return name, false
	}
	return filepath.Dir(filepath.FromSlash(name)), true
}

// root puts the plan's folder before all names of files.
func (p *Plan) root(folder string) {
	within := func(name string) string {
		if name == "" || filepath.IsAbs(name) {
			return name
		}
		return filepath.Join(folder, filepath.FromSlash(name))
	}
	for _, names := range [][]string{p.Catalogues, p.Vehicles, p.Briefs} {
		for i, name := range names {
			names[i] = within(name)
		}
	}
	if p.Kept == "" {
		p.Kept = strings.TrimSuffix(p.Results, filepath.Ext(p.Results)) + ".kept"
	}
	p.Centre, p.Results, p.Kept = within(p.Centre), within(p.Results), within(p.Kept)
}

// Shops lists the catalogues, those of a folder by name; hidden files, and those that
// are no YAML, are left out.
func (p *Plan) Shops() ([]string, error) {
	var all []string
	for _, name := range p.Catalogues {
		folder, whole := cutAll(name)
		if !whole {
			all = append(all, name)
			continue
		}
		entries, err := os.ReadDir(folder)
		if err != nil {
			return nil, p.Problem("catalogues", fmt.Sprintf("the folder %s cannot be read: %v", folder, err), "name a folder that holds a file or folder for each shop").Err()
		}
		before := len(all)
		for _, e := range entries {
			ext := strings.ToLower(filepath.Ext(e.Name()))
			if !strings.HasPrefix(e.Name(), ".") && (e.IsDir() || ext == ".yaml" || ext == ".yml") {
				all = append(all, filepath.Join(folder, e.Name()))
			}
		}
		if len(all) == before {
			return nil, p.Problem("catalogues", fmt.Sprintf("the folder %s holds no catalogue", folder), "put a file or folder of parts for each shop in it").Err()
		}
	}
	slices.Sort(all)
	return slices.Compact(all), nil
}

// Problem points at the value of a key of the plan, or at its start.
func (p *Plan) Problem(key, summary, detail string) *catalog.Report {
	at, ok := p.at[key]
	if !ok {
		at = p.at[""]
	}
	report := &catalog.Report{}
	problem := catalog.Problem{Summary: summary, Detail: detail, Where: at}
	if p.file != nil {
		problem.Context, problem.Length = p.file.Line(at.Line), 1
	}
	report.Add(problem)
	return report
}
