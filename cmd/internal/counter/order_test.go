package counter

import (
	"context"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/fsnotify/fsnotify"

	"loudfor/cmd/internal/testing/browser"
)

// through is a server whose answers pass a function of the test's.
func through(t *testing.T, c *Counter, pass func(http.ResponseWriter, *http.Request, http.Handler)) string {
	t.Helper()
	h := c.Handler()
	s := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { pass(w, r, h) }))
	t.Cleanup(func() {
		c.news.close()
		s.Close()
	})
	return s.URL
}

// byScript tells a question of the page's script that stays.
func byScript(r *http.Request) bool {
	return r.URL.Path == "/" && r.Header.Get("Sec-Fetch-Dest") == "empty" && r.Header.Get("X-Moving") == ""
}

const restAt150 = `(() => { const s = document.getElementById("slider"); s.value = 150; s.dispatchEvent(new Event("input", {bubbles: true})); s.dispatchEvent(new Event("change", {bubbles: true})); })()`

// In whatever order the page, the word that its ranking is ready, and the end of
// the connection come, the ranking arrives.
func TestNoOrderOfEventsLosesTheRanking(t *testing.T) {
	before := shortly
	shortly = 0 // every page is made before its ranking
	t.Cleanup(func() { shortly = before })
	settled := `document.querySelector("table.ranked") && document.querySelector("h1").textContent.includes("$150.00") && !document.getElementById("answer").dataset.waits`
	arrange := func(t *testing.T, pass func(*Counter, http.ResponseWriter, *http.Request, http.Handler)) {
		c := open(t, nil)
		if _, err := c.climbed(context.Background(), askOf(t, c, "")); err != nil {
			t.Fatal(err)
		}
		address := through(t, c, func(w http.ResponseWriter, r *http.Request, h http.Handler) { pass(c, w, r, h) })
		s := screen{browser.Open(t)}
		s.size(t, 1280, 900)
		s.Show(address + "/")
		s.is(t, `document.querySelector("table.ranked") && !document.getElementById("answer").dataset.waits`)
		s.do(t, restAt150)
		s.is(t, settled)
	}
	ranked := func(c *Counter) func() bool {
		return func() bool { _, done := c.rankings.look(askOf(t, c, "cap=150").key()); return done }
	}
	t.Run("the word before the page", func(t *testing.T) {
		var first atomic.Bool
		arrange(t, func(c *Counter, w http.ResponseWriter, r *http.Request, h http.Handler) {
			if !byScript(r) || !strings.Contains(r.URL.RawQuery, "cap=150") || !first.CompareAndSwap(false, true) {
				h.ServeHTTP(w, r)
				return
			}
			// The page is made, then kept back until the word is out and read.
			made := httptest.NewRecorder()
			h.ServeHTTP(made, r)
			until(t, "the ranking is ready", ranked(c))
			told := make(chan bulletin, 16)
			c.news.mu.Lock()
			c.news.readers[told] = true
			c.news.mu.Unlock()
			c.news.ready("something else") // what came before it has been sent
			<-told
			c.news.unsubscribe(told)
			for name, values := range made.Header() {
				w.Header()[name] = values
			}
			w.WriteHeader(made.Code)
			_, _ = w.Write(made.Body.Bytes())
		})
	})
	t.Run("the page before the word", func(t *testing.T) {
		arrange(t, func(c *Counter, w http.ResponseWriter, r *http.Request, h http.Handler) { h.ServeHTTP(w, r) })
	})
	t.Run("the word is lost", func(t *testing.T) {
		// The connection ends before the word is out.
		arrange(t, func(c *Counter, w http.ResponseWriter, r *http.Request, h http.Handler) {
			if byScript(r) && strings.Contains(r.URL.RawQuery, "cap=150") {
				c.news.mu.Lock()
				for reader := range c.news.readers {
					delete(c.news.readers, reader)
					close(reader)
				}
				c.news.mu.Unlock()
			}
			h.ServeHTTP(w, r)
		})
	})
}

