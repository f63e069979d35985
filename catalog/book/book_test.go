package book

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/catalog/prices"
)

var ctx = context.Background()

// noon is what the clock shows in every test.
var noon = time.Date(2025, 5, 9, 12, 0, 0, 0, time.UTC)

func opened(t testing.TB, path string) *Book {
	t.Helper()
	b, err := Open(path, Options{Now: func() time.Time { return noon }, Create: true})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { b.Close() })
	return b
}

func fresh(t testing.TB) *Book {
	t.Helper()
	return opened(t, filepath.Join(t.TempDir(), "a folder", "book?#%20.db"))
}

var demoParts = sync.OnceValue(func() *catalog.Catalogue {
	c, report := catalog.LoadFS(demo.FS, []string{demo.Parts})
	if err := report.Err(); err != nil {
		panic(err)
	}
	return c
})

const brief = "# for Rosa\nname: Rosa's sedan\ncap: 250 USD\nvehicle: small sedan\ngoal: reading\n"

// quoteFor is an answer with every field filled.
func quoteFor(c *catalog.Catalogue) Quote {
	return Quote{
		QuoteSummary: QuoteSummary{Objective: "reading", Level: 131.25, Price: catalog.Money{Minor: 24_995, Currency: "USD"}, Form: "answer 1",
			Lines: []Line{{"TM-12V", 2, false}, {"HU-STOCK", 1, true}}},
		Catalogue: c, Answer: json.RawMessage("{\"level\": 131.250,\n\t\"odd\":  \"spacing is kept\"}\n"), Printed: "131 dB\n  half a page\t\u2026 \x1b[1mbold\x1b[0m\r\n",
	}
}

