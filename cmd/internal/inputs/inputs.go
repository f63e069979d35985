// Package inputs gathers what a command works on: parts, vehicles, and a brief
// or a build, from files, from standard input or from the built-in demo, with
// the command line's wishes on top.
//
//	job, err := inputs.Load(inputs.Request{Brief: "brief.yaml", Catalog: []string{"parts/"}})
//
// Everything that is wrong in any of the files comes back in one error.
// What the command line does not name is looked for in the folder, and else
// comes from the demo; the job says so: invented parts must never pass for real
// ones.
package inputs

import (
	"fmt"
	"io"
	"io/fs"
	"maps"
	"path"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/cmd/internal/facts"
	"loudfor/optimizer/workshop"
)

// Request is what the command line asks for. Empty fields were not given.
type Request struct {
	Brief    string // a file, "-", "demo:NAME"
	Build    string // the same, for a build
	Stdin    io.Reader
	Catalog  []string
	Vehicles string

	// SkipBad leaves out parts and deals in which something is wrong.
	SkipBad bool
	// Demo asks for the built-in demo, whatever lies in the folder.
	Demo bool
	// From says in words which files were taken that nobody named, or that
	// the demo stands in for them; see Settled.
	From string
	// ReadyMade leaves out the boxes that could be built for the brief.
	ReadyMade bool

	// These override the brief.
	Vehicle, Cap, Goal, Place, Openings string
	Space, Front, Tax                   string
	// These come beside what the brief names; each is a SKU, a name or either
	// with a number of pieces.
	Own, Must, Never []string

	settled, own bool     // the folder was looked at, and gave the files
	cars, briefs []string // files of vehicles and briefs of the folder
}

// Job is what a command works on.
type Job struct {
	catalog.BuildFile // Parts, Mode and Load are empty for a brief
	Catalogue         *catalog.Catalogue
	Vehicle           catalog.Vehicle
	Invented          bool            // the parts come from the demo
	From              string          // see Request
	Remarks           *catalog.Report // what is odd but bearable

	Box  *workshop.Box  // that the build file has built; nil: none
	Shop *workshop.Shop // boxes that could be built for a brief; see Build
}

// Question is the job as the head of an answer tells it.
func (j Job) Question() facts.Question {
	q := facts.Question{Brief: j.Brief, Vehicle: j.Vehicle, Invented: j.Invented, Parts: len(j.Catalogue.Parts), Shelf: j.Catalogue.Parts}
	switch {
	case j.Shop != nil:
		q.Built = len(j.Shop.Boxes)
	case j.Box != nil:
		q.Built = 1
	}
	q.Parts -= q.Built
	return q
}

const demoPrefix = "demo:"

// The folders of the demo from which demo:NAME takes a file.
const (
	DemoBriefs = demo.Briefs
	DemoBuilds = demo.Builds
)

// DemoNames lists what demo:NAME can name in a folder of the demo.
func DemoNames(folder string) string {
	var names []string
	entries, err := fs.ReadDir(demo.FS, folder)
	if err != nil {
		panic(err) // the folder is part of the program
	}
	for _, entry := range entries {
		names = append(names, strings.TrimSuffix(entry.Name(), path.Ext(entry.Name())))
	}
	return strings.Join(names, ", ")
}

// UsageError is a command line that does not make sense.
type UsageError struct{ Text string }

func (e UsageError) Error() string { return e.Text }

