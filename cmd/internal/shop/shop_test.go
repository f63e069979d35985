package shop

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/demo"
	"loudfor/catalog/prices"
	"loudfor/cmd/internal/reprice"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
)

// booked makes a job book of briefs, each with its quote from a catalogue.
func booked(t testing.TB, c *catalog.Catalogue, briefs []string) *book.Book {
	t.Helper()
	b, err := book.Open(filepath.Join(t.TempDir(), "shop.db"), book.Options{Create: true,
		Now: func() time.Time { return time.Date(2025, time.March, 9, 12, 0, 0, 0, time.UTC) }})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { b.Close() })
	shared := new(optimizer.Shared)
	known := map[string]book.Quote{}
	for i, text := range briefs {
		job := book.Job{Name: fmt.Sprint("brief ", i), Brief: text}
		if q, ok := known[text]; ok {
			if _, err := b.AddJob(context.Background(), job, q); err != nil {
				t.Fatal(err)
			}
			continue
		}
		p, err := ProblemOf(book.Job{File: "brief.yaml", Brief: text}, c)
		if err != nil {
			t.Fatal(err)
		}
		p.Shared = shared
		best, err := optimizer.First(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		if best == nil {
			t.Fatalf("no build for\n%s", text)
		}
		var lines []book.Line
		for _, m := range build.Mentions(best.Lines) {
			lines = append(lines, book.Line{SKU: m.SKU, Count: m.Count})
		}
		known[text] = book.Quote{Catalogue: c, Answer: json.RawMessage("{}"),
			QuoteSummary: book.QuoteSummary{Objective: "reading", Level: best.Objective, Price: best.Cost, Lines: lines}}
		if _, err := b.AddJob(context.Background(), job, known[text]); err != nil {
			t.Fatal(err)
		}
	}
	return b
}

func demoParts(t testing.TB) *catalog.Catalogue {
	t.Helper()
	c, report := catalog.LoadFS(demo.FS, []string{demo.Parts})
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	return c
}

// brief is a customer's, from a cap, a car and the rest.
func brief(cap int, car, rest string) string {
	return fmt.Sprintf("cap: %d USD\nvehicle: %s\nowned: [HU-OLD]\n%s\n", cap, car, rest)
}

func list(t testing.TB, text string) *prices.List {
	t.Helper()
	l, report := prices.Read("list.csv", []byte("sku,price,stock,date\n"+text), prices.Options{Currency: "USD"})
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	return l
}

// Every job of a book has the answer that a search of its own gives, whether it
// was searched for or proved, and however many cores there are.
func TestAllIsEachByItself(t *testing.T) {
	c := demoParts(t)
	var briefs []string
	for i, car := range []string{"small sedan", "van", "wagon"} {
		for j, rest := range []string{"", "stores: [Dunmarrow Audio]", "openings: doors open", "never: [OR-M6-B]"} {
			briefs = append(briefs, brief(220+130*j+40*i, car, rest))
		}
	}
	b := booked(t, c, briefs)
	lists := []*prices.List{list(t, "OR-M6-B,69.50,1,2025-03-10\nKE-M5,160,,2025-03-10\nKE-K8,,0,2025-03-10\nBQ-12R,500,,2025-03-10\n")}
	searched, changed := 0, 0
	var first string
	for _, workers := range []int{1, 3} {
		results, report, err := Shop{Book: b, Lists: lists, Workers: workers}.All(context.Background(), nil)
		if err != nil || report.Err() != nil || len(results) != len(briefs) {
			t.Fatal(err, report, len(results))
		}
		var all strings.Builder
		for i, r := range results {
			if r.Err != nil || r.Otherwise {
				t.Fatalf("job %d: %v, otherwise %v", r.Job, r.Err, r.Otherwise)
			}
			p := r.Problem
			p.Catalogue, p.Shared = r.New, nil
			want, err := optimizer.First(context.Background(), p)
			if err != nil {
				t.Fatal(err)
			}
			if !optimizer.BestOf(want).Same(optimizer.BestOf(r.After)) {
				t.Errorf("brief %d: %v, searched alone %v", i, optimizer.BestOf(r.After), optimizer.BestOf(want))
			}
			if r.Searched {
				searched++
			}
			if r.Changed {
				changed++
			}
			fmt.Fprintln(&all, r.Job, r.Changed, r.Searched, optimizer.BestOf(r.After), r.Matters, r.Now, r.Over, r.Gone)
		}
		if first == "" {
			first = all.String()
		}
		if all.String() != first {
			t.Errorf("with %d workers\n%s\nwith 1\n%s", workers, &all, first)
		}
	}
	if searched == 0 || changed == 0 || searched == 2*len(briefs) {
		t.Errorf("%d searched, %d changed of %d: the jobs say little", searched, changed, 2*len(briefs))
	}
}

