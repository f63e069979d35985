package counter

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/cmd/internal/facts"
)

// The form: everything about the question that can be changed at the counter.
// It is a plain form with a button; the script only saves pressing it.

type form struct {
	Action     string
	Kept       []kept // what the form does not show and must not lose
	Cap        string
	Sum        string // the cap in the visitor's way
	Says       string // of the slider: the sum, and what it reaches
	Sign       string // of the currency
	Least      string
	Most       string
	Step       string
	Goals      []choice
	Fronts     []choice
	Openings   []choice
	Places     []choice
	Vehicles   []choice
	Stores     []choice
	Fields     []field // all other keys of the brief
	Worth      string
	Changed    bool // something under "more rules" differs from the brief
	Complaints map[string][]string
	Other      []string // complaints about no field of the form
	File       string   // address of the brief as a file
	Book       bool     // the brief can be kept in the job book
	Whole      []kept   // the whole question, for a form of another kind
	Reset      string   // the address without the changes; empty: there are none
	Name       string   // of the brief
	Car        string
	Line       string // the rules in a few words
}

type kept struct{ Name, Value string }

// field is one key of the brief, as the table of its keys describes it.
type field struct {
	Key, Label, Hint, Sample string
	Look                     string   // text, lines, number, check or parts
	Values                   []string // one, but of parts, which have an empty one more
	Least, Most              string   // of a number
	Wrong                    []string
}

// fieldOf shows a key of a brief.
func fieldOf(b *catalog.Brief, s document.Spec) field {
	f := field{Key: s.Key, Label: facts.Capital(strings.ReplaceAll(s.Key, "_", " ")), Hint: s.Help, Sample: cmp.Or(s.Default, s.Example), Look: "text", Values: b.Said(s.Key)}
	switch s.Shape {
	case document.Whole:
		f.Look = "number"
		f.Least, f.Most, _ = strings.Cut(s.Range, "..")
		if len(f.Values) == 0 && s.Default != "" {
			f.Values = []string{s.Default}
		}
	case document.Flag:
		f.Look = "check"
	case document.Groups:
		f.Look = "lines"
	case document.Texts:
		f.Look, f.Values = "parts", append(f.Values, "")
	}
	if f.Look != "parts" && len(f.Values) == 0 {
		f.Values = []string{""}
	}
	return f
}

// Ticked tells whether a box is ticked.
func (f field) Ticked() bool { return f.Values[0] == "yes" }

// hasField tells whether the form has a field under which a complaint stands.
func hasField(key string) bool {
	return !slices.Contains(placed, key) && slices.ContainsFunc(catalog.BriefSpecs(), func(s document.Spec) bool { return s.Key == key })
}

// placed are the keys that the form shows in their own way.
var placed = []string{keyCap, keyGoal, keyFront, keyVehicle, keyPlace, keyOpenings, "stores", "steps"}

type choice struct {
	Value, Words string
	Chosen       bool
}

// form shows a question on the view with a path.
func (c *Counter) form(v *visit, q *question, path string) *form {
	b := q.job.Brief
	f := &form{
		Action: path, Cap: b.Cap.Decimal(), Sum: v.voice.Money(b.Cap), Says: v.voice.Money(b.Cap), Sign: b.Cap.Currency,
		Name: b.Name, Car: carWords(q), Complaints: map[string][]string{},
	}
	if q.worth != nil {
		f.Worth = q.worth.Decimal()
	}
	reach := q.reach()
	step := sliderStep(reach)
	f.Step, f.Least, f.Most = step.Decimal(), step.Decimal(), reach.Decimal()
	for _, complaint := range q.complaints {
		if complaint.Field != keyCap && complaint.Field != keyWorth && !hasField(complaint.Field) {
			f.Other = append(f.Other, strings.TrimPrefix(complaint.Field+": "+complaint.Text, ": "))
		} else {
			f.Complaints[complaint.Field] = append(f.Complaints[complaint.Field], complaint.Text)
		}
	}
	f.File, f.Book, f.Whole = q.link(pathBriefFile), c.book != nil, hidden(q)
	for _, name := range []string{keyJob, keyNew, keyLanguage, keyThen} {
		for _, value := range some(q.values, name) {
			f.Kept = append(f.Kept, kept{name, value})
		}
	}
	if q.changed() {
		f.Reset = path
		if job := q.values.Get(keyJob); job != "" {
			f.Reset += "?" + keyJob + "=" + job
		}
	}
	f.choices(q)
	f.Line = fmt.Sprintf("%s, %s, %s, front: %s", b.Goal, carWords(q), facts.Where(b.Place, b.Openings), b.Front)
	more := func(key string) {
		_, differs := q.values[key]
		f.Changed = f.Changed || differs || len(f.Complaints[key]) > 0
	}
	for _, s := range catalog.BriefSpecs() {
		if !slices.Contains(placed, s.Key) {
			one := fieldOf(&b, s)
			one.Wrong = f.Complaints[s.Key]
			f.Fields = append(f.Fields, one)
			more(s.Key)
		}
	}
	more(keyStore)
	more(keyWorth)
	return f
}

func (f *form) choices(q *question) {
	b := q.job.Brief
	f.Goals = choices(b.Goal.String(), "reading", "Reading", "music", "Music")
	f.Fronts = choices(b.Front.String(), "keep", "Keep", "replace", "New", "either", "Either")
	names := catalog.VehicleNames(q.Vehicles)
	for _, name := range names {
		f.Vehicles = append(f.Vehicles, choice{name, name, name == b.Vehicle})
	}
	if !q.job.Vehicle.OpenField {
		places := q.job.Vehicle.Body.PlaceNames()
		if !slices.Contains(places, b.Place) {
			places = append(places, b.Place) // a point that the brief names
		}
		for _, name := range places {
			f.Places = append(f.Places, choice{name, facts.Capital(name), name == b.Place})
		}
		body := q.job.Vehicle.Body
		for _, name := range append(body.OpeningNames(), openWays(body, b.Openings)...) {
			f.Openings = append(f.Openings, choice{name, facts.Capital(name), name == b.Openings})
		}
	}
	for _, store := range q.stores {
		f.Stores = append(f.Stores, choice{store, store, len(b.Stores) == 0 || slices.Contains(b.Stores, store)})
	}
	if len(f.Stores) == 1 {
		f.Stores = nil
	}
}

// choices makes them of values and words in turn.
func choices(chosen string, pairs ...string) (all []choice) {
	for i := 0; i+1 < len(pairs); i += 2 {
		all = append(all, choice{pairs[i], pairs[i+1], pairs[i] == chosen})
	}
	return all
}

// sliderStep makes about two hundred stops of a slider, on round sums.
func sliderStep(reach catalog.Money) catalog.Money {
	const stops = 200
	whole := int64(1) // one unit of the currency in minor ones
	for range decimals(reach) {
		whole *= 10
	}
	step := whole
	for _, factor := range []int64{1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 10_000, 100_000, 1_000_000} {
		step = whole * factor
		if reach.Minor/step <= stops {
			break
		}
	}
	return catalog.Money{Minor: step, Currency: reach.Currency}
}

// decimals is how many its sums are written with.
func decimals(m catalog.Money) int {
	_, after, _ := strings.Cut(m.Decimal(), ".")
	return len(after)
}

func carWords(q *question) string {
	if q.job.Vehicle.OpenField {
		return "open field, 1 m away"
	}
	return q.job.Vehicle.Name
}
