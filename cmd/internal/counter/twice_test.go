package counter

import (
	"context"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/fsnotify/fsnotify"
)

// Clicks in the wrong order: buttons that are pressed twice, forms that no page of
// ours would send, and files that change under an answer.

func TestButtonsPressedTwice(t *testing.T) {
	folder, _ := shopFolder(t)
	c := open(t, func(o *Options) { o.Request = shop(folder) })
	twice := func(path string, form url.Values) {
		t.Helper()
		first, second := post(c, path, form, own...), post(c, path, form, own...)
		if first.Code != http.StatusSeeOther || second.Code != first.Code || second.Header().Get("Location") != first.Header().Get("Location") {
			t.Errorf("%s %v: %d to %s, then %d to %s", path, form, first.Code, first.Header().Get("Location"), second.Code, second.Header().Get("Location"))
		}
	}
	twice("/brief", url.Values{"customer": {"Otto"}, "cap": {"300"}})
	for _, do := range []string{"remove", "restore"} {
		twice("/job", url.Values{"job": {"1"}, "do": {do}})
	}
	if jobs, err := c.book.Jobs(t.Context()); err != nil || len(jobs) != 1 {
		t.Errorf("%d jobs, %v", len(jobs), err)
	}
	_, id := proposed(t, c, "a.csv", ampsList, url.Values{"what": {"parts"}})
	twice("/upload", url.Values{"do": {"accept"}, "pending": {id}})
	if done, err := c.book.Uploads(t.Context()); err != nil || len(done) != 1 {
		t.Errorf("%d uploads, %v", len(done), err)
	}
	twice("/upload", url.Values{"do": {"back"}, "upload": {"1"}})
	if c.stock.Load().Catalogue.Part("NEW-4") != nil {
		t.Error("the list is not taken back")
	}
	// What never was is none that was done.
	for _, do := range []string{"remove", "restore"} {
		if w := post(c, "/job", url.Values{"job": {"7"}, "do": {do}}, own...); w.Code != http.StatusNotFound {
			t.Errorf("%s of job 7: %d", do, w.Code)
		}
	}
}

// No form, however absurd its fields, is a fault of the program.
func TestAbsurdForms(t *testing.T) {
	c := open(t, nil)
	bookOne(t, c)
	usual := map[string]string{"job": "1", "quote": "1", "parts": rankedCodes(t, c)[0]}
	odd := []string{"", " ", "-1", "1e400", "NaN", "99999999999999999999", "\x00\x1b[2J", "\u202eabc\xff", "../../etc", strings.Repeat("é", 9000)}
	for path, form := range map[string]struct{ does, fields []string }{
		"/book":   {[]string{""}, []string{"parts", "customer", "job"}},
		"/brief":  {[]string{""}, []string{"cap", "customer", "space", "labour", "owned", "tax", "worth", "vehicle", "job"}},
		"/job":    {[]string{"", "mark", "write", "forget"}, []string{"job", "quote", "state", "note", "customer"}},
		"/upload": {[]string{"", "read", "again", "accept", "back"}, []string{"pending", "upload", "typed", "what", "kind", "currency", "units", "target", "date"}},
		"/meter":  {[]string{"", "forget"}, []string{"quote", "vehicle", "frequency", "level", "place", "openings", "date", "reading"}},
	} {
		for _, do := range form.does {
			for _, field := range form.fields {
				for _, value := range odd {
					sent := url.Values{"do": {do}}
					for _, name := range form.fields {
						if usual[name] != "" {
							sent.Set(name, usual[name])
						}
					}
					sent.Set(field, value)
					if w := post(c, path, sent, own...); w.Code >= http.StatusInternalServerError {
						t.Errorf("%s %s, %s is %.20q: %d %s", path, do, field, value, w.Code, w.Body)
					}
				}
			}
		}
	}
}