// A page that does not read is cut off, so that it asks again and learns what it
// missed.
func TestWhoMissesAWordIsCutOff(t *testing.T) {
	var d newsDesk
	deaf, _ := d.subscribe()
	for range cap(deaf) + 1 {
		d.ready("something")
	}
	for range cap(deaf) {
		<-deaf
	}
	if _, still := <-deaf; still {
		t.Error("it goes on as if it had missed nothing")
	}
}

// While the budget is dragged the figure follows: an answer comes although the
// hand never rests.
func TestTheFigureFollowsTheHand(t *testing.T) {
	c := open(t, nil)
	address := serve(t, c)
	s := answered(t, address)
	s.do(t, `(() => {
		const s = document.getElementById("slider"), seen = new Set();
		let at = 100;
		window.followed = () => seen.size;
		new MutationObserver(() => seen.add(document.querySelector("h1").textContent)).observe(document.querySelector(".desk"), {childList: true, subtree: true});
		s.dispatchEvent(new PointerEvent("pointerdown"));
		const move = () => { at = at > 300 ? 100 : at + 2; s.value = at; s.dispatchEvent(new Event("input", {bubbles: true})); window.hand = setTimeout(move, 16); };
		move();
	})()`)
	s.is(t, `window.followed() > 5`)
	// It rests: field, slider, figure and address say one budget.
	s.do(t, `clearTimeout(window.hand); (() => { const s = document.getElementById("slider"); s.value = 222; s.dispatchEvent(new Event("input", {bubbles: true})); s.dispatchEvent(new Event("change", {bubbles: true})); })()`)
	s.is(t, `document.querySelector("h1").textContent.includes("$222.00") && document.getElementById("cap").value === "222" && document.getElementById("slider").value === "222" && location.search === "?cap=222.00" && !document.getElementById("answer").dataset.waits`)
	s.is(t, `document.getElementById("slider").getAttribute("aria-valuetext") === "$222.00: " + document.querySelector(".level .num").textContent + " dB"`)
	s.is(t, `document.getElementById("said").textContent.includes("dB for $")`)
}

// There is one budget: what is typed moves the slider's end, and what cannot be
// read is said at the field, while the answer says that it is none to it.
func TestOneBudget(t *testing.T) {
	c := open(t, nil)
	address := serve(t, c)
	s := answered(t, address)
	typed := func(text string) {
		s.do(t, `(() => { const c = document.getElementById("cap"); c.focus(); c.value = "`+text+`"; c.dispatchEvent(new Event("input", {bubbles: true})); })()`)
	}
	typed("2000")
	s.is(t, `document.querySelector("h1").textContent.includes("$2,000.00") && Number(document.getElementById("slider").max) >= 2000 && document.getElementById("slider").value === "2000"`)
	s.do(t, `(() => { const s = document.getElementById("slider"); s.focus(); s.stepDown(); s.dispatchEvent(new Event("input", {bubbles: true})); s.dispatchEvent(new Event("change", {bubbles: true})); })()`)
	s.is(t, `(() => { const at = Number(document.getElementById("cap").value); return at < 2000 && at > 1900 && Number(document.getElementById("slider").value) === at && document.querySelector("h1").textContent.includes("$1,9"); })()`)
	before := s.text(t, `document.querySelector("h1").textContent`)
	typed("1,200")
	s.is(t, `document.getElementById("cap").getAttribute("aria-invalid") === "true" && document.getElementById("wrong-cap").textContent.includes("1,200")`)
	s.is(t, `document.getElementById("answer").classList.contains("unasked") && document.getElementById("wrong-cap").textContent.includes("the one before")`)
	if now := s.text(t, `document.querySelector("h1").textContent`); now != before {
		t.Errorf("the answer became %q, was %q", now, before)
	}
	typed("1200")
	s.is(t, `!document.getElementById("cap").hasAttribute("aria-invalid") && !document.querySelector("#wrong-cap p") && !document.getElementById("answer").classList.contains("unasked") && document.querySelector("h1").textContent.includes("$1,200.00")`)
}

