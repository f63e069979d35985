package counter

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

func helped(c *Counter, path string) (int, string) {
	r := httptest.NewRequest(http.MethodGet, path, nil)
	r.Host = "127.0.0.1"
	w := httptest.NewRecorder()
	c.Handler().ServeHTTP(w, r)
	return w.Code, w.Body.String()
}

// The footer leads to the list of topics, and that to each page.
func TestHelpInTheBrowser(t *testing.T) {
	c := open(t, nil)
	if _, text := helped(c, "/catalogue"); !strings.Contains(text, `<a href="/help">`) {
		t.Error("no page leads to the help")
	}
	if status, text := helped(c, "/help"); status != http.StatusOK || !strings.Contains(text, `<a href="/help/start">`) {
		t.Errorf("%d\n%s", status, text)
	}
	if status, text := helped(c, "/help/start"); status != http.StatusOK || !strings.Contains(text, "<h1>Start: ") || !strings.Contains(text, "loudfor new shop") {
		t.Errorf("%d\n%s", status, text)
	}
	if status, _ := helped(c, "/help/nothing"); status != http.StatusNotFound {
		t.Error(status)
	}
}
