package counter

import (
	"bytes"
	"fmt"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/prices"
)

// sent posts a form with a file, as a browser does.
func sent(t *testing.T, c *Counter, path, name, content string, values url.Values) *httptest.ResponseRecorder {
	t.Helper()
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	for key, list := range values {
		for _, value := range list {
			if err := form.WriteField(key, value); err != nil {
				t.Fatal(err)
			}
		}
	}
	file, err := form.CreateFormFile("file", name)
	if err == nil {
		_, err = file.Write([]byte(content))
	}
	if err != nil || form.Close() != nil {
		t.Fatal(err)
	}
	r := httptest.NewRequest(http.MethodPost, path, &body)
	r.Host = "127.0.0.1"
	r.Header.Set("Content-Type", form.FormDataContentType())
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	w := httptest.NewRecorder()
	c.Handler().ServeHTTP(w, r)
	return w
}

// proposed sends a list and gives the page of its report with its number.
func proposed(t *testing.T, c *Counter, name, content string, values url.Values) (page, id string) {
	t.Helper()
	values.Set("do", "read")
	w := sent(t, c, "/upload", name, content, values)
	if w.Code != http.StatusSeeOther {
		t.Fatalf("%s: %d: %s", name, w.Code, w.Body)
	}
	to, err := url.Parse(w.Header().Get("Location"))
	if err != nil {
		t.Fatal(err)
	}
	_, page = get(t, c, to.String())
	return page, to.Query().Get("pending")
}

func does(t *testing.T, c *Counter, what string, pairs ...string) *httptest.ResponseRecorder {
	t.Helper()
	form := url.Values{"do": {what}}
	for i := 0; i+1 < len(pairs); i += 2 {
		form.Set(pairs[i], pairs[i+1])
	}
	return post(c, "/upload", form, own...)
}

// shopFolder is a folder of parts of its own, with a brief.
func shopFolder(t *testing.T) (folder, file string) {
	t.Helper()
	folder = t.TempDir()
	file = filepath.Join(folder, "parts.yaml")
	write(t, file, "# by hand\n"+strings.ReplaceAll(evilParts, "EVIL", "PLAIN"))
	return folder, file
}

func content(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

const ampsList = "SKU,kind,channels,class,W @ 4 ohm,fuse A,price\nNEW-4,amplifier,4,AB,80,40,88.00 USD\n"

// A list of parts becomes a file of the catalogue once its report was accepted,
// not before; taken back, nothing is left of it.
func TestUploadParts(t *testing.T) {
	folder, file := shopFolder(t)
	c := open(t, func(o *Options) { o.Request = shop(folder) })
	before := content(t, file)
	page, id := proposed(t, c, `C:\lists\New amps, May.csv`, ampsList, url.Values{"what": {"parts"}})
	for _, want := range []string{"Nothing is written yet", "NEW-4", "new file new-amps-may.yaml", "W @ 4 ohm"} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not in the report:\n%s", want, page)
		}
	}
	made := filepath.Join(folder, "new-amps-may.yaml")
	if _, err := os.Stat(made); !os.IsNotExist(err) || c.stock.Load().Catalogue.Part("NEW-4") != nil {
		t.Error("something was written before the report was accepted")
	}
	if w := does(t, c, "accept", "pending", id); w.Code != http.StatusSeeOther || c.stock.Load().Catalogue.Part("NEW-4") == nil {
		t.Fatalf("accepted: %d %s", w.Code, w.Body)
	}
	if w := does(t, c, "accept", "pending", id); w.Code != http.StatusSeeOther {
		t.Errorf("pressed twice: %d", w.Code)
	}
	// Laid over the file by hand: only what differs is replaced.
	page, id = proposed(t, c, "may.csv", "SKU,kind,gauge,length,fuse,price\nKIT,wiring kit,8 AWG,5 m,40 A,77.00 USD\n", url.Values{"what": {"parts"}, "target": {file}})
	if !strings.Contains(page, "77.00 USD") || content(t, file) != before {
		t.Errorf("the report of a change:\n%s", page)
	}
	if w := does(t, c, "accept", "pending", id); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	after := content(t, file)
	if !strings.HasPrefix(after, "# by hand\n") || strings.Count(after, "77") == 0 || c.stock.Load().Catalogue.Part("KIT").Price.Minor != 7700 {
		t.Errorf("the file is now\n%s", after)
	}
	// Back, the latest first.
	if w := does(t, c, "back", "upload", "1"); w.Code < 400 {
		t.Errorf("the first was taken back before the second: %d", w.Code)
	}
	for _, upload := range []string{"2", "1"} {
		if w := does(t, c, "back", "upload", upload); w.Code != http.StatusSeeOther {
			t.Errorf("taking back %s: %d %s", upload, w.Code, w.Body)
		}
	}
	if _, err := os.Stat(made); !os.IsNotExist(err) || content(t, file) != before || c.stock.Load().Catalogue.Part("NEW-4") != nil {
		t.Error("something is left of the uploads")
	}
}

