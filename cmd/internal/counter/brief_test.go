package counter

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"loudfor/catalog"
	"loudfor/cmd/internal/testing/browser"
)

// Every key of a brief has a field on the page, under the name that the file has.
func TestTheFormHasEveryKey(t *testing.T) {
	c := open(t, nil)
	_, body := get(t, c, "/")
	_, steps := get(t, c, "/grow")
	body += steps
	for _, s := range catalog.BriefSpecs() {
		key := s.Key
		switch key {
		case "stores":
			key = keyStore
		case "steps": // the cap has a field of its own
			key = keyThen
		}
		if !strings.Contains(body, `name="`+key+`"`) {
			t.Errorf("no field asks for %s", key)
		}
	}
}

// A brief from nothing wishes for nothing; the car, the sum and the shop's taxes
// stay. What is put together is saved as a file that says the same, and kept as a
// job.
func TestABriefFromNothing(t *testing.T) {
	c := open(t, func(o *Options) { o.Request.Brief = "demo:350-built" })
	if status, body := get(t, c, "/?new=yes"); status != http.StatusOK || !strings.Contains(body, `name="new" value="yes"`) {
		t.Fatal(status)
	}
	if status, _ := get(t, c, "/?new=yes&owned=HU-OLD"); status != http.StatusOK { // one list, and no other key
		t.Fatal(status)
	}
	const wishes = "new=yes&cap=333&name=ein+Anfang&owned=HU-OLD&owned=&never=Tamsel+12-inch+value&space=80+x+40+x+40+cm&lowest_note=30+Hz&build_boxes=no&build_boxes=yes&labour=%5B%7Bname%3A+fitting%2C+price%3A+40+USD%7D%5D&alternator=&boxes=1"
	status, text := get(t, c, "/brief.yaml?"+wishes)
	if status != http.StatusOK {
		t.Fatal(status, text)
	}
	b, report := catalog.LoadBriefFS(fstest.MapFS{"brief.yaml": {Data: []byte(text)}}, "brief.yaml")
	if err := report.Err(); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	if b.Cap.Minor != 33_300 || b.Name != "ein Anfang" || len(b.Owned) != 1 || b.Owned[0].SKU != "HU-OLD" || len(b.Never) != 1 || b.Never[0].SKU != "TM-12V" ||
		b.Space != (catalog.Size3{Width: 0.8, Depth: 0.4, Height: 0.4}) || b.LowestNote != 30 || !b.BuildBoxes || len(b.Labour) != 1 || b.Boxes != 1 || b.BoxWeight != 0 || b.TaxPPM != c.stock.Load().Brief.TaxPPM {
		t.Errorf("%+v of\n%s", b, text)
	}
	form, err := url.ParseQuery(wishes)
	if err != nil {
		t.Fatal(err)
	}
	form.Set(keyCustomer, "Élise")
	w := post(c, "/brief", form, "Sec-Fetch-Site", "same-origin")
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/?job=1" {
		t.Fatalf("%d %s", w.Code, w.Header().Get("Location"))
	}
	job, err := c.book.Job(t.Context(), 1)
	if err != nil || job.Customer != "Élise" || job.Brief != text {
		t.Errorf("%v: %q\n%s", err, job.Customer, job.Brief)
	}
}

// One wish that goes with no other is told at its field and left out; the others
// stay.
func TestOneWrongWishSpoilsNoOther(t *testing.T) {
	c := open(t, nil)
	q := askOf(t, c, "must=TM-12V&never=TM-12V&boxes=1&space=much&owned=no+such+thing&tax=5+%25&place=kick+panel")
	fields := map[string]bool{}
	for _, complaint := range q.complaints {
		fields[complaint.Field] = true
	}
	if !fields[keySpace] || !fields[keyOwned] || !fields[keyNever] && !fields[keyMust] {
		t.Errorf("told: %v", q.complaints)
	}
	if b := q.job.Brief; b.Boxes != 1 || b.TaxPPM != 50_000 || b.Place != "kick panel" {
		t.Errorf("lost: %+v", b)
	}
}

