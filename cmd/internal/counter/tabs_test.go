package counter

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"
	"time"

	"loudfor/cmd/internal/testing/browser"
)

// Pages that stay open while the world goes on: Back and Forward, two tabs on one
// question, and addresses that were right yesterday.

// budget types a budget and waits until field, slider and answer are at it.
func (s screen) budget(t testing.TB, sum string) {
	t.Helper()
	s.do(t, fmt.Sprintf(`(() => { const cap = document.getElementById("cap"); cap.value = %q; cap.dispatchEvent(new Event("input", {bubbles: true})); })()`, sum))
	s.at(t, sum)
}

// at waits until everything on the page is at one budget.
func (s screen) at(t testing.TB, sum string) {
	t.Helper()
	s.is(t, fmt.Sprintf(`document.querySelector("h1").textContent.includes("$%[1]s.00") && Number(document.getElementById("cap").value) === %[1]s && document.getElementById("slider").value === "%[1]s" && !document.getElementById("answer").dataset.waits`, sum))
}

// Back and Forward go through the budgets that came to rest, and to and from other
// views, with field, slider and figure at one budget each time.
func TestBackThroughBudgets(t *testing.T) {
	s := answered(t, serve(t, open(t, nil)))
	first := s.text(t, levelNow)
	rest := func() { time.Sleep(2100 * time.Millisecond) } // at least: then a move is another one
	s.budget(t, "150")
	low := s.text(t, levelNow)
	rest()
	s.budget(t, "200")
	s.do(t, `history.back()`)
	s.at(t, "150")
	if now := s.text(t, levelNow); now != low || low == first {
		t.Errorf("Back shows %s, it was %s after %s", now, low, first)
	}
	s.do(t, `history.back()`)
	s.at(t, "250")
	s.do(t, `history.forward()`)
	s.at(t, "150")
	s.press(t, "This build in full")
	s.is(t, `location.pathname === "/build"`)
	s.do(t, `history.back()`)
	s.is(t, `location.pathname === "/"`)
	s.at(t, "150")
	// A place on the same page is no other question: nothing is loaded again.
	s.do(t, `window.mark = "here"; document.querySelector("a.skip").click()`)
	s.is(t, `location.hash === "#main"`)
	s.do(t, `history.back()`)
	s.is(t, `location.hash === "" && window.mark === "here"`)
	s.at(t, "150")
}

// Two tabs: each keeps its own question, what both book is one job, and one that the
// other tab removed says so and can be put back.
func TestTwoTabs(t *testing.T) {
	c := open(t, nil)
	address := serve(t, c)
	one, two := answered(t, address), answered(t, address)
	two.budget(t, "150")
	one.do(t, `document.querySelector('input[name=openings], #openings').focus()`)
	one.at(t, "250")
	for _, tab := range []screen{one, two} {
		tab.Show(address + "/quote?parts=" + url.QueryEscape(rankedCodes(t, c)[0]) + "&customer=Rosa")
		tab.do(t, `document.getElementById("customer").form.requestSubmit()`)
		tab.is(t, `document.querySelector(".booked")?.textContent.includes("job 1")`)
	}
	if jobs, err := c.book.Jobs(t.Context()); err != nil || len(jobs) != 1 {
		t.Fatalf("%d jobs, %v", len(jobs), err)
	}
	one.Show(address + "/job?job=1")
	two.Show(address + "/quote?job=1&parts=" + url.QueryEscape(rankedCodes(t, c)[1]))
	one.do(t, `document.querySelector("button[value=remove]").click()`)
	one.is(t, `location.pathname === "/book"`)
	two.do(t, `document.getElementById("customer").form.requestSubmit()`)
	two.is(t, `document.body.innerText.includes("job 1 is removed: put it back first")`)
	two.Show(address + "/job?job=1")
	two.do(t, `document.querySelector("button[value=restore]").click()`)
	two.is(t, `document.querySelector("button[value=remove]")`)
	// Gone for good while the other tab writes.
	one.Show(address + "/job?job=1")
	if err := c.book.RemoveJob(t.Context(), 1); err != nil {
		t.Fatal(err)
	}
	if err := c.book.ForgetJob(t.Context(), 1); err != nil {
		t.Fatal(err)
	}
	one.do(t, `document.querySelector("button[value=write]").click()`)
	one.is(t, `document.querySelector("h1").textContent === "That did not work" && document.getElementById("answer").innerText.includes("job 1")`)
}

// A page that was not told of a new price books nothing at it: the new one is shown,
// and has to be booked anew.
func TestNoPriceIsBookedUnseen(t *testing.T) {
	file, text := shelfOf(t)
	c := open(t, func(o *Options) { o.Request = shop(file) })
	s := screen{browser.Open(t)}
	s.scripts(t, false) // and with them the news
	s.Show(serve(t, c) + "/quote?parts=" + url.QueryEscape(rankedFirst(t, c)))
	write(t, file, strings.Replace(text, "price: 42 USD", "price: 49 USD", 1))
	c.Reload()
	booked := func() int64 {
		t.Helper()
		jobs, err := c.book.Jobs(t.Context())
		if err != nil || len(jobs) > 1 {
			t.Fatalf("%d jobs, %v", len(jobs), err)
		}
		if len(jobs) == 0 {
			return 0
		}
		if jobs[0].Customer != "Rosa" {
			t.Errorf("booked for %q", jobs[0].Customer)
		}
		return jobs[0].Latest.Price.Minor
	}
	s.do(t, `document.getElementById("customer").value = "Rosa"; document.getElementById("customer").form.requestSubmit()`)
	s.is(t, `document.querySelector("[role=alert]")?.innerText.includes("the page showed 217.00 USD")`)
	s.is(t, `document.querySelector(".total").innerText.includes("$224.00") && document.getElementById("customer").value === "Rosa"`)
	if got := booked(); got != 0 {
		t.Errorf("booked at %d", got)
	}
	s.do(t, `document.getElementById("customer").form.requestSubmit()`)
	s.is(t, `document.querySelector(".booked") && !document.querySelector("[role=alert]")`)
	if got := booked(); got != 22400 {
		t.Errorf("booked at %d, want 22400", got)
	}
	// Scripts are told by the status.
	w := post(c, "/book", url.Values{"parts": {rankedFirst(t, c)}, keyWas: {"217.00 USD, 130.0 dB"}}, append([]string{"Accept", "application/json"}, own...)...)
	if w.Code != http.StatusConflict || !strings.Contains(w.Body.String(), "nothing is booked") {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

// An address whose part is gone says which; nothing else of the page is lost.
func TestStaleAddresses(t *testing.T) {
	file, text := shelfOf(t)
	c := open(t, func(o *Options) { o.Request = shop(file) })
	code := url.QueryEscape(rankedFirst(t, c))
	write(t, file, strings.Replace(text, "sku: KIT,", "sku: KIT2,", 1))
	c.Reload()
	for _, address := range []string{"/build?parts=" + code, "/quote?parts=" + code, "/versus?v=" + code, "/?must=KIT"} {
		status, page := get(t, c, address)
		if status >= 500 || !strings.Contains(page, "KIT") || !strings.Contains(page, `aria-label="Views"`) {
			t.Errorf("%s: %d, without the part that is gone:\n%s", address, status, page)
		}
	}
}
