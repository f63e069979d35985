// Package metering gathers what the meter commands work on: readings from
// files or from the job book, the car that they were taken in, and the builds
// that were metered, each predicted once.
//
//	job, err := metering.Load(ctx, metering.Request{Files: []string{"monday.yaml"}})
//	fit, err := job.Study.Fit()
//
// A build of a reading is a file (beside the readings), demo:NAME, or its parts
// in words. Everything wrong in any file comes back in one error, each mistake
// at its place. Limit: the readings of one run are of one car.
package metering

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/readings"
	"loudfor/catalog/units"
	"loudfor/cmd/internal/inputs"
	"loudfor/optimizer"
	"loudfor/optimizer/learning"
	"loudfor/optimizer/workshop"
)

// Request is what the command line asks for.
type Request struct {
	Inputs inputs.Request // catalogue, vehicles, the name of the vehicle, standard input
	Files  []string       // files of readings, "-", "demo:NAME"
	// Booked are readings of the job book, beside those of the files.
	Booked []readings.Reading
	// Build is metered in place of any reading, for a plan without readings.
	Build string
}

// Job is what a meter command works on.
type Job struct {
	Vehicle   catalog.Vehicle
	Catalogue *catalog.Catalogue
	Invented  bool
	From      string // see inputs.Request
	Readings  []readings.Reading
	Cases     []Metered
	Study     *learning.Study
	Remarks   *catalog.Report
	// Place and Openings are those of the first reading or of the build's file.
	Place, Openings string
}

// Metered is one build that was metered.
type Metered struct {
	Build optimizer.Build
	Words string            // its parts, mode and load
	Built *catalog.BuiltBox // that Words only names; nil: every box is bought as it is
}

// roomTemperature is what readings are taken at, Celsius.
const roomTemperature = 20.0

// Load reads all files and predicts all builds.
func Load(ctx context.Context, r Request) (*Job, error) {
	all := &catalog.Report{}
	r.Inputs = r.Inputs.Settled()
	s := Shelf{Invented: len(r.Inputs.Catalog) == 0, From: r.Inputs.From}
	c, report := r.Inputs.Parts()
	all.Merge(report)
	s.Catalogue = c
	s.Vehicles = r.Inputs.ReadVehicles(all)
	list := append([]readings.Reading{}, r.Booked...)
	for _, name := range r.Files {
		read, report, err := r.Inputs.Readings(name)
		if err != nil {
			return nil, err
		}
		all.Merge(report)
		list = append(list, read...)
	}
	if all.Sort(0); all.Err() != nil {
		return nil, all.Err()
	}
	return of(ctx, s, &r, list, all)
}

// Shelf is what readings are held against.
type Shelf struct {
	Catalogue *catalog.Catalogue
	Vehicles  []catalog.Vehicle
	Invented  bool
	From      string
}

// Of is Load with parts and cars that were read before. Of the request it uses
// Inputs.Vehicle and Build, and Inputs to find the builds of the readings.
func Of(ctx context.Context, s Shelf, r Request, list []readings.Reading) (*Job, error) {
	return of(ctx, s, &r, list, &catalog.Report{})
}

func of(ctx context.Context, s Shelf, r *Request, list []readings.Reading, all *catalog.Report) (*Job, error) {
	j := &Job{Invented: s.Invented, From: s.From, Catalogue: s.Catalogue}
	name, err := oneVehicle(r.Inputs.Vehicle, list)
	if err != nil {
		return nil, err
	}
	list = slices.DeleteFunc(list, func(x readings.Reading) bool { return !strings.EqualFold(x.Vehicle, name) })
	j.Readings = list
	j.findVehicle(name, s.Vehicles, all)
	if all.Err() == nil {
		all.Merge(readings.Check(list, j.Vehicle))
	}
	if all.Sort(0); all.Err() != nil {
		return nil, all.Err()
	}
	if err := j.study(ctx, r, all); err != nil {
		return nil, err
	}
	all.Sort(0)
	j.Remarks = all
	return j, all.Err()
}

// oneVehicle is the car that all readings are of.
func oneVehicle(asked string, list []readings.Reading) (string, error) {
	if asked != "" {
		return asked, nil
	}
	var names []string
	for _, r := range list {
		if !slices.ContainsFunc(names, func(n string) bool { return strings.EqualFold(n, r.Vehicle) }) {
			names = append(names, r.Vehicle)
		}
	}
	switch len(names) {
	case 0:
		return "", inputs.UsageError{Text: "there is no reading: name a file of readings, or a vehicle with --vehicle"}
	case 1:
		return names[0], nil
	}
	return "", inputs.UsageError{Text: "the readings are of several cars (" + strings.Join(names, ", ") + "): choose one with --vehicle"}
}

func (j *Job) findVehicle(name string, vehicles []catalog.Vehicle, all *catalog.Report) {
	complain := func(summary, detail string) {
		if len(j.Readings) > 0 {
			all.Add(j.Readings[0].Problem(catalog.Error, "vehicle", summary, detail))
			return
		}
		all.Add(catalog.Problem{Summary: summary, Detail: detail, Where: catalog.Position{File: "--vehicle"}, Text: name})
	}
	v, ok := catalog.FindVehicle(name, vehicles)
	switch {
	case !ok:
		names := catalog.VehicleNames(vehicles)
		detail := "the vehicles are " + strings.Join(names, ", ")
		if near := units.Nearest(name, names); near != "" {
			detail = fmt.Sprintf("did you mean %q? %s", near, detail)
		}
		complain(fmt.Sprintf("no vehicle is called %q", name), detail)
	case v.OpenField:
		complain("readings on open ground teach nothing about a car", "name the car that they were taken in")
	}
	j.Vehicle = v
}

