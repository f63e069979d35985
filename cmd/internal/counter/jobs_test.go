package counter

import (
	"bytes"
	"image"
	"image/png"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"loudfor/catalog/book"
)

// own are the headers of a form of our own page.
var own = []string{"Sec-Fetch-Site", "same-origin"}

// booked books a quote by the form of its page, with what the page filled in.
func booked(t *testing.T, c *Counter, page string, more url.Values) *httptest.ResponseRecorder {
	t.Helper()
	form := url.Values{}
	for _, field := range fields(t, page, "/book") {
		form.Add(field[0], field[1])
	}
	for name, values := range more {
		form[name] = values
	}
	w := post(c, "/book", form, own...)
	if w.Code != http.StatusSeeOther {
		t.Fatalf("booking answers %d: %s", w.Code, w.Body)
	}
	return w
}

// A job from the book keeps its customer: opened, on its quote, and when it is
// booked again, which is the same job and no further one.
func TestJobKeepsItsCustomer(t *testing.T) {
	c := open(t, nil)
	code := rankedCodes(t, c)[0]
	job := strconv.FormatInt(bookOne(t, c), 10)
	of := url.Values{"job": {job}}.Encode()
	for _, address := range []string{"/?" + of, "/quote?" + of + "&parts=" + url.QueryEscape(code), "/build?" + of + "&parts=" + url.QueryEscape(code), "/job?" + of} {
		if status, page := get(t, c, address); status != http.StatusOK || !strings.Contains(page, "Rosa") {
			t.Errorf("%s: %d, without the customer's name", address, status)
		}
	}
	count := func() int {
		jobs, err := c.book.Jobs(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		return len(jobs)
	}
	// Back, and Book once more: from the page without a job, and from the job's.
	_, first := get(t, c, "/quote?parts="+url.QueryEscape(code)+"&customer=Rosa")
	_, again := get(t, c, "/quote?"+of+"&parts="+url.QueryEscape(code))
	for i, page := range []string{first, again, again} {
		w := booked(t, c, page, nil)
		if to, err := url.Parse(w.Header().Get("Location")); err != nil || to.Query().Get("booked") != job || count() != 1 {
			t.Errorf("booking %d again went to %s; %d jobs", i, w.Header().Get("Location"), count())
		}
	}
	if quotes, err := c.book.Quotes(t.Context(), 1); err != nil || len(quotes) != 1 {
		t.Errorf("%d quotes, %v", len(quotes), err)
	}
	// Another customer, or another budget of this one, is another job.
	booked(t, c, first, url.Values{"customer": {"Otto"}})
	_, dearer := get(t, c, "/quote?"+of+"&cap=300")
	booked(t, c, dearer, nil)
	jobs, err := c.book.Jobs(t.Context())
	if err != nil || len(jobs) != 3 || jobs[1].Customer != "Otto" || jobs[2].Customer != "Rosa" {
		t.Errorf("%+v, %v", jobs, err)
	}
}

// A quote is opened again as it was given, byte for byte, whatever has become of
// parts, prices and the shop's own settings since.
func TestGivenByteForByte(t *testing.T) {
	file, text := shelfOf(t)
	house := filepath.Join(t.TempDir(), "shop.yaml")
	write(t, house, "shop: Dock Street Sound\naddress: [12 Dock Street]\nvalid: 14\n")
	c := open(t, func(o *Options) { o.Request, o.Shop = shop(file), house })
	_, page := get(t, c, "/quote")
	booked(t, c, page, url.Values{"customer": {"Élise <b>"}})
	status, given := get(t, c, "/given?quote=1")
	if status != http.StatusOK {
		t.Fatal(status, given)
	}
	for _, want := range []string{"Quote 1", "Élise &lt;b&gt;", "Dock Street Sound", "12 Dock Street", "9 March 2026", "holds until 23 March 2026", "Date, customer", "<style>"} {
		if !strings.Contains(given, want) {
			t.Errorf("%q is not on the quote", want)
		}
	}
	for _, not := range []string{"<script", "<form", "<link", "href=", "src=\"/", `class="noprint`} {
		if strings.Contains(given, not) {
			t.Errorf("%q is in the quote", not)
		}
	}
	write(t, file, strings.ReplaceAll(text, "PLAIN", "OTHER"))
	write(t, house, "shop: Another name\n")
	c.Reload()
	if _, now := get(t, c, "/quote"); !strings.Contains(now, "Another name") {
		t.Fatal("the files were not read again: the test shows nothing")
	}
	if _, again := get(t, c, "/given?quote=1"); again != given {
		t.Error("the quote is another one now")
	}
	q, err := c.book.Quote(t.Context(), 1)
	if err != nil || string(q.Page) != given {
		t.Errorf("the book keeps another page: %v", err)
	}
	for address, want := range map[string]int{"/given?quote=7": http.StatusNotFound, "/given?quote=x": http.StatusNotFound, "/job?job=9": http.StatusNotFound} {
		if status, _ := get(t, c, address); status != want {
			t.Errorf("%s: %d", address, status)
		}
	}
}

// A quote of the terminal has no page; its text is shown as it was given.
func TestGivenInTheTerminal(t *testing.T) {
	c := open(t, nil)
	bookOne(t, c)
	q, err := c.book.Quote(t.Context(), 1)
	if err != nil {
		t.Fatal(err)
	}
	q.Page, q.Numbered, q.Catalogue = nil, nil, c.stock.Load().Catalogue
	id, err := c.book.AddQuote(t.Context(), q)
	if err != nil {
		t.Fatal(err)
	}
	if _, text := get(t, c, givenLink(id)); text != q.Printed || text == "" {
		t.Errorf("%q", text)
	}
}

// The logo stands on the quote, and in the file of it.
func TestLogo(t *testing.T) {
	folder := t.TempDir()
	var logo bytes.Buffer
	if err := png.Encode(&logo, image.NewGray(image.Rect(0, 0, 40, 20))); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(folder, "logo.png"), logo.String())
	write(t, filepath.Join(folder, "shop.yaml"), "shop: Dock Street Sound\nlogo: logo.png\n")
	c := open(t, func(o *Options) { o.Shop = filepath.Join(folder, "shop.yaml") })
	if status, text := get(t, c, "/logo"); status != http.StatusOK || text != logo.String() {
		t.Errorf("the logo: %d", status)
	}
	if _, file := get(t, c, "/quote?as=file"); !strings.Contains(file, `src="data:image/png;base64,`) || strings.Contains(file, `src="/`) {
		t.Error("the file has no logo in it")
	}
	if status, _ := get(t, open(t, nil), "/logo"); status != http.StatusNotFound {
		t.Errorf("a logo that there is not: %d", status)
	}
}

