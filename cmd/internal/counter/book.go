package counter

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"time"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/cmd/internal/answer"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/style"
	"loudfor/optimizer"
	"loudfor/optimizer/workshop"
)

// Booking: what a quote's page shows goes into the job book, with the page
// itself, so that it can be opened again as it was given.

// keyBooked says on the page after booking which quote it was.
const keyBooked = "booked"

// bookQuote books what a quote's page shows: it is computed again from the
// address, so that nothing a visitor could have typed is booked as a figure.
func (c *Counter) bookQuote(v *visit) error {
	if c.book == nil {
		return unknownError{noBook}
	}
	if err := v.ParseForm(); err != nil {
		return formError{err}
	}
	v.voice = voiceOf(v.Request, v.PostForm)
	q, err := c.questionOf(v, v.PostForm)
	if err != nil {
		return err
	}
	code := v.PostForm.Get(keyParts)
	customer := q.customer
	if v.PostForm.Has(keyCustomer) {
		customer = clipped(one(v.PostForm, keyCustomer))
	}
	if err := c.climbedFor(v, q); err != nil {
		return err
	}
	page, b, err := c.quotePage(v, q, code, customer)
	if err != nil {
		return err
	}
	if was := v.PostForm.Get(keyWas); was != "" && was != figures(b) {
		if v.wantsJSON() {
			return staleError{clipped(was), figures(b)}
		}
		return v.seeOther(q.link(pathQuote, keyParts, code, keyCustomer, customer, keyWas, clipped(was)))
	}
	shop, err := c.shop(v.context(), q)
	if err != nil {
		return err
	}
	quote, err := v.voice.quote(q, shop, b)
	if err != nil {
		return err
	}
	quote.Numbered = c.numbered(v, page)
	booked, err := c.bookOnce(v, q, customer, quote)
	if err != nil {
		return err
	}
	if v.wantsJSON() {
		return v.reply(map[string]any{"schema": "loudfor/booked/1", "job": booked.Job, "quote": booked.ID})
	}
	return v.seeOther(q.link(pathQuote, keyParts, code, keyBooked, strconv.FormatInt(booked.Job, 10), keyCustomer, customer))
}

// keyWas says what a quote's page showed when its button was pressed: nobody signs
// for a price that changed under the page.
const keyWas = "was"

// figures are what a customer signs for, the same in every language.
func figures(b optimizer.Build) string { return fmt.Sprintf("%s, %.1f dB", b.Cost, b.Objective) }

// staleError is of a quote that is no more what its page showed.
type staleError struct{ was, is string }

func (e staleError) Error() string {
	return fmt.Sprintf("nothing is booked: the page showed %s; it is now %s", e.was, e.is)
}

// bookingTime is how long a quote that is booked waits for the next step up, which
// stands on it.
const bookingTime = 10 * time.Second

// climbedFor waits for the ladder of a question, but not for ever.
func (c *Counter) climbedFor(v *visit, q *question) error {
	ctx, stop := context.WithTimeout(v.context(), bookingTime)
	defer stop()
	if _, err := c.climbed(ctx, q); !gone(err) {
		return err
	}
	return nil
}

const noBook = "no job book is open; start with --book FILE"

// numbered makes the page that the book keeps.
func (c *Counter) numbered(v *visit, p *page) func(job, quote int64) ([]byte, error) {
	body := *p.Body.(*quoteBody)
	if body.Up != nil && body.Up.Waiting {
		body.Up = nil // nobody comes back to the page that is kept
	}
	return func(_, quote int64) ([]byte, error) {
		v.voice.date(&body, v.stock.shop, quote, c.options.Now())
		given := *p
		given.Body, given.Title = &body, fmt.Sprintf("Quote %d", quote)
		text, err := given.text("quote")
		if err != nil {
			return nil, err
		}
		return asFile(text, v.stock.shop)
	}
}

// bookOnce books a quote, unless the book has the very same: whoever goes back
// and presses the button again means the same job. The same is the same customer,
// brief, build and price, from the same state of the catalogue.
func (c *Counter) bookOnce(v *visit, q *question, customer string, quote book.Quote) (booked book.QuoteSummary, err error) {
	c.booking.Lock()
	defer c.booking.Unlock()
	var brief bytes.Buffer
	if err := catalog.WriteBrief(&brief, q.job.Brief); err != nil {
		return booked, err
	}
	hash, err := v.stock.hash()
	if err != nil {
		return booked, err
	}
	jobs, err := c.book.Jobs(v.context())
	if err != nil {
		return booked, err
	}
	own := q.jobID != 0 && !q.changed() && customer == q.customer
	if own && !slices.ContainsFunc(jobs, func(j book.JobSummary) bool { return j.ID == q.jobID }) {
		return booked, unknownError{fmt.Sprintf("job %d is removed: put it back first", q.jobID)}
	}
	for _, j := range jobs {
		if j.Customer != customer || j.Latest == nil || j.Latest.Hash != hash || j.Latest.Price != quote.Price || !slices.Equal(j.Latest.Lines, quote.Lines) {
			continue
		}
		if own && j.ID == q.jobID {
			return *j.Latest, nil
		}
		if full, err := c.book.Job(v.context(), j.ID); !own && err == nil && full.Brief == brief.String() {
			return *j.Latest, nil
		}
	}
	job := q.jobID
	if own {
		quote.Job = job
		_, err = c.book.AddQuote(v.context(), quote)
	} else {
		job, err = c.addJob(v, q, customer, brief.String(), quote)
	}
	if err != nil {
		return booked, err
	}
	quotes, err := c.book.Quotes(v.context(), job)
	if err != nil || len(quotes) == 0 {
		return booked, errors.Join(err, errors.New("the quote is not in the book"))
	}
	return quotes[len(quotes)-1], nil
}

func (c *Counter) addJob(v *visit, q *question, customer, brief string, quotes ...book.Quote) (int64, error) {
	attached, err := c.carOf(v, q)
	if err != nil {
		return 0, err
	}
	return c.book.AddJob(v.context(), book.Job{Attachments: attached, Customer: customer, Name: q.job.Brief.Name, Brief: brief, Note: q.note}, quotes...)
}

// carOf are the files that describe the car: those of the job that the question
// came from, if the car is that job's.
func (c *Counter) carOf(v *visit, q *question) (attached []book.Attachment, err error) {
	if q.jobID != 0 {
		job, err := c.book.Job(v.context(), q.jobID)
		if err != nil {
			return nil, err
		}
		if slices.ContainsFunc(job.Attachments, func(a book.Attachment) bool { return a.Name == q.job.Vehicle.Where.File }) {
			return job.Attachments, nil
		}
	}
	car, err := inputs.CarFiles(q.job, q.Invented)
	for _, f := range car {
		attached = append(attached, book.Attachment{Name: f.Name, Content: f.Content})
	}
	return attached, err
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
func (v voice) quote(q *question, shop *workshop.Shop, b optimizer.Build) (book.Quote, error) {
	b.Rank = 1
	doc := record.OfPick(q.job.Brief, q.job.Vehicle, record.Origin{Demo: q.Invented, Outdated: q.job.Vehicle.Outdated}, optimizer.Result{Outcome: optimizer.Feasible, Builds: []optimizer.Build{b}})
	doc.BuiltBoxes, doc.BoxSearch = record.OfBuilt(shop, []optimizer.Build{b}, q.job.Brief.Celsius)
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
