package book

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// FuzzBook opens any bytes as a job book: those of a sound one with some of them
// replaced, or a file of its own. Whatever is wrong is an error that names the
// file, and what is only read is left as it was, to the byte. A book that can be
// opened may still be broken inside: everything in it is read as well.
func FuzzBook(f *testing.F) {
	sound, err := os.ReadFile(filled(f))
	if err != nil {
		f.Fatal(err)
	}
	for _, at := range []uint32{0, 16, 18, 24, 28, 52, 56, 60, 68, 92, 100, 103, 105, 108, uint32(len(sound)) - 1} {
		f.Add([]byte(nil), at, []byte{0xff})
		f.Add([]byte(nil), at, []byte{0, 0, 0, 0})
	}
	// The parts of a page: its kind, its cells, where they stand, the tables.
	for page := 0; page < len(sound); page += 4096 {
		f.Add([]byte(nil), uint32(page), []byte{0x0d, 0, 0, 0xff, 0xff})
		f.Add([]byte(nil), uint32(page+8), []byte{0, 1, 0, 1})
		f.Add([]byte(nil), uint32(page+4000), []byte("x"))
	}
	for _, word := range []string{"CREATE TABLE", "NOT NULL", "job", "quote", "USD", "reading"} {
		if at := bytes.Index(sound, []byte(word)); at >= 0 {
			f.Add([]byte(nil), uint32(at), []byte("Q"))
		}
	}
	f.Add([]byte(nil), uint32(18), []byte{1, 1})
	f.Add([]byte("SQLite format 3\x00"), uint32(0), []byte(nil))
	f.Add([]byte("no book at all"), uint32(0), []byte(nil))
	f.Add(sound[:len(sound)/2], uint32(0), []byte(nil))
	f.Add(sound[:100], uint32(0), []byte(nil))
	f.Add([]byte(nil), uint32(60), []byte{0, 0, 0, 0}) // as if it were of the first version
	f.Fuzz(func(t *testing.T, whole []byte, at uint32, spoil []byte) {
		content := whole
		if len(whole) == 0 {
			content = bytes.Clone(sound)
			copy(content[int(at)%len(content):], spoil)
		}
		path := filepath.Join(t.TempDir(), "shop.db")
		for _, readOnly := range []bool{true, false} {
			if err := os.WriteFile(path, content, 0o600); err != nil {
				t.Fatal(err)
			}
			kept := readOnly
			b, err := Open(path, Options{Now: func() time.Time { return noon }, ReadOnly: readOnly, Wait: time.Second})
			if err != nil {
				told(t, path, err)
				kept = true
			} else {
				readAll(t, b)
				if err := b.Close(); err != nil {
					told(t, path, err)
				}
			}
			after, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			// One of an older version is brought up to date when it is opened
			// for writing, and one without a log gets one.
			older := len(content) > headLength && (content[atVersion+3] < byte(len(steps)) || content[atWriting] == 1 || content[atReading] == 1)
			if (kept || !older) && !bytes.Equal(after, content) {
				t.Errorf("the file changed (opened for reading only: %v)", readOnly)
			}
			for _, beside := range []string{"-wal", "-shm", "-journal"} {
				os.Remove(path + beside)
			}
		}
	})
}

// told holds that an error names the file.
func told(t *testing.T, path string, err error) {
	t.Helper()
	var e *Error
	if errors.As(err, &e) && (e.Remedy == "" || filepath.Base(e.Path) != filepath.Base(path)) {
		t.Errorf("%+v", e)
	}
	if !strings.Contains(err.Error(), filepath.Base(path)) && !errors.Is(err, ErrNone) {
		t.Errorf("%q does not name the file", err)
	}
}

// readAll asks a book for everything that it holds.
func readAll(t *testing.T, b *Book) {
	t.Helper()
	check := func(err error) {
		t.Helper()
		if err != nil {
			told(t, b.Path(), err)
		}
	}
	check(b.Check(ctx))
	jobs, err := b.AllJobs(ctx)
	check(err)
	latest, err := b.LatestQuotes(ctx)
	check(err)
	for _, j := range jobs[:min(len(jobs), 5)] {
		_, err := b.Job(ctx, j.ID)
		check(err)
		quotes, err := b.Quotes(ctx, j.ID)
		check(err)
		for _, q := range quotes[:min(len(quotes), 5)] {
			_, err := b.Quote(ctx, q.ID)
			check(err)
		}
	}
	n := 0
	for _, q := range latest {
		if n++; n > 5 {
			break
		}
		_, err := b.Catalogue(ctx, q.Hash)
		check(err)
	}
	_, err = b.PriceList(ctx)
	check(err)
	_, err = b.Readings(ctx, "")
	check(err)
}
