package counter

import (
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"loudfor/cmd/internal/inputs"
)

// noon is the clock of tests.
func noon() time.Time { return time.Date(2026, 3, 9, 12, 0, 0, 0, time.UTC) }

// open starts a counter for a test, with a job book in a folder of its own.
func open(t testing.TB, change func(*Options)) *Counter {
	t.Helper()
	o := Options{Now: noon, Seed: 1, Book: filepath.Join(t.TempDir(), "jobs.book")}
	if change != nil {
		change(&o)
	}
	c, err := Open(o)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := c.Close(); err != nil {
			t.Error(err)
		}
	})
	return c
}

// serve is a server for a counter on an address of this machine.
func serve(t testing.TB, c *Counter) string {
	t.Helper()
	s := httptest.NewServer(c.Handler())
	t.Cleanup(func() {
		c.news.close() // an open page would keep the server from closing
		s.Close()
	})
	return s.URL
}

// get asks for an address of a counter without a network.
func get(t testing.TB, c *Counter, address string, headers ...string) (status int, body string) {
	t.Helper()
	r := httptest.NewRequest(http.MethodGet, address, nil)
	r.Host = "127.0.0.1"
	r.Header.Set("Accept", "text/html")
	for i := 0; i+1 < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	w := httptest.NewRecorder()
	c.Handler().ServeHTTP(w, r)
	text, err := io.ReadAll(w.Result().Body)
	if err != nil {
		t.Fatal(err)
	}
	return w.Code, string(text)
}

// post sends a form as our own page would.
func post(c *Counter, path string, form url.Values, headers ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(http.MethodPost, path, strings.NewReader(form.Encode()))
	r.Host = "127.0.0.1"
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	for i := 0; i+1 < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	w := httptest.NewRecorder()
	c.Handler().ServeHTTP(w, r)
	return w
}

// shop is a request for files of a test.
func shop(paths ...string) inputs.Request { return inputs.Request{Catalog: paths, Cap: "250 USD"} }