// A row about a part that no state of the catalogue knows is a mistake; about
// one that some state knows it is none.
func TestRowsAreCheckedAgainstAllStates(t *testing.T) {
	c := demoParts(t)
	b := booked(t, c, []string{brief(300, "van", "")})
	extra := *c.Part("BQ-12R")
	extra.SKU = "BQ-12R-NEW"
	more := c.With(&extra)
	best, err := ProblemOf(book.Job{File: "brief.yaml", Brief: brief(400, "van", "")}, more)
	if err != nil {
		t.Fatal(err)
	}
	found, err := optimizer.First(context.Background(), best)
	if err != nil {
		t.Fatal(err)
	}
	var lines []book.Line
	for _, m := range build.Mentions(found.Lines) {
		lines = append(lines, book.Line{SKU: m.SKU, Count: m.Count})
	}
	if _, err := b.AddJob(context.Background(), book.Job{Brief: brief(400, "van", "")}, book.Quote{Catalogue: more, Answer: json.RawMessage("{}"),
		QuoteSummary: book.QuoteSummary{Level: found.Objective, Price: found.Cost, Lines: lines}}); err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	for text, ok := range map[string]bool{"BQ-12R-NEW,300,,2025-03-10\n": true, "BQ-12R,300,,2025-03-10\n": true, "NOBODY,1,,2025-03-10\n": false} {
		results, report, err := Shop{Book: b, Strict: true, Lists: []*prices.List{list(t, text)}}.All(ctx, nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := report.Err() == nil; got != ok || ok && len(results) != 2 || !ok && results != nil {
			t.Errorf("%s: %v, %d results", text, report.Err(), len(results))
		}
	}
	if _, _, err := (Shop{Book: b}).All(ctx, []int64{99}); err == nil || !strings.Contains(err.Error(), "job 99") {
		t.Errorf("an unknown job: %v", err)
	}
}

// A quote that this program would give otherwise proves nothing, and is told.
func TestQuotedOtherwise(t *testing.T) {
	c := demoParts(t)
	p, err := ProblemOf(book.Job{File: "brief.yaml", Brief: brief(300, "van", "")}, c)
	if err != nil {
		t.Fatal(err)
	}
	best, err := optimizer.First(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	quoted := reprice.Quoted{Best: optimizer.BestOf(best), Level: best.Objective}
	for _, off := range []float64{0, 0.001, -2} {
		q := quoted
		q.Level += off
		r := reprice.Settle(context.Background(), reprice.Case{Problem: p, New: c, Quoted: &q}, false)
		if r.Err != nil || r.Otherwise != (off != 0) || r.Searched != (off != 0) || r.Changed {
			t.Errorf("off by %g dB: otherwise %v, searched %v, changed %v, %v", off, r.Otherwise, r.Searched, r.Changed, r.Err)
		}
	}
}

// A run that is stopped says so and gives nothing.
func TestInterrupted(t *testing.T) {
	b := booked(t, demoParts(t), []string{brief(300, "van", "")})
	ctx, stop := context.WithCancel(context.Background())
	s := Shop{Book: b, Lists: []*prices.List{list(t, "OR-M6-B,69.50,1,2025-03-10\n")}}
	jobs, _, err := s.All(ctx, nil)
	if err != nil || len(jobs) != 1 {
		t.Fatal(err)
	}
	stop()
	if _, _, err := s.All(ctx, nil); err == nil {
		t.Error("a stopped run was an answer")
	}
}

// A job whose parts or brief were taken once and are refused today is told by
// name, and keeps nobody from the rest of the book.
func TestRefusedToday(t *testing.T) {
	c := demoParts(t)
	b := booked(t, c, []string{brief(300, "van", "")})
	job := func(c *catalog.Catalogue, wish string) {
		t.Helper()
		q := book.Quote{Catalogue: c, Answer: json.RawMessage("{}"), QuoteSummary: book.QuoteSummary{Objective: "reading", Level: 100, Price: catalog.Money{Minor: 1, Currency: "USD"}}}
		if _, err := b.AddJob(context.Background(), book.Job{Name: "old", Brief: brief(300, "van", wish)}, q); err != nil {
			t.Fatal(err)
		}
	}
	old, part := *c, *c.Parts[0]
	part.Name = "once good"
	old.Parts = append([]*catalog.Part{&part}, c.Parts[1:]...)
	job(&old, "")
	job(c, "name: once good")
	spoil(t, b)
	results, report, err := Shop{Book: b, Lists: []*prices.List{list(t, "OR-M6-B,69.50,1,2025-03-10\nOLD-ONE,1,1,2025-03-10\n")}}.All(context.Background(), nil)
	if err != nil || report.Err() != nil || len(results) != 3 {
		t.Fatal(err, report.Err(), len(results))
	}
	if results[0].Err != nil {
		t.Error(results[0].Err)
	}
	for i, want := range map[int]string{1: "book quote 2 --catalog", 2: "brief"} {
		if err := results[i].Err; err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "acts on what is shown") {
			t.Errorf("job %d: %v", i+1, err)
		}
	}
}

// spoil changes a name in the state of the second quote and in the third brief, as
// a program that took such names would have stored them.
func spoil(t *testing.T, b *book.Book) {
	t.Helper()
	const from, to = "once good", `"once\e[2Jgood"`
	db, err := sql.Open("sqlite", b.Path())
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(err)
	defer db.Close()
	var packed []byte
	must(db.QueryRow("SELECT content FROM catalogue JOIN quote ON hash = catalogue WHERE id = 2").Scan(&packed))
	unpacked, err := gzip.NewReader(bytes.NewReader(packed))
	must(err)
	text, err := io.ReadAll(unpacked)
	must(err)
	text = bytes.Replace(text, []byte(from), []byte(to), 1)
	hash := fmt.Sprintf("%x", sha256.Sum256(text))
	var again bytes.Buffer
	w := gzip.NewWriter(&again)
	_, err = w.Write(text)
	must(errors.Join(err, w.Close()))
	_, err = db.Exec("INSERT INTO catalogue SELECT ?, parts, ?, added FROM catalogue LIMIT 1", hash, again.Bytes())
	must(err)
	_, err = db.Exec("UPDATE quote SET catalogue = ? WHERE id = 2", hash)
	must(err)
	_, err = db.Exec("UPDATE job SET brief = replace(brief, ?, ?) WHERE id = 3", from, to)
	must(err)
}
