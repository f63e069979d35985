package counter

import (
	"context"
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/optimizer"
)

// The list of the job book: what was quoted to whom, and which of it is not true
// any more with the parts and prices of today.

const (
	keyState = "state"
	keyGone  = "removed" // the job that was just removed
)

type bookBody struct {
	None    bool // no book was opened
	Word    string
	States  []choice
	All     int // jobs in the book
	Jobs    []jobLine
	Removed []jobLine
	Gone    string
	Waiting bool
	Changed int
	OnlyNew string // the address of those that changed; empty: all are shown, or none did
	Only    bool   // those that changed are shown, and no others
}

type jobLine struct {
	ID                   int64
	Name, Customer, Date string
	Car, Note            string
	Builds, Open         string
	Quoted               bool
	QuotedOn             string
	Price, Level, Goal   string
	Parts                []string
	Marked               string // accepted, ordered, installed; empty: offered
	State                string // what is different today
	Differs              bool
	Waiting              bool
}

func (c *Counter) showBook(v *visit) error {
	q, err := c.question(v)
	if err != nil {
		return err
	}
	query := v.URL.Query()
	body := &bookBody{None: c.book == nil, Word: clipped(one(query, keyWord)), Gone: clipped(one(query, keyGone)), Only: one(query, "changed") != ""}
	p := c.page(v, q, "book", "Job book")
	if c.book != nil {
		if err := c.fillBook(v, p, body, one(query, keyState)); err != nil {
			return err
		}
	}
	if v.wantsJSON() {
		return v.reply(body.record())
	}
	p.Body = body
	return c.show(v, p, "book")
}

func (c *Counter) fillBook(v *visit, p *page, body *bookBody, stated string) error {
	jobs, err := c.book.Jobs(v.context())
	if err != nil {
		return err
	}
	search := book.Search{Word: body.Word, Called: func(sku string) string {
		if part := v.stock.Catalogue.Part(sku); part != nil {
			return part.Name
		}
		return ""
	}}
	body.States = []choice{{"", "any state", stated == ""}}
	for _, s := range book.States {
		body.States = append(body.States, choice{string(s), string(s), stated == string(s)})
		if stated == string(s) {
			search.State = s
		}
	}
	hash, err := v.stock.hash()
	if err != nil {
		return err
	}
	body.All = len(jobs)
	found := search.Among(jobs)
	for i := len(found) - 1; i >= 0; i-- { // the newest first
		line, waits := c.jobLine(v, found[i], hash)
		if waits != "" {
			p.Waits, p.Refresh, body.Waiting = waits, true, true
		}
		if line.Differs {
			body.Changed++
		}
		if line.Differs || !body.Only {
			body.Jobs = append(body.Jobs, line)
		}
	}
	if body.Changed > 0 && body.Changed < len(found) && !body.Only {
		body.OnlyNew = pathBook + "?" + url.Values{keyWord: {body.Word}, keyState: {stated}, "changed": {"yes"}}.Encode()
	}
	removed, err := c.book.Removed(v.context())
	for i := len(removed) - 1; i >= 0; i-- {
		body.Removed = append(body.Removed, v.plainLine(removed[i]))
	}
	return err
}

// plainLine is a job without what is different today.
func (v *visit) plainLine(j book.JobSummary) jobLine {
	id := url.Values{keyJob: {strconv.FormatInt(j.ID, 10)}}.Encode()
	line := jobLine{ID: j.ID, Name: j.Name, Customer: j.Customer, Date: j.Added.Format("2006-01-02"), Car: j.Vehicle, Note: j.Note,
		Builds: pathBuilds + "?" + id, Open: pathJob + "?" + id}
	if j.State != book.Offered {
		line.Marked = string(j.State)
	}
	if latest := j.Latest; latest != nil {
		line.Quoted, line.QuotedOn = true, latest.Quoted.Format("2006-01-02")
		line.Price, line.Level, line.Goal = v.voice.Money(latest.Price), v.voice.DB(latest.Level), latest.Objective
		for _, l := range latest.Lines {
			if !l.Owned {
				line.Parts = append(line.Parts, times(l.Count, l.SKU))
			}
		}
	}
	return line
}

