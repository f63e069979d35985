package counter

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	cdp "github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"loudfor/cmd/internal/testing/browser"
)

// What holds only in a real browser: the flow of a customer's visit with and
// without scripts, the slider, the keyboard, paper, and what a page looks like
// to people who do not see it well.

func (s screen) do(t testing.TB, script string) {
	t.Helper()
	if _, err := chromedp.Run(s.Context(), chromedp.Evaluate[chromedp.Void](script)); err != nil {
		t.Fatalf("%s: %v", script, err)
	}
}

// press clicks the link of a text, once it is there: a page may come in pieces.
func (s screen) press(t testing.TB, text string) {
	t.Helper()
	link := fmt.Sprintf(`[...document.querySelectorAll("a")].find((a) => a.textContent === %q)`, text)
	s.is(t, link)
	s.do(t, link+".click()")
}

func (s screen) text(t testing.TB, script string) string {
	t.Helper()
	text, err := chromedp.Run(s.Context(), chromedp.Evaluate[string](script))
	if err != nil {
		t.Fatalf("%s: %v", script, err)
	}
	return text
}

const (
	levelNow = `document.querySelector(".level .num").textContent`
	rowsNow  = `[...document.querySelectorAll("table.ranked tbody tr")].map((r) => r.innerText).join("\n")`
)

func TestVisitWithScripts(t *testing.T) {
	c := open(t, nil)
	address := serve(t, c)
	s := answered(t, address)
	level, rows := s.text(t, levelNow), s.text(t, rowsNow)

	// Moving the slider changes figure and table, and the address with them.
	s.do(t, `(() => { const s = document.getElementById("slider"); s.value = 150; s.dispatchEvent(new Event("input", {bubbles: true})); s.dispatchEvent(new Event("change", {bubbles: true})); })()`)
	s.is(t, fmt.Sprintf(`%s !== %q && document.querySelector("h1").textContent.includes("$150.00") && !document.getElementById("answer").dataset.waits`, levelNow, level))
	if now := s.text(t, rowsNow); now == rows || !strings.Contains(now, "$14") {
		t.Errorf("the table after the slider moved:\n%s", now)
	}
	s.is(t, `location.search === "?cap=150.00" && document.getElementById("cap").value === "150"`)

	// A rule switches without a reload: a mark on the page stays.
	s.do(t, `window.mark = "here"; document.querySelector('input[name=goal][value=music]').click()`)
	s.is(t, `location.search.includes("goal=music") && document.querySelector("h1").textContent.includes("plays") && window.mark === "here"`)
	s.do(t, `document.querySelector('input[name=goal][value=reading]').click()`)
	s.is(t, `!location.search.includes("goal") && window.mark === "here"`)

	// A click on a step of the ladder moves the budget there.
	s.is(t, `document.querySelector("a.step.over")`)
	s.do(t, `document.querySelector("a.step.over").dispatchEvent(new MouseEvent("click", {bubbles: true, cancelable: true}))`)
	s.is(t, `Number(document.getElementById("cap").value) > 150 && window.mark === "here"`)

	// From the ranking to two builds side by side, to one, to its quote, booked.
	s.do(t, `[...document.querySelectorAll('input[name=v]')].slice(0, 2).forEach((b) => b.click()); document.querySelector("table.ranked").closest("form").requestSubmit()`)
	s.is(t, `location.pathname === "/versus" && document.querySelectorAll("table.versus thead th").length === 2`)
	s.press(t, "Build A in full")
	s.is(t, `location.pathname === "/build" && document.querySelector("svg .shade")`)
	s.press(t, "Quote for the customer")
	s.is(t, `location.pathname === "/quote" && document.getElementById("customer") && !document.getElementById("print").hidden`)
	s.do(t, `document.getElementById("customer").value = "Rosa"; document.getElementById("customer").form.requestSubmit()`)
	s.is(t, `document.querySelector(".booked")?.textContent.includes("job 1")`)
	jobs, err := c.book.Jobs(t.Context())
	if err != nil || len(jobs) != 1 || jobs[0].Customer != "Rosa" || jobs[0].Latest == nil {
		t.Errorf("booked: %+v, %v", jobs, err)
	}
	if faults := s.Faults(); len(faults) > 0 {
		t.Errorf("faults of the script: %v", faults)
	}
	for _, asked := range s.Requests() {
		if !strings.HasPrefix(asked, address+"/") {
			t.Errorf("the page asked for %s", asked)
		}
	}
}

