package book

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/catalog/report"
)

// Job is one customer's brief, as it was given.
type Job struct {
	ID       int64
	Name     string // empty when added: that of the brief, or of its file
	Customer string
	File     string // the name that the brief had
	Brief    string // its text
	Note     string
	Added    time.Time // zero when added: now
	Removed  time.Time // zero: it was not
	// Attachments are the files that the brief needs beside the parts.
	Attachments []Attachment
}

// Attachment is a file, such as that of the vehicles or a measured curve.
type Attachment struct {
	Name    string // as the brief's reader asks for it
	Content []byte
}

// JobSummary is a job in a list.
type JobSummary struct {
	ID                   int64
	Name, Customer, Note string
	Vehicle              string // of the brief; empty: it cannot be read any more
	Added                time.Time
	Removed              time.Time // zero: it was not
	Quotes               int
	Latest               *QuoteSummary // nil: never quoted
	State                State
}

// Files holds the brief and its attachments under their names.
func (j Job) Files() fs.FS {
	f := document.Memory{j.File: []byte(j.Brief)}
	for _, a := range j.Attachments {
		f[a.Name] = a.Content
	}
	return f
}

// Load reads the brief.
func (j Job) Load() (catalog.Brief, *catalog.Report) { return catalog.LoadBriefFS(j.Files(), j.File) }

// AddJob books a job, and what it was quoted at once if quotes are given (the
// Job of each is filled in). A brief that cannot be read is refused with its
// report: it could never be run again.
func (b *Book) AddJob(ctx context.Context, j Job, quotes ...Quote) (id int64, err error) {
	if j.File == "" {
		j.File = "brief.yaml"
	}
	brief, report := j.Load()
	if err := report.Err(); err != nil {
		return 0, err
	}
	for _, name := range []string{brief.Name, strings.TrimSuffix(filepath.Base(j.File), filepath.Ext(j.File))} {
		if j.Name == "" {
			j.Name = name
		}
	}
	if err := errors.Join(visible("customer", j.Customer), visible("note", j.Note)); err != nil {
		return 0, err
	}
	added, err := b.stamp(j.Added)
	if err != nil {
		return 0, err
	}
	ready := make([]readyQuote, len(quotes))
	for i, q := range quotes {
		if ready[i], err = b.prepare(ctx, q); err != nil {
			return 0, err
		}
	}
	err = b.write(ctx, func(tx *sql.Tx) error {
		err := tx.QueryRowContext(ctx, `INSERT INTO job (name, customer, file, brief, note, added) VALUES (?, ?, ?, ?, ?, ?) RETURNING id`,
			j.Name, j.Customer, j.File, j.Brief, j.Note, added).Scan(&id)
		if err != nil {
			return err
		}
		for _, a := range j.Attachments {
			if _, err := tx.ExecContext(ctx, `INSERT INTO attachment (job, name, content) VALUES (?, ?, ?)`, id, a.Name, pack(a.Content)); err != nil {
				return err
			}
		}
		for _, q := range ready {
			q.Job = id
			if _, err := q.insert(ctx, tx); err != nil {
				return err
			}
		}
		return nil
	})
	return id, err
}

// visible refuses a text that would act where it is shown: what a reader refuses
// in a file is no better from a command line or a page.
func visible(what, text string) error {
	if _, _, summary, detail := report.Hidden(text); summary != "" {
		return fmt.Errorf("%s: %s; %s", what, summary, detail)
	}
	return nil
}

func none(what string, key any) error { return fmt.Errorf("%s %v is %w", what, key, ErrNone) }

// Jobs lists the jobs that were not removed, in the order in which they were added.
func (b *Book) Jobs(ctx context.Context) ([]JobSummary, error) {
	return b.jobList(ctx, `WHERE removed = ''`)
}

// Removed lists those that were, the latest last.
func (b *Book) Removed(ctx context.Context) ([]JobSummary, error) {
	list, err := b.jobList(ctx, `WHERE removed <> ''`)
	slices.SortStableFunc(list, func(a, b JobSummary) int { return a.Removed.Compare(b.Removed) })
	return list, err
}