// jobLine tells what was quoted last, and what the same question gives now.
func (c *Counter) jobLine(v *visit, j book.JobSummary, hash string) (line jobLine, waits string) {
	line = v.plainLine(j)
	if j.Latest == nil {
		line.State = "not quoted yet"
		return line, ""
	}
	if j.Latest.Hash == hash {
		line.State = "the catalogue is the same"
		return line, ""
	}
	key := fmt.Sprintf("since %d/%d", v.stock.generation, j.Latest.ID)
	if now, done := c.since.look(key); done {
		line.State, line.Differs = v.voice.since(j.Latest, now)
		return line, ""
	}
	q, err := c.questionOf(v, url.Values{keyJob: {strconv.FormatInt(j.ID, 10)}})
	if err != nil {
		line.State, line.Differs = "its brief does not go with this catalogue any more: "+errorWords(err), true
		return line, ""
	}
	now, done, err := c.since.begin(key, func(ctx context.Context) (today, error) {
		r, err := c.answers(q)(ctx)
		return todayOf(j.Latest, r.Result), err
	})
	switch {
	case err != nil:
		line.State = "not looked at yet: " + err.Error()
	case !done:
		line.State, line.Waiting = "being run again", true
		return line, key
	default:
		line.State, line.Differs = v.voice.since(j.Latest, now)
	}
	return line, ""
}

// today is what a quote's question gives now: a few words of a ranking, so that
// those of a whole book can be kept.
type today struct {
	none   bool
	others []string // the parts, where they are others
	cost   catalog.Money
	level  float64
}

// todayOf finds the quoted build among those of today, else it is the best.
func todayOf(quoted *book.QuoteSummary, r optimizer.Result) today {
	if len(r.Builds) == 0 {
		return today{none: true}
	}
	now := &r.Builds[0]
	for i := range r.Builds {
		if sameParts(quoted.Lines, r.Builds[i].Lines) && r.Builds[i].Cost == quoted.Price {
			now = &r.Builds[i]
			break
		}
	}
	t := today{cost: now.Cost, level: now.Objective}
	if !sameParts(quoted.Lines, now.Lines) {
		t.others = boughtOf(now.Lines)
	}
	return t
}

// since compares a quote with what its question gives today.
func (v voice) since(quoted *book.QuoteSummary, now today) (words string, differs bool) {
	if now.none {
		return "no build satisfies the brief any more", true
	}
	var changes []string
	if now.others != nil {
		changes = append(changes, "other parts are better now: "+strings.Join(now.others, ", "))
	}
	if now.cost != quoted.Price {
		changes = append(changes, fmt.Sprintf("%s, was %s", v.Money(now.cost), v.Money(quoted.Price)))
	}
	if v.DB(now.level) != v.DB(quoted.Level) {
		changes = append(changes, fmt.Sprintf("%s dB, was %s", v.DB(now.level), v.DB(quoted.Level)))
	}
	if len(changes) == 0 {
		return "still true", false
	}
	return strings.Join(changes, "; "), true
}

func sameParts(quoted []book.Line, lines []optimizer.Line) bool {
	count := map[string]int{}
	for _, l := range quoted {
		count[l.SKU] += l.Count
	}
	for _, l := range lines {
		count[l.Part.SKU] -= l.Count
	}
	for _, n := range count {
		if n != 0 {
			return false
		}
	}
	return true
}

// bookRecord is the book as scripts read it.
type bookRecord struct {
	Schema string      `json:"schema"`
	Jobs   []jobRecord `json:"jobs"`
}

type jobRecord struct {
	Job      int64  `json:"job"`
	Name     string `json:"name"`
	Customer string `json:"customer,omitempty"`
	Quoted   bool   `json:"quoted"`
	Car      string `json:"car,omitempty"`
	Note     string `json:"note,omitempty"`
	Marked   string `json:"marked,omitempty"`
	State    string `json:"state"`
	Differs  bool   `json:"differs"`
	Waiting  bool   `json:"waiting,omitempty"`
}

func recordOf(j jobLine) jobRecord {
	return jobRecord{j.ID, j.Name, j.Customer, j.Quoted, j.Car, j.Note, j.Marked, j.State, j.Differs, j.Waiting}
}

func (b *bookBody) record() bookRecord {
	r := bookRecord{Schema: "loudfor/page-book/1", Jobs: []jobRecord{}}
	for _, j := range b.Jobs {
		r.Jobs = append(r.Jobs, recordOf(j))
	}
	return r
}

func errorWords(err error) string { return strings.Join(errorLines(err), "; ") }
