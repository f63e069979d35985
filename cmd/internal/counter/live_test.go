package counter

import (
	"bufio"
	"context"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"go.uber.org/goleak"

	"loudfor/catalog/prices"
	"loudfor/catalog/report"
)

// shelfOf writes the small shop of evilParts with plain names.
func shelfOf(t testing.TB) (file, text string) {
	t.Helper()
	file, text = filepath.Join(t.TempDir(), "parts.yaml"), strings.ReplaceAll(evilParts, "EVIL", "PLAIN")
	write(t, file, text)
	return file, text
}

func write(t testing.TB, file, text string) {
	t.Helper()
	// Beside it and over it, as editors do.
	if err := os.WriteFile(file+"~", []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(file+"~", file); err != nil {
		t.Fatal(err)
	}
}

// listen is a counter with all that Serve does, until the test ends.
func listen(t testing.TB, c *Counter) (address string, stop func() error) {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- c.Serve(ctx, l) }()
	var done bool
	stop = func() error {
		if done {
			return nil
		}
		done = true
		cancel()
		return <-ended
	}
	t.Cleanup(func() {
		if err := stop(); err != nil {
			t.Error(err)
		}
	})
	return "http://" + l.Addr().String(), stop
}

// A price that changes on the disk reaches an open page: the news say what
// changed, and the page what became of its answer.
func TestChangedFilesReachThePage(t *testing.T) {
	file, text := shelfOf(t)
	c := open(t, func(o *Options) { o.Request = shop(file) })
	address, _ := listen(t, c)
	s := answered(t, address)
	price := s.text(t, `document.querySelector(".cost strong").textContent`)
	write(t, file, strings.Replace(text, "price: 89 USD", "price: 61 USD", 1))
	s.is(t, `document.getElementById("news").textContent.includes("AMP: 61.00 USD, was 89.00 USD")`)
	s.is(t, `document.getElementById("moved").textContent.startsWith("Was ")`)
	if now := s.text(t, `document.querySelector(".cost strong").textContent`); now == price {
		t.Errorf("the page still says %s", now)
	}
	// A part with a mistake is left out and named; with a mistake of the whole file the
	// page goes on with what it had.
	write(t, file, text+"  - {sku: BAD, kind: amplifire}\n")
	s.is(t, `document.getElementById("news").classList.contains("trouble") && document.getElementById("news").textContent.includes("BAD is left out")`)
	s.is(t, `document.querySelector("table.ranked")`)
	write(t, file, text+"prats: []\n")
	s.is(t, `document.getElementById("news").classList.contains("trouble") && document.getElementById("news").textContent.includes("parts.yaml:7")`)
	s.is(t, `document.querySelector("table.ranked")`)
	write(t, file, text)
	s.is(t, `!document.getElementById("news").classList.contains("trouble") && document.querySelector(".cost strong").textContent === "`+price+`"`)
}

// Price lists are laid over the catalogue, and watched like it.
func TestPriceListsAreWatched(t *testing.T) {
	file, _ := shelfOf(t)
	list := filepath.Join(t.TempDir(), "may.csv")
	write(t, list, "sku,price,date\nAMP,70.00,2026-03-01\n")
	c := open(t, func(o *Options) {
		o.Request, o.Watch = shop(file), []string{list}
		o.Lists = func(currency string) ([]*prices.List, prices.Date, *report.Report, error) {
			lists, r := prices.Load([]string{list}, prices.Options{Currency: currency})
			return lists, prices.Date{}, r, r.Err()
		}
	})
	listen(t, c)
	if got := c.stock.Load().Catalogue.Part("AMP").Price.Minor; got != 7000 {
		t.Fatalf("AMP costs %d", got)
	}
	write(t, list, "sku,price,date\nAMP,66.00,2026-03-02\n")
	until(t, "the new list is seen", func() bool { return c.stock.Load().Catalogue.Part("AMP").Price.Minor == 6600 })
	if n := c.news.latest(); len(n.Lines) != 1 || n.Lines[0] != "AMP: 66.00 USD, was 70.00 USD" {
		t.Errorf("told: %v", n.Lines)
	}
}

// What changed is told by price, stock, coming and going; many changes are
// counted.
func TestChangesInWords(t *testing.T) {
	file, text := shelfOf(t)
	c := open(t, func(o *Options) { o.Request = shop(file) })
	before := c.stock.Load()
	for _, tc := range []struct{ old, new, want string }{
		{"price: 42 USD", "price: 40.50 USD", "BOX: 40.50 USD, was 42.00 USD"},
		{"sku: BOX, kind: enclosure,", "sku: BOX, kind: enclosure, stock: 0,", "BOX: out of stock, was stock not stated"},
		{"sku: KIT,", "sku: KIT2,", "KIT2 is new: 27.00 USD; KIT is gone"},
		{"PLAIN box", "Fine box", "BOX: called Fine box, was PLAIN box"},
		{"rms: 250 W", "rms: 240 W", "PLAIN: rms is now 240 W"},
		{"rms: 250 W, ", "", "PLAIN: rms is not stated any more"},
		{"rms: 250 W", "rms:   250 W ", ""},
	} {
		write(t, file, strings.Replace(text, tc.old, tc.new, 1))
		shelf, err := c.load()
		if err != nil {
			t.Fatal(err)
		}
		if got := strings.Join(changes(before, newStock(2, noon(), shelf)), "; "); got != tc.want {
			t.Errorf("%s: %q, want %q", tc.new, got, tc.want)
		}
	}
}