// What would harm the catalogue cannot be accepted, and what was done by hand
// meanwhile is not lost.
func TestUploadIsRefused(t *testing.T) {
	folder, file := shopFolder(t)
	c := open(t, func(o *Options) { o.Request = shop(folder) })
	before := content(t, file)
	for name, list := range map[string]string{
		"nothing.csv": "hello\n", "bad.csv": ampsList + "NEW-5,amplifier,four,AB,80,40,9.00 USD\n",
		"euro.csv": strings.ReplaceAll(ampsList, "USD", "EUR"), "twice.csv": strings.ReplaceAll(ampsList, "NEW-4", "PLAIN"),
		"book.xlsx": "PK\x03\x04 no workbook",
	} {
		page, id := proposed(t, c, name, list, url.Values{"what": {"parts"}})
		if !strings.Contains(page, "cannot be taken") || strings.Contains(page, `value="accept"`) {
			t.Errorf("%s is offered:\n%s", name, page)
		}
		if w := does(t, c, "accept", "pending", id); w.Code < 400 {
			t.Errorf("%s was accepted", name)
		}
		if found, err := os.ReadDir(folder); err != nil || len(found) != 1 || content(t, file) != before {
			t.Fatalf("%s: %v, %v", name, found, err)
		}
	}
	// Its other rows are taken where that is asked for.
	_, id := proposed(t, c, "bad.csv", ampsList+"NEW-5,amplifier,four,AB,80,40,9.00 USD\n", url.Values{"what": {"parts"}})
	does(t, c, "again", "pending", id, "what", "parts", "skip", "yes")
	if _, page := get(t, c, pendingLink(id)); !strings.Contains(page, "NEW-4") || !strings.Contains(page, "Left out") {
		t.Errorf("with bad rows left out:\n%s", page)
	}
	// The file is edited between report and acceptance.
	_, id = proposed(t, c, "may.csv", "SKU,kind,gauge,length,fuse,price\nKIT,wiring kit,8 AWG,5 m,40 A,77.00 USD\n", url.Values{"what": {"parts"}, "target": {file}})
	write(t, file, before+"# more\n")
	if w := does(t, c, "accept", "pending", id); w.Code != http.StatusSeeOther || content(t, file) != before+"# more\n" {
		t.Errorf("%d, and the file is\n%s", w.Code, content(t, file))
	}
	if _, page := get(t, c, pendingLink(id)); !strings.Contains(page, "has changed since this report") {
		t.Errorf("it is not said why:\n%s", page)
	}
	// Nor is what was done after it lost when it is taken back.
	_, id = proposed(t, c, "may.csv", "SKU,kind,gauge,length,fuse,price\nKIT,wiring kit,8 AWG,5 m,40 A,77.00 USD\n", url.Values{"what": {"parts"}, "target": {file}})
	does(t, c, "accept", "pending", id)
	write(t, file, content(t, file)+"# later\n")
	if w := does(t, c, "back", "upload", "1"); w.Code < 400 || !strings.HasSuffix(content(t, file), "# later\n") {
		t.Errorf("taken back over a change: %d", w.Code)
	}
	// A file that no upload may name.
	if page, _ := proposed(t, c, "a.csv", ampsList, url.Values{"what": {"parts"}, "target": {filepath.Join(folder, "..", "a.yaml")}}); !strings.Contains(page, "no such file of parts") {
		t.Errorf("a file outside of the catalogue:\n%s", page)
	}
	if w := sent(t, c, "/upload", "big.csv", strings.Repeat("x", mostUpload+1), url.Values{"do": {"read"}}); w.Code != http.StatusRequestEntityTooLarge {
		t.Errorf("a list that is too big: %d", w.Code)
	}
	if w := does(t, c, "read", "typed", " \n"); w.Code != http.StatusBadRequest || !strings.Contains(w.Body.String(), "no list was chosen") {
		t.Errorf("no list: %d %s", w.Code, w.Body)
	}
	if w := post(c, "/upload", url.Values{"do": {"read"}, "typed": {ampsList}}, "Sec-Fetch-Site", "cross-site"); w.Code != http.StatusForbidden {
		t.Errorf("another site's upload: %d", w.Code)
	}
}

