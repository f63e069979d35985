package counter

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/cmd/internal/answer"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/style"
	"loudfor/optimizer"
)

// The job book: what was quoted to whom, and which of it is not true any more
// with the prices of today. A quote is booked by the one form of the program
// that changes anything.

// keyBooked says on the page after booking which quote it was.
const keyBooked = "booked"

type bookBody struct {
	None    bool // no book was opened
	Jobs    []jobLine
	Waiting bool
	Changed int
}

type jobLine struct {
	ID                   int64
	Name, Customer, Date string
	Builds               string
	Quoted               bool
	QuotedOn             string
	Price, Level, Goal   string
	Parts                []string
	State                string // what became of the quote
	Differs              bool
	Waiting              bool
}

func (c *Counter) showBook(v *visit) error {
	q, err := c.question(v)
	if err != nil {
		return err
	}
	body := &bookBody{None: c.book == nil}
	p := c.page(v, q, "book", "Job book")
	if c.book != nil {
		jobs, err := c.book.Jobs(v.context())
		if err != nil {
			return err
		}
		hash, err := v.stock.hash()
		if err != nil {
			return err
		}
		for i := len(jobs) - 1; i >= 0; i-- { // the newest first
			line, waits := c.jobLine(v, jobs[i], hash)
			if waits != "" {
				p.Waits, p.Refresh, body.Waiting = waits, true, true
			}
			if line.Differs {
				body.Changed++
			}
			body.Jobs = append(body.Jobs, line)
		}
	}
	if v.wantsJSON() {
		return v.reply(body.record())
	}
	p.Body = body
	return c.show(v, p, "book")
}

// jobLine tells what was quoted last, and what the same question gives now.
func (c *Counter) jobLine(v *visit, j book.JobSummary, hash string) (line jobLine, waits string) {
	id := url.Values{keyJob: {strconv.FormatInt(j.ID, 10)}}
	line = jobLine{ID: j.ID, Name: j.Name, Customer: j.Customer, Date: j.Added.Format("2006-01-02"), Builds: pathBuilds + "?" + id.Encode()}
	if j.Latest == nil {
		line.State = "not quoted yet"
		return line, ""
	}
	latest := j.Latest
	line.Quoted, line.QuotedOn = true, latest.Quoted.Format("2006-01-02")
	line.Price, line.Level, line.Goal = v.voice.Money(latest.Price), v.voice.DB(latest.Level), latest.Objective
	for _, l := range latest.Lines {
		if !l.Owned {
			line.Parts = append(line.Parts, times(l.Count, l.SKU))
		}
	}
	if latest.Hash == hash {
		line.State = "the catalogue is the same"
		return line, ""
	}
	q, err := c.questionOf(v, id)
	if err != nil {
		line.State, line.Differs = "its brief does not go with this catalogue any more: "+errorWords(err), true
		return line, ""
	}
	r, done, err := c.background(q)
	switch {
	case err != nil:
		line.State = "not looked at yet: " + err.Error()
	case !done:
		line.State, line.Waiting = "being run again", true
		return line, q.key()
	default:
		line.State, line.Differs = v.voice.since(latest, r.Result)
	}
	return line, ""
}

// background ranks without anybody waiting.
func (c *Counter) background(q *question) (optimizer.Answers, bool, error) {
	return c.rankings.begin(q.key(), c.answers(q))
}

