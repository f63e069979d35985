package record

import (
	"time"

	"loudfor/catalog/book"
)

// The shapes of the answers of "book".
const (
	BookedSchema = "loudfor/booked/1"
	JobsSchema   = "loudfor/jobs/1"
	PricesSchema = "loudfor/recorded-prices/1"
	// RemovedSchema is {schema, book, job}.
	RemovedSchema = "loudfor/removed/1"
)

// Booked is the answer of "book add" and "book quote".
type Booked struct {
	Schema string `json:"schema"`
	Book   string `json:"book"`
	Job    int64  `json:"job"`
	Quote  int64  `json:"quote"`
	Answer Pick   `json:"answer"`
}

// Jobs is the answer of "book list".
type Jobs struct {
	Schema string `json:"schema"`
	Book   string `json:"book"`
	Jobs   []Job  `json:"jobs"`
}

// Job is a job in a list.
type Job struct {
	Job      int64     `json:"job"`
	Name     string    `json:"name"`
	Customer string    `json:"customer,omitempty"`
	Added    time.Time `json:"added"`
	Quotes   int       `json:"quotes"`
	Latest   *Quote    `json:"latest,omitempty"`
}

// Quote is a quote in a list.
type Quote struct {
	Quote     int64     `json:"quote"`
	Quoted    time.Time `json:"quoted"`
	Objective string    `json:"objective"`
	DB        Figure    `json:"db"`
	Currency  string    `json:"currency"`
	Cost      Amount    `json:"cost"`
	Catalogue string    `json:"catalogue"`
}

// RecordedPrices is the answer of "book prices".
type RecordedPrices struct {
	Schema   string `json:"schema"`
	Book     string `json:"book"`
	Rows     int    `json:"rows"`
	Recorded int    `json:"recorded"`
}

// OfJobs is the document of a list of jobs.
func OfJobs(name string, jobs []book.JobSummary) Jobs {
	doc := Jobs{Schema: JobsSchema, Book: name, Jobs: []Job{}}
	for _, j := range jobs {
		one := Job{Job: j.ID, Name: j.Name, Customer: j.Customer, Added: j.Added, Quotes: j.Quotes}
		if q := j.Latest; q != nil {
			one.Latest = &Quote{Quote: q.ID, Quoted: q.Quoted, Objective: q.Objective, DB: Level(q.Level),
				Currency: q.Price.Currency, Cost: money(q.Price), Catalogue: q.Hash}
		}
		doc.Jobs = append(doc.Jobs, one)
	}
	return doc
}

// BookHelp is the part of Help about the job book.
const BookHelp = `
loudfor book add --json, loudfor book quote --json
  schema        "loudfor/booked/1"
  book          the file of the job book
  job, quote    their numbers in it
  answer        the quote: a document as of pick

loudfor book list --json
  schema        "loudfor/jobs/1"
  book          the file of the job book
  jobs          [{job, name, customer, added, quotes, latest}]: latest {quote, quoted,
                objective, db, currency, cost, catalogue}; catalogue is the hash
                (SHA-256) of the state that the quote came from

loudfor book show --json
  the document of pick as it was given when it was quoted, byte for byte

loudfor book prices --json
  schema        "loudfor/recorded-prices/1"
  book          the file of the job book
  rows          in the lists
  recorded      of them, those that were not in the book yet

loudfor book remove --json
  schema        "loudfor/removed/1"
  book, job     what was removed from where
`
