package book

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/prices"
)

// A quote goes through its states, a job has that of its furthest quote, and what
// is no state is refused.
func TestMarks(t *testing.T) {
	b := fresh(t)
	id := must[int64](t)(b.AddJob(ctx, Job{Brief: brief}, quoteFor(demoParts()), quoteFor(demoParts())))
	quotes := must[[]QuoteSummary](t)(b.Quotes(ctx, id))
	state := func() State { return must[[]JobSummary](t)(b.Jobs(ctx))[0].State }
	if state() != Offered {
		t.Errorf("a new quote is %s", state())
	}
	for _, s := range []State{Offered, Accepted, Accepted, Ordered} {
		if err := b.MarkQuote(ctx, quotes[0].ID, s); err != nil {
			t.Fatal(err)
		}
	}
	marks := must[[]Mark](t)(b.Marks(ctx, id))
	if state() != Ordered || len(marks) != 2 || StateOf(quotes[0].ID, marks) != Ordered || StateOf(quotes[1].ID, marks) != Offered || !marks[0].Marked.Equal(noon) {
		t.Errorf("%s, %+v", state(), marks)
	}
	if err := b.MarkQuote(ctx, quotes[0].ID, Offered); err != nil || state() != Offered {
		t.Errorf("taken back it is %s, %v", state(), err)
	}
	if err := b.MarkQuote(ctx, 99, Accepted); !errors.Is(err, ErrNone) {
		t.Errorf("%v", err)
	}
	if err := b.MarkQuote(ctx, quotes[0].ID, "paid"); err == nil {
		t.Error("paid is a state")
	}
	if state := must[[]JobSummary](t)(func() ([]JobSummary, error) { must[int64](t)(b.AddJob(ctx, Job{Brief: brief})); return b.Jobs(ctx) }())[1].State; state != "" {
		t.Errorf("a job without a quote is %s", state)
	}
}

// The page of a quote is made with its number, and comes back byte for byte.
func TestNumberedPage(t *testing.T) {
	b := fresh(t)
	q := quoteFor(demoParts())
	q.Numbered = func(job, quote int64) ([]byte, error) {
		return fmt.Appendf(nil, "job %d\r\nquote %d\x00é", job, quote), nil
	}
	id := must[int64](t)(b.AddJob(ctx, Job{Brief: brief}, quoteFor(demoParts()), q))
	latest := must[Quote](t)(b.LatestQuote(ctx, id))
	if got, want := string(latest.Page), fmt.Sprintf("job %d\r\nquote %d\x00é", id, latest.ID); got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if first := must[Quote](t)(b.Quote(ctx, latest.ID-1)); first.Page != nil {
		t.Errorf("%q", first.Page)
	}
	q.Numbered = func(int64, int64) ([]byte, error) { return nil, errors.New("no ink") }
	if _, err := b.AddJob(ctx, Job{Brief: brief}, q); err == nil || count(t, b, "job") != 1 {
		t.Errorf("booked without its page: %v", err)
	}
}

// Jobs are found by customer, car, part, its name and note, whatever the case.
func TestSearch(t *testing.T) {
	b := fresh(t)
	other := quoteFor(demoParts())
	other.Lines = []Line{{"OR-M3", 1, false}}
	must[int64](t)(b.AddJob(ctx, Job{Brief: brief, Customer: "Élise", Note: "blue van"}, quoteFor(demoParts())))
	must[int64](t)(b.AddJob(ctx, Job{Brief: "cap: 90 USD\nvehicle: wagon\n", File: "late.yaml", Customer: "Otto"}, other))
	must[int64](t)(b.AddJob(ctx, Job{Brief: "cap: 90 USD\nvehicle: wagon\n"}))
	if err := b.MarkQuote(ctx, 2, Accepted); err != nil {
		t.Fatal(err)
	}
	jobs := must[[]JobSummary](t)(b.Jobs(ctx))
	for _, c := range []struct {
		search Search
		want   string
	}{
		{Search{}, "123"}, {Search{Word: "élise"}, "1"}, {Search{Word: "ÉLISE"}, "1"}, {Search{Word: "wagon"}, "23"}, {Search{Word: "or-m3"}, "2"}, {Search{Word: "blue sedan"}, "1"},
		{Search{Word: "tm-12v"}, "1"}, {Search{Word: "late"}, "2"}, {Search{Word: "blue wagon"}, ""}, {Search{State: Accepted}, "2"}, {Search{State: Offered}, "1"}, {Search{State: Accepted, Word: "elise"}, ""},
	} {
		if got := numbers(c.search.Among(jobs)); got != c.want {
			t.Errorf("%q %s finds %q, want %q", c.search.Word, c.search.State, got, c.want)
		}
	}
	named := Search{Word: "thunder", Called: func(sku string) string { return strings.ReplaceAll(sku, "OR-M3", "Thunder Three") }}
	if got := numbers(named.Among(jobs)); got != "2" {
		t.Errorf("by a part's name: %q", got)
	}
}