// since compares a quote with what the ranking says today.
func (v voice) since(quoted *book.QuoteSummary, r optimizer.Result) (words string, differs bool) {
	if len(r.Builds) == 0 {
		return "no build satisfies the brief any more", true
	}
	now := &r.Builds[0]
	for i := range r.Builds {
		if sameParts(quoted.Lines, r.Builds[i].Lines) && r.Builds[i].Cost == quoted.Price {
			now = &r.Builds[i]
			break
		}
	}
	var changes []string
	if !sameParts(quoted.Lines, now.Lines) {
		changes = append(changes, "other parts are better now: "+strings.Join(boughtOf(now.Lines), ", "))
	}
	if now.Cost != quoted.Price {
		changes = append(changes, fmt.Sprintf("%s, was %s", v.Money(now.Cost), v.Money(quoted.Price)))
	}
	if v.DB(now.Objective) != v.DB(quoted.Level) {
		changes = append(changes, fmt.Sprintf("%s dB, was %s", v.DB(now.Objective), v.DB(quoted.Level)))
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

// bookQuote books what a quote's page shows: it is computed again from the
// address, so that nothing a visitor could have typed is booked as a figure.
func (c *Counter) bookQuote(v *visit) error {
	if c.book == nil {
		return unknownError{"no job book is open; start with --book FILE"}
	}
	if err := v.ParseForm(); err != nil {
		return formError{err}
	}
	q, err := c.questionOf(v, v.PostForm)
	if err != nil {
		return err
	}
	code := v.PostForm.Get(keyParts)
	b, err := c.build(v.context(), q, code)
	if err != nil {
		return err
	}
	quote, err := v.voice.quote(q, b)
	if err != nil {
		return err
	}
	job, id := q.jobID, int64(0)
	if job == 0 || q.changed() {
		job, err = c.addJob(v, q, quote)
	} else {
		quote.Job = job
		id, err = c.book.AddQuote(v.context(), quote)
	}
	if err != nil {
		return err
	}
	if v.wantsJSON() {
		return v.reply(map[string]any{"schema": "loudfor/booked/1", "job": job, "quote": id})
	}
	// The page after a POST is asked for by GET, so that reading it again books
	// nothing twice.
	http.Redirect(v.w, v.Request, q.link(pathQuote, keyParts, code, keyBooked, strconv.FormatInt(job, 10), keyCustomer, clipped(v.PostForm.Get(keyCustomer))), http.StatusSeeOther)
	return nil
}

func (c *Counter) addJob(v *visit, q *question, quotes ...book.Quote) (int64, error) {
	var text bytes.Buffer
	if err := catalog.WriteBrief(&text, q.job.Brief); err != nil {
		return 0, err
	}
	car, err := inputs.CarFiles(q.job, q.Invented)
	if err != nil {
		return 0, err
	}
	var attached []book.Attachment
	for _, f := range car {
		attached = append(attached, book.Attachment{Name: f.Name, Content: f.Content})
	}
	return c.book.AddJob(v.context(), book.Job{Attachments: attached, Customer: clipped(strings.TrimSpace(v.PostForm.Get(keyCustomer))),
		Name: q.job.Brief.Name, Brief: text.String(), Note: clipped(strings.TrimSpace(v.PostForm.Get("note")))}, quotes...)
}

// changed tells whether the visitor's question is another than the job's.
func (q *question) changed() bool {
	for name := range q.values {
		if name != keyJob && name != keyLanguage && name != keyWorth {
			return true
		}
	}
	return false
}

// quote is a build as the book keeps it.
func (v voice) quote(q *question, b optimizer.Build) (book.Quote, error) {
	b.Rank = 1
	doc := record.OfPick(q.job.Brief, q.job.Vehicle, record.Origin{Demo: q.Invented, Outdated: q.job.Vehicle.Outdated}, optimizer.Result{Outcome: optimizer.Feasible, Builds: []optimizer.Build{b}})
	text, err := json.Marshal(doc)
	if err != nil {
		return book.Quote{}, err
	}
	out := book.Quote{Catalogue: q.Catalogue, Answer: text, Printed: printed(q, b)}
	out.Objective, out.Level, out.Price, out.Form = q.job.Brief.Goal.String(), b.Objective, b.Cost, record.PickSchema
	for _, line := range b.Lines {
		if bought := line.Count - line.Owned; bought > 0 {
			out.Lines = append(out.Lines, book.Line{SKU: line.Part.SKU, Count: bought})
		}
		if line.Owned > 0 {
			out.Lines = append(out.Lines, book.Line{SKU: line.Part.SKU, Count: line.Owned, Owned: true})
		}
	}
	return out, nil
}

// printed is the quote as the terminal would print it.
func printed(q *question, b optimizer.Build) string {
	var out bytes.Buffer
	page := answer.New(&out, style.Style{})
	page.PredictInFull(q.job.Question(), b)
	if page.Close() != nil {
		return ""
	}
	return out.String()
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
	State    string `json:"state"`
	Differs  bool   `json:"differs"`
	Waiting  bool   `json:"waiting,omitempty"`
}

func (b *bookBody) record() bookRecord {
	r := bookRecord{Schema: "loudfor/page-book/1", Jobs: []jobRecord{}}
	for _, j := range b.Jobs {
		r.Jobs = append(r.Jobs, jobRecord{j.ID, j.Name, j.Customer, j.Quoted, j.State, j.Differs, j.Waiting})
	}
	return r
}

func errorWords(err error) string { return strings.Join(errorLines(err), "; ") }