// The news are sent to every page, and a page that does not read holds up
// nobody.
func TestNewsDesk(t *testing.T) {
	c := open(t, nil)
	address, stop := listen(t, c)
	reply, err := http.Get(address + "/events")
	if err != nil {
		t.Fatal(err)
	}
	defer reply.Body.Close()
	lines := bufio.NewScanner(reply.Body)
	read := func(want string) {
		t.Helper()
		for lines.Scan() {
			if strings.Contains(lines.Text(), want) {
				return
			}
		}
		t.Fatalf("no %q: %v", want, lines.Err())
	}
	read("event: stock")
	deaf, ok := c.news.subscribe()
	if !ok {
		t.Fatal("no place for a second page")
	}
	defer c.news.unsubscribe(deaf)
	for range 40 {
		c.news.ready("something")
		time.Sleep(time.Millisecond)
	}
	c.publish(news{At: noon(), Generation: 2, Lines: []string{"X: 1"}})
	read(`"lines":["X: 1"]`)
	// An interrupt ends it all, open pages included: that this returns says that
	// no answer had to be waited for.
	if err := stop(); err != nil {
		t.Errorf("stopping: %v", err)
	}
	for lines.Scan() { // to the end, which comes
	}
}

// Nothing runs on when a counter is closed.
func TestNothingIsLeftRunning(t *testing.T) {
	before := goleak.IgnoreCurrent()
	c, err := Open(Options{Now: noon, Seed: 1, Book: filepath.Join(t.TempDir(), "jobs.book")})
	if err != nil {
		t.Fatal(err)
	}
	address, stop := listen(t, c)
	client := &http.Client{Transport: &http.Transport{DisableKeepAlives: true}}
	for _, path := range []string{"/?cap=300", "/ladder?cap=1000", "/quote"} {
		reply, err := client.Get(address + path)
		if err != nil {
			t.Fatal(err)
		}
		reply.Body.Close()
	}
	if err := stop(); err != nil {
		t.Error(err)
	}
	if err := c.Close(); err != nil {
		t.Error(err)
	}
	ends(t, before)
}

// What the page has confirmed as booked is in the book, however the program
// ends: here nothing is closed at all.
func TestKillLosesNoBookedQuote(t *testing.T) {
	file := filepath.Join(t.TempDir(), "jobs.book")
	c, err := Open(Options{Now: noon, Seed: 1, Book: file})
	if err != nil {
		t.Fatal(err)
	}
	first := bookOne(t, c)
	again := post(c, "/book", url.Values{"job": {"1"}, "parts": {rankedCodes(t, c)[1]}}, "Sec-Fetch-Site", "same-origin")
	if again.Code != http.StatusSeeOther {
		t.Fatalf("a second quote of the job: %d %s", again.Code, again.Body)
	}
	other, err := Open(Options{Now: noon, Seed: 1, Book: file})
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	quotes, err := other.book.Quotes(t.Context(), first)
	if err != nil || len(quotes) != 2 {
		t.Fatalf("%d quotes, %v", len(quotes), err)
	}
	quote, err := other.book.Quote(t.Context(), quotes[0].ID)
	if err != nil || quote.Price.Minor != 24994 || len(quote.Lines) != 6 || !strings.Contains(quote.Printed, "Hookup") {
		t.Errorf("%+v, %v", quote.QuoteSummary, err)
	}
	if _, body := get(t, other, "/book"); !strings.Contains(body, "Rosa") || !strings.Contains(body, "the catalogue is the same") {
		t.Errorf("the book's page:\n%s", body)
	}
	if err := c.book.Check(t.Context()); err != nil {
		t.Error(err)
	}
	_ = c.Close()
}

// A quote that is not true any more is marked, with what is different.
func TestTheBookMarksChangedQuotes(t *testing.T) {
	file, text := shelfOf(t)
	c := open(t, func(o *Options) { o.Request = shop(file) })
	if w := post(c, "/book", url.Values{"parts": {rankedFirst(t, c)}, "customer": {"Rosa"}}, "Sec-Fetch-Site", "same-origin"); w.Code != http.StatusSeeOther {
		t.Fatal(w.Code, w.Body)
	}
	write(t, file, strings.Replace(text, "price: 42 USD", "price: 49 USD", 1))
	c.Reload()
	var body string
	until(t, "the quotes are run again", func() bool {
		_, body = get(t, c, "/book")
		return !strings.Contains(body, "being run again")
	})
	if !strings.Contains(body, "changed</span>") || !strings.Contains(body, "$224.00, was $217.00") {
		t.Errorf("the book's page:\n%s", body)
	}
}

func rankedFirst(t testing.TB, c *Counter) string {
	t.Helper()
	r, err := c.ranking(context.Background(), askOf(t, c, ""))
	if err != nil || len(r.Builds) == 0 {
		t.Fatalf("%v", err)
	}
	return codeOf(r.Builds[0].Lines)
}
