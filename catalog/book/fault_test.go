package book

import (
	"bytes"
	"database/sql"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"
)

// refused opens a file and holds that it fails as told, in words that name the
// file and a way out, and that not a byte of the folder changed.
func refused(t *testing.T, path string, o Options, kind Kind, words string) {
	t.Helper()
	before := folder(t, filepath.Dir(path))
	o.Now = func() time.Time { return noon }
	b, err := Open(path, o)
	if err == nil {
		b.Close()
		t.Fatalf("%s was opened", path)
	}
	var e *Error
	if !errors.As(err, &e) || e.Kind != kind || !strings.Contains(err.Error(), words) || !strings.HasPrefix(err.Error(), e.Path) || e.Remedy == "" {
		t.Errorf("%v (kind %d), want %q (kind %d)", err, kindOf(err), words, kind)
	} else if p := e.Problem(); p.Where.File != e.Path || p.Summary == "" || p.Detail == "" {
		t.Errorf("%+v", p)
	}
	for name, content := range folder(t, filepath.Dir(path)) {
		if !bytes.Equal(content, before[name]) && !strings.HasSuffix(name, "-shm") { // the lock file of readers holds nothing
			t.Errorf("%s changed", name)
		}
	}
}

func kindOf(err error) Kind {
	var e *Error
	if errors.As(err, &e) {
		return e.Kind
	}
	return -1
}

func folder(t *testing.T, dir string) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	names, err := os.ReadDir(dir)
	if err != nil {
		return out // there is none
	}
	for _, n := range names {
		if n.Type().IsRegular() {
			if out[n.Name()], err = os.ReadFile(filepath.Join(dir, n.Name())); err != nil {
				t.Fatal(err)
			}
		}
	}
	return out
}

// filled is the file of a closed book with a job and a few quotes.
func filled(t testing.TB) string {
	b := fresh(t)
	q := quoteFor(demoParts())
	must[int64](t)(b.AddJob(ctx, Job{Brief: brief}, q, q, q))
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Path()
}

func TestOpenRefuses(t *testing.T) {
	file := func(content string) func(*testing.T, string) {
		return func(t *testing.T, path string) {
			if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
	spoil := func(at int, with string) func(*testing.T, string) {
		return func(t *testing.T, path string) {
			content, err := os.ReadFile(filled(t))
			if err != nil {
				t.Fatal(err)
			}
			copy(content[at:], with)
			file(string(content))(t, path)
		}
	}
	for name, c := range map[string]struct {
		make  func(*testing.T, string)
		o     Options
		kind  Kind
		words string
	}{
		"missing":         {nil, Options{}, Missing, "there is no job book yet; add a first job"},
		"missing to read": {nil, Options{Create: true, ReadOnly: true}, Missing, "there is no job book yet"},
		"empty":           {file(""), Options{Create: true}, NotABook, "the file is empty"},
		"text":            {file("parts:\n  - sku: A\n"), Options{Create: true}, NotABook, `it starts with "parts:.  - sku:`},
		"short":           {file(magic + "abc"), Options{}, Damaged, "it ends after 19 bytes"},
		"folder":          {func(t *testing.T, path string) { _ = os.Mkdir(path, 0o700) }, Options{Create: true}, NotABook, "not a file but a folder"},
		"other database": {func(t *testing.T, path string) {
			db, err := sql.Open("sqlite", path)
			if err != nil {
				t.Fatal(err)
			}
			defer db.Close()
			if _, err := db.Exec("CREATE TABLE songs (name TEXT)"); err != nil {
				t.Fatal(err)
			}
		}, Options{Create: true}, NotABook, "a database of another program"},
		"newer":     {spoil(atVersion, "\x00\x00\x00\x63"), Options{}, Newer, "has version 99, this program knows versions up to 2; use a newer program"},
		"page size": {spoil(atPageSize, "\x00\x07"), Options{}, Damaged, "page size is impossible"},
		"pages lost": {func(t *testing.T, path string) {
			content, err := os.ReadFile(filled(t))
			if err != nil {
				t.Fatal(err)
			}
			file(string(content[:len(content)/2+100]))(t, path)
		}, Options{}, Damaged, "put the last copy"},
		"no tables": {spoil(100, strings.Repeat("\xff", 2000)), Options{}, Damaged, "nothing was changed"},
	} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "book.db")
			if c.make != nil {
				c.make(t, path)
			}
			refused(t, path, c.o, c.kind, c.words)
		})
	}
}

