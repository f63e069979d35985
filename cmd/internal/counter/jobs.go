package counter

import (
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"loudfor/catalog/book"
)

// One job: its quotes as they were given, what became of them, its note; and the
// forms that change it.

type jobBody struct {
	jobLine
	Quotes  []givenLine
	States  []string
	Removed string // the day; empty: it was not
	Meter   string
}

// givenLine is one quote of a job.
type givenLine struct {
	ID           int64
	On           string
	Price, Level string
	Parts        []string
	Given        string // its address as it was given
	State        string
	Steps        []string // "accepted on 2026-03-09"
	Meter        string
}

// jobNumber reads the number of a job; what is none finds none.
func jobNumber(text string) (int64, error) {
	id, err := strconv.ParseInt(text, 10, 64)
	if err != nil {
		return 0, unknownError{"there is no such job in the book"}
	}
	return id, nil
}

func (c *Counter) showJob(v *visit) error {
	if c.book == nil {
		return unknownError{noBook}
	}
	id, err := jobNumber(one(v.URL.Query(), keyJob))
	if err != nil {
		return err
	}
	job, err := c.book.Job(v.context(), id)
	if err != nil {
		return bookFault(err)
	}
	quotes, err := c.book.Quotes(v.context(), id)
	if err != nil {
		return err
	}
	marks, err := c.book.Marks(v.context(), id)
	if err != nil {
		return err
	}
	hash, err := v.stock.hash()
	if err != nil {
		return err
	}
	s := book.JobSummary{ID: id, Name: job.Name, Customer: job.Customer, Note: job.Note, Added: job.Added, Quotes: len(quotes), State: book.JobState(quotes, marks)}
	if len(quotes) > 0 {
		s.Latest = &quotes[len(quotes)-1]
	}
	brief, report := job.Load()
	if report.Err() == nil {
		s.Vehicle = brief.Vehicle
	}
	line, waits := c.jobLine(v, s, hash)
	body := &jobBody{jobLine: line}
	for _, s := range book.States {
		body.States = append(body.States, string(s))
	}
	if !job.Removed.IsZero() {
		body.Removed = job.Removed.Format("2006-01-02")
	}
	for i := len(quotes) - 1; i >= 0; i-- {
		body.Quotes = append(body.Quotes, v.voice.given(&quotes[i], marks))
	}
	if v.wantsJSON() {
		return v.reply(jobRecordOf(body))
	}
	title := fmt.Sprintf("Job %d", id)
	if job.Customer != "" {
		title += ", " + job.Customer
	}
	p := c.page(v, nil, "job", title)
	p.Waits, p.Refresh, p.Body = waits, waits != "", body
	return c.show(v, p, "job")
}

func (v voice) given(q *book.QuoteSummary, marks []book.Mark) givenLine {
	g := givenLine{ID: q.ID, On: q.Quoted.Format("2006-01-02"), Price: v.Money(q.Price), Level: v.DB(q.Level), Given: givenLink(q.ID),
		State: string(book.StateOf(q.ID, marks)), Meter: pathMeter + "?" + url.Values{keyQuoted: {strconv.FormatInt(q.ID, 10)}}.Encode()}
	for _, l := range q.Lines {
		word := times(l.Count, l.SKU)
		if l.Owned {
			word += " (owned)"
		}
		g.Parts = append(g.Parts, word)
	}
	for _, m := range marks {
		if m.Quote == q.ID {
			g.Steps = append(g.Steps, fmt.Sprintf("%s on %s", m.State, m.Marked.Format("2006-01-02")))
		}
	}
	return g
}

// bookFault tells what is not in the book from what is wrong with it.
func bookFault(err error) error {
	if errors.Is(err, book.ErrNone) {
		return unknownError{err.Error()}
	}
	return err
}

// mostNote is the longest note, in characters.
const mostNote = 500

