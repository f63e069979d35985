package book

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"loudfor/catalog/writing"
)

// A new book is made beside its place and then given its name, so that no
// moment shows half a book, and of two programs that make it at once one wins
// and the other opens what it finds.

func create(path string, o Options) error {
	cannot := func(err error) error {
		if errors.Is(err, os.ErrPermission) {
			return &Error{Path: path, Kind: ReadOnly, What: "the job book cannot be made: its folder may not be written", Remedy: "give yourself the right to write there, or name another file", Err: err}
		}
		var known *Error // of the file beside, which nobody named
		if errors.As(fault(path, o, err), &known) {
			e := *known
			e.Path = path
			return &e
		}
		return &Error{Path: path, Kind: Unreadable, What: "the job book cannot be made", Remedy: "check the name and the disk, or name another file", Err: err}
	}
	dir := filepath.Dir(path)
	const private = 0o700 // customers' names are in it
	if err := os.MkdirAll(dir, private); err != nil {
		return cannot(err)
	}
	// In a folder of its own, where the files that the database lays beside it
	// are as well.
	begun, remove, err := writing.Folder(path)
	if err != nil {
		return cannot(err)
	}
	defer remove()
	beside := filepath.Join(begun, filepath.Base(path))
	if err := os.WriteFile(beside, nil, 0o600); err != nil {
		return cannot(err)
	}
	if err := fill(beside, o); err != nil {
		return cannot(err)
	}
	// A link fails where a file has appeared in the meantime; not every disk
	// knows links.
	err = os.Link(beside, path)
	if err == nil || errors.Is(err, os.ErrExist) {
		return nil
	}
	if _, there := os.Stat(path); there == nil {
		return nil
	}
	if err := os.Rename(beside, path); err != nil {
		return cannot(err)
	}
	return nil
}

// fill makes the tables in an empty file.
func fill(path string, o Options) error {
	// The mark of a book and the log are set while the file has no pages.
	db, err := open(path, "rw", o.Wait, "synchronous(full)", o.pragma)
	if err != nil {
		return err
	}
	b := &Book{path: path, db: db, o: o}
	ctx := context.Background()
	for _, statement := range []string{fmt.Sprint("PRAGMA application_id=", application), "PRAGMA journal_mode=wal"} {
		if _, err := db.ExecContext(ctx, statement); err != nil {
			db.Close()
			return err
		}
	}
	if err := b.upToDate(ctx); err != nil {
		db.Close()
		return err
	}
	if _, err := db.ExecContext(ctx, "PRAGMA wal_checkpoint(truncate)"); err != nil {
		db.Close()
		return err
	}
	return db.Close()
}