func must[T any](t testing.TB) func(v T, err error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// Everything comes back as it went in, also after closing.
func TestJobsAndQuotes(t *testing.T) {
	b := fresh(t)
	job := Job{Customer: "Rosa", File: "/home/x/rosa.yaml", Brief: brief, Note: "blue", Attachments: []Attachment{{"curve.csv", []byte("20,1\n")}, {"vehicles.yaml", []byte("vehicles: []\n")}}}
	id := must[int64](t)(b.AddJob(ctx, job))
	first := quoteFor(demoParts())
	q1 := must[int64](t)(b.AddQuote(ctx, func() Quote { q := first; q.Job = id; return q }()))
	dear := *demoParts().Parts[0]
	dear.Price.Minor += 100
	second := quoteFor(demoParts().With(&dear))
	second.Job, second.Quoted, second.Lines = id, noon.Add(time.Hour), nil
	q2 := must[int64](t)(b.AddQuote(ctx, second))
	other := must[int64](t)(b.AddJob(ctx, Job{Name: "other", Brief: "cap: 1 USD\nvehicle: van\n"}, quoteFor(demoParts())))
	path := b.Path()
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	b = opened(t, path)

	job.ID, job.Name, job.Added = id, "Rosa's sedan", noon
	got := must[Job](t)(b.Job(ctx, id))
	if diff := cmp.Diff(job, got); diff != "" {
		t.Errorf("job (-want +got):\n%s", diff)
	}
	if read, report := got.Load(); report.Err() != nil || read.Cap.Minor != 25_000 {
		t.Errorf("the brief is read as %+v, %v", read, report.Err())
	}
	q := must[Quote](t)(b.Quote(ctx, q1))
	if string(q.Answer) != string(first.Answer) || q.Printed != first.Printed {
		t.Errorf("the pages are %q and %q", q.Answer, q.Printed)
	}
	want := first.QuoteSummary
	want.ID, want.Job, want.Quoted = q1, id, noon
	want.Hash = must[string](t)(Hash(demoParts()))
	if diff := cmp.Diff(want, q.QuoteSummary); diff != "" {
		t.Errorf("quote (-want +got):\n%s", diff)
	}
	c := must[*catalog.Catalogue](t)(b.Catalogue(ctx, q.Hash))
	if diff := cmp.Diff(demoParts(), c, cmpopts.IgnoreUnexported(catalog.Catalogue{}), cmpopts.IgnoreTypes(catalog.Position{}, catalog.Keys{}, map[string]catalog.Position{})); diff != "" {
		t.Errorf("catalogue (-want +got):\n%s", diff)
	}
	latest := must[Quote](t)(b.LatestQuote(ctx, id))
	if latest.ID != q2 || latest.Hash == q.Hash || !latest.Quoted.Equal(noon.Add(time.Hour)) {
		t.Errorf("the latest quote is %+v", latest.QuoteSummary)
	}
	if all := must[[]QuoteSummary](t)(b.Quotes(ctx, id)); len(all) != 2 || all[0].ID != q1 {
		t.Errorf("quotes %+v", all)
	}
	list := must[[]JobSummary](t)(b.Jobs(ctx))
	if len(list) != 2 || list[0].Quotes != 2 || list[0].Latest.ID != q2 || list[1].Name != "other" || list[1].Latest.Job != other {
		t.Errorf("jobs %+v", list)
	}
	if all := must[[]Job](t)(b.AllJobs(ctx)); len(all) != 2 || len(all[0].Attachments) != 2 || all[1].File != "brief.yaml" {
		t.Errorf("jobs %+v", all)
	}
	if m := must[map[int64]QuoteSummary](t)(b.LatestQuotes(ctx)); len(m) != 2 || m[id].ID != q2 || len(m[other].Lines) != 2 {
		t.Errorf("latest %+v", m)
	}
	if n := count(t, b, "catalogue"); n != 2 {
		t.Errorf("%d states are stored for two catalogues", n)
	}
	if err := b.Check(ctx); err != nil {
		t.Error(err)
	}
}

func count(t testing.TB, b *Book, table string) (n int) {
	t.Helper()
	if err := b.db.QueryRow("SELECT count(*) FROM " + table).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

func TestRemoveJob(t *testing.T) {
	b := fresh(t)
	dear := *demoParts().Parts[0]
	dear.Price.Minor++
	first := must[int64](t)(b.AddJob(ctx, Job{Brief: brief, Attachments: []Attachment{{"x", []byte("y")}}}, quoteFor(demoParts()), quoteFor(demoParts().With(&dear))))
	second := must[int64](t)(b.AddJob(ctx, Job{Brief: brief}, quoteFor(demoParts())))
	q := must[Quote](t)(b.LatestQuote(ctx, first))
	must[int64](t)(b.AddReading(ctx, Reading{Quote: q.ID, Vehicle: "v", Level: 130, Frequency: 45}))
	// It leaves the lists, and comes back whole.
	all := must[[]JobSummary](t)(b.Jobs(ctx))
	if err := b.RemoveJob(ctx, first); err != nil {
		t.Fatal(err)
	}
	if list := must[[]JobSummary](t)(b.Jobs(ctx)); len(list) != 1 || list[0].ID != second || len(must[[]Job](t)(b.AllJobs(ctx))) != 1 {
		t.Errorf("after removing the first: %+v", list)
	}
	if list := must[[]JobSummary](t)(b.Removed(ctx)); len(list) != 1 || list[0].ID != first || list[0].Removed.IsZero() {
		t.Errorf("removed: %+v", list)
	}
	if err := b.ForgetJob(ctx, second); !errors.Is(err, ErrNone) {
		t.Errorf("a job in the lists was forgotten: %v", err)
	}
	if err := b.RestoreJob(ctx, first); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(all, must[[]JobSummary](t)(b.Jobs(ctx))); diff != "" {
		t.Error(diff)
	}
	if err := errors.Join(b.RemoveJob(ctx, first), b.ForgetJob(ctx, first)); err != nil {
		t.Fatal(err)
	}
	for table, want := range map[string]int{"job": 1, "quote": 1, "quote_line": 2, "catalogue": 1, "attachment": 0, "reading": 1} {
		if got := count(t, b, table); got != want {
			t.Errorf("%d rows in %s, want %d", got, table, want)
		}
	}
	if r := must[[]Reading](t)(b.Readings(ctx, "")); r[0].Quote != 0 {
		t.Errorf("%+v", r)
	}
	// A number is never used again: it may stand on a page in a drawer.
	if third := must[int64](t)(b.AddJob(ctx, Job{Brief: brief})); third <= second {
		t.Errorf("job %d after %d", third, second)
	}
	for _, err := range []error{b.RemoveJob(ctx, first), b.RestoreJob(ctx, first), b.ForgetJob(ctx, first)} {
		if !errors.Is(err, ErrNone) {
			t.Errorf("%v", err)
		}
	}
}

func TestRefusals(t *testing.T) {
	b := fresh(t)
	job := must[int64](t)(b.AddJob(ctx, Job{Brief: brief}))
	good := quoteFor(demoParts())
	good.Job = job
	for name, c := range map[string]struct {
		change func(*Quote)
		words  string
	}{
		"no job":       {func(q *Quote) { q.Job = 99 }, "job 99 is not in the job book"},
		"no catalogue": {func(q *Quote) { q.Catalogue = nil }, "needs the catalogue"},
		"no parts":     {func(q *Quote) { q.Catalogue = catalog.New("USD", nil) }, "without parts"},
		"unreadable": {func(q *Quote) {
			q.Catalogue = catalog.New("USD", []*catalog.Part{{SKU: "A", Kind: catalog.KindConverter, Stock: -5, Converter: &catalog.LineConverter{Channels: 2}}})
		}, "cannot be stored"},
		"no JSON":  {func(q *Quote) { q.Answer = []byte("{") }, "not JSON"},
		"no level": {func(q *Quote) { q.Level = inf() }, "not a number"},
	} {
		q := good
		c.change(&q)
		if _, err := b.AddQuote(ctx, q); err == nil || !strings.Contains(err.Error(), c.words) {
			t.Errorf("%s: %v", name, err)
		}
	}
	var failure interface{ Error() string }
	if _, err := b.AddJob(ctx, Job{Brief: "cap: many\nvehicle: van\n", File: "rosa.yaml"}); !errors.As(err, &failure) || !strings.Contains(err.Error(), "rosa.yaml:1:6") {
		t.Errorf("%v", err)
	}
	if _, err := b.AddJob(ctx, Job{Brief: brief}, quoteFor(nil)); err == nil {
		t.Error("a quote without a catalogue was booked")
	}
	for what, err := range map[string]error{"job": second(b.Job(ctx, 9)), "quote": second(b.Quote(ctx, 9)), "a quote of job": second(b.LatestQuote(ctx, 9)), "catalogue": second(b.Catalogue(ctx, "ab"))} {
		if !errors.Is(err, ErrNone) || !strings.Contains(err.Error(), what) {
			t.Errorf("%s: %v", what, err)
		}
	}
	if count(t, b, "job") != 1 || count(t, b, "quote") != 0 || count(t, b, "catalogue") != 0 {
		t.Error("something refused was booked")
	}
	canceled, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := b.AddQuote(canceled, good); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	clockless, err := Open(b.Path(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer clockless.Close()
	if _, err := clockless.AddQuote(ctx, good); err == nil || !strings.Contains(err.Error(), "clock") {
		t.Errorf("%v", err)
	}
	good.Quoted = noon
	must[int64](t)(clockless.AddQuote(ctx, good))
}

func second[T any](_ T, err error) error { return err }

func inf() float64 { var zero float64; return 1 / zero }

func TestPrices(t *testing.T) {
	b := fresh(t)
	day := prices.Date{Year: 2025, Month: 5, Day: 9}
	entry := func(sku, store string, minor int64, stock, add int) prices.Entry {
		e := prices.Entry{SKU: sku, Store: store, Stock: stock, Date: day, Where: catalog.Position{File: "may.csv", Line: 2, Column: 1}}
		e.Date.Day += add
		if e.Priced = minor > 0; e.Priced {
			e.Price = catalog.Money{Minor: minor, Currency: "USD"}
		}
		return e
	}
	add := func(want int, entries ...prices.Entry) {
		t.Helper()
		if n, err := b.AddPrices(ctx, entries); err != nil || n != want {
			t.Fatalf("%d rows, %v; want %d", n, err, want)
		}
	}
	none := catalog.Unlimited
	add(3, entry("ONE", "A", 3900, none, 0), entry("ONE", "B", 4000, 2, 1), entry("TWO", "", 100, none, 0))
	add(0, entry("ONE", "a", 3900, none, 0)) // again, and spelt another way
	add(1, entry("ONE", "A", 0, 0, 0))       // the stock, in another list
	add(0)
	for _, bad := range []prices.Entry{entry("ONE", "A", 3901, none, 0), entry("ONE", "A", 0, 7, 0)} {
		_, err := b.AddPrices(ctx, []prices.Entry{entry("TWO", "", 90, none, 3), bad})
		if err == nil || !strings.Contains(err.Error(), "may.csv:2:1: the job book has another row for ONE on 2025-05-09: 39.00 USD, out of stock") {
			t.Errorf("%v", err)
		}
	}
	got := must[[]prices.Entry](t)(b.PriceHistory(ctx, "ONE"))
	want := []prices.Entry{entry("ONE", "A", 3900, 0, 0), entry("ONE", "B", 4000, 2, 1)}
	for i := range want {
		want[i].Where = catalog.Position{File: "may.csv:2:1"}
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
	if n, err := b.CorrectPrices(ctx, []prices.Entry{entry("ONE", "A", 3901, none, 0)}); err != nil || n != 1 {
		t.Errorf("%d, %v", n, err)
	}
	list := must[*prices.List](t)(b.PriceList(ctx))
	if len(list.Entries) != 3 || list.Entries[0].Price.Minor != 3901 || list.Entries[0].Stock != 0 {
		t.Errorf("%+v", list.Entries)
	}
	if _, err := b.AddPrices(ctx, []prices.Entry{{SKU: "X", Stock: none, Date: day}}); err == nil {
		t.Error("a row that says nothing was recorded")
	}
	// A shop is one however it is spelt, and a correction takes the place of what
	// was spelt another way.
	add(1, entry("ONE", "\u00c4rger  Audio", 3900, none, 2))
	add(0, entry("ONE", "\u00e4rger Audio", 3900, none, 2))
	if _, err := b.AddPrices(ctx, []prices.Entry{entry("ONE", "\u00e4rger audio", 3901, none, 2)}); err == nil || !strings.Contains(err.Error(), "another row for ONE") {
		t.Errorf("%v", err)
	}
	if n, err := b.CorrectPrices(ctx, []prices.Entry{entry("ONE", "\u00e4rger audio", 3901, none, 2)}); err != nil || n != 1 {
		t.Errorf("%d, %v", n, err)
	}
	if got := must[[]prices.Entry](t)(b.PriceHistory(ctx, "ONE")); len(got) != 3 || got[2].Price.Minor != 3901 || got[2].Store != "\u00c4rger  Audio" {
		t.Errorf("%+v", got)
	}
	// No catalogue could use prices in two currencies.
	euros := entry("TWO", "C", 500, none, 5)
	euros.Price.Currency = "EUR"
	for _, list := range [][]prices.Entry{{euros}, {entry("TWO", "D", 500, none, 5), euros}} {
		if _, err := b.AddPrices(ctx, list); err == nil || !strings.Contains(err.Error(), "other prices are in") {
			t.Errorf("%v", err)
		}
	}
	if n := count(t, b, "price"); n != 4 {
		t.Errorf("%d rows", n)
	}
}

// What an interrupt ends in the middle of a transaction is called one, whatever
// the database calls it.
func TestInterruptedTransaction(t *testing.T) {
	b := fresh(t)
	ctx, interrupt := context.WithCancel(context.Background())
	err := b.write(ctx, func(tx *sql.Tx) error {
		interrupt()
		for { // until the database has noticed
			if _, err := tx.Exec("DELETE FROM price"); err != nil {
				return err
			}
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	ctx, interrupt = context.WithCancel(context.Background())
	err = b.write(ctx, func(tx *sql.Tx) error {
		interrupt()
		for { // until it is rolled back, with nothing left to confirm
			if _, err := tx.Exec("DELETE FROM price"); errors.Is(err, sql.ErrTxDone) {
				return nil
			}
		}
	})
	if !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	ctx, interrupt = context.WithCancel(context.Background())
	rows, err := b.db.QueryContext(ctx, "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT i FROM n")
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	interrupt()
	for rows.Next() {
	}
	if err := b.fault(rows.Err()); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

func TestReadings(t *testing.T) {
	b := fresh(t)
	full := Reading{Taken: noon.Add(-time.Hour), Vehicle: "blue sedan", Build: "2 x TM-12V", Place: "dash", Openings: "shut", Frequency: 46.5, Level: 131.2, Tolerance: 1.5, ClampVolts: 34.6, Amps: 4.1, SupplyVolts: 13.9, Note: "windy"}
	bare := Reading{Vehicle: "van", Frequency: 40, Level: 120}
	must[int64](t)(b.AddReading(ctx, bare))
	full.ID = must[int64](t)(b.AddReading(ctx, full))
	bare.ID, bare.Taken = 1, noon
	if diff := cmp.Diff([]Reading{full, bare}, must[[]Reading](t)(b.Readings(ctx, ""))); diff != "" {
		t.Error(diff)
	}
	if got := must[[]Reading](t)(b.Readings(ctx, "van")); len(got) != 1 || got[0] != bare {
		t.Errorf("%+v", got)
	}
	// The same once more, and one more of them, which is another one; without a
	// time the day of the book does not matter.
	again, undated := full, bare
	again.ID, undated.ID, undated.Taken = 0, 0, time.Time{}
	b.o.Now = func() time.Time { return noon.Add(100 * time.Hour) }
	want := []Added{{full.ID, true}, {1, true}, {3, false}}
	if got := must[[]Added](t)(b.AddReadings(ctx, []Reading{again, undated, undated})); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	again.Taken = again.Taken.Add(24 * time.Hour)
	if got := must[[]Added](t)(b.AddReadings(ctx, []Reading{again})); got[0].Known {
		t.Error("a reading of another day is taken for a known one")
	}
	// All or none.
	before := count(t, b, "reading")
	if _, err := b.AddReadings(ctx, []Reading{{Level: 1}, {Level: 2}, {Quote: 9}}); !errors.Is(err, ErrNone) || !strings.Contains(err.Error(), "reading 3 of 3") {
		t.Errorf("%v", err)
	}
	if n := count(t, b, "reading"); n != before {
		t.Errorf("%d readings of a list that failed stay", n-before)
	}
	if _, err := b.AddReading(ctx, Reading{Quote: 9}); !errors.Is(err, ErrNone) {
		t.Errorf("%v", err)
	}
	if _, err := b.AddReading(ctx, Reading{Level: inf()}); err == nil {
		t.Error("an infinite level was booked")
	}
}

func TestDefaultPath(t *testing.T) {
	home := func() (string, error) { return "/home/x", nil }
	settings := func() (string, error) { return "/settings", nil }
	for _, c := range []struct{ system, data, want string }{
		{"linux", "", "/home/x/.local/share"}, {"linux", "/data", "/data"}, {"freebsd", "relative", "/home/x/.local/share"}, {"windows", "/data", "/settings"}, {"darwin", "", "/settings"},
	} {
		if got, err := dataHome(c.system, func(string) string { return c.data }, home, settings); err != nil || got != c.want {
			t.Errorf("%+v: %s, %v", c, got, err)
		}
	}
	if _, err := dataHome("linux", func(string) string { return "" }, func() (string, error) { return "", errors.New("no home") }, settings); err == nil {
		t.Error("a path without a home")
	}
	t.Setenv("XDG_DATA_HOME", "/data")
	if got, err := DefaultPath(); err != nil || !strings.HasSuffix(got, filepath.Join("loudfor", "book.db")) {
		t.Errorf("%s, %v", got, err)
	}
}

func TestUnpackDamage(t *testing.T) {
	b := fresh(t)
	packed := pack([]byte(strings.Repeat("loud ", 1000)))
	if text, err := b.unpack(packed, "x"); err != nil || len(text) != 5000 {
		t.Fatal(err)
	}
	for i := range packed {
		if i >= 3 && i < 10 { // time and system in the head of gzip mean nothing
			continue
		}
		spoilt := bytes.Clone(packed)
		spoilt[i] ^= 0x55
		if text, err := b.unpack(spoilt, "an answer"); err == nil {
			t.Errorf("byte %d: %d bytes were unpacked", i, len(text))
		} else if e := (&Error{}); !errors.As(err, &e) || e.Kind != Damaged {
			t.Errorf("%v", err)
		}
	}
}

// 500 booked briefs with their quotes are gone through at once.
func BenchmarkAllJobs(b *testing.B) {
	k := fresh(b)
	for i := range 500 {
		must[int64](b)(k.AddJob(ctx, Job{Name: fmt.Sprint(i), Brief: brief}, quoteFor(demoParts())))
	}
	for b.Loop() {
		jobs := must[[]Job](b)(k.AllJobs(ctx))
		latest := must[map[int64]QuoteSummary](b)(k.LatestQuotes(ctx))
		if len(jobs) != 500 || len(latest) != 500 {
			b.Fatal(len(jobs), len(latest))
		}
	}
}

func BenchmarkAddQuote(b *testing.B) {
	k := fresh(b)
	q := quoteFor(demoParts())
	q.Job = must[int64](b)(k.AddJob(ctx, Job{Brief: brief}))
	for b.Loop() {
		must[int64](b)(k.AddQuote(ctx, q))
	}
}

// PriceHistory gives all that lists said of a part, by day and shop.
func (b *Book) PriceHistory(ctx context.Context, sku string) ([]prices.Entry, error) {
	return b.entries(ctx, `WHERE sku = ?`, sku)
}

// AddReading books a reading.
func (b *Book) AddReading(ctx context.Context, r Reading) (id int64, err error) {
	added, err := b.AddReadings(ctx, []Reading{r})
	if err != nil {
		return 0, err
	}
	return added[0].ID, nil
}
