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
	"loudfor/catalog/document"
	"loudfor/catalog/report"
	"loudfor/cmd/internal/facts"
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
	keyCap      = "cap"
	keyGoal     = "goal"
	keyPlace    = "place"
	keyOpenings = "openings"
	keyVehicle  = "vehicle"
	keyFront    = "front"
	keyOwned    = "owned"
	keyNever    = "never"
	keyMust     = "must"
	keyStore    = "store"
	keySpace    = "space"
	keyWorth    = "worth"
	keyJob      = "job"
	keyNew      = "new" // a brief from nothing
	keyThen     = "then"
	keyLanguage = "lang"
)

// plainKeys are the keys of a brief that are read and written as the brief's own
// file has them: all but those whose values are names that the catalogue or the
// car has to know, and the cap, which may come without a currency.
var plainKeys = func() (keys []document.Spec) {
	named := []string{keyCap, keyVehicle, keyPlace, keyOpenings, keyOwned, keyMust, keyNever, "stores", "steps"}
	for _, s := range catalog.BriefSpecs() {
		if !slices.Contains(named, s.Key) {
			keys = append(keys, s)
		}
	}
	return keys
}()

const (
	mostText     = 200  // characters of one value; longer ones are no names
	mostWork     = 2000 // of work that is paid for, and of taxes
	mostMentions = 40   // parts that a query may own, forbid or demand
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
	b := q.read(query)
	// Each value alone is right now; together they may still contradict each
	// other, such as a part that must and must never be in. Those that do are
	// left out.
	changed, err := s.sound(b)
	for rounds := 0; err != nil && rounds < mostRounds; rounds++ {
		told := q.complaints
		for _, problem := range changed.Remarks.Problems {
			if c := (complaint{problem.Where.File, problem.Summary + ": " + problem.Detail}); problem.Severity == catalog.Error && !slices.Contains(told, c) {
				told = append(told, c)
			}
		}
		query = maps.Clone(query)
		for _, c := range told {
			delete(query, c.Field)
		}
		b = q.read(query)
		q.complaints = told
		changed, err = s.sound(b)
	}
	if err != nil { // the base's own values go with nothing that was asked but the sum
		limited := base
		limited.Cap, limited.Steps = b.Cap, nil
		if changed, err = s.Job(limited); err != nil {
			return nil, err
		}
	}
	q.job = changed
	q.canonical()
	return q, nil
}

// sound holds a brief against itself and the shelf.
func (s *stock) sound(b catalog.Brief) (inputs.Job, error) {
	job, err := s.Job(b)
	if found := b.Wish(); found.Err() != nil {
		job.Remarks.Merge(found)
		err = job.Remarks.Err()
	}
	return job, err
}

// mostRounds is how often what contradicts is looked for: a value that goes may
// have been why another one was right.
const mostRounds = 3

// read lays the query's values over the base.
func (q *question) read(query url.Values) catalog.Brief {
	b := q.base
	if b.Keys = maps.Clone(b.Keys); b.Keys == nil {
		b.Keys = map[string]catalog.Position{}
	}
	q.complaints = nil
	q.money(&b, query)
	q.steps(&b, query)
	q.car(&b, query)
	for _, s := range plainKeys {
		texts, stated := query[s.Key]
		if b.Vehicle != q.base.Vehicle && (s.Key == keySpace || s.Key == "alternator") && slices.Equal(texts, q.base.Said(s.Key)) {
			continue // that of the car before
		}
		if stated && len(texts) > 0 {
			q.say(&b, s.Key, texts[len(texts)-1:]) // behind a box that is ticked stands what it means unticked
		}
	}
	for _, key := range []string{keyOwned, keyMust, keyNever} {
		if texts, stated := query[key]; stated {
			q.mentions(&b, key, texts)
		}
	}
	q.shops(&b, query)
	return b
}

func (q *question) complain(field, format string, args ...any) {
	q.complaints = append(q.complaints, complaint{field, fmt.Sprintf(format, args...)})
}

// say gives one key of the brief a value, or tells what is wrong with it.
func (q *question) say(b *catalog.Brief, key string, texts []string) *question {
	longest := mostText
	if key == "labour" || key == "tax" {
		longest = mostWork
	}
	for _, text := range texts {
		if len(text) > longest {
			q.complain(key, "no more than %d characters", longest)
			return q
		}
	}
	for _, problem := range b.Say(key, texts...).Problems {
		q.complain(key, "%s; %s", problem.Summary, problem.Detail)
	}
	return q
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

// steps are the sums that come later, as the query has them or the brief: the cap is
// what comes before them, wherever it is moved.
func (q *question) steps(b *catalog.Brief, query url.Values) {
	then := some(query, keyThen)
	if _, stated := query[keyThen]; !stated {
		then = laterSums(b)
	}
	if b.Steps = nil; len(then) == 0 {
		return
	}
	for _, text := range then {
		if _, err := sumOf(strings.TrimPrefix(text, "+"), b.Cap.Currency); err != nil {
			q.complain(keyThen, "%v", err)
			return
		}
	}
	if err := inputs.Steps(b, then, b.Cap.Currency); err != nil {
		q.complain(keyThen, "no plan has such steps%v", err)
	}
}

// laterSums are what each step after the first adds.
func laterSums(b *catalog.Brief) (sums []string) {
	for i := 1; i < len(b.Steps); i++ {
		sums = append(sums, facts.Less(b.Steps[i], b.Steps[i-1]).Decimal())
	}
	return sums
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

func (q *question) shops(b *catalog.Brief, query url.Values) {
	stores := some(query, keyStore)
	if len(stores) == 0 {
		return
	}
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

// mentions reads parts, by SKU or by name, several in one value or in several.
func (q *question) mentions(b *catalog.Brief, key string, texts []string) {
	var list []string
	for _, text := range texts {
		words := []string{text}
		if strings.Contains(text, ",") && len(q.Catalogue.Called(strings.TrimSpace(text))) == 0 {
			words = strings.Split(text, ",")
		}
		for _, word := range words {
			if word = strings.TrimSpace(word); word != "" && !slices.Contains(list, word) {
				list = append(list, word)
			}
		}
	}
	if len(list) > mostMentions {
		q.complain(key, "no more than %d parts", mostMentions)
		list = list[:mostMentions]
	}
	at, parts := catalog.Position{File: key}, []catalog.Mention(nil)
	for _, text := range list {
		var one catalog.Brief
		if before := len(q.complaints); len(q.say(&one, key, []string{text}).complaints) > before {
			continue
		}
		m := (*one.Mentions(key))[0]
		m.Where = at
		if found := q.Catalogue.Called(m.SKU); len(found) == 1 {
			m.SKU = found[0].SKU
		}
		switch {
		case q.Catalogue.Part(m.SKU) == nil && q.Catalogue.Choice(m.SKU) != "":
			q.complain(key, "%q: %s", clipped(m.SKU), q.Catalogue.Choice(m.SKU))
		case q.Catalogue.Part(m.SKU) == nil:
			q.complain(key, "no part is called %q", clipped(m.SKU))
		case !slices.ContainsFunc(parts, func(other catalog.Mention) bool { return other.SKU == m.SKU }):
			parts = append(parts, m)
		}
	}
	*b.Mentions(key), b.Keys[key] = parts, at
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
