package book

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"math"
	"time"

	"loudfor/catalog"
)

// Quote is one answer as a customer got it.
type Quote struct {
	QuoteSummary
	// Catalogue is what the answer came from. It must be given when the quote
	// is added; what is read holds only its Hash, see Book.Catalogue.
	Catalogue *catalog.Catalogue
	Answer    json.RawMessage // kept byte for byte
	Printed   string          // the answer in words, kept byte for byte
	Page      []byte          // as HTML, kept byte for byte; nil: none was made
	// Numbered, if it is set when the quote is added, makes Page once the numbers of
	// job and quote are known. It is called while others wait to write.
	Numbered func(job, quote int64) ([]byte, error)
}

// QuoteSummary is a quote without its pages.
type QuoteSummary struct {
	ID, Job   int64
	Quoted    time.Time // zero when added: now
	Hash      string    // of the catalogue
	Objective string    // reading or music
	Level     float64   // dB, of the objective
	Price     catalog.Money
	Form      string // which form of JSON the answer has
	Lines     []Line
}

// Line is one part of the quoted build.
type Line struct {
	SKU   string
	Count int
	Owned bool
}

// AddQuote books an answer to a job, with the catalogue that it came from.
func (b *Book) AddQuote(ctx context.Context, q Quote) (id int64, err error) {
	ready, err := b.prepare(ctx, q)
	if err != nil {
		return 0, err
	}
	err = b.write(ctx, func(tx *sql.Tx) error {
		var there int
		if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM job WHERE id = ?`, q.Job).Scan(&there); err != nil {
			return err
		}
		if there == 0 {
			return none("job", q.Job)
		}
		id, err = ready.insert(ctx, tx)
		return err
	})
	return id, err
}

// readyQuote is a quote with all that takes time done: while a transaction
// runs, everybody else waits.
type readyQuote struct {
	Quote
	state           *state
	quoted          string
	answer, printed []byte
}

func (b *Book) prepare(ctx context.Context, q Quote) (r readyQuote, err error) {
	switch {
	case q.Catalogue == nil:
		return r, errors.New("book: a quote needs the catalogue that it came from")
	case !json.Valid(q.Answer):
		return r, errors.New("book: the answer of a quote is not JSON")
	case math.IsNaN(q.Level) || math.IsInf(q.Level, 0):
		return r, errors.New("book: the level of a quote is not a number")
	}
	r = readyQuote{Quote: q, answer: pack(q.Answer), printed: pack([]byte(q.Printed))}
	if r.quoted, err = b.stamp(q.Quoted); err != nil {
		return r, err
	}
	r.state, err = b.stateOf(ctx, q.Catalogue)
	return r, err
}

func (q *readyQuote) insert(ctx context.Context, tx *sql.Tx) (id int64, err error) {
	if err := q.state.insert(ctx, tx, q.quoted); err != nil {
		return 0, err
	}
	err = tx.QueryRowContext(ctx, `INSERT INTO quote (job, catalogue, objective, level, price, currency, form, answer, printed, quoted)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?) RETURNING id`,
		q.Job, q.state.hash, q.Objective, q.Level, q.Price.Minor, q.Price.Currency, q.Form, q.answer, q.printed, q.quoted).Scan(&id)
	if err != nil {
		return 0, err
	}
	page := q.Page
	if q.Numbered != nil {
		if page, err = q.Numbered(q.Job, id); err != nil {
			return 0, err
		}
	}
	if page != nil {
		if _, err := tx.ExecContext(ctx, `UPDATE quote SET page = ? WHERE id = ?`, pack(page), id); err != nil {
			return 0, err
		}
	}
	for i, l := range q.Lines {
		if _, err := tx.ExecContext(ctx, `INSERT INTO quote_line (quote, position, sku, count, owned) VALUES (?, ?, ?, ?, ?)`, id, i, l.SKU, l.Count, l.Owned); err != nil {
			return 0, err
		}
	}
	return id, nil
}

// Quotes lists the quotes of a job, the oldest first.
func (b *Book) Quotes(ctx context.Context, job int64) ([]QuoteSummary, error) {
	return b.summaries(ctx, `WHERE q.job = ?`, job)
}

// LatestQuotes gives the last quote of every job by the job's number: two
// questions to the book, however many jobs there are.
func (b *Book) LatestQuotes(ctx context.Context) (map[int64]QuoteSummary, error) {
	all, err := b.summaries(ctx, `WHERE q.id IN (SELECT max(id) FROM quote GROUP BY job)`)
	out := make(map[int64]QuoteSummary, len(all))
	for _, q := range all {
		out[q.Job] = q
	}
	return out, err
}

// Quote gives a quote with its pages.
func (b *Book) Quote(ctx context.Context, id int64) (Quote, error) {
	return b.quote(ctx, `WHERE q.id = ?`, "quote", id)
}

// LatestQuote gives the last quote of a job with its pages.
func (b *Book) LatestQuote(ctx context.Context, job int64) (Quote, error) {
	return b.quote(ctx, `WHERE q.id = (SELECT max(id) FROM quote WHERE job = ?)`, "a quote of job", job)
}

func (b *Book) quote(ctx context.Context, where, what string, key int64) (q Quote, err error) {
	found, err := b.summaries(ctx, where, key)
	if err != nil {
		return q, err
	}
	if len(found) == 0 {
		return q, none(what, key)
	}
	q.QuoteSummary = found[0]
	var answer, printed, page []byte
	if err := b.db.QueryRowContext(ctx, `SELECT answer, printed, page FROM quote WHERE id = ?`, q.ID).Scan(&answer, &printed, &page); err != nil {
		return q, b.misread(err)
	}
	if len(page) > 0 {
		if q.Page, err = b.unpack(page, "a page"); err != nil {
			return q, err
		}
	}
	if q.Answer, err = b.unpack(answer, "an answer"); err != nil {
		return q, err
	}
	printed, err = b.unpack(printed, "a printed page")
	q.Printed = string(printed)
	return q, err
}

func (b *Book) summaries(ctx context.Context, where string, args ...any) ([]QuoteSummary, error) {
	out, err := collect(ctx, b, func(row *sql.Rows) (q QuoteSummary, err error) {
		var quoted string
		err = row.Scan(&q.ID, &q.Job, &q.Hash, &q.Objective, &q.Level, &q.Price.Minor, &q.Price.Currency, &q.Form, &quoted)
		q.Quoted = unstamped(quoted)
		return q, err
	}, `SELECT q.id, q.job, q.catalogue, q.objective, q.level, q.price, q.currency, q.form, q.quoted FROM quote q `+where+` ORDER BY q.id`, args...)
	if err != nil {
		return nil, err
	}
	at := map[int64]int{}
	for i := range out {
		at[out[i].ID] = i
	}
	_, err = collect(ctx, b, func(row *sql.Rows) (none struct{}, err error) {
		var id int64
		var l Line
		err = row.Scan(&id, &l.SKU, &l.Count, &l.Owned)
		if i, ok := at[id]; ok {
			out[i].Lines = append(out[i].Lines, l)
		}
		return none, err
	}, `SELECT l.quote, l.sku, l.count, l.owned FROM quote_line l JOIN quote q ON q.id = l.quote `+where+` ORDER BY l.quote, l.position`, args...)
	return out, err
}
