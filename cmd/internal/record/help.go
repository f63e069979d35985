package record

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"loudfor/cmd/internal/table"
)

// What "loudfor help json" says of a key stands at its field, under the tag doc, so
// that no key goes without and none is described that is gone. A shape is described
// where it comes up first.

const introduction = `With --json the answer is one JSON document on standard output, and nothing
else. An error is a JSON document too; the same words go to standard error. Where
no build exists for a brief, commands that need one (versus, sheet, box, book add)
answer with the document of pick; where no box can be built, with that of an error.

An interrupt, or a time limit, never makes a false answer: pick, ladder and why
answer with what was proven until then and say so in "stop", "stopped" or, of the
answers beside the first, in "whole"; all other commands, and these before there is
anything to tell, end with status 1 and the document of an error. What runs until
it is interrupted (serve, --watch) ends with status 0.

Each document names its shape in "schema". Under one number keys may be added;
none is renamed, removed or given another meaning. Money is an exact decimal
number in the document's currency. Levels are decibels re 20 uPa, rounded to
0.001; other figures have six significant digits. Units are in the key names.
`

// document is what a command answers with.
type document struct {
	title  string
	schema string
	of     any
	said   string // below the keys
}

var documents = []document{
	{"loudfor pick --json", PickSchema, Pick{}, ""},
	{"loudfor ladder --json", LadderSchema, Ladder{}, ""},
	{"loudfor grow --json", GrowSchema, Grow{}, "Where nothing can be built for the money of the first step: the document of pick, exit status 3."},
	{"loudfor why --json", WhySchema, Why{}, ""},
	{"loudfor versus --json", VersusSchema, Versus{}, ""},
	{"loudfor reprice --json, loudfor book reprice --json", RepriceSchema, Reprice{}, ""},
	{"loudfor book add --json, loudfor book quote --json", BookedSchema, Booked{}, ""},
	{"loudfor book list --json", JobsSchema, Jobs{}, "book show --json gives the document of pick as it was when it was quoted, byte for byte."},
	{"loudfor book prices --json", PricesSchema, RecordedPrices{}, ""},
	{"loudfor book mark --json", MarkedSchema, Marked{}, ""},
	{"loudfor book remove --json, book restore --json, book note --json", RemovedSchema, ChangedJob{}, fmt.Sprintf("The schema of restore is %q, that of note %q.", RestoredSchema, NotedSchema)},
	{"loudfor box --json", BoxSchema, BoxDocument{}, ""},
	{"loudfor meter list --json", MeterListSchema, MeterList{}, ""},
	{"loudfor meter add --json", MeterAddSchema, MeterAdd{}, ""},
	{"loudfor meter remove --json", MeterRemoveSchema, MeterRemove{}, ""},
	{"loudfor meter compare --json", MeterCompareSchema, MeterCompare{}, ""},
	{"loudfor meter learn --json", MeterLearnSchema, MeterLearn{}, ""},
	{"loudfor meter plan --json", MeterPlanSchema, MeterPlan{}, ""},
	{"loudfor predict --json", PredictSchema, Predict{}, ""},
	{"loudfor new --json", NewSchema, New{}, ""},
	{"loudfor check --json", CheckSchema, Check{}, ""},
	{"loudfor audit --json", AuditSchema, Audit{}, ""},
	{"loudfor import --json", ImportSchema, Import{}, ""},
	{"loudfor refresh --json", RefreshSchema, Refresh{}, ""},
	{"loudfor refresh --dry-run --json", EstimateSchema, Estimate{}, ""},
	{"loudfor refresh status --json", RefreshStatusSchema, RefreshStatus{}, ""},
	{"loudfor serve --json (one document when the page can be reached)", ServeSchema, Serve{}, `The page itself answers requests with "Accept: application/json": / as pick, /ladder as ladder, /build and /quote as predict, /book {schema: "loudfor/page-book/1", jobs: [{job, name, customer, quoted, car, note, marked, state, differs, waiting}]}: state tells what is different today, marked what became of the quote; /job {schema: "loudfor/page-job/1", quotes: [{quote, quoted, state, steps}]} and what /book says of the job; /given the document of a quote as it was given. POST /book answers {schema: "loudfor/booked/1", job, quote}, POST /job {schema: "loudfor/job-changed/1", job}.`},
	{"loudfor version --json", VersionSchema, Version{}, ""},
	{"any error", ErrorSchema, Failure{}, ""},
}

