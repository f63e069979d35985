package counter

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// FuzzQuery puts any bytes where each view expects its query: there is always
// an answer, never a fault, and no markup of the visitor's.
func FuzzQuery(f *testing.F) {
	c := open(f, func(o *Options) { o.Book = "" })
	views := []string{pathBuilds, pathLadder, pathGrow, pathBuild, pathVersus, pathWhy, pathQuote, pathCatalogue, pathBook, pathJob, pathGiven, pathMeter, pathUpload, pathShare}
	for i, query := range []string{
		"", "cap=250", "cap=%00", "cap=1e9&worth=-1", "goal=music&front=either&openings=shut&place=dash&vehicle=SUV",
		"boxes=2&drivers=3&amplifiers=1&never=TM-12V,KE-M3&must=KE-K8&store=Dunmarrow+Audio", "job=1", "job=-9223372036854775808",
		"parts=TM-12V~KE-M3~KE-V12~HU-STOCK~KE-K8*2", "parts=~~~*", "parts=%2A%7E%25", "v=a&v=b&v=c&v=d", "part=%3Cscript%3E", "lang=zz-ZZ-u-nu-arab",
		"kind=amplifier&word=a&doubtful=yes&page=2", "page=99999999999999999999", "booked=1&customer=%F0%9F%94%8A", "a=%zz;&&=&=&", "cap=1&cap=2", "must=TM-12V&never=TM-12V",
		"car=wagon&build=TM-12V", "quote=1", "pending=x", "to=//x", "word=a&state=ordered&changed=yes", "as=file",
	} {
		f.Add(uint8(i), query, "en-US,en;q=0.5")
	}
	f.Fuzz(func(t *testing.T, view uint8, query, accept string) {
		r := httptest.NewRequest(http.MethodGet, "/", nil)
		r.URL.Path, r.URL.RawQuery, r.Host = views[int(view)%len(views)], query, "localhost"
		r.Header["Accept-Language"] = []string{accept}
		// A slider that moves: what is asked for is not waited for longer than
		// it is worth.
		r.Header.Set("X-Moving", "1")
		w := httptest.NewRecorder()
		c.Handler().ServeHTTP(w, r)
		if w.Code == http.StatusInternalServerError {
			t.Fatalf("%s?%s: %d %s", r.URL.Path, query, w.Code, w.Body)
		}
		if body := w.Body.String(); strings.Contains(body, "<script>") || strings.Contains(body, "NaN") && !strings.Contains(query+accept, "NaN") {
			t.Fatalf("%s?%s: a page with markup or figures that are none", r.URL.Path, query)
		}
	})
}

// FuzzForm does the same for the forms that change something.
func FuzzForm(f *testing.F) {
	c := open(f, nil)
	code := rankedCodes(f, c)[0]
	for _, form := range []string{"", "parts=" + code, "parts=" + code + "&customer=%00&cap=3", "parts=" + code + "&note=a%0d%0ab", "parts=x", "job=7&parts=" + code, "%", "parts=" + strings.Repeat("~", 3000)} {
		f.Add(uint8(0), form)
	}
	for _, form := range []string{"job=1&do=mark&quote=1&state=accepted", "job=1&do=write&note=a%0d%0ab&customer=%1b", "job=1&do=remove", "job=1&do=restore", "job=1&do=forget"} {
		f.Add(uint8(1), form)
	}
	for _, form := range []string{"do=read&typed=SKU%2Ckind%2Cprice%0aA%2Camplifier%2C9", "do=read&what=prices&typed=SKU%2Cprice%0aTM-12V%2C9", "do=accept&pending=x", "do=back&upload=1", "do=again"} {
		f.Add(uint8(2), form)
	}
	for _, form := range []string{"do=add&car=wagon&build=TM-12V&frequency=40&level=120", "do=add&quote=1&frequency=40&level=x", "do=forget&reading=1", "do=add&car=x&frequency=&level="} {
		f.Add(uint8(3), form)
	}
	paths := []string{pathBook, pathJob, pathUpload, pathMeter}
	f.Fuzz(func(t *testing.T, path uint8, form string) {
		r := httptest.NewRequest(http.MethodPost, paths[int(path)%len(paths)], strings.NewReader(form))
		r.Host = "localhost"
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		w := httptest.NewRecorder()
		c.Handler().ServeHTTP(w, r)
		if w.Code == http.StatusInternalServerError {
			t.Fatalf("%s %q: %d %s", r.URL.Path, form, w.Code, w.Body)
		}
	})
}
