package book

import (
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"loudfor/catalog"
)

// A later program adds steps; these stand for it.
var laterSteps = append(append([]string{}, steps...),
	`ALTER TABLE job ADD COLUMN phone TEXT NOT NULL DEFAULT ''; UPDATE job SET phone = 'of ' || customer;`,
	`CREATE TABLE job2 (id INTEGER PRIMARY KEY) STRICT; INSERT INTO job2 SELECT id FROM job;`,
)

func version(t *testing.T, b *Book) int {
	t.Helper()
	at, err := b.version(ctx, b.db)
	if err != nil {
		t.Fatal(err)
	}
	return at
}

func TestSteps(t *testing.T) {
	path := filled(t)
	b, err := Open(path, Options{steps: laterSteps})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if at := version(t, b); at != len(steps)+2 || count(t, b, "job2") != 1 {
		t.Errorf("version %d", at)
	}
	must[Quote](t)(b.LatestQuote(ctx, 1))
	b.Close()
	// The program of today refuses what that of tomorrow has made.
	refused(t, path, Options{}, Newer, "use a newer program; the book was not changed")
}

// A step that fails leaves the book at the version before it, and usable.
func TestStepFails(t *testing.T) {
	path := filled(t)
	bad := append(append([]string{}, laterSteps[:len(steps)+1]...), `CREATE TABLE half (id INTEGER PRIMARY KEY) STRICT; INSERT INTO nowhere VALUES (1);`)
	if _, err := Open(path, Options{steps: bad}); err == nil || !strings.Contains(err.Error(), fmt.Sprintf("from version %d to %d", len(steps)+1, len(steps)+2)) {
		t.Fatalf("%v", err)
	}
	b, err := Open(path, Options{steps: laterSteps})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	var half int
	if err := b.db.QueryRow(`SELECT count(*) FROM sqlite_schema WHERE name = 'half'`).Scan(&half); err != nil || half != 0 {
		t.Errorf("half a step was kept: %d, %v", half, err)
	}
	if at := version(t, b); at != len(laterSteps) {
		t.Errorf("version %d", at)
	}
}

// An older book that may not be written cannot be brought up to date.
func TestOlderReadOnly(t *testing.T) {
	refused(t, filled(t), Options{ReadOnly: true, steps: laterSteps}, Older, fmt.Sprintf("must be brought to version %d; open it once where it may be written", len(laterSteps)))
}

// Two programs of one version that open an older book at once both get it.
func TestStepsAtOnce(t *testing.T) {
	path := filled(t)
	done := make(chan error)
	for range 4 {
		go func() {
			b, err := Open(path, Options{steps: laterSteps, Wait: however})
			if err == nil {
				err = b.Close()
			}
			done <- err
		}()
	}
	for range 4 {
		if err := <-done; err != nil {
			t.Error(err)
		}
	}
}

// Every version that was ever used is kept as the text that makes it, with a
// book's worth of rows, and can still be opened with all that is in it.
func TestEveryVersion(t *testing.T) {
	for v := 1; v <= Version(); v++ {
		text, err := os.ReadFile(filepath.Join("testdata", "version-"+strconv.Itoa(v)+".sql"))
		if err != nil {
			t.Fatalf("%v: write it with LOUDFOR_BOOK_DUMP=1", err)
		}
		path := filepath.Join(t.TempDir(), "book.db")
		db, err := sql.Open("sqlite", path)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := db.Exec(string(text)); err != nil {
			t.Fatal(err)
		}
		db.Close()
		b := opened(t, path)
		if at := version(t, b); at != Version() {
			t.Errorf("version %d is opened as %d", v, at)
		}
		job := must[[]JobSummary](t)(b.Jobs(ctx))[0]
		q := must[Quote](t)(b.LatestQuote(ctx, job.ID))
		if job.Name != "Rosa's sedan" || q.Printed != quoteFor(nil).Printed || string(q.Answer) != string(quoteFor(nil).Answer) || len(q.Lines) != 2 {
			t.Errorf("version %d: %+v, %+v", v, job, q)
		}
		if c := must[*catalog.Catalogue](t)(b.Catalogue(ctx, q.Hash)); c.Part("A") == nil {
			t.Errorf("version %d: no part A", v)
		}
		if r := must[[]Reading](t)(b.Readings(ctx, "")); len(r) != 1 || r[0].Level != 131.5 || r[0].Quote != q.ID {
			t.Errorf("version %d: %+v", v, r)
		}
		if p, err := b.PriceHistory(ctx, "A"); err != nil || len(p) != 1 || p[0].Stock != 0 {
			t.Errorf("version %d: %+v, %v", v, p, err)
		}
		if state := must[[]JobSummary](t)(b.Jobs(ctx))[0].State; v > 1 && state != Accepted || v == 1 && state != Offered {
			t.Errorf("version %d: the job is %s", v, state)
		}
		if u := must[[]Upload](t)(b.Uploads(ctx)); v > 1 && (len(u) != 1 || string(u[0].Before) != "parts: []\n") {
			t.Errorf("version %d: %+v", v, u)
		}
		if err := b.Check(ctx); err != nil {
			t.Error(err)
		}
		if diff := tables(t, b) != tables(t, fresh(t)); diff {
			t.Errorf("version %d has other tables than a new book:\n%s\n%s", v, tables(t, b), tables(t, fresh(t)))
		}
	}
}

