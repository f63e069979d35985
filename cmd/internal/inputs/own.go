package inputs

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"loudfor/catalog"
)

// A command that names no parts means those of the folder of its brief, or of
// the folder it is run in. Only where none lie there, or --demo asks for it,
// does the demo answer, and never without saying so.

// Settled is the request with the files of its folder in place of those that it
// does not name; it is looked at once.
func (r Request) Settled() Request {
	if r.settled {
		return r
	}
	r.settled = true
	named := r.Brief + r.Build
	if len(r.Catalog) > 0 || r.Demo || strings.HasPrefix(named, demoPrefix) {
		return r
	}
	here := ""
	folders := []string{here}
	if named != "" && named != "-" && filepath.Dir(named) != "." {
		folders = []string{filepath.Dir(named), here}
	}
	for _, folder := range folders {
		own := catalog.OwnFiles(cmp.Or(folder, "."))
		if len(own.Parts) > 0 || folder == here && named == "" && len(own.Briefs) > 0 {
			r.take(own, folder, named)
			return r
		}
	}
	if named != "" {
		r.From = fmt.Sprintf("%s comes without a catalogue, and no parts lie beside it: these are those of the built-in demo, all invented. Name yours with --catalog.", brief(named))
	}
	return r
}

func brief(name string) string {
	if name == "-" {
		return "The brief"
	}
	return name
}

// Cars are the files of vehicles that a folder gave.
func (r Request) Cars() []string { return r.cars }

// take puts the files of a folder where the command line names none.
func (r *Request) take(own catalog.Own, folder, named string) {
	var words []string
	add := func(what string, names []string) {
		if len(names) > 0 {
			words = append(words, what+" "+strings.Join(names, ", "))
		}
	}
	r.Catalog, r.own = own.Parts, true
	add("parts", own.Parts)
	if r.Vehicles == "" && len(own.Parts) > 0 {
		r.cars = own.Vehicles
		add("vehicles", own.Vehicles)
	}
	if named == "" {
		r.briefs = own.Briefs
		if i := slices.IndexFunc(own.Briefs, func(name string) bool { return filepath.Base(name) == usualBrief }); i >= 0 {
			r.briefs = own.Briefs[i : i+1]
		}
		if len(r.briefs) == 1 {
			r.Brief = r.briefs[0]
			add("brief", r.briefs)
		}
	}
	where := "this folder"
	if folder != "" {
		where = folder
	}
	r.From = fmt.Sprintf("From %s: %s.", where, strings.Join(words, "; "))
	if len(own.Parts) == 0 {
		r.From += " No parts lie here: these are those of the built-in demo, all invented. Name yours with --catalog."
	}
}

// usualBrief is taken where a folder holds several.
const usualBrief = "brief.yaml"

// whichBrief asks for one of several; nil where there is no choice to make.
func (r Request) whichBrief() error {
	if len(r.briefs) < 2 {
		return nil
	}
	return UsageError{fmt.Sprintf("several briefs lie here: %s; name one", strings.Join(r.briefs, ", "))}
}

// foreign says what a sum in another currency means where the demo stands in
// for a catalogue that was not given.
func (j *Job) foreign() error {
	sum, c := j.Brief.Cap.Currency, j.Catalogue.Currency
	if !j.Invented || sum == "" || sum == c {
		return nil
	}
	report := &catalog.Report{}
	report.Add(j.Brief.Problem(catalog.Error, "cap", fmt.Sprintf("your brief is in %s, but no catalogue was given, so the demo's was taken, which is in %s", sum, c),
		"name your catalogue with --catalog, or put it beside the brief; the demo's parts are invented"))
	return report.Err()
}

// voiceless says what to do where nothing could play: the radio in the car is
// what people forget to write down.
func (j *Job) voiceless(build string) *catalog.Report {
	report := &catalog.Report{}
	var sources []string
	for _, p := range j.Catalogue.ByKind(catalog.KindSource) {
		if p.Priced || slices.ContainsFunc(j.Brief.Owned, func(m catalog.Mention) bool { return m.SKU == p.SKU }) {
			return report
		}
		sources = append(sources, p.SKU)
	}
	if build != "" {
		return report
	}
	p := catalog.Problem{Severity: catalog.Warning, Summary: "there is no radio: none is owned, and none can be bought",
		Detail: "add the one that is in the car to the parts, with kind: source, and say --own and its SKU, or owned: [SKU] in the brief", Where: j.Brief.Where}
	if len(sources) > 0 {
		p.Detail = fmt.Sprintf("say --own %s: the radio that is in the car; or owned: [%s] in the brief", sources[0], sources[0])
		if len(sources) > 1 {
			p.Detail += "; there are " + strings.Join(sources, ", ")
		}
	}
	report.Add(p)
	return report
}

// isFolder tells whether a path names a folder.
func isFolder(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.IsDir()
}