// Help is the text of "loudfor help json", for a page so wide. The sheet's shape stands
// beside what it is made of, in package install.
func Help(width int, sheetSchema string, sheet any) string {
	h := help{width: width, told: map[reflect.Type]bool{}}
	h.WriteString(table.Fit(width, introduction))
	all := slices.Insert(slices.Clone(documents), len(documents)-1, document{"loudfor sheet --json", sheetSchema, sheet, "Where no build exists for a brief: the document of pick, exit status 3."})
	for _, d := range all {
		h.WriteString("\n" + d.title + "\n")
		h.line("  ", "schema", fmt.Sprintf("%q", d.schema))
		h.keys(reflect.TypeOf(d.of), "  ")
		if d.said != "" {
			h.WriteString(table.Indent(width, "  ", d.said))
		}
	}
	return strings.Replace(h.String(), "REASONS", strings.Join(reasonKeys[:], ", "), 1)
}

type help struct {
	strings.Builder
	width int
	told  map[reflect.Type]bool // shapes that were described
}

// key is a field as the document has it.
type key struct {
	name, doc string
	shape     reflect.Type // a struct of ours inside it; nil: none
	list      bool         // of such
}

// keysOf are those of a struct, with those of what it embeds. Of what was described
// before they have no words.
func (h *help) keysOf(t reflect.Type) (out []key) {
	for f := range t.Fields() {
		if f.Anonymous {
			inner := f.Type
			if inner.Kind() == reflect.Pointer {
				inner = inner.Elem()
			}
			out = append(out, h.keysOf(inner)...)
			continue
		}
		k := key{doc: f.Tag.Get("doc"), shape: f.Type}
		k.name, _, _ = strings.Cut(f.Tag.Get("json"), ",")
		for k.shape.Kind() == reflect.Pointer || k.shape.Kind() == reflect.Slice {
			k.list = k.list || k.shape.Kind() == reflect.Slice
			k.shape = k.shape.Elem()
		}
		if k.shape.Kind() != reflect.Struct || k.shape.PkgPath() != t.PkgPath() {
			k.shape = nil
		}
		if h.told[t] {
			k.doc = ""
		}
		out = append(out, k)
	}
	return out
}

// keys describes those of a struct. What has words at its own keys is described key by
// key, further in; of anything else the keys stand in braces.
func (h *help) keys(t reflect.Type, indent string) {
	var above []string // those that were described before
	list := h.keysOf(t)
	h.tell(t)
	for i, k := range list {
		if k.name == "schema" {
			continue
		}
		first := k.shape != nil && !h.told[k.shape]
		deep := first && slices.ContainsFunc(h.keysOf(k.shape), func(k key) bool { return k.doc != "" })
		text := k.doc
		if first && !deep {
			text = strings.TrimSuffix(h.braces(k)+": "+k.doc, ": ")
		}
		if text == "" {
			above = append(above, k.name)
		}
		if len(above) > 0 && (text != "" || i+1 == len(list)) {
			h.WriteString(table.Indent(h.width, indent, strings.Join(above, ", ")+" as above"))
			above = nil
		}
		if text != "" {
			h.line(indent, k.name, text)
		}
		if deep {
			h.keys(k.shape, indent+"  ")
		}
	}
}

// braces are the keys of a shape on one line.
func (h *help) braces(k key) string {
	h.tell(k.shape)
	var names []string
	for _, inner := range h.keysOf(k.shape) {
		if inner.shape != nil && !h.told[inner.shape] {
			inner.name += ": " + h.braces(inner)
		}
		names = append(names, inner.name)
	}
	text := "{" + strings.Join(names, ", ") + "}"
	if k.list {
		text = "[" + text + "]"
	}
	return text
}

// tell marks a shape, and those that it embeds, as described.
func (h *help) tell(t reflect.Type) {
	h.told[t] = true
	for f := range t.Fields() {
		if f.Anonymous && f.Type.Kind() == reflect.Struct {
			h.tell(f.Type)
		}
	}
}

// line is a key in a column of its own, and what it holds.
func (h *help) line(indent, name, text string) {
	h.WriteString(table.Indent(h.width, fmt.Sprintf("%s%-12s  ", indent, name), text))
}