// Two at once bring the same parts under two names: the second is told, and the
// catalogue can still be read.
func TestUploadOfTwo(t *testing.T) {
	folder, _ := shopFolder(t)
	c := open(t, func(o *Options) { o.Request = shop(folder) })
	_, first := proposed(t, c, "a.csv", ampsList, url.Values{"what": {"parts"}})
	_, second := proposed(t, c, "b.csv", ampsList, url.Values{"what": {"parts"}})
	does(t, c, "accept", "pending", first)
	does(t, c, "accept", "pending", second)
	if _, page := get(t, c, pendingLink(second)); !strings.Contains(page, "cannot be taken") {
		t.Errorf("the second was accepted:\n%s", page)
	}
	if _, err := os.Stat(filepath.Join(folder, "b.yaml")); !os.IsNotExist(err) {
		t.Error("the second was written")
	}
}

// A program that ended between the book and the file leaves an upload that can be
// taken back; a book from elsewhere does not reach other files.
func TestTakeBackOfHalf(t *testing.T) {
	folder, file := shopFolder(t)
	c := open(t, func(o *Options) { o.Request = shop(folder) })
	before, secret := content(t, file), filepath.Join(t.TempDir(), "secret")
	write(t, secret, "mine")
	for i, tc := range []struct {
		u    book.Upload
		back bool
	}{
		{book.Upload{Name: "a", Target: file, Before: []byte(before), After: "never written"}, true},
		{book.Upload{Name: "b", Target: filepath.Join(folder, "never.yaml"), After: "never written"}, true},
		{book.Upload{Name: "c", Target: secret, Before: []byte("theirs"), After: fingerprint([]byte("mine"))}, false},
	} {
		id, err := c.book.KeepUpload(t.Context(), tc.u)
		if err != nil {
			t.Fatal(err)
		}
		if w := does(t, c, "back", "upload", fmt.Sprint(id)); (w.Code == http.StatusSeeOther) != tc.back {
			t.Errorf("%d: %d %s", i, w.Code, w.Body)
		}
	}
	if content(t, file) != before || content(t, secret) != "mine" {
		t.Error("a file was changed")
	}
}

