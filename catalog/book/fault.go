package book

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"modernc.org/sqlite"
	lib "modernc.org/sqlite/lib"

	"loudfor/catalog"
)

// Kind is what is wrong with a book.
type Kind int

const (
	Unreadable Kind = iota // the system refuses it
	Missing                // there is no such file
	NotABook               // a file of another sort
	Newer                  // made by a newer program
	Older                  // needs to be brought up to date, and may not be written
	Damaged                // a book that is broken
	Locked                 // another program writes to it
	ReadOnly               // it may not be written
	Full                   // the disk is full
)

// Error is why a book cannot be used. The book is as it was before.
type Error struct {
	Path   string
	Kind   Kind
	What   string // what was found
	Remedy string // what to do
	Err    error  // the cause, if there is one
}

func (e *Error) Error() string { return e.Path + ": " + e.What + "; " + e.Remedy }

// Unwrap gives the cause.
func (e *Error) Unwrap() error { return e.Err }

// Problem is the error as a report shows it.
func (e *Error) Problem() catalog.Problem {
	return catalog.Problem{Summary: e.What, Detail: e.Remedy, Where: catalog.Position{File: e.Path}}
}

// ErrNone is wrapped by errors for a job, quote or catalogue that the book
// does not hold.
var ErrNone = errors.New("not in the job book")

func damaged(path, what string) *Error {
	return &Error{Path: path, Kind: Damaged, What: "the job book is damaged: " + what,
		Remedy: "nothing was changed; put the last copy that you saved in its place, or keep this file and start a new book"}
}

func readOnly(path string, err error) *Error {
	return &Error{Path: path, Kind: ReadOnly, What: "the job book may not be written", Remedy: "give yourself the right to write the file and its folder, or name another book", Err: err}
}

// fault turns what the database says into words.
func (b *Book) fault(err error) error { return fault(b.path, b.o, err) }

// misread is fault for a value that was read: what the database gives without
// complaint and is yet of another sort than the tables allow is damage.
func (b *Book) misread(err error) error {
	told := b.fault(err)
	var said *sqlite.Error
	var known *Error
	if told == nil || errors.As(told, &known) || errors.As(told, &said) || errors.Is(told, context.Canceled) || errors.Is(told, context.DeadlineExceeded) || errors.Is(told, sql.ErrNoRows) {
		return told
	}
	e := damaged(b.path, "a row cannot be read")
	e.Err = err
	return e
}

func fault(path string, o Options, err error) error {
	var said *sqlite.Error
	var known *Error
	if err == nil || errors.As(err, &known) || errors.Is(err, context.Canceled) || !errors.As(err, &said) {
		return err
	}
	const primary = 0xff // the rest of the code says more than a user wants to know
	switch said.Code() & primary {
	case lib.SQLITE_INTERRUPT:
		return context.Canceled // nothing else interrupts
	case lib.SQLITE_BUSY, lib.SQLITE_LOCKED:
		return &Error{Path: path, Kind: Locked, What: fmt.Sprintf("the job book is in use by another program, for more than %v", o.Wait),
			Remedy: "wait until it is done, or end it, and try again", Err: err}
	case lib.SQLITE_READONLY, lib.SQLITE_PERM, lib.SQLITE_AUTH:
		return readOnly(path, err)
	case lib.SQLITE_FULL:
		return &Error{Path: path, Kind: Full, What: "there is no room left on the disk; nothing was written", Remedy: "make room and try again", Err: err}
	case lib.SQLITE_CORRUPT:
		e := damaged(path, "its pages contradict each other")
		e.Err = err
		return e
	case lib.SQLITE_NOTADB:
		return &Error{Path: path, Kind: NotABook, What: "the file is not a job book", Remedy: "name the right file", Err: err}
	case lib.SQLITE_CANTOPEN:
		return &Error{Path: path, Kind: Unreadable, What: "the job book cannot be opened", Remedy: "check the name, and your rights to the file and its folder", Err: err}
	case lib.SQLITE_IOERR:
		return &Error{Path: path, Kind: Unreadable, What: "the disk does not read or write", Remedy: "check the disk, and save a copy of the book", Err: err}
	}
	return fmt.Errorf("%s: %w", path, err)
}