// What is said about changed files goes with the next question, and a note that
// was put away stays away on the next page.
func TestNotesGo(t *testing.T) {
	file, text := shelfOf(t)
	c := open(t, func(o *Options) { o.Request = shop(file) })
	address, _ := listen(t, c)
	s := answered(t, address)
	write(t, file, strings.Replace(text, "price: 89 USD", "price: 61 USD", 1))
	s.is(t, `document.getElementById("moved").textContent.startsWith("Was ")`)
	s.do(t, restAt150)
	s.is(t, `document.getElementById("moved").textContent === "" && document.querySelector("h1").textContent.includes("$150.00") || document.querySelector("h1").textContent.includes("No build")`)
	s.is(t, `document.getElementById("moved").textContent === ""`)
	s.is(t, `document.getElementById("news").textContent.includes("AMP: 61.00 USD")`)
	s.do(t, `document.querySelector("#news button").click()`)
	s.is(t, `!document.getElementById("news").childElementCount`)
	s.Show(address + "/ladder")
	s.is(t, `document.querySelector(".live") && !document.getElementById("news").childElementCount`)
	s.Show(address + "/quote")
	s.is(t, `document.querySelector(".quote")`)
}

// Only files that are read count, and only what is different in them.
func TestOnlyWhatIsReadCounts(t *testing.T) {
	c := &Counter{options: Options{Watch: []string{"/shop/lists", "/shop/may.csv"}}}
	c.options.Request.Catalog, c.options.Request.Brief, c.options.Request.Vehicles = []string{"/shop/parts", "/shop/more.yaml"}, "/shop/brief.yaml", "/cars/vehicles.yaml"
	for name, want := range map[string]bool{
		"/shop/brief.yaml": true, "/shop/more.yaml": true, "/shop/parts/new.yaml": true, "/shop/parts/deep/new.yml": true, "/shop/lists/june.csv": true,
		"/shop/may.csv": true, "/cars/vehicles.yaml": true, "/cars/curve.txt": true,
		"/shop/other.yaml": false, "/shop/notes.csv": false, "/shop/parts/.hidden.yaml": false, "/shop/parts/table.csv": false, "/shop/brief.yaml~": false,
		"/shop/partsheet.yaml": false, "/cars/other.yaml": false, "/shop/parts/photo.jpg": false,
	} {
		if got := c.relevant(fsnotify.Event{Name: name, Op: fsnotify.Write}); got != want {
			t.Errorf("%s: %t", name, got)
		}
	}
	file, text := shelfOf(t)
	c = open(t, func(o *Options) { o.Request = shop(file) })
	write(t, file, "# only a remark\n"+text)
	c.Reload()
	if n := c.news.latest(); len(n.Lines) > 0 || c.stock.Load().generation != 1 {
		t.Errorf("a remark is told as %v", n.Lines)
	}
}

// Who gets no answer is told why, and that the one shown is to another question,
// until one comes.
func TestNoAnswerIsSaid(t *testing.T) {
	c := open(t, nil)
	var busy atomic.Bool
	address := through(t, c, func(w http.ResponseWriter, r *http.Request, h http.Handler) {
		if busy.Load() && r.URL.Path == "/" {
			http.Error(w, errBusy.Error(), http.StatusServiceUnavailable)
			return
		}
		h.ServeHTTP(w, r)
	})
	s := answered(t, address)
	busy.Store(true)
	s.do(t, restAt150)
	s.is(t, `document.getElementById("moved").textContent.includes("too many searches") && document.getElementById("answer").classList.contains("unasked")`)
	busy.Store(false)
	s.do(t, restAt150)
	s.is(t, `document.getElementById("moved").textContent === "" && !document.getElementById("answer").classList.contains("unasked") && document.querySelector("h1").textContent.includes("$150.00")`)
}