func numbers(jobs []JobSummary) (text string) {
	for _, j := range jobs {
		text += fmt.Sprint(j.ID)
	}
	return text
}

// An upload of prices leaves no trace once it is taken back, whether its rows were
// new, said more, or corrected others; the latest goes first.
func TestTakeBack(t *testing.T) {
	b := fresh(t)
	day := prices.Date{Year: 2025, Month: 5, Day: 9}
	entry := func(sku string, minor int64, stock int) prices.Entry {
		return prices.Entry{SKU: sku, Store: "Pier", Date: day, Priced: minor > 0, Price: catalog.Money{Minor: minor, Currency: "USD"}, Stock: stock}
	}
	rows := func() string { return fmt.Sprintf("%+v", must[*prices.List](t)(b.PriceList(ctx)).Entries) }
	must[int](t)(b.AddPrices(ctx, []prices.Entry{entry("ONE", 3900, catalog.Unlimited), entry("TWO", 100, 2)}))
	before := rows()
	first, n, err := b.UploadPrices(ctx, "a.csv", []prices.Entry{entry("ONE", 3900, 4), entry("NEW", 5, 1), entry("TWO", 100, 2)}, false)
	if err != nil || n != 2 || first == 0 {
		t.Fatalf("%d, %d, %v", first, n, err)
	}
	middle := rows()
	if none, n, err := b.UploadPrices(ctx, "a.csv", []prices.Entry{entry("NEW", 5, 1)}, false); err != nil || n != 0 || none != 0 {
		t.Errorf("the same again: %d, %d, %v", none, n, err)
	}
	if _, _, err := b.UploadPrices(ctx, "bad.csv", []prices.Entry{entry("TWO", 200, 2)}, false); err == nil || rows() != middle {
		t.Errorf("a contradiction was taken: %v", err)
	}
	second, _, err := b.UploadPrices(ctx, "b.csv", []prices.Entry{entry("NEW", 6, 1), entry("TWO", 200, 2)}, true)
	if err != nil {
		t.Fatal(err)
	}
	if err := b.TakeBack(ctx, first, nil); err == nil || !strings.Contains(err.Error(), "take back the latest first") {
		t.Errorf("%v", err)
	}
	// What was corrected in the terminal since is not lost.
	must[int](t)(b.CorrectPrices(ctx, []prices.Entry{entry("TWO", 300, 2)}))
	corrected := rows()
	if err := b.TakeBack(ctx, second, nil); err == nil || !strings.Contains(err.Error(), "was changed after the upload") || rows() != corrected {
		t.Errorf("%v\n%s", err, rows())
	}
	must[int](t)(b.CorrectPrices(ctx, []prices.Entry{entry("TWO", 200, 2)}))
	if err := b.TakeBack(ctx, second, nil); err != nil || rows() != middle {
		t.Errorf("%v\n%s\n%s", err, rows(), middle)
	}
	if err := b.TakeBack(ctx, first, nil); err != nil || rows() != before {
		t.Errorf("%v\n%s\n%s", err, rows(), before)
	}
	if err := b.TakeBack(ctx, first, nil); !errors.Is(err, ErrNone) {
		t.Errorf("%v", err)
	}
}

// Of files the book remembers what they were, the last twenty; one that cannot be
// put back stays.
func TestKeptFiles(t *testing.T) {
	b := fresh(t)
	for i := range mostUploads + 2 {
		must[int64](t)(b.KeepUpload(ctx, Upload{Name: fmt.Sprint(i), Target: "parts.yaml", Before: []byte{byte(i)}, After: "x"}))
	}
	must[int64](t)(b.KeepUpload(ctx, Upload{Name: "new", Target: "more.yaml"}))
	all := must[[]Upload](t)(b.Uploads(ctx))
	if last := all[len(all)-1]; len(all) != mostUploads || last.Before != nil || all[0].Name != "3" || all[0].Before[0] != 3 {
		t.Fatalf("%d uploads: %+v ... %+v", len(all), all[0], last)
	}
	id := all[len(all)-1].ID
	if err := b.TakeBack(ctx, id, func(Upload) error { return errors.New("the disk is full") }); err == nil || count(t, b, "upload") != mostUploads {
		t.Errorf("%v", err)
	}
	var got Upload
	if err := b.TakeBack(ctx, id, func(u Upload) error { got = u; return nil }); err != nil || got.Target != "more.yaml" || count(t, b, "upload") != mostUploads-1 {
		t.Errorf("%v, %+v", err, got)
	}
}
