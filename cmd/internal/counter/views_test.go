package counter

import (
	"context"
	"net/http"
	"net/url"
	"os"
	"strconv"
	"strings"
	"testing"
)

// example is one address of a view.
type example struct{ name, address string }

// exampleViews are addresses of every view, for the demo.
func exampleViews(t testing.TB, c *Counter) []example {
	t.Helper()
	codes := rankedCodes(t, c)
	return []example{
		{"builds", "/"},
		{"builds-music", "/?goal=music&cap=400&never=TM-12V"},
		{"none", "/?cap=40"},
		{"wrong", "/?cap=lots&never=NOTHING-1&boxes=99"},
		{"ladder", "/ladder?worth=25"},
		{"grow-empty", "/grow"},
		{"grow", "/grow?then=200&live=yes"},
		{"build", "/build?parts=" + url.QueryEscape(codes[0])},
		{"versus", "/versus?v=" + url.QueryEscape(codes[0]) + "&v=" + url.QueryEscape(codes[1]) + "&v=" + url.QueryEscape(codes[2])},
		{"versus-empty", "/versus"},
		{"why", "/why?part=OR-M3"},
		{"why-word", "/why?part=mono"},
		{"quote", "/quote?parts=" + url.QueryEscape(codes[0]) + "&customer=Rosa"},
		{"catalogue", "/catalogue"},
		{"catalogue-doubts", "/catalogue?doubtful=yes"},
		{"book", "/book"},
		{"job", "/job?job=1"},
		{"upload", "/upload"},
		{"upload-prices", "/upload?what=prices"},
		{"meter", "/meter"},
		{"meter-quote", "/meter?quote=1"},
		{"share", "/share?to=/quote"},
		{"nothing", "/nothing"},
	}
}

// rankedCodes are the codes of the builds ranked for the demo's first brief.
func rankedCodes(t testing.TB, c *Counter) []string {
	t.Helper()
	s := c.stock.Load()
	q, err := s.ask(s.Brief, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	r, err := c.ranking(context.Background(), q)
	if err != nil {
		t.Fatal(err)
	}
	var codes []string
	for _, b := range r.Builds {
		codes = append(codes, codeOf(b.Lines))
	}
	if len(codes) < 3 {
		t.Fatalf("%d builds ranked", len(codes))
	}
	return codes
}

// bookOne books a quote of the first build, as the quote's page does, and
// gives the number of its job.
func bookOne(t testing.TB, c *Counter) int64 {
	t.Helper()
	w := post(c, "/book", url.Values{"parts": {rankedCodes(t, c)[0]}, "customer": {"Rosa"}}, "Sec-Fetch-Site", "same-origin")
	if w.Code != http.StatusSeeOther {
		t.Fatalf("booking answers %d: %s", w.Code, w.Body)
	}
	to, err := url.Parse(w.Header().Get("Location"))
	if err != nil {
		t.Fatal(err)
	}
	id, err := strconv.ParseInt(to.Query().Get("booked"), 10, 64)
	if err != nil {
		t.Fatalf("the page after booking is %s", to)
	}
	return id
}

// Only what is in the book is called booked: not what an address claims, and not what
// went to a file that is gone.
func TestBookedIsInTheBook(t *testing.T) {
	c := open(t, nil)
	codes := rankedCodes(t, c)
	job := strconv.FormatInt(bookOne(t, c), 10)
	for address, want := range map[string]bool{
		"/quote?parts=" + codes[0] + "&booked=" + job: true,
		"/quote?parts=" + codes[1] + "&booked=" + job: false,
		"/quote?parts=" + codes[0] + "&booked=999":    false,
		"/quote?parts=" + codes[0] + "&booked=x":      false,
	} {
		if status, page := get(t, c, address); status != http.StatusOK || strings.Contains(page, "Booked as job") != want {
			t.Errorf("%s: %d, booked must be %t", address, status, want)
		}
	}
	if err := os.Remove(c.book.Path()); err != nil {
		t.Skip(err) // a system that keeps open files
	}
	w := post(c, "/book", url.Values{"parts": {codes[0]}}, "Sec-Fetch-Site", "same-origin")
	if w.Code < 400 || !strings.Contains(w.Body.String(), "is gone") {
		t.Errorf("booking into a file that is gone: %d %s", w.Code, w.Header().Get("Location"))
	}
}