// study predicts each build once and brings all together.
func (j *Job) study(ctx context.Context, r *Request, all *catalog.Report) error {
	type key struct {
		build, folder string
		built         *catalog.BuiltBox
	}
	number := map[key]int{}
	var cases []learning.Case
	taken := make([]learning.Reading, len(j.Readings))
	add := func(words string, at *readings.Reading, place, openings string) int {
		file, problem := r.Inputs.MeteredBuild(words, at.Source("build"))
		c := j.Catalogue
		if file.Built == nil {
			file.Built = at.Built
		}
		if problem == nil {
			c, problem = withBuilt(c, &file)
		}
		if problem == nil {
			problem = unknownParts(c, file.Parts)
		}
		if problem != nil {
			if problem.Where == (catalog.Position{}) { // it is about the words
				*problem = at.Problem(catalog.Error, "build", problem.Summary, problem.Detail)
			}
			all.Add(*problem)
			return 0
		}
		if place != "" {
			file.Brief.Place, file.Brief.Openings = place, openings
		}
		file.Brief.Vehicle = j.Vehicle.Name
		if j.Place == "" {
			j.Place, j.Openings = file.Brief.Place, file.Brief.Openings
		}
		b, err := optimizer.Predict(ctx, optimizer.Problem{Catalogue: c, Brief: file.Brief, Vehicle: j.Vehicle, Bare: true}, file.Parts, file.Mode, file.Load)
		if err != nil {
			all.Add(at.Problem(catalog.Error, "build", "the build cannot be predicted: "+strings.ReplaceAll(err.Error(), "\n", "; "), "mend the build, or the catalogue"))
			return 0
		}
		j.Cases = append(j.Cases, Metered{b, readings.Words(file.Parts, file.Mode, file.Load), file.Built})
		cases = append(cases, learning.CaseOf(fmt.Sprintf("build %d", len(cases)+1), b, file.Brief))
		return len(cases) - 1
	}
	for i, x := range j.Readings {
		k := key{x.Build, x.Where.File, x.Built}
		if _, ok := number[k]; !ok {
			number[k] = add(x.Build, &j.Readings[i], x.Place, x.Openings)
		}
		taken[i] = learning.Reading{Case: number[k], Place: x.Place, Openings: x.Openings, Hz: x.Frequency, DB: x.Level,
			Tolerance: x.Tolerance, Volts: x.Volts, Amps: x.Amps, Supply: x.Supply}
	}
	if r.Build != "" {
		add(r.Build, &readings.Reading{Where: catalog.Position{File: "--build"}}, "", "")
	}
	if ctx.Err() != nil {
		return ctx.Err() // what was not predicted is no fault of a file
	}
	if all.Err() != nil {
		return all.Err()
	}
	j.merge(taken, &cases)
	var err error
	j.Study, err = learning.NewStudy(j.Vehicle.Body, roomTemperature, cases, taken)
	return err
}

// merge makes one case of builds that are the same in words, whatever file
// named them.
func (j *Job) merge(taken []learning.Reading, cases *[]learning.Case) {
	first := make([]int, len(j.Cases))
	var kept []Metered
	var of []learning.Case
	for i, m := range j.Cases {
		k := slices.IndexFunc(kept, func(n Metered) bool { return n.Words == m.Words && same(n.Built, m.Built) })
		if k < 0 {
			k = len(kept)
			kept, of = append(kept, m), append(of, (*cases)[i])
			of[k].Name = fmt.Sprintf("build %d", k+1)
		}
		first[i] = k
	}
	for i := range taken {
		taken[i].Case = first[taken[i].Case]
	}
	j.Cases, *cases = kept, of
}

// same tells whether two builds have the same box built, or none, whatever files
// describe it.
func same(a, b *catalog.BuiltBox) bool {
	if a == nil || b == nil {
		return a == b
	}
	x, y := *a, *b
	x.Where, y.Where = catalog.Position{}, catalog.Position{}
	return x == y
}

// withBuilt is the catalogue with the box that a build file or a quote describes.
func withBuilt(c *catalog.Catalogue, file *catalog.BuildFile) (*catalog.Catalogue, *catalog.Problem) {
	if file.Built == nil {
		return c, nil
	}
	box, err := workshop.Make(c, &file.Brief, *file.Built)
	if err != nil {
		return c, &catalog.Problem{Summary: "the box of the build: " + err.Error(), Detail: "mend the build file, or the catalogue"}
	}
	return c.With(box.Part), nil
}

func unknownParts(c *catalog.Catalogue, parts []catalog.Mention) *catalog.Problem {
	var skus []string
	for _, p := range c.Parts {
		skus = append(skus, p.SKU)
	}
	for _, m := range parts {
		if c.Part(m.SKU) != nil {
			continue
		}
		detail := "name a build file, demo:NAME, or parts of the catalogue parted by commas"
		if near := units.Nearest(m.SKU, skus); near != "" {
			detail = fmt.Sprintf("did you mean %q? ", near) + detail
		}
		return &catalog.Problem{Summary: fmt.Sprintf("the build is not known: no part of the catalogue is called %q", m.SKU), Detail: detail}
	}
	return nil
}