// changeJob is the form of a job: do says what is to be done.
func (c *Counter) changeJob(v *visit) error {
	if c.book == nil {
		return unknownError{noBook}
	}
	if err := v.ParseForm(); err != nil {
		return formError{err}
	}
	id, err := jobNumber(v.PostForm.Get(keyJob))
	if err != nil {
		return err
	}
	to := pathJob + "?" + url.Values{keyJob: {strconv.FormatInt(id, 10)}}.Encode()
	switch do := v.PostForm.Get("do"); do {
	case "write":
		if err = c.book.SetNote(v.context(), id, shortened(v.PostForm.Get("note"), mostNote)); err == nil {
			err = c.book.SetCustomer(v.context(), id, clipped(strings.TrimSpace(v.PostForm.Get(keyCustomer))))
		}
	case "mark":
		err = c.mark(v, id)
	case "remove":
		err = c.book.RemoveJob(v.context(), id)
		to = pathBook + "?" + url.Values{keyGone: {strconv.FormatInt(id, 10)}}.Encode()
	case "restore":
		err = c.book.RestoreJob(v.context(), id)
	case "forget":
		err, to = c.book.ForgetJob(v.context(), id), pathBook
	default:
		return unknownError{fmt.Sprintf("nothing is called %q here", clipped(do))}
	}
	if err != nil && !(errors.Is(err, book.ErrNone) && c.isSo(v, v.PostForm.Get("do"), id)) {
		return bookFault(err)
	}
	if v.wantsJSON() {
		return v.reply(map[string]any{"schema": "loudfor/job-changed/1", "job": id})
	}
	return v.seeOther(to)
}

// isSo tells whether a job already is what a button would make of it: the button was
// pressed twice, or in two tabs.
func (c *Counter) isSo(v *visit, do string, id int64) bool {
	job, err := c.book.Job(v.context(), id)
	return err == nil && (do == "remove" && !job.Removed.IsZero() || do == "restore" && job.Removed.IsZero())
}

func (c *Counter) mark(v *visit, job int64) error {
	id, err := strconv.ParseInt(v.PostForm.Get(keyQuoted), 10, 64)
	if err != nil {
		return unknownError{"there is no such quote in the book"}
	}
	quotes, err := c.book.Quotes(v.context(), job)
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(quotes, func(q book.QuoteSummary) bool { return q.ID == id }) {
		return unknownError{fmt.Sprintf("quote %d is not of job %d", id, job)}
	}
	state, err := book.ParseState(v.PostForm.Get(keyState))
	if err != nil {
		return unknownError{err.Error()}
	}
	return c.book.MarkQuote(v.context(), id, state)
}

// shortened is a text of several lines without what acts where it is shown.
func shortened(text string, most int) string {
	lines := strings.FieldsFunc(text, func(r rune) bool { return r == '\r' || r == '\n' })
	for i := range lines {
		lines[i] = strings.TrimSpace(visible(lines[i]))
	}
	r := []rune(strings.TrimSpace(strings.Join(lines, " ")))
	return string(r[:min(len(r), most)])
}

// keyQuoted names a quote of the book.
const keyQuoted = "quote"

// showGiven is a quote as it was given, byte for byte: what was kept with it, and
// nothing of today. A quote of the terminal has no page; its text is shown.
func (c *Counter) showGiven(v *visit) error {
	if c.book == nil {
		return unknownError{noBook}
	}
	id, err := strconv.ParseInt(one(v.URL.Query(), keyQuoted), 10, 64)
	if err != nil {
		return unknownError{"there is no such quote in the book"}
	}
	q, err := c.book.Quote(v.context(), id)
	switch {
	case err != nil:
		return bookFault(err)
	case v.wantsJSON():
		v.w.Header().Set("Content-Type", "application/json; charset=utf-8")
		_, _ = v.w.Write(q.Answer)
		return nil
	case q.Page != nil:
		return writeDocument(v.w, q.Page)
	}
	v.w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	_, _ = v.w.Write([]byte(q.Printed))
	return nil
}

// jobDocument is a job as scripts read it.
type jobDocument struct {
	Schema string `json:"schema"`
	jobRecord
	Quotes []quoteRecord `json:"quotes"`
}

type quoteRecord struct {
	Quote  int64    `json:"quote"`
	Quoted string   `json:"quoted"`
	State  string   `json:"state"`
	Steps  []string `json:"steps"`
}

func jobRecordOf(b *jobBody) jobDocument {
	d := jobDocument{Schema: "loudfor/page-job/1", jobRecord: recordOf(b.jobLine), Quotes: []quoteRecord{}}
	for _, q := range b.Quotes {
		d.Quotes = append(d.Quotes, quoteRecord{q.ID, q.On, q.State, append([]string{}, q.Steps...)})
	}
	return d
}