// A part that was bad before, and is left out, keeps no list from being taken; one that
// the list makes bad does.
func TestUploadBesideAnOldBadPart(t *testing.T) {
	folder, file := shopFolder(t)
	write(t, filepath.Join(folder, "bad.yaml"), "parts:\n  - {sku: BAD-1, kind: amplifier, price: lots}\n")
	c := open(t, func(o *Options) { o.Request = shop(folder) })
	for list, target := range map[string]string{ampsList: newFile, strings.ReplaceAll(ampsList, "NEW-4", "NEW-5"): file} {
		_, id := proposed(t, c, "a.csv", list, url.Values{"what": {"parts"}, "target": {target}})
		does(t, c, "accept", "pending", id)
	}
	if all := c.stock.Load().Catalogue; all.Part("NEW-4") == nil || all.Part("NEW-5") == nil || all.Part("BAD-1") != nil {
		t.Error("the lists are not in the catalogue")
	}
	if page, _ := proposed(t, c, "b.csv", ampsList, url.Values{"what": {"parts"}, "target": {newFile}}); !strings.Contains(page, "cannot be taken") {
		t.Error("a part that is there already is offered in a new file")
	}
}

// What an upload wrote has been read; only what comes after it is read again.
func TestUploadIsReadOnce(t *testing.T) {
	folder, file := shopFolder(t)
	c := open(t, func(o *Options) { o.Request = shop(folder) })
	read := func(name string) bool {
		e := fsnotify.Event{Name: name, Op: fsnotify.Create}
		return c.relevant(e) && !c.asWritten(e.Name)
	}
	_, id := proposed(t, c, "a.csv", ampsList, url.Values{"what": {"parts"}})
	does(t, c, "accept", "pending", id)
	made := filepath.Join(folder, "a.yaml")
	if read(made) || !read(file) {
		t.Error("the file of the list is read again, or another is not")
	}
	after := content(t, made)
	write(t, made, after+"# by hand\n")
	first := read(made)
	write(t, made, after)
	if !first || !read(made) {
		t.Error("what was changed by hand, and back, is not read")
	}
	does(t, c, "back", "upload", "1")
	if read(made) {
		t.Error("the file that is gone is read again")
	}
	write(t, made, after)
	if !read(made) {
		t.Error("the file that came back is not read")
	}
	if err := os.Remove(made); err != nil || !read(made) {
		t.Errorf("that it is gone is not read, %v", err)
	}
}

// All lists that arrive share one room.
func TestListsShareTheirRoom(t *testing.T) {
	c := open(t, nil)
	if err := c.arriving.Acquire(t.Context(), mostArriving); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	h := c.Handler()
	send := func(ctx context.Context) int {
		r := httptest.NewRequestWithContext(ctx, http.MethodPost, "/upload", strings.NewReader("do=read"))
		r.Host = "127.0.0.1"
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Sec-Fetch-Site", "same-origin")
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		return w.Code
	}
	if got := send(ctx); got != http.StatusServiceUnavailable {
		t.Errorf("without room: %d", got)
	}
	c.arriving.Release(mostArriving)
	if got := send(t.Context()); got != http.StatusBadRequest { // there is no list in it
		t.Errorf("with room: %d", got)
	}
	if !c.arriving.TryAcquire(mostArriving) {
		t.Error("the room was not given back")
	}
}

// Files that change while something is computed take it away; it is asked again of the
// new ones, once.
func TestFilesChangeUnderAnAnswer(t *testing.T) {
	c := open(t, nil)
	asked := 0
	h := c.view(func(v *visit) error {
		if asked++; asked == 1 {
			newer := *v.stock
			c.stock.Store(&newer)
			return context.Canceled
		}
		if v.stock != c.stock.Load() {
			t.Error("it is asked of the old files")
		}
		return v.reply("here")
	})
	w := httptest.NewRecorder()
	h(w, httptest.NewRequest(http.MethodGet, "/", nil))
	if w.Code != http.StatusOK || asked != 2 {
		t.Errorf("%d, asked %d times", w.Code, asked)
	}
}