// The day of a job: noted, marked, found, removed, put back, forgotten.
func TestJobIsKept(t *testing.T) {
	c := open(t, nil)
	job := strconv.FormatInt(bookOne(t, c), 10)
	do := func(what string, more ...string) *httptest.ResponseRecorder {
		form := url.Values{"job": {job}, "do": {what}}
		for i := 0; i+1 < len(more); i += 2 {
			form.Set(more[i], more[i+1])
		}
		return post(c, "/job", form, own...)
	}
	ok := func(w *httptest.ResponseRecorder) {
		t.Helper()
		if w.Code != http.StatusSeeOther {
			t.Errorf("%d: %s", w.Code, w.Body)
		}
	}
	ok(do("write", "customer", "Rosa M", "note", "calls on Friday,\r\nafter \x1b[1mfive"))
	ok(do("mark", "quote", "1", "state", "accepted"))
	for word, found := range map[string]bool{"": true, "rosa": true, "friday": true, "sedan": true, "TM-12V": true, "otto": false, "&state=accepted": true, "&state=installed": false} {
		if _, page := get(t, c, "/book?word="+word); strings.Contains(page, "Rosa M") != found {
			t.Errorf("%q finds the job: %t", word, !found)
		}
	}
	// Also by what a part is called.
	name, _, _ := strings.Cut(c.stock.Load().Catalogue.Part("TM-12V").Name, " ")
	if _, page := get(t, c, "/book?word="+url.QueryEscape(strings.ToUpper(name))); name == "" || !strings.Contains(page, "Rosa M") {
		t.Errorf("%q does not find the job", name)
	}
	if _, page := get(t, c, "/job?job="+job); !strings.Contains(page, "accepted on 2026-03-09") || !strings.Contains(page, "calls on Friday, after [1mfive") {
		t.Errorf("the job's page:\n%s", page)
	}
	for _, address := range []string{"/job?job=" + job, "/book"} {
		if _, record := get(t, c, address, "Accept", "application/json"); !strings.Contains(record, `"marked": "accepted"`) {
			t.Errorf("%s as JSON:\n%s", address, record)
		}
	}
	for _, w := range []*httptest.ResponseRecorder{do("mark", "quote", "1", "state", "paid"), do("mark", "quote", "9", "state", "accepted"), do("burn"), do("forget")} {
		if w.Code != http.StatusNotFound {
			t.Errorf("%d: %s", w.Code, w.Body)
		}
	}
	ok(do("restore")) // it is there already: the button was pressed twice
	w := do("remove")
	ok(w)
	// Nothing is booked where nobody would see it.
	q, err := c.questionOf(&visit{Request: httptest.NewRequest(http.MethodGet, "/", nil), stock: c.stock.Load()}, url.Values{"job": {job}})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := c.bookOnce(&visit{Request: httptest.NewRequest(http.MethodPost, "/book", nil), stock: c.stock.Load()}, q, q.customer, book.Quote{}); err == nil || !strings.Contains(err.Error(), "put it back first") {
		t.Errorf("booked in a removed job: %v", err)
	}
	if _, page := get(t, c, w.Header().Get("Location")); !strings.Contains(page, "Job 1 is removed") || strings.Contains(page, "TM-12V") {
		t.Errorf("after removing it:\n%s", page)
	}
	ok(do("restore"))
	if jobs, err := c.book.Jobs(t.Context()); err != nil || len(jobs) != 1 || jobs[0].State != book.Accepted || jobs[0].Note != "calls on Friday, after [1mfive" {
		t.Errorf("%+v, %v", jobs, err)
	}
	ok(do("remove"))
	ok(do("forget"))
	if status, _ := get(t, c, "/job?job="+job); status != http.StatusNotFound {
		t.Errorf("a forgotten job: %d", status)
	}
}

// latest is the last quote of the first job.
func latest(t *testing.T, c *Counter) book.Quote {
	t.Helper()
	q, err := c.book.LatestQuote(t.Context(), 1)
	if err != nil {
		t.Fatal(err)
	}
	return q
}