// A book that a killed program left, with damage in its log's file, is looked
// through before anything is written.
func TestOpenChecksWhatWasNotClosed(t *testing.T) {
	from := filled(t)
	content, err := os.ReadFile(from)
	if err != nil {
		t.Fatal(err)
	}
	for i := 4096; i < len(content); i += 4096 { // the type of every page but the first
		content[i] = 0x77
	}
	path := filepath.Join(t.TempDir(), "book.db")
	for name, text := range map[string][]byte{path: content, path + "-wal": []byte("left behind")} {
		if err := os.WriteFile(name, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	refused(t, path, Options{}, Damaged, "the job book is damaged")
}

// Damage that no sign gives away is found by Check, or when it is read.
func TestCheckFindsDamage(t *testing.T) {
	path := filled(t)
	content, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	pages := int(binary.BigEndian.Uint32(content[atPages:]))
	found := 0
	for page := 2; page <= pages; page++ {
		spoilt := bytes.Clone(content)
		for i := range 64 {
			spoilt[(page-1)*len(content)/pages+i] ^= 0xff
		}
		if err := os.WriteFile(path, spoilt, 0o600); err != nil {
			t.Fatal(err)
		}
		b, err := Open(path, Options{})
		if err == nil {
			if err = b.Check(ctx); err == nil { // the inside of a long answer
				_, err = b.LatestQuote(ctx, 1)
			}
			if err == nil {
				hash := must[Quote](t)(b.LatestQuote(ctx, 1)).Hash
				_, err = b.Catalogue(ctx, hash)
			}
			b.Close()
		}
		if err != nil && kindOf(err) != Damaged {
			t.Errorf("page %d: %v", page, err)
		}
		if err != nil {
			found++
		}
	}
	// Pages that are free, and the middle of pages that are not full, may be
	// spoilt without harm.
	if found < pages/2 {
		t.Errorf("damage to %d of %d pages was found", found, pages)
	}
}

func TestLocked(t *testing.T) {
	path := filled(t)
	a, b := opened(t, path), (*Book)(nil)
	b, err := Open(path, Options{Now: func() time.Time { return noon }, Wait: 50 * time.Millisecond})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	err = a.write(ctx, func(tx *sql.Tx) error {
		if _, err := tx.Exec(`INSERT INTO reading (taken, vehicle, build, place, openings, frequency, level, note) VALUES ('', '', '', '', '', 1, 1, '')`); err != nil {
			return err
		}
		if jobs, err := b.Jobs(ctx); err != nil || len(jobs) != 1 {
			t.Errorf("a reader waits for a writer: %v", err)
		}
		_, err := b.AddJob(ctx, Job{Brief: brief})
		if kindOf(err) != Locked || !strings.Contains(err.Error(), "in use by another program, for more than 50ms; wait") {
			t.Errorf("%v", err)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	must[int64](t)(b.AddJob(ctx, Job{Brief: brief}))
}

// When the disk is full nothing is half written, and all goes on when there is
// room again. A limit on the size of the file stands for the disk.
func TestFull(t *testing.T) {
	path := filled(t)
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	const room = 5
	b, err := Open(path, Options{Now: func() time.Time { return noon }, pragma: "max_page_count(" + itoa(int(info.Size()/4096)+room) + ")"})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	booked := 0
	for {
		if _, err = b.AddJob(ctx, Job{Brief: brief, Note: strings.Repeat("x", 3000)}, quoteFor(demoParts())); err != nil {
			break
		}
		if booked++; booked > 100 {
			t.Fatal("the limit was not kept")
		}
	}
	if kindOf(err) != Full || !strings.Contains(err.Error(), "no room left on the disk; nothing was written; make room") {
		t.Errorf("%v", err)
	}
	again := opened(t, path)
	if n := count(t, again, "job"); n != booked+1 {
		t.Errorf("%d jobs, %d were confirmed", n, booked+1)
	}
	if n := count(t, again, "quote"); n != booked+3 {
		t.Errorf("%d quotes, %d were confirmed", n, booked+3)
	}
	if err := again.Check(ctx); err != nil {
		t.Error(err)
	}
}

func itoa(n int) string { return strconv.Itoa(n) }

func TestReadOnly(t *testing.T) {
	path := filled(t)
	before := folder(t, filepath.Dir(path))
	b, err := Open(path, Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	must[Quote](t)(b.LatestQuote(ctx, 1))
	if _, err := b.AddReading(ctx, Reading{Taken: noon}); kindOf(err) != ReadOnly {
		t.Errorf("%v", err)
	}
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	if after := folder(t, filepath.Dir(path)); !bytes.Equal(after["book?#%20.db"], before["book?#%20.db"]) {
		t.Error("reading changed the book")
	}
}

// What may not be read or written is told so. The rights of files do not bind
// the administrator, so the test runs in a process of nobody's then.
func TestRights(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("rights are of another kind on Windows")
	}
	if os.Geteuid() == 0 {
		asNobody(t, "TestRights")
		return
	}
	shut := func(path string, mode os.FileMode) {
		if err := os.Chmod(path, mode); err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { os.Chmod(path, 0o700) })
	}
	path := filled(t)
	shut(path, 0o400)
	refused(t, path, Options{}, ReadOnly, "may not be written; give yourself the right")
	shut(filepath.Dir(path), 0o500)
	b, err := Open(path, Options{ReadOnly: true})
	if err != nil {
		t.Fatalf("a book in a folder that may not be written: %v", err)
	}
	must[Quote](t)(b.LatestQuote(ctx, 1))
	b.Close()
	refused(t, filepath.Join(filepath.Dir(path), "new.db"), Options{Create: true}, ReadOnly, "its folder may not be written")
	shut(path, 0)
	if _, err := Open(path, Options{}); kindOf(err) != Unreadable || !strings.Contains(err.Error(), "may not be read; give yourself") {
		t.Errorf("%v", err)
	}
}