func TestVisitWithoutScripts(t *testing.T) {
	c := open(t, nil)
	address := serve(t, c)
	s := screen{browser.Open(t)}
	s.size(t, 1280, 900)
	s.scripts(t, false)
	s.Show(address + "/")
	s.is(t, `document.querySelector("table.ranked")`)
	if s.text(t, `String(document.documentElement.classList.contains("live"))`) != "false" {
		t.Fatal("scripts run")
	}
	s.do(t, `document.getElementById("cap").value = "150"; document.querySelector('input[name=openings], #openings').value = "shut"`)
	s.Do(chromedp.Click(chromedp.CSS(`#wishes button[type=submit]`)))
	s.is(t, `document.querySelector("h1")?.textContent.includes("$150.00") && document.querySelector(".under").textContent.includes("shut")`)
	s.Do(chromedp.Click(chromedp.CSS(`.headline .button`)))
	s.is(t, `location.pathname === "/build"`)
	s.Do(chromedp.Click(chromedp.CSS(`.headline .button`)))
	s.is(t, `location.pathname === "/quote" && document.getElementById("print").hidden`)
	s.do(t, `document.getElementById("customer").value = "Otto"`)
	s.Do(chromedp.Click(chromedp.CSS(`form[method=post] button`)))
	s.is(t, `document.querySelector(".booked")`)
	s.Show(address + "/book")
	s.is(t, `document.querySelector("table.jobs")?.innerText.includes("Otto")`)
	s.Do(chromedp.Click(chromedp.CSS(`table.jobs a`)))
	s.is(t, `document.querySelector("h1")?.textContent.includes("$150.00")`) // the brief that it became
}

// Everything can be reached and worked with the keyboard alone, in the order in
// which it stands, and what has the focus shows it.
func TestKeyboardAlone(t *testing.T) {
	c := open(t, nil)
	address := serve(t, c)
	s := answered(t, address)
	tab := func() { s.Do(chromedp.KeyEvent(kb.Tab)) }
	const focused = `(() => { const e = document.activeElement; return e.id || e.name || e.textContent.trim().slice(0, 30); })()`
	tab()
	if got := s.text(t, focused); got != "Skip to the answer" {
		t.Errorf("the first stop is %q", got)
	}
	want := []string{"cap", "slider", "goal", "front", "vehicle", "place", "openings", "The whole brief", "This build in full", "Quote for the customer", "v"}
	for i, steps := 0, 0; i < len(want); steps++ {
		if steps > 80 {
			t.Fatalf("%q is never reached", want[i])
		}
		tab()
		got := s.text(t, focused)
		if got == want[i] {
			i++
		}
		shows := s.text(t, `(() => { const e = document.activeElement; const on = e.matches(".switch input") ? e.nextElementSibling : e; const st = getComputedStyle(on); return st.outlineStyle + " " + st.outlineWidth; })()`)
		if shows != "solid 3px" {
			t.Errorf("%q has the focus and shows %q", got, shows)
		}
		if got == "slider" {
			s.Do(chromedp.KeyEvent(kb.ArrowLeft))
			s.is(t, `Number(document.getElementById("cap").value) < 250 && location.search.includes("cap=") && !document.getElementById("answer").dataset.waits`)
		}
	}
	// An arrow in a switch chooses; a build opens with Enter.
	s.do(t, `document.querySelector('input[name=goal]:checked').focus()`)
	s.Do(chromedp.KeyEvent(kb.ArrowRight))
	s.is(t, `location.search.includes("goal=music") && document.activeElement.value === "music"`)
	s.do(t, `document.querySelector(".headline .button").focus()`)
	s.Do(chromedp.KeyEvent(kb.Enter))
	s.is(t, `location.pathname === "/build"`)
}

