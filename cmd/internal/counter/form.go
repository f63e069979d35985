package counter

import (
	"fmt"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
)

// The form: everything about the question that can be changed at the counter.
// It is a plain form with a button; the script only saves pressing it.

type form struct {
	Action     string
	Kept       []kept // what the form does not show and must not lose
	Cap        string
	Sum        string // the cap in the visitor's way
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
	Boxes      string
	Drivers    string
	Amplifiers string
	Never      string
	Must       string
	Worth      string
	Changed    bool // something under "more rules" differs from the brief
	Complaints map[string][]string
	Other      []string // complaints about no field of the form
	Reset      string   // the address without the changes; empty: there are none
	Name       string   // of the brief
	Car        string
	Line       string // the rules in a few words
}

type kept struct{ Name, Value string }

type choice struct {
	Value, Words string
	Chosen       bool
}

// form shows a question on the view with a path.
func (c *Counter) form(v *visit, q *question, path string) *form {
	b := q.job.Brief
	f := &form{
		Action: path, Cap: b.Cap.Decimal(), Sum: v.voice.Money(b.Cap), Sign: b.Cap.Currency,
		Boxes: fmt.Sprint(b.Boxes), Drivers: fmt.Sprint(b.Drivers), Amplifiers: fmt.Sprint(b.Amplifiers),
		Never: skus(b.Never), Must: skus(b.Must), Name: b.Name, Car: carWords(q), Complaints: map[string][]string{},
	}
	if q.worth != nil {
		f.Worth = q.worth.Decimal()
	}
	reach := q.reach()
	step := sliderStep(reach)
	f.Step, f.Least, f.Most = step.Decimal(), step.Decimal(), reach.Decimal()
	for _, complaint := range q.complaints {
		if complaint.Field == "" {
			f.Other = append(f.Other, complaint.Text)
		} else {
			f.Complaints[complaint.Field] = append(f.Complaints[complaint.Field], complaint.Text)
		}
	}
	for _, name := range []string{keyJob, keyLanguage} {
		if value := q.values.Get(name); value != "" {
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
	for _, name := range []string{keyBoxes, keyDrivers, keyAmplifiers, keyNever, keyMust, keyStore, keyWorth} {
		_, differs := q.values[name]
		f.Changed = f.Changed || differs || len(f.Complaints[name]) > 0
	}
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
		for _, name := range q.job.Vehicle.Body.PlaceNames() {
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
