package record

import (
	"time"

	"loudfor/catalog/book"
)

// The shapes of the answers of "book".
const (
	BookedSchema   = "loudfor/booked/1"
	JobsSchema     = "loudfor/jobs/1"
	PricesSchema   = "loudfor/recorded-prices/1"
	RemovedSchema  = "loudfor/removed/1"
	RestoredSchema = "loudfor/restored/1"
	NotedSchema    = "loudfor/noted/1"
	MarkedSchema   = "loudfor/marked/1"
)

// Booked is the answer of "book add" and "book quote".
type Booked struct {
	Schema string `json:"schema"`
	Book   string `json:"book" doc:"the file of the job book"`
	Job    int64  `json:"job" doc:"its number in it"`
	Quote  int64  `json:"quote" doc:"its number in it"`
	Answer Pick   `json:"answer" doc:"the quote: a document as of pick"`
}

// Jobs is the answer of "book list".
type Jobs struct {
	Schema string `json:"schema"`
	Book   string `json:"book" doc:"the file of the job book"`
	Jobs   []Job  `json:"jobs" doc:"state is offered, accepted, ordered or installed; catalogue is the hash (SHA-256) of the state that the quote came from"`
}

// Job is a job in a list.
type Job struct {
	Job      int64     `json:"job"`
	Name     string    `json:"name"`
	Customer string    `json:"customer,omitempty"`
	Vehicle  string    `json:"vehicle,omitempty"`
	Note     string    `json:"note,omitempty"`
	State    string    `json:"state,omitempty"`
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
	Book     string `json:"book" doc:"the file of the job book"`
	Rows     int    `json:"rows" doc:"in the lists"`
	Recorded int    `json:"recorded" doc:"of them, those that were not in the book yet"`
}

// ChangedJob is the answer of "book remove", "book restore" and "book note".
type ChangedJob struct {
	Book   string `json:"book" doc:"the file of the job book"`
	Job    int64  `json:"job" doc:"the job that was changed"`
	Schema string `json:"schema"`
}

// Marked is the answer of "book mark".
type Marked struct {
	Book   string     `json:"book" doc:"the file of the job book"`
	Job    int64      `json:"job" doc:"the job of the quote"`
	Quote  int64      `json:"quote" doc:"the quote that was marked"`
	Schema string     `json:"schema"`
	State  book.State `json:"state" doc:"offered, accepted, ordered or installed"`
}

// OfJobs is the document of a list of jobs.
func OfJobs(name string, jobs []book.JobSummary) Jobs {
	doc := Jobs{Schema: JobsSchema, Book: name, Jobs: []Job{}}
	for _, j := range jobs {
		one := Job{Job: j.ID, Name: j.Name, Customer: j.Customer, Vehicle: j.Vehicle, Note: j.Note, State: string(j.State), Added: j.Added, Quotes: j.Quotes}
		if q := j.Latest; q != nil {
			one.Latest = &Quote{Quote: q.ID, Quoted: q.Quoted, Objective: q.Objective, DB: Level(q.Level),
				Currency: q.Price.Currency, Cost: money(q.Price), Catalogue: q.Hash}
		}
		doc.Jobs = append(doc.Jobs, one)
	}
	return doc
}