// Load reads all files and holds them against each other.
func Load(r Request) (Job, error) {
	r = r.Settled()
	job := Job{From: r.From}
	all := &catalog.Report{}
	if len(r.Catalog) == 0 {
		job.Invented = true
	}
	job.Catalogue = r.parts(all)
	vehicles := r.vehicles(all)
	file, err := r.file(all)
	if err != nil {
		return Job{}, err
	}
	job.BuildFile = file
	if all.Sort(0); all.Err() != nil {
		return Job{}, all.Err()
	}
	if err := r.override(&job.Brief, job.Catalogue.Currency); err != nil {
		return Job{}, err
	}
	if all.Merge(job.Brief.Wish(r.wishes()...)); all.Err() != nil {
		return Job{}, all.Err()
	}
	if err := job.foreign(); err != nil {
		return Job{}, err
	}
	if err := job.describe(all); err != nil {
		return Job{}, err
	}
	job.Brief.Resolve(job.Catalogue)
	job.Parts = job.Catalogue.Resolve(job.Parts)
	all.Merge(job.voiceless(r.Build))
	var checked *catalog.Report
	if r.Build != "" {
		job.Vehicle, checked = catalog.CheckBuild(job.BuildFile, job.Catalogue, vehicles)
	} else {
		job.Vehicle, checked = catalog.CheckBrief(job.Brief, job.Catalogue, vehicles)
	}
	all.Merge(checked)
	all.Sort(0)
	job.Remarks = all
	return job, all.Err()
}

func (r Request) parts(all *catalog.Report) *catalog.Catalogue {
	c, report := r.Parts()
	all.Merge(report)
	return c
}

// Parts reads the catalogue alone.
func (r Request) Parts() (*catalog.Catalogue, *catalog.Report) {
	if r = r.Settled(); len(r.Catalog) == 0 {
		return catalog.LoadFS(demo.FS, []string{demo.Parts})
	}
	if r.SkipBad {
		return catalog.LoadSound(r.Catalog)
	}
	return catalog.Load(r.Catalog)
}

// Sound reads the catalogue alone, for those whom its warnings do not concern.
func (r Request) Sound() (*catalog.Catalogue, error) {
	c, report := r.Parts()
	return c, report.Err()
}

// vehicles are those of the file, else those that lie in the folders of the
// parts, or the demo's where nothing is named; body styles and the open field
// are known everywhere.
func (r Request) vehicles(all *catalog.Report) []catalog.Vehicle {
	r = r.Settled()
	var vehicles []catalog.Vehicle
	var report *catalog.Report
	switch {
	case r.Vehicles != "":
		vehicles, report = catalog.LoadVehicles(r.Vehicles)
	case len(r.Catalog) == 0:
		vehicles, report = catalog.LoadVehiclesFS(demo.FS, demo.Vehicles)
	default:
		if places := append(onlyFolders(r.Catalog), r.cars...); len(places) > 0 {
			vehicles, report = catalog.LoadVehicles(places...)
		}
	}
	all.Merge(report)
	return vehicles
}

// onlyFolders leaves out files: a file of parts holds no vehicles.
func onlyFolders(paths []string) []string {
	var folders []string
	for _, path := range paths {
		if isFolder(path) {
			folders = append(folders, path)
		}
	}
	return folders
}

// file reads the brief or the build.
func (r Request) file(all *catalog.Report) (catalog.BuildFile, error) {
	name, folder, first := r.Brief, DemoBriefs, demo.Brief
	read := func(fsys fs.FS, name string) (catalog.BuildFile, *catalog.Report) {
		brief, report := catalog.LoadBriefFS(fsys, name)
		return catalog.BuildFile{Brief: brief}, report
	}
	direct := func(name string) (catalog.BuildFile, *catalog.Report) {
		brief, report := catalog.LoadBrief(name)
		return catalog.BuildFile{Brief: brief}, report
	}
	if r.Build != "" {
		name, folder, first = r.Build, DemoBuilds, demo.Build
		read, direct = catalog.LoadBuildFS, catalog.LoadBuild
	}
	var file catalog.BuildFile
	var report *catalog.Report
	switch inDemo, isDemo := strings.CutPrefix(name, demoPrefix); {
	case name == "" && len(r.Catalog) > 0:
		return r.unwritten()
	case name == "":
		file, report = read(demo.FS, first)
	case isDemo:
		full := path.Join(folder, strings.TrimSuffix(inDemo, ".yaml")+".yaml")
		if _, err := fs.Stat(demo.FS, full); err != nil {
			return file, UsageError{fmt.Sprintf("the demo has no %q; it has %s", inDemo, DemoNames(folder))}
		}
		file, report = read(demo.FS, full)
	case name == "-":
		fsys, err := fromStdin(r.Stdin)
		if err != nil {
			return file, fmt.Errorf("standard input cannot be read: %w", err)
		}
		file, report = read(fsys, stdinName)
	default:
		file, report = direct(name)
	}
	all.Merge(report)
	return file, nil
}