func (b *Book) jobList(ctx context.Context, where string) ([]JobSummary, error) {
	latest, err := b.summaries(ctx, `WHERE q.id IN (SELECT max(id) FROM quote GROUP BY job)`)
	if err != nil {
		return nil, err
	}
	byJob := map[int64]*QuoteSummary{}
	for i := range latest {
		byJob[latest[i].Job] = &latest[i]
	}
	states, err := b.states(ctx)
	if err != nil {
		return nil, err
	}
	return collect(ctx, b, func(row *sql.Rows) (s JobSummary, err error) {
		var added, removed string
		var j Job
		err = row.Scan(&s.ID, &s.Name, &s.Customer, &s.Note, &j.File, &j.Brief, &added, &removed, &s.Quotes)
		s.Added, s.Removed, s.Latest, s.State = unstamped(added), unstamped(removed), byJob[s.ID], states[s.ID]
		s.Vehicle = vehicleOf(j.Brief)
		return s, err
	}, `SELECT id, name, customer, note, file, brief, added, removed, (SELECT count(*) FROM quote WHERE job = job.id) FROM job `+where+` ORDER BY id`)
}

// vehicleOf is the car of a brief, without the trouble of reading all of it.
func vehicleOf(brief string) string {
	var only struct{ Vehicle string }
	if yaml.Unmarshal([]byte(brief), &only) != nil {
		return ""
	}
	return only.Vehicle
}

// Job gives a job with its brief and attachments, also one that was removed.
func (b *Book) Job(ctx context.Context, id int64) (Job, error) {
	jobs, err := b.jobs(ctx, "WHERE id = ?", "WHERE job = ?", id)
	if err != nil {
		return Job{}, err
	}
	if len(jobs) == 0 {
		return Job{}, none("job", id)
	}
	return jobs[0], nil
}

// AllJobs gives every job that was not removed with its brief and attachments: two
// questions to the book, however many jobs there are.
func (b *Book) AllJobs(ctx context.Context) ([]Job, error) {
	return b.jobs(ctx, "WHERE removed = ''", "")
}

func (b *Book) jobs(ctx context.Context, where, whereAttached string, args ...any) ([]Job, error) {
	jobs, err := collect(ctx, b, func(row *sql.Rows) (j Job, err error) {
		var added, removed string
		err = row.Scan(&j.ID, &j.Name, &j.Customer, &j.File, &j.Brief, &j.Note, &added, &removed)
		j.Added, j.Removed = unstamped(added), unstamped(removed)
		return j, err
	}, `SELECT id, name, customer, file, brief, note, added, removed FROM job `+where+` ORDER BY id`, args...)
	if err != nil {
		return nil, err
	}
	at := map[int64]int{}
	for i := range jobs {
		at[jobs[i].ID] = i
	}
	_, err = collect(ctx, b, func(row *sql.Rows) (struct{}, error) {
		var id int64
		var a Attachment
		if err := row.Scan(&id, &a.Name, &a.Content); err != nil {
			return struct{}{}, err
		}
		content, err := b.unpack(a.Content, "the file "+a.Name)
		if i, ok := at[id]; ok {
			a.Content = content
			jobs[i].Attachments = append(jobs[i].Attachments, a)
		}
		return struct{}{}, err
	}, `SELECT job, name, content FROM attachment `+whereAttached+` ORDER BY job, name`, args...)
	return jobs, err
}

// collect runs a query to its end before anything else is asked, so that no
// connection is held open by a caller who works slowly.
func collect[T any](ctx context.Context, b *Book, scan func(*sql.Rows) (T, error), query string, args ...any) ([]T, error) {
	rows, err := b.db.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, b.fault(err)
	}
	defer rows.Close()
	var out []T
	for rows.Next() {
		v, err := scan(rows)
		if err != nil {
			return nil, b.misread(err)
		}
		out = append(out, v)
	}
	return out, b.fault(rows.Err())
}
