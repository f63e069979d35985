package counter

import (
	"bufio"
	"context"
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"sync"
	"testing"
	"time"

	"loudfor/model/parallel"
)

// A stranger's name that points to this machine is refused (DNS rebinding).
func TestOnlyOurNamesAreAnswered(t *testing.T) {
	c := open(t, nil)
	for _, tc := range []struct {
		host string
		want int
	}{
		{"127.0.0.1:7250", http.StatusOK},
		{"127.0.0.1", http.StatusOK},
		{"127.8.8.8", http.StatusOK}, // all of 127.0.0.0/8 is this machine (RFC 1122)
		{"[::1]:7250", http.StatusOK},
		{"localhost:7250", http.StatusOK},
		{"LOCALHOST.", http.StatusOK},
		{"stranger.invalid", http.StatusMisdirectedRequest},
		{"localhost.stranger.invalid", http.StatusMisdirectedRequest},
		{"127.0.0.1.stranger.invalid", http.StatusMisdirectedRequest},
		{"192.0.2.1:7250", http.StatusMisdirectedRequest}, // not served beyond loopback
		{"", http.StatusMisdirectedRequest},
	} {
		r := httptest.NewRequest(http.MethodGet, "/versus", nil)
		r.Host = tc.host
		w := httptest.NewRecorder()
		c.Handler().ServeHTTP(w, r)
		if w.Code != tc.want {
			t.Errorf("Host %q: %d, want %d", tc.host, w.Code, tc.want)
		}
	}
}

func TestNamesThatWereAllowed(t *testing.T) {
	o := Options{Hosts: []string{"counter.shop"}, Token: "a long enough token"}
	for host, want := range map[string]bool{"counter.shop": true, "counter.shop:80": true, "other.shop": false, "192.0.2.1": true, "[2001:db8::1]:80": true} {
		if got := o.ours(host); got != want {
			t.Errorf("%s: %t, want %t", host, got, want)
		}
	}
}

// Another site's form cannot book anything.
func TestCrossSitePostsAreRefused(t *testing.T) {
	c := open(t, nil)
	form := url.Values{"parts": {rankedCodes(t, c)[0]}}
	for _, tc := range []struct {
		name    string
		headers []string
		want    int
	}{
		{"another site", []string{"Sec-Fetch-Site", "cross-site"}, http.StatusForbidden},
		{"another port of this machine", []string{"Sec-Fetch-Site", "same-site"}, http.StatusForbidden},
		{"an old browser, another origin", []string{"Origin", "http://stranger.invalid"}, http.StatusForbidden},
		{"an old browser, no origin of a sandbox", []string{"Origin", "null"}, http.StatusForbidden},
		{"our page", []string{"Sec-Fetch-Site", "same-origin"}, http.StatusSeeOther},
		{"our page, an old browser", []string{"Origin", "http://127.0.0.1"}, http.StatusSeeOther},
	} {
		form.Set("customer", tc.name) // the same quote of the same customer is booked once
		if w := post(c, "/book", form, tc.headers...); w.Code != tc.want {
			t.Errorf("%s: %d, want %d: %s", tc.name, w.Code, tc.want, w.Body)
		}
	}
	jobs, err := c.book.Jobs(t.Context())
	if err != nil || len(jobs) != 2 {
		t.Errorf("%d jobs booked (%v), want those of our own pages: 2", len(jobs), err)
	}
}

func TestTooMuchIsRefused(t *testing.T) {
	c := open(t, nil)
	if status, _ := get(t, c, "/?never="+strings.Repeat("x", mostQuery)); status != http.StatusRequestURITooLong {
		t.Errorf("a long address: %d", status)
	}
	if w := post(c, "/book", url.Values{"parts": {strings.Repeat("x", mostBody)}}, "Sec-Fetch-Site", "same-origin"); w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("a long form: %d", w.Code)
	}
	for _, method := range []string{http.MethodPut, http.MethodDelete, http.MethodOptions, http.MethodTrace, "PROPFIND"} {
		r := httptest.NewRequest(method, "/", nil)
		r.Host = "127.0.0.1"
		w := httptest.NewRecorder()
		c.Handler().ServeHTTP(w, r)
		if w.Code != http.StatusMethodNotAllowed {
			t.Errorf("%s: %d", method, w.Code)
		}
	}
}