// Prices of one day that name the shop and that do not stand side by side in a
// book, and the page reads them as the book's commands do. What contradicts a list
// of the command line is refused, for nothing could be read any more.
func TestUploadPricesGoTogether(t *testing.T) {
	folder, _ := shopFolder(t) // where PLAIN sells the part PLAIN
	said := &prices.List{}
	c := open(t, func(o *Options) {
		o.Request = shop(folder)
		o.Lists = func(string) ([]*prices.List, prices.Date, *catalog.Report, error) {
			return []*prices.List{said}, prices.Date{}, &catalog.Report{}, nil
		}
	})
	for _, list := range []string{"SKU,price\nPLAIN,41.50 USD\n", "SKU,store,price\nPLAIN,PLAIN,42.50 USD\n"} {
		_, id := proposed(t, c, "may.csv", list, url.Values{"what": {"prices"}, "date": {"2026-03-08"}})
		does(t, c, "accept", "pending", id)
	}
	if _, err := c.load(); err != nil || c.stock.Load().Catalogue.Part("PLAIN").Price.Minor != 4250 {
		t.Errorf("%v, %s", err, c.stock.Load().Catalogue.Part("PLAIN").Price)
	}
	said.Entries = []prices.Entry{{SKU: "PLAIN", Store: "PLAIN", Date: prices.Date{Year: 2026, Month: 3, Day: 7}, Price: catalog.Money{Minor: 100, Currency: "USD"}, Priced: true, Stock: catalog.Unlimited}}
	page, _ := proposed(t, c, "april.csv", "SKU,store,price\nPLAIN,PLAIN,43.50 USD\n", url.Values{"what": {"prices"}, "date": {"2026-03-07"}})
	if !strings.Contains(page, "cannot be taken") {
		t.Errorf("a contradiction is offered:\n%s", page)
	}
}

// Prices go into the job book, and from there over the catalogue.
func TestUploadPrices(t *testing.T) {
	folder, _ := shopFolder(t)
	c := open(t, func(o *Options) { o.Request = shop(folder) })
	price := func() catalog.Money { return c.stock.Load().Catalogue.Part("PLAIN").Price }
	before := price()
	list := func(sum string) string { return "SKU,price\nPLAIN," + sum + "\n" }
	page, id := proposed(t, c, "may.csv", list("41.50 USD"), url.Values{"what": {"prices"}, "date": {"2026-03-08"}})
	if !strings.Contains(page, "41.50 USD") || price() != before {
		t.Errorf("the report:\n%s", page)
	}
	if w := does(t, c, "accept", "pending", id); w.Code != http.StatusSeeOther || price().Minor != 4150 {
		t.Fatalf("%d %s: %s", w.Code, w.Body, price())
	}
	// Another price of the same day is a mistake, or a correction.
	_, id = proposed(t, c, "may.csv", list("42.50 USD"), url.Values{"what": {"prices"}, "date": {"2026-03-08"}})
	does(t, c, "accept", "pending", id)
	if _, page := get(t, c, pendingLink(id)); !strings.Contains(page, "has another row") || price().Minor != 4150 {
		t.Errorf("a contradiction was taken: %s\n%s", price(), page)
	}
	does(t, c, "again", "pending", id, "what", "prices", "date", "2026-03-08", "correct", "yes")
	if w := does(t, c, "accept", "pending", id); w.Code != http.StatusSeeOther || price().Minor != 4250 {
		t.Errorf("the correction: %d, %s", w.Code, price())
	}
	for _, back := range []struct {
		upload string
		want   int64
	}{{"2", 4150}, {"1", before.Minor}} {
		if w := does(t, c, "back", "upload", back.upload); w.Code != http.StatusSeeOther || price().Minor != back.want {
			t.Errorf("taking back %s: %d, %s", back.upload, w.Code, price())
		}
	}
}

// Only so many reports wait.
func TestPendingIsBounded(t *testing.T) {
	folder, _ := shopFolder(t)
	c := open(t, func(o *Options) { o.Request = shop(folder) })
	var ids []string
	for range mostPending + 1 {
		_, id := proposed(t, c, "a.csv", ampsList, url.Values{"what": {"parts"}})
		ids = append(ids, id)
	}
	for i, id := range ids {
		if status, _ := get(t, c, pendingLink(id)); (status == http.StatusOK) != (i > 0) {
			t.Errorf("report %d: %d", i, status)
		}
	}
	does(t, c, "drop", "pending", ids[1])
	if status, _ := get(t, c, pendingLink(ids[1])); status != http.StatusNotFound {
		t.Errorf("a dropped report: %d", status)
	}
}