// A part is named by what is written on its shelf, with suggestions while typing;
// a box that the shop builds is chosen by a tick.
func TestTheBriefInABrowser(t *testing.T) {
	c := open(t, func(o *Options) { o.Request.Brief = "demo:350-built" })
	address := serve(t, c)
	s := screen{browser.Open(t)}
	s.size(t, 1280, 900)
	s.Show(address + "/?new=yes")
	settled := `document.querySelector("table.ranked") && !document.getElementById("answer").dataset.waits`
	s.is(t, settled)
	s.do(t, `document.querySelector("details.more").open = true; document.querySelector("input[name=never]").focus()`)
	s.Do(chromedp.KeyEvent("12-inch value"))
	s.is(t, `[...document.querySelectorAll("#parts option")].some((o) => o.value === "TM-12V") && document.querySelectorAll("input[name=never]").length === 2`)
	s.do(t, `(() => { const f = document.querySelector("input[name=never]"); f.value = "TM-12V"; f.dispatchEvent(new Event("change", {bubbles: true})); document.getElementById("build_boxes").focus(); document.getElementById("build_boxes").click(); })()`)
	s.is(t, `location.search.includes("never=TM-12V") && location.search.includes("build_boxes=yes") && document.querySelector("h2.later") && `+settled)
	s.do(t, `document.getElementById("build_boxes").click()`)
	s.is(t, `!location.search.includes("build_boxes=yes") && !document.querySelector("h2.later") && `+settled)
	s.do(t, `(() => { const f = document.getElementById("space"); f.value = "much"; f.dispatchEvent(new Event("change", {bubbles: true})); })()`)
	s.is(t, `document.getElementById("space").getAttribute("aria-invalid") === "true" && document.getElementById("wrong-space").textContent.includes("much")`)
	s.do(t, `(() => { const f = document.getElementById("space"); f.value = "60 x 40 x 40 cm"; f.dispatchEvent(new Event("change", {bubbles: true})); })()`)
	s.is(t, `!document.getElementById("space").hasAttribute("aria-invalid") && document.querySelector(".room figcaption")?.textContent.includes("60 cm wide") && `+settled)
	if faults := s.Faults(); len(faults) > 0 {
		t.Error(faults)
	}
	// The curve of the build is read off by the keys.
	s.do(t, `document.querySelector(".headline .button").click()`)
	s.is(t, `location.pathname === "/build" && document.querySelector(".readoff:not([hidden]) input")`)
	before := s.text(t, `document.querySelector(".readoff output").textContent`)
	s.do(t, `document.querySelector(".readoff input").focus()`)
	s.Do(chromedp.KeyEvent(kb.ArrowRight))
	s.is(t, `document.querySelector(".readoff output").textContent !== "`+before+`" && document.querySelector(".readoff input").getAttribute("aria-valuetext") === document.querySelector(".readoff output").textContent && document.querySelector("path.cursor")`)
}

// Names that are long, or written from the right, stay in their places.
func TestNamesOfAllKinds(t *testing.T) {
	const long = "Überlangerverstärkermitallemdrumunddranundnochetwasmehralsmangedachthätte"
	for _, name := range []string{long, "مكبر صوت قوي", "רמקול, גדול", "重低音スピーカー十二インチ"} {
		file, _ := shelfOf(t)
		write(t, file, strings.ReplaceAll(evilParts, "EVIL", name))
		c := open(t, func(o *Options) { o.Request = shop(file) })
		address := serve(t, c)
		s := screen{browser.Open(t)}
		s.size(t, 390, 844)
		for _, path := range []string{"/", "/ladder", "/quote?customer=" + url.QueryEscape(name), "/catalogue"} {
			s.Show(address + path)
			s.is(t, `!document.getElementById("answer").dataset.waits`)
			for _, line := range browser.Ask(s.Browser, chromedp.Evaluate[[]string](auditScript)) {
				t.Errorf("%s at %s: %s", name, path, line)
			}
		}
		if testing.Short() {
			break
		}
	}
}