// defaultVehicle is the car where neither a brief nor the command line names
// one: the smallest body style, whose reading is the least flattered by space
// for boxes.
const defaultVehicle = "small sedan"

// unwritten is the brief of a customer who has only a budget.
func (r Request) unwritten() (catalog.BuildFile, error) {
	if err := r.whichBrief(); err != nil {
		return catalog.BuildFile{}, err
	}
	if r.Cap == "" && r.own {
		return catalog.BuildFile{}, UsageError{"the parts are " + strings.Join(r.Catalog, ", ") + " of this folder; without a brief they need --cap, such as --cap 500 (--demo asks for the demo)"}
	}
	if r.Cap == "" {
		return catalog.BuildFile{}, UsageError{"a catalogue without a brief needs --cap, such as --cap 500"}
	}
	b := catalog.DefaultBrief()
	b.Vehicle = defaultVehicle
	return catalog.BuildFile{Brief: b}, nil
}

// override puts the command line's wishes over the brief. Where each value
// came from is kept, so that a later complaint points at the flag.
func (r Request) override(b *catalog.Brief, currency string) error {
	b.Keys = maps.Clone(b.Keys)
	if b.Keys == nil {
		b.Keys = map[string]catalog.Position{}
	}
	from := func(flag string) { b.Keys[flag] = catalog.Position{File: "--" + flag} }
	if r.Vehicle != "" {
		b.Vehicle = r.Vehicle
		from("vehicle")
	}
	if r.Place != "" {
		b.Place = r.Place
		from("place")
	}
	if r.Openings != "" {
		b.Openings = r.Openings
		from("openings")
	}
	if r.Goal != "" {
		goal, ok := catalog.ParseGoal(r.Goal)
		if !ok {
			return UsageError{fmt.Sprintf("--goal is reading or music, not %q", r.Goal)}
		}
		b.Goal = goal
	}
	if r.Cap != "" {
		cap, err := ParseCap(r.Cap, currency)
		if err != nil {
			return UsageError{fmt.Sprintf("--cap %s: %v", r.Cap, err)}
		}
		b.Cap = cap
		from("cap")
	}
	return nil
}

// wishes are those that the table of the brief's keys reads.
func (r Request) wishes() []catalog.Wish {
	one := func(key, flag, value string) catalog.Wish {
		if value == "" {
			return catalog.Wish{}
		}
		return catalog.Wish{Key: key, Flag: flag, Values: []string{value}}
	}
	return []catalog.Wish{
		{Key: "owned", Flag: "--own", Values: r.Own}, {Key: "must", Flag: "--must", Values: r.Must}, {Key: "never", Flag: "--never", Values: r.Never},
		one("space", "--space", r.Space), one("front", "--front", r.Front), one("tax", "--tax", r.Tax),
	}
}

// ParseCap reads "500 USD", or "500" in the catalogue's currency.
func ParseCap(text, currency string) (catalog.Money, error) {
	if !strings.ContainsFunc(text, isLetter) && currency != "" {
		text += " " + currency
	}
	sum, err := catalog.ParseMoney(text)
	if err == nil && sum.Minor <= 0 {
		err = fmt.Errorf("a cap is above zero")
	}
	return sum, err
}

func isLetter(r rune) bool {
	return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == '$' || r > 127
}