var spaces = regexp.MustCompile(`\s+`)

// tables is the schema of a book, spacing and comments aside.
func tables(t *testing.T, b *Book) string {
	t.Helper()
	all, err := collect(ctx, b, func(row *sql.Rows) (s string, err error) { err = row.Scan(&s); return s, err },
		`SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY name`)
	if err != nil {
		t.Fatal(err)
	}
	text := regexp.MustCompile(`--[^\n]*`).ReplaceAllString(strings.Join(all, ";\n"), "")
	return spaces.ReplaceAllString(text, " ")
}

// TestDump writes testdata for the present version when it is asked to. It is
// run once for each version, before the version is used by anybody.
func TestDump(t *testing.T) {
	if os.Getenv("LOUDFOR_BOOK_DUMP") == "" {
		t.Skip("LOUDFOR_BOOK_DUMP is not set")
	}
	b := fresh(t)
	c := catalog.New("USD", []*catalog.Part{{SKU: "A", Kind: catalog.KindConverter, Stock: 1, Limit: catalog.Unlimited, Converter: &catalog.LineConverter{Channels: 2}}})
	id := must[int64](t)(b.AddJob(ctx, Job{Brief: brief, Customer: "Rosa", Attachments: []Attachment{{"vehicles.yaml", []byte("vehicles: []\n")}}}, quoteFor(c)))
	q := must[Quote](t)(b.LatestQuote(ctx, id))
	must[int64](t)(b.AddReading(ctx, Reading{Vehicle: "small sedan", Quote: q.ID, Place: "dash", Openings: "shut", Frequency: 46, Level: 131.5}))
	if _, err := b.db.Exec(`INSERT INTO price VALUES ('A', 'Dock Street', '2025-05-09', 3900, 'USD', 0, 'may.csv:2:1', '2025-05-09T12:00:00.000Z')`); err != nil {
		t.Fatal(err)
	}
	if err := b.MarkQuote(ctx, q.ID, Accepted); err != nil {
		t.Fatal(err)
	}
	must[int64](t)(b.KeepUpload(ctx, Upload{Name: "may.csv", Target: "parts/may.yaml", Before: []byte("parts: []\n"), After: "x"}))
	var out strings.Builder
	out.WriteString("PRAGMA application_id=" + strconv.Itoa(application) + ";\nPRAGMA user_version=" + strconv.Itoa(Version()) + ";\n")
	for _, s := range steps {
		out.WriteString(s + "\n")
	}
	for _, table := range []string{"job", "attachment", "catalogue", "quote", "quote_line", "price", "reading", "mark", "upload"} {
		out.WriteString(dump(t, b, table))
	}
	if err := errors.Join(os.MkdirAll("testdata", 0o755), os.WriteFile(filepath.Join("testdata", "version-"+strconv.Itoa(Version())+".sql"), []byte(out.String()), 0o644)); err != nil {
		t.Fatal(err)
	}
}

func dump(t *testing.T, b *Book, table string) string {
	t.Helper()
	var columns string
	if err := b.db.QueryRow(`SELECT group_concat('quote("' || name || '")', ' || '', '' || ') FROM pragma_table_info(?)`, table).Scan(&columns); err != nil {
		t.Fatal(err)
	}
	rows, err := collect(ctx, b, func(row *sql.Rows) (s string, err error) { err = row.Scan(&s); return s, err }, `SELECT `+columns+` FROM `+table)
	if err != nil {
		t.Fatal(err)
	}
	out := ""
	for _, r := range rows {
		out += "INSERT INTO " + table + " VALUES (" + r + ");\n"
	}
	return out
}

// Version is the version of the books that this program writes.
func Version() int { return len(steps) }