// No page has a script or a style in it: the policy forbids them, and what
// would need one would not work.
func TestPolicy(t *testing.T) {
	c := open(t, nil)
	bookOne(t, c)
	for _, view := range exampleViews(t, c) {
		r := httptest.NewRequest(http.MethodGet, view.address, nil)
		r.Host = "127.0.0.1"
		w := httptest.NewRecorder()
		c.Handler().ServeHTTP(w, r)
		got := w.Header().Get("Content-Security-Policy")
		if got != policy || strings.Contains(got, "unsafe") || strings.Contains(got, "*") {
			t.Errorf("%s: policy %q", view.name, got)
		}
		body := w.Body.String()
		if n := strings.Count(body, "<style"); n > 0 && (view.name != "build" || n != 1) {
			t.Errorf("%s holds %d styles", view.name, n)
		}
		for _, forbidden := range []string{" style=", " onclick=", "javascript:", "http://127", "https://", "<script>"} {
			if strings.Contains(body, forbidden) {
				t.Errorf("%s holds %q", view.name, forbidden)
			}
		}
	}
}

// No request reaches the file system: whatever name is asked for, only the
// three embedded files are there.
func TestNoPathReachesFiles(t *testing.T) {
	c := open(t, nil)
	for _, path := range []string{"/assets/../page.go", "/assets/..%2fpage.go", "/assets/%2e%2e/%2e%2e/go.mod", "/assets//etc/passwd", "/assets/style.css/..", "/etc/passwd",
		"/assets/pages", "/assets/", "/..", "/?parts=../../etc/passwd", "/build?parts=..%2f..%2fetc%2fpasswd", "/why?part=/etc/passwd", "/?job=../jobs.book"} {
		_, body := get(t, c, path)
		for _, secret := range []string{"root:", "module loudfor", "package counter"} {
			if strings.Contains(body, secret) {
				t.Errorf("%s shows %q", path, secret)
			}
		}
	}
}

func TestTheGate(t *testing.T) {
	const token = "a token of the shop"
	c := open(t, func(o *Options) { o.Token = token })
	ask := func(path string, headers ...string) int {
		status, _ := get(t, c, path, headers...)
		return status
	}
	for _, path := range []string{"/", "/ladder", "/book", "/quote", "/catalogue"} {
		if got := ask(path); got != http.StatusSeeOther {
			t.Errorf("%s without a token: %d, want the door", path, got)
		}
		if got := ask(path, "Accept", "application/json"); got != http.StatusUnauthorized {
			t.Errorf("%s by a script without a token: %d", path, got)
		}
	}
	if got := ask("/events", "Accept", "text/event-stream"); got != http.StatusUnauthorized {
		t.Errorf("the news without a token: %d", got)
	}
	if got := post(c, "/book", url.Values{"parts": {"X"}}, "Sec-Fetch-Site", "same-origin").Code; got != http.StatusUnauthorized {
		t.Errorf("booking without a token: %d", got)
	}
	if got := ask("/enter"); got != http.StatusOK {
		t.Errorf("the door: %d", got)
	}
	if got := ask("/assets/style.css"); got != http.StatusOK {
		t.Errorf("the door's style: %d", got)
	}
	for _, wrong := range []string{"", "a token of the sho", token + "x", strings.ToUpper(token)} {
		w := post(c, "/enter", url.Values{"token": {wrong}}, "Sec-Fetch-Site", "same-origin")
		if w.Code != http.StatusForbidden || len(w.Result().Cookies()) > 0 {
			t.Errorf("token %q: %d with %v", wrong, w.Code, w.Result().Cookies())
		}
	}
	w := post(c, "/enter", url.Values{"token": {token}}, "Sec-Fetch-Site", "same-origin")
	cookies := w.Result().Cookies()
	if w.Code != http.StatusSeeOther || len(cookies) != 1 {
		t.Fatalf("the token: %d with %v", w.Code, cookies)
	}
	cookie := cookies[0]
	if !cookie.HttpOnly || cookie.SameSite != http.SameSiteStrictMode || strings.Contains(cookie.Value, token) {
		t.Errorf("cookie %v", cookie)
	}
	if got := ask("/versus", "Cookie", cookie.Name+"="+cookie.Value); got != http.StatusOK {
		t.Errorf("with the cookie: %d", got)
	}
	if got := ask("/versus", "Cookie", cookie.Name+"="+strings.Repeat("0", len(cookie.Value))); got != http.StatusSeeOther {
		t.Errorf("with a made-up cookie: %d", got)
	}
	if got := ask("/versus", "Authorization", "Bearer "+token); got != http.StatusOK {
		t.Errorf("a script with the token: %d", got)
	}
	other := open(t, func(o *Options) { o.Token = token })
	if status, _ := get(t, other, "/versus", "Cookie", cookie.Name+"="+cookie.Value); status != http.StatusSeeOther {
		t.Errorf("a cookie of another start: %d", status)
	}
}

