// Package book keeps the job book: the customers' briefs, what each was
// quoted, the catalogue that the quote came from, the prices of every day, and
// what the meter showed afterwards. It is one SQLite file.
//
//	b, err := book.Open(path, book.Options{Now: time.Now, Create: true})
//	if err != nil {
//		return err // names the file, what was found, and what to do
//	}
//	defer b.Close()
//	job, err := b.AddJob(ctx, book.Job{Name: "Rosa", Brief: text})
//	id, err := b.AddQuote(ctx, book.Quote{Job: job, Catalogue: c, Answer: json, Printed: page})
//
// What a method has confirmed by returning without an error stays, whatever
// happens to the program or the power afterwards: each write is one
// transaction, and its log is on the disk before the method returns
// (write-ahead log, synchronous=FULL). What it has not confirmed is there
// whole or not at all. Several programs may use one book at the same time.
//
// A quote is kept as it was given, byte for byte, so that it can be printed
// again when the parts, the prices and this program have changed; and the
// catalogue beside it lets the search be run again. A catalogue is stored once
// however many quotes came from it, under the hash of its bytes.
//
// Opening changes nothing in a file that is no book, is damaged, or was made
// by a newer program; each is refused with words that say so. Limits: the
// file must be on a disk of this machine, since locks over a network do not
// hold; nothing in it is encrypted.
package book

import (
	"context"
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"

	"loudfor/catalog/writing"
)

// Book is an open job book. Its methods may be called from several goroutines.
type Book struct {
	path   string
	file   fs.FileInfo // which file that was when it was opened
	db     *sql.DB
	o      Options
	recent recent
}

// asker is a book or a transaction on it.
type asker interface {
	QueryRowContext(context.Context, string, ...any) *sql.Row
}

// Options say how a book is opened.
type Options struct {
	// Now gives the time for what is written without one. There is no other
	// clock.
	Now func() time.Time
	// Create makes the book, and its folder, if there is none.
	Create bool
	// ReadOnly promises that nothing will be written; a book on a read-only
	// disk can then be read.
	ReadOnly bool
	// Wait is how long to wait for another program to finish writing; zero
	// means usualWait.
	Wait time.Duration

	steps  []string // in place of the schema, for tests
	pragma string   // a further setting of each connection, for tests
}

const usualWait = 5 * time.Second

// Open opens a book, and brings an older one up to date.
func Open(path string, o Options) (*Book, error) {
	if o.Wait <= 0 {
		o.Wait = usualWait
	}
	if o.steps == nil {
		o.steps = steps
	}
	path, err := filepath.Abs(path)
	if err != nil {
		return nil, &Error{Path: path, Kind: Unreadable, What: "the name cannot be used", Remedy: "name another file", Err: err}
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real // the log must lie beside the file itself
	}
	if !o.ReadOnly {
		writing.Sweep(path)
	}
	if _, err := os.Stat(path); errors.Is(err, os.ErrNotExist) {
		if !o.Create || o.ReadOnly {
			return nil, &Error{Path: path, Kind: Missing, What: "there is no job book yet", Remedy: "add a first job to make one, or name another file", Err: err}
		}
		if err := create(path, o); err != nil {
			return nil, err
		}
	}
	if err := inspect(path, o); err != nil {
		return nil, err
	}
	b := &Book{path: path, o: o}
	if b.db, err = connect(path, o); err != nil {
		return nil, b.fault(err)
	}
	if err := b.upToDate(context.Background()); err != nil {
		b.db.Close()
		return nil, err
	}
	if b.file, err = os.Stat(path); err != nil {
		b.db.Close()
		return nil, b.fault(err)
	}
	return b, nil
}

// Path is the file of the book.
func (b *Book) Path() string { return b.path }

// Close ends the use of the book. When no other program has it open, the log
// is moved into the file.
func (b *Book) Close() error { return b.fault(b.db.Close()) }

// Check reads the whole book and reports the first damage.
func (b *Book) Check(ctx context.Context) error {
	if err := integrity(ctx, b.db, b.path, "integrity_check"); err != nil {
		return b.fault(err)
	}
	var table sql.NullString
	err := b.db.QueryRowContext(ctx, `SELECT "table" FROM pragma_foreign_key_check LIMIT 1`).Scan(&table)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	if err == nil {
		err = damaged(b.path, "a row of "+table.String+" belongs to nothing")
	}
	return b.fault(err)
}

// write runs work in one transaction: all of it is confirmed, or none.
func (b *Book) write(ctx context.Context, work func(*sql.Tx) error) error {
	if b.o.ReadOnly {
		return readOnly(b.path, nil)
	}
	if err := b.there(); err != nil {
		return err
	}
	tx, err := b.db.BeginTx(ctx, nil)
	if err != nil {
		return b.fault(err)
	}
	if err = work(tx); err != nil {
		_ = tx.Rollback()
	} else if err = tx.Commit(); err == nil {
		return b.there()
	}
	if ctx.Err() != nil { // whatever the database calls it then; nothing was confirmed
		return ctx.Err()
	}
	return b.fault(err)
}

// there tells whether the file that was opened still has its name. A system keeps a
// deleted file for those who have it open: what is written to it nobody will read.
func (b *Book) there() error {
	if b.file == nil { // while it is made, or brought up to date
		return nil
	}
	now, err := os.Stat(b.path)
	if err == nil && os.SameFile(now, b.file) {
		return nil
	}
	return &Error{Path: b.path, Kind: Missing, What: "the file of the job book is gone, or is another one now: nothing was written", Remedy: "put it back and start again", Err: err}
}

// stamp writes a time, in UTC to the millisecond: such texts are in the order
// of time. A zero time becomes the present one.
func (b *Book) stamp(t time.Time) (string, error) {
	if t.IsZero() {
		if b.o.Now == nil {
			return "", errors.New("book: neither a time nor a clock was given")
		}
		t = b.o.Now()
	}
	return t.UTC().Format(stampForm), nil
}

const stampForm = "2006-01-02T15:04:05.000Z"

// unstamped reads what stamp wrote.
func unstamped(text string) time.Time {
	t, _ := time.Parse(stampForm, text)
	return t
}