// Every view, light and dark, on a phone and on a desk, passes the audit.
func TestEveryViewForEverybody(t *testing.T) {
	c := open(t, nil)
	address := serve(t, c)
	bookOne(t, c)
	views := exampleViews(t, c)
	for i, look := range []struct {
		scheme        string
		width, height int64
	}{{"light", 390, 844}, {"dark", 1280, 800}, {"dark", 360, 740}, {"light", 3840, 2160}} {
		t.Run(fmt.Sprintf("%s at %d", look.scheme, look.width), func(t *testing.T) {
			// The two that differ in everything; the others take as long again.
			if i > 1 && os.Getenv("LOUDFOR_LOOKS") == "" || i > 0 && testing.Short() {
				t.Skip("LOUDFOR_LOOKS=all looks at this one too")
			}
			s := screen{browser.Open(t)}
			s.scheme(t, look.scheme, "none")
			s.size(t, look.width, look.height)
			for _, view := range views {
				s.Show(address + view.address)
				s.is(t, `!document.getElementById("answer").dataset.waits`)
				wrong, err := chromedp.Run(s.Context(), chromedp.Evaluate[[]string](auditScript))
				if err != nil {
					t.Fatal(err)
				}
				for _, line := range wrong {
					t.Errorf("%s: %s", view.name, line)
				}
				if faults := s.Faults(); len(faults) > 0 {
					t.Errorf("%s: %v", view.name, faults)
				}
			}
		})
	}
}

var pdfPage = regexp.MustCompile(`/Type\s*/Page\b`)

// fullShop are settings with everything that a shop may say of itself.
func fullShop(t testing.TB) string {
	t.Helper()
	folder := t.TempDir()
	var logo bytes.Buffer
	if err := png.Encode(&logo, image.NewGray(image.Rect(0, 0, 240, 120))); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(folder, "logo.png"), logo.String())
	file := filepath.Join(folder, "shop.yaml")
	write(t, file, "shop: Dock Street Sound\naddress: [12 Dock Street, 10001 Northhaven]\ncontact: [555 0100, desk@dockstreet.example]\nlogo: logo.png\nvalid: 30\n"+
		"terms: [Half of the price with the order., Two years on our work.]\n")
	return file
}

// The quote is one printed page, on both usual papers, for a small system and
// for a large one, with all that a shop may say of itself.
func TestQuoteIsOnePage(t *testing.T) {
	c := open(t, func(o *Options) { o.Shop = fullShop(t) })
	address := serve(t, c)
	s := screen{browser.Open(t)}
	for _, view := range []string{
		"/quote?parts=" + url.QueryEscape(rankedCodes(t, c)[0]) + "&customer=Rosa",
		"/quote?cap=1500&front=replace&goal=music&vehicle=family+SUV&openings=shut",
	} {
		s.Show(address + view)
		s.is(t, `document.querySelector(".quote") && !document.getElementById("answer").dataset.waits`)
		for paper, size := range map[string][2]float64{"A4": {8.27, 11.69}, "Letter": {8.5, 11}} {
			pdf, err := chromedp.Call(s.Context(), cdp.PrintToPDF, cdp.PrintToPDFParams{PaperWidth: size[0], PaperHeight: size[1]})
			if err != nil {
				t.Fatal(err)
			}
			if n := len(pdfPage.FindAll(pdf.Data, -1)); n != 1 {
				t.Errorf("%s on %s: %d pages", view, paper, n)
			}
		}
	}
}
