package counter

import (
	"cmp"
	"fmt"
	"maps"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/report"
	"loudfor/cmd/internal/inputs"
	"loudfor/model/cabin"
)

// Every view is an address: the question stands in its query, so that a page
// can be bookmarked, sent and printed. A question is a brief (that of the
// program's start, or of a job in the book) with what the visitor changed, and
// only what differs from the brief stands in the address.
//
// Whatever a query holds, there is a question: what makes no sense is told
// beside the field it came from, and the brief's own value takes its place.

// The names of the query's values.
const (
	keyCap        = "cap"
	keyGoal       = "goal"
	keyPlace      = "place"
	keyOpenings   = "openings"
	keyVehicle    = "vehicle"
	keyFront      = "front"
	keyBoxes      = "boxes"
	keyDrivers    = "drivers"
	keyAmplifiers = "amplifiers"
	keyNever      = "never"
	keyMust       = "must"
	keyStore      = "store"
	keyWorth      = "worth"
	keyJob        = "job"
	keyLanguage   = "lang"
)

const (
	mostText     = 200  // characters of one value; longer ones are no names
	mostMentions = 20   // parts that a query may forbid or demand
	mostCap      = 1e12 // in minor units: as much as a brief may hold
)

// question is what a page answers.
type question struct {
	*stock
	job        inputs.Job
	base       catalog.Brief // what it is without the visitor's changes
	jobID      int64         // of the book; 0: the brief of the start
	customer   string        // of that job
	note       string
	worth      *catalog.Money
	complaints []complaint
	values     url.Values // what differs from base, and nothing else
}

// complaint is what is wrong with one value of a query.
type complaint struct{ Field, Text string }

// ask makes a question of a query. The error is for a base brief that does not
// go with the stock any more.
func (s *stock) ask(base catalog.Brief, jobID int64, query url.Values) (*question, error) {
	q := &question{stock: s, base: base, jobID: jobID, values: url.Values{}}
	job, err := s.Job(base)
	if err != nil {
		return nil, err
	}
	q.job = job
	if jobID != 0 {
		q.values.Set(keyJob, strconv.FormatInt(jobID, 10))
	}
	b := base
	b.Keys = maps.Clone(base.Keys)
	q.money(&b, query)
	q.rules(&b, query)
	// Each value alone is right now; together they may still contradict each
	// other, such as a part that must and must never be in.
	changed, err := s.Job(b)
	if err != nil {
		for _, problem := range changed.Remarks.Problems {
			if problem.Severity == catalog.Error {
				q.complain(fieldOf(b, problem), "%s: %s", problem.Summary, problem.Detail)
			}
		}
		limited := base
		limited.Cap = b.Cap
		if changed, err = s.Job(limited); err != nil {
			return nil, err
		}
	}
	q.job = changed
	q.canonical()
	return q, nil
}

func (q *question) complain(field, format string, args ...any) {
	q.complaints = append(q.complaints, complaint{field, fmt.Sprintf(format, args...)})
}

// fieldOf finds the field that a problem is about by the value that it names.
func fieldOf(b catalog.Brief, p catalog.Problem) string {
	for _, list := range []struct {
		field string
		names []catalog.Mention
	}{{keyMust, b.Must}, {keyNever, b.Never}} {
		for _, m := range list.names {
			if strings.Contains(p.Summary, m.SKU) {
				return list.field
			}
		}
	}
	return ""
}

func (q *question) money(b *catalog.Brief, query url.Values) {
	currency := cmp.Or(q.Catalogue.Currency, b.Cap.Currency)
	if text := one(query, keyCap); text != "" {
		if sum, err := sumOf(text, currency); err != nil {
			q.complain(keyCap, "%v", err)
		} else {
			b.Cap = sum
		}
	}
	if text := one(query, keyWorth); text != "" {
		if sum, err := sumOf(text, currency); err != nil {
			q.complain(keyWorth, "%v", err)
		} else {
			q.worth = &sum
		}
	}
}

func sumOf(text, currency string) (catalog.Money, error) {
	if len(text) > mostText {
		return catalog.Money{}, fmt.Errorf("not a sum of money, such as 250")
	}
	sum, err := inputs.ParseCap(text, currency)
	switch {
	case err != nil:
		return sum, fmt.Errorf("%q is not a sum of money above zero, such as 250", text)
	case sum.Currency != currency:
		return sum, fmt.Errorf("the catalogue is in %s, not in %s", currency, sum.Currency)
	case sum.Minor > mostCap:
		return sum, fmt.Errorf("%s is more than can be reckoned with", sum)
	}
	return sum, nil
}