// Whoever has not entered waits for others who have not, and never holds up one
// who has: not by wrong tokens, not by forms that do not come.
func TestStrangersHoldUpNoMember(t *testing.T) {
	const token, many = "a token of the shop", 120
	before := wrongDelay
	wrongDelay = however // no wrong try is ever answered
	t.Cleanup(func() { wrongDelay = before })
	c := open(t, func(o *Options) { o.Token = token })
	address, _ := listen(t, c)
	strangers, leave := context.WithCancel(t.Context())
	var all sync.WaitGroup
	defer all.Wait()
	defer leave()
	for i := range many {
		all.Go(func() {
			var r *http.Request
			if i%2 == 0 {
				r, _ = http.NewRequestWithContext(strangers, http.MethodPost, address+"/enter", strings.NewReader("token=wrong"))
				r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			} else {
				r, _ = http.NewRequestWithContext(strangers, http.MethodGet, address+"/", nil)
				r.Header.Set("Authorization", "Bearer wrong")
			}
			if reply, err := http.DefaultClient.Do(r); err == nil {
				t.Errorf("a wrong token was answered at once: %d", reply.StatusCode)
				reply.Body.Close()
			}
		})
	}
	for range many {
		slowForm(t, address, "/enter")
	}
	until(t, "strangers wait", func() bool { return len(c.login.slow) == 1 })
	member, stop := context.WithTimeout(t.Context(), 3*time.Minute)
	defer stop()
	for range 3 {
		r, _ := http.NewRequestWithContext(member, http.MethodGet, address+"/versus", nil)
		r.Header.Set("Authorization", "Bearer "+token)
		reply, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatalf("a member is not answered: %v", err)
		}
		reply.Body.Close()
		if reply.StatusCode != http.StatusOK {
			t.Errorf("a member gets %d", reply.StatusCode)
		}
	}
}

// slowForm begins a form of a hundred bytes, and sends one.
func slowForm(t *testing.T, address, path string) net.Conn {
	t.Helper()
	l, err := net.Dial("tcp", strings.TrimPrefix(address, "http://"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { l.Close() })
	fmt.Fprintf(l, "POST %s HTTP/1.1\r\nHost: 127.0.0.1\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 100\r\n\r\nt", path)
	return l
}

// A form that does not come holds up nobody.
func TestSlowFormsHoldUpNobody(t *testing.T) {
	address, _ := listen(t, open(t, nil))
	for range mostAsked + 10 {
		slowForm(t, address, "/book")
	}
	ctx, stop := context.WithTimeout(t.Context(), 3*time.Minute)
	defer stop()
	r, _ := http.NewRequestWithContext(ctx, http.MethodGet, address+"/versus", nil)
	reply, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatalf("nobody is answered: %v", err)
	}
	reply.Body.Close()
}

// A form that does not come ends with its time, which is longer for a large one.
func TestFormsHaveADeadline(t *testing.T) {
	for path, limit := range map[string]*time.Duration{"/book": &formTime, "/upload": &largeTime, "/meter": &largeTime} {
		t.Run(path, func(t *testing.T) {
			before := *limit
			*limit = time.Millisecond
			t.Cleanup(func() { *limit = before }) // after the server has ended
			address, _ := listen(t, open(t, nil))
			answer, err := http.ReadResponse(bufio.NewReader(slowForm(t, address, path)), nil)
			if err != nil || answer.StatusCode != http.StatusRequestTimeout {
				t.Errorf("a form that does not come: %v, %v", answer, err)
			}
		})
	}
}

func TestTokensAreLongAndDiffer(t *testing.T) {
	a, b := NewToken(), NewToken()
	if a == b || len(a) < LeastToken {
		t.Errorf("tokens %q and %q", a, b)
	}
}

// A fault of the program, in a view or in an answer that it shows, is no stack on the
// page, and no end of the server.
func TestFaultsStayInside(t *testing.T) {
	var log strings.Builder
	c := open(t, func(o *Options) { o.Log = &log })
	for name, view := range map[string]http.HandlerFunc{
		"view": func(http.ResponseWriter, *http.Request) { panic("planted") },
		"answer": func(w http.ResponseWriter, r *http.Request) {
			fault := parallel.Caught(func() { panic("planted") })
			c.trouble(&visit{Request: r, w: w, stock: c.stock.Load()}, fmt.Errorf("asked: %w", fault))
		},
	} {
		log.Reset()
		w := httptest.NewRecorder()
		c.recovered(view).ServeHTTP(w, httptest.NewRequest(http.MethodGet, "/", nil))
		if w.Code != http.StatusInternalServerError || strings.Contains(w.Body.String(), "planted") || strings.Contains(w.Body.String(), "goroutine") {
			t.Errorf("%s: %d %q", name, w.Code, w.Body)
		}
		if said := log.String(); !strings.Contains(said, "planted") || !strings.Contains(said, "TestFaultsStayInside") {
			t.Errorf("%s: the log says of it %q", name, said)
		}
	}
}
