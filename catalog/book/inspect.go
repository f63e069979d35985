package book

import (
	"context"
	"database/sql"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"loudfor/catalog/writing"
)

// Before a file is opened for writing, its first bytes are read: SQLite would
// take over an empty file, and would move the log of a damaged one into it.
// The places are those of the SQLite file format, section 1.3.

const (
	magic       = "SQLite format 3\x00"
	headLength  = 100
	atPageSize  = 16
	atWriting   = 18 // 1: with a journal, 2: with a log; for writing, and for reading
	atReading   = 19
	atChange    = 24
	atPages     = 28
	atVersion   = 60
	atOwner     = 68
	atValidFor  = 92
	leastPage   = 512
	application = 0x4c464a42 // "LFJB", the application_id of a job book
)

// head is the beginning of a file that is surely a job book.
type head struct {
	pageSize, pages, size int64
	version               int
	counted               bool // the number of pages can be relied on
}

// readHead refuses what is no job book.
func readHead(path string) (head, error) {
	refuse := func(what, remedy string) (head, error) {
		return head{}, &Error{Path: path, Kind: NotABook, What: what, Remedy: remedy}
	}
	f, err := os.Open(path)
	if err != nil {
		return head{}, unreadable(path, err)
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return head{}, unreadable(path, err)
	}
	if !info.Mode().IsRegular() {
		return refuse("this is not a file but "+sortOf(info.Mode()), "name a file")
	}
	if info.Size() == 0 {
		return refuse("the file is empty, not a job book", "remove it so that a new book can be made, or name another file")
	}
	b := make([]byte, headLength)
	n, err := io.ReadFull(f, b)
	if err != nil && !errors.Is(err, io.ErrUnexpectedEOF) {
		return head{}, unreadable(path, err)
	}
	if !strings.HasPrefix(string(b[:n]), magic) {
		return refuse("the file is not a job book: it starts with "+shown(b[:min(n, 16)]), "name the right file")
	}
	if n < headLength {
		return head{}, damaged(path, fmt.Sprintf("it ends after %d bytes", n))
	}
	if owner := binary.BigEndian.Uint32(b[atOwner:]); owner != application {
		return refuse("the file is a database of another program", "name the right file")
	}
	h := head{
		pageSize: int64(binary.BigEndian.Uint16(b[atPageSize:])), pages: int64(binary.BigEndian.Uint32(b[atPages:])),
		version: int(int32(binary.BigEndian.Uint32(b[atVersion:]))), size: info.Size(),
		counted: binary.BigEndian.Uint32(b[atChange:]) == binary.BigEndian.Uint32(b[atValidFor:]),
	}
	if h.pageSize == 1 {
		h.pageSize = 65536
	}
	if h.pageSize < leastPage || h.pageSize&(h.pageSize-1) != 0 {
		return head{}, damaged(path, "its page size is impossible")
	}
	for _, at := range []int{atWriting, atReading} {
		if b[at] != 1 && b[at] != 2 {
			return head{}, damaged(path, "its format is impossible")
		}
	}
	if h.version < 0 {
		return head{}, damaged(path, impossibleVersion)
	}
	return h, nil
}

const impossibleVersion = "its version is impossible"

func unreadable(path string, err error) *Error {
	e := &Error{Path: path, Kind: Unreadable, What: "the job book cannot be read", Remedy: "check the name, and your rights to the file and its folder", Err: err}
	if errors.Is(err, os.ErrPermission) {
		e.What, e.Remedy = "the job book may not be read", "give yourself the right to read it"
	}
	return e
}

func sortOf(m os.FileMode) string {
	if m.IsDir() {
		return "a folder"
	}
	return "a device"
}

// shown is the beginning of a file in a message.
func shown(b []byte) string {
	text := strings.Map(func(r rune) rune {
		if r < ' ' || r > '~' {
			return '.'
		}
		return r
	}, string(b))
	return fmt.Sprintf("%q", text)
}

// inspect refuses what must not be opened, and reads the whole of a book that
// something has happened to: one that is shorter than it says, or whose last
// user did not close it.
func inspect(path string, o Options) error {
	h, err := readHead(path)
	if err != nil {
		return err
	}
	if h.version > len(o.steps) {
		return newer(path, h.version, len(o.steps))
	}
	if !o.ReadOnly {
		// SQLite would open it for reading only, and fail at the first write.
		f, err := os.OpenFile(path, os.O_RDWR, 0)
		if err != nil {
			return readOnly(path, err)
		}
		f.Close()
	}
	check := ""
	if log, err := os.Stat(path + "-wal"); err == nil && log.Size() > 0 {
		check = "quick_check" // not closed, or open just now
	}
	if h.size%h.pageSize != 0 || h.counted && h.pages*h.pageSize > h.size {
		check = "integrity_check"
	}
	if check == "" {
		return nil
	}
	// A connection that cannot write does not move the log into the file.
	db, err := open(path, "ro", o.Wait)
	if err != nil {
		return fault(path, o, err)
	}
	defer db.Close()
	return fault(path, o, integrity(context.Background(), db, path, check))
}

func newer(path string, found, known int) *Error {
	return &Error{Path: path, Kind: Newer, What: fmt.Sprintf("the job book has version %d, this program knows versions up to %d", found, known),
		Remedy: "use a newer program; the book was not changed"}
}

// integrity runs one of SQLite's checks.
func integrity(ctx context.Context, db *sql.DB, path, check string) error {
	var found string
	if err := db.QueryRowContext(ctx, "PRAGMA "+check+"(1)").Scan(&found); err != nil {
		return err
	}
	if found != "ok" {
		line, _, _ := strings.Cut(strings.TrimPrefix(found, "*** in database main ***\n"), "\n")
		return damaged(path, line)
	}
	return nil
}

// frozen tells whether a book can neither be written nor have files beside it,
// and has no log that would have to be read.
func frozen(path string) bool {
	if log, err := os.Stat(path + "-wal"); err == nil && log.Size() > 0 {
		return false
	}
	return writing.Trial(path) != nil
}