func (q *question) rules(b *catalog.Brief, query url.Values) {
	if text := one(query, keyGoal); text != "" {
		if goal, ok := catalog.ParseGoal(text); ok && goal.String() == text {
			b.Goal = goal
		} else {
			q.complain(keyGoal, "the goal is reading or music")
		}
	}
	if text := one(query, keyFront); text != "" {
		if rule, ok := frontRules[text]; ok {
			b.Front = rule
		} else {
			q.complain(keyFront, "the front speakers keep, replace or either")
		}
	}
	q.car(b, query)
	q.count(&b.Boxes, query, keyBoxes, 8)
	q.count(&b.Drivers, query, keyDrivers, 16)
	q.count(&b.Amplifiers, query, keyAmplifiers, 8)
	q.mentions(&b.Never, query, keyNever)
	q.mentions(&b.Must, query, keyMust)
	if stores := some(query, keyStore); len(stores) > 0 {
		known := q.stores
		b.Stores = nil
		for _, store := range stores {
			if !slices.Contains(known, store) {
				q.complain(keyStore, "no part is sold by %q", clipped(store))
			} else if !slices.Contains(b.Stores, store) {
				b.Stores = append(b.Stores, store)
			}
		}
		slices.Sort(b.Stores)
		if len(b.Stores) == len(known) {
			b.Stores = nil // all of them: anywhere
		}
	}
}

var frontRules = map[string]catalog.FrontRule{
	catalog.FrontKeep.String(): catalog.FrontKeep, catalog.FrontReplace.String(): catalog.FrontReplace, catalog.FrontEither.String(): catalog.FrontEither,
}

// car settles the vehicle first, since its places and openings are its own.
func (q *question) car(b *catalog.Brief, query url.Values) {
	if name := one(query, keyVehicle); name != "" && name != b.Vehicle {
		if _, ok := catalog.FindVehicle(name, q.Vehicles); ok && len(name) <= mostText {
			b.Vehicle, b.Space, b.Alternator = name, catalog.Size3{}, 0 // those of the car
		} else {
			q.complain(keyVehicle, "no vehicle is called %q", clipped(name))
		}
	}
	vehicle, ok := catalog.FindVehicle(b.Vehicle, q.Vehicles)
	if !ok || vehicle.OpenField {
		return
	}
	settle := func(field string, value *string, known []string) {
		if text := one(query, field); text != "" && slices.Contains(known, text) {
			*value = text
		} else if text != "" && text != *value {
			q.complain(field, "%s has no %q", vehicle.Name, clipped(text))
		}
		if !slices.Contains(known, *value) && b.Vehicle != q.base.Vehicle && len(known) > 0 {
			*value = known[0] // the other car has no such place
		}
	}
	settle(keyPlace, &b.Place, vehicle.Body.PlaceNames())
	settle(keyOpenings, &b.Openings, append(vehicle.Body.OpeningNames(), openWays(vehicle.Body, one(query, keyOpenings), b.Openings)...))
}

// openWays are the openings that the page offers beside the car's own: some made
// of them by words, and those asked for, if the car has them.
func openWays(body cabin.Body, asked ...string) []string {
	names := body.DerivedNames()
	for _, name := range asked {
		if _, ok := body.Openings(name); ok && len(name) <= mostText && !slices.Contains(names, name) && !slices.Contains(body.OpeningNames(), name) {
			names = append(names, name)
		}
	}
	return names
}

func (q *question) count(value *int, query url.Values, field string, most int) {
	text := one(query, field)
	if text == "" {
		return
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > most {
		q.complain(field, "a number from 1 to %d", most)
		return
	}
	*value = n
}

// mentions reads SKUs, several in one value or in several.
func (q *question) mentions(to *[]catalog.Mention, query url.Values, field string) {
	texts, stated := query[field]
	if !stated {
		return
	}
	var list []catalog.Mention
	for _, text := range texts {
		for _, sku := range strings.Split(text, ",") {
			sku = strings.TrimSpace(sku)
			if sku == "" || slices.ContainsFunc(list, func(m catalog.Mention) bool { return m.SKU == sku }) {
				continue
			}
			switch {
			case q.Catalogue.Part(sku) == nil:
				q.complain(field, "no part is called %q", clipped(sku))
			case len(list) == mostMentions:
				q.complain(field, "no more than %d parts", mostMentions)
				*to = list
				return
			default:
				list = append(list, catalog.Mention{SKU: sku, Count: 1})
			}
		}
	}
	*to = list
}

// one is the first value of a name, without the space around it.
func one(query url.Values, name string) string { return strings.TrimSpace(query.Get(name)) }

// some are the values of a name that are not empty.
func some(query url.Values, name string) (texts []string) {
	for _, text := range query[name] {
		if text = strings.TrimSpace(text); text != "" && len(texts) <= mostMentions {
			texts = append(texts, text)
		}
	}
	return texts
}

// visible leaves out what acts where it is shown.
func visible(text string) string {
	return strings.Map(func(r rune) rune {
		if report.Acts(r) {
			return -1
		}
		return r
	}, text)
}

// clipped keeps what is repeated to the visitor short, and leaves out what acts
// where it is shown: a form ends lines with CR LF, and who pastes a name sees no
// more than its letters.
func clipped(text string) string {
	text = visible(text)
	if r := []rune(text); len(r) > 40 {
		return string(r[:40]) + "..."
	}
	return text
}
