package counter

import (
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/start"
	"loudfor/cmd/internal/testing/browser"
)

// click presses the first link or button with such words, and fails where there
// is none.
func (s screen) click(t *testing.T, words string) {
	t.Helper()
	s.is(t, fmt.Sprintf(`[...document.querySelectorAll("a, button")].some((e) => e.textContent.trim() === %q)`, words))
	s.do(t, fmt.Sprintf(`[...document.querySelectorAll("a, button")].find((e) => e.textContent.trim() === %q).click()`, words))
}

// fill types into a field.
func (s screen) fill(t *testing.T, field, text string) {
	t.Helper()
	s.is(t, fmt.Sprintf(`document.querySelector(%q)`, field))
	s.do(t, fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.closest("details")?.setAttribute("open", ""); e.value = %q; })()`, field, text))
}

// A shop's day in its browser, from opening to close, in a folder as "new" makes
// it, without a file touched by hand: own parts typed in, a new brief, its budget
// moved, why not that amplifier, a built box instead, a quote printed and booked,
// a price list, what it changes in the book, the quote as it was given, accepted,
// the readings of the car, and what was a slip taken back.
func TestDayOfAShop(t *testing.T) {
	folder := t.TempDir()
	files, err := start.Files(start.Wishes{})
	if err != nil {
		t.Fatal(err)
	}
	if err := start.Write(folder, files); err != nil {
		t.Fatal(err)
	}
	in := func(name string) string { return filepath.Join(folder, name) }
	c := open(t, func(o *Options) {
		o.Request = inputs.Request{Catalog: []string{in("parts")}, Brief: in("brief.yaml"), Vehicles: in("vehicle.yaml")}
		o.Shop, o.Book = in("shop.yaml"), in("jobs.book")
	})
	address := serve(t, c)
	s := screen{browser.Open(t)}
	s.size(t, 390, 844)
	const quiet = `!document.getElementById("answer").dataset.waits`

	// Opening: parts of the shop's own, typed in.
	s.Show(address + "/")
	s.is(t, `document.querySelector("table.ranked") && `+quiet)
	s.click(t, "Upload")
	s.fill(t, "#typed", "SKU,kind,name,channels,class,W @ 4 ohm mono,fuse A,speaker input,price\nOWN-1,amplifier,Own mono,1,D,120,20,yes,45.00 USD\n")
	s.click(t, "See what it would do")
	s.is(t, `document.body.textContent.includes("Nothing is written yet") && document.body.textContent.includes("OWN-1")`)
	s.click(t, "Accept")
	s.is(t, `location.pathname === "/upload" && document.body.textContent.includes("parts, into typed.yaml, a new file")`)
	if c.stock.Load().Catalogue.Part("OWN-1") == nil {
		t.Fatal("the part is not in the catalogue")
	}

	// A new customer, a brief from nothing: the budget moves.
	s.click(t, "Builds")
	s.is(t, `document.querySelector("table.ranked") && `+quiet)
	s.click(t, "Begin a new one")
	s.is(t, `location.search.includes("new=yes") && document.querySelector(".none") && `+quiet) // nothing to play from
	s.fill(t, "#owned input", "RADIO")
	s.do(t, `document.querySelector("#owned input").dispatchEvent(new Event("change", {bubbles: true}))`)
	s.is(t, `location.search.includes("owned=RADIO") && document.querySelector("table.ranked") && `+quiet)
	s.do(t, `(() => { const s = document.getElementById("slider"); s.value = 320; s.dispatchEvent(new Event("input", {bubbles: true})); s.dispatchEvent(new Event("change", {bubbles: true})); })()`)
	s.is(t, `document.querySelector("h1").textContent.includes("$320.00") && document.querySelector("table.ranked") && `+quiet)
	s.is(t, `location.search.includes("cap=320.00") && [...document.querySelectorAll("table.ranked tbody td[data-name=Price]")].every((e) => Number(e.textContent.replace("$", "")) <= 320)`)

	// Why not that amplifier?
	s.click(t, "Why not?")
	s.fill(t, "main input[name=part]", "OWN-1")
	s.do(t, `document.querySelector("main input[name=part]").form.requestSubmit()`)
	s.is(t, `location.search.includes("OWN-1") && document.querySelector("main").textContent.includes("OWN-1") && document.querySelector("main h2, main .say, main p")`)

	// A built box instead, for a customer who wants nothing below 40 Hz.
	s.click(t, "Builds")
	s.is(t, `document.querySelector("table.ranked") && `+quiet)
	bought := s.text(t, levelNow)
	s.fill(t, "#lowest_note", "40 Hz")
	s.do(t, `document.getElementById("lowest_note").dispatchEvent(new Event("change", {bubbles: true}))`)
	s.is(t, `location.search.includes("lowest_note=40") && `+quiet)
	s.do(t, `document.getElementById("build_boxes").click()`)
	s.is(t, `location.search.includes("build_boxes=yes") && document.querySelector("h2.later") && document.querySelector("ul.parts").textContent.includes("built ") && `+quiet)
	if built := s.text(t, levelNow); built == bought {
		t.Errorf("a built box changes nothing: %s dB", built)
	}
	s.click(t, "Quote for the customer")

	// Quoted, booked, printed.
	s.is(t, `location.pathname === "/quote" && document.getElementById("customer")`)
	s.fill(t, "#customer", "Rosa")
	s.click(t, "Book this quote")
	s.is(t, `document.querySelector(".booked")?.textContent.includes("job 1")`)
	s.click(t, "The quote as it was given")
	s.is(t, `location.pathname === "/given" && document.body.textContent.includes("Quote 1 for Rosa") && document.body.textContent.includes("my shop") && document.querySelector("table.bill").textContent.includes("built ")`)
	pdf, err := chromedp.Call(s.Context(), cdp.PrintToPDF, cdp.PrintToPDFParams{PaperWidth: 8.27, PaperHeight: 11.69})
	if err != nil || len(pdfPage.FindAll(pdf.Data, -1)) != 1 {
		t.Errorf("printed on %d pages, %v", len(pdfPage.FindAll(pdf.Data, -1)), err)
	}
	_, given := get(t, c, "/given?quote=1")
	line := regexp.MustCompile(`SAMPLE-[A-Z]+`).FindString(fmt.Sprint(latest(t, c).Lines))

	// A price list of the afternoon; the book shows what it changes.
	s.Show(address + "/upload")
	s.fill(t, "#typed", "SKU,price\n"+line+",1.00 USD\n")
	s.do(t, `document.querySelector('input[name=what][value=prices]').click()`)
	s.click(t, "See what it would do")
	s.is(t, fmt.Sprintf(`document.body.textContent.includes("1 row for the job book") && document.body.textContent.includes(%q)`, line))
	s.click(t, "Accept")
	s.is(t, `document.body.textContent.includes("prices, recorded in the job book")`)
	s.click(t, "Job book")
	s.is(t, `document.querySelector("table.jobs .tag.warn") && document.querySelector("table.jobs").textContent.includes("Rosa")`)

	// The quote again as it was given, and accepted.
	s.click(t, "Open")
	s.is(t, `location.pathname === "/job" && document.querySelector("h1").textContent.includes("Rosa") && `+quiet)
	if !strings.Contains(s.text(t, `document.querySelector("main").textContent`), "Changed since:") {
		t.Error("the job's page does not tell what changed")
	}
	if _, again := get(t, c, "/given?quote=1"); again != given {
		t.Error("the quote is another one after the price list")
	}
	s.click(t, "accepted")
	s.is(t, `document.body.textContent.includes("accepted on 2026-03-09")`)

	// The car comes back to the bay.
	s.do(t, `document.querySelector('main a[href="/meter?quote=1"]').click()`)
	s.fill(t, "#frequency-1", "40")
	s.fill(t, "#level-1", "118.5")
	s.fill(t, "#frequency-2", "55 Hz")
	s.fill(t, "#level-2", "119")
	s.click(t, "Add the readings")
	s.is(t, `document.querySelector(".booked")?.textContent.includes("2 readings added") && document.body.textContent.includes("Take next") && `+quiet)

	// Slips are taken back: the job that was removed, and the price list.
	s.Show(address + "/job?job=1")
	s.click(t, "Remove the job")
	s.is(t, `document.querySelector(".booked")?.textContent.includes("Job 1 is removed")`)
	s.click(t, "Put it back")
	s.is(t, `location.pathname === "/job" && document.querySelector("h1").textContent.includes("Rosa")`)
	s.click(t, "Upload")
	s.click(t, "Take it back")
	s.is(t, `!document.body.textContent.includes("prices, recorded in the job book")`)
	s.click(t, "Job book")
	s.is(t, `document.querySelector("table.jobs .tag.good")?.textContent === "accepted" && !document.querySelector("table.jobs .tag.warn")`)
	if faults := s.Faults(); len(faults) > 0 {
		t.Errorf("faults of the script: %v", faults)
	}
}
