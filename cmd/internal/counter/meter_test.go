package counter

import (
	"io/fs"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"loudfor/catalog/demo"
	"loudfor/cmd/internal/metering"
	"loudfor/optimizer/learning"
)

// computed waits until the page has what the readings say.
func computed(t *testing.T, c *Counter, address string) (page string) {
	t.Helper()
	until(t, "what the readings say", func() bool {
		_, page = get(t, c, address)
		return !strings.Contains(page, "is being worked out")
	})
	return page
}

// A file of readings gives on the page what the meter commands give: the same
// levels, the same causes, the same next reading.
func TestMeterAsInTheTerminal(t *testing.T) {
	c := open(t, nil)
	text, err := fs.ReadFile(demo.FS, demo.Readings+"/small-sedan.yaml")
	if err != nil {
		t.Fatal(err)
	}
	w := sent(t, c, "/meter", "monday.yaml", string(text), url.Values{"car": {"small sedan"}, "do": {"add"}})
	if w.Code != http.StatusSeeOther || !strings.Contains(w.Header().Get("Location"), "added=8") {
		t.Fatalf("%d, %s: %s", w.Code, w.Header().Get("Location"), w.Body)
	}
	page := computed(t, c, w.Header().Get("Location"))
	job, err := metering.Load(t.Context(), metering.Request{Files: []string{"demo:small-sedan"}})
	if err != nil {
		t.Fatal(err)
	}
	compared, err := job.Compare()
	if err != nil {
		t.Fatal(err)
	}
	plan, err := job.Plan("", "", meterSteps)
	if err != nil {
		t.Fatal(err)
	}
	v := voiceOf(&http.Request{Header: http.Header{}}, nil)
	for _, one := range compared.Prior.Compare() {
		if want := v.Join(v.DB(one.Expected.DB), v.DB(one.Band)); !strings.Contains(page, want) {
			t.Errorf("the prediction %s is not on the page", want)
		}
	}
	first := plan.Steps[0].Setting
	for _, want := range []string{learning.Told(compared.Causes)[0].Words, v.Figure(first.Hz, 0) + " Hz at the " + first.Place + ", " + first.Openings, "8 readings of small sedan", "What the car taught"} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not on the page", want)
		}
	}
	// Again it adds nothing; one is forgotten.
	if w := sent(t, c, "/meter", "monday.yaml", string(text), url.Values{"car": {"small sedan"}, "do": {"add"}}); !strings.Contains(w.Header().Get("Location"), "added=0") {
		t.Errorf("the same file again: %s", w.Header().Get("Location"))
	}
	if w := post(c, "/meter", url.Values{"car": {"small sedan"}, "do": {"forget"}, "reading": {"1"}}, own...); w.Code != http.StatusSeeOther {
		t.Errorf("forgetting one: %d", w.Code)
	}
	if page := computed(t, c, "/meter?car=small+sedan"); !strings.Contains(page, "7 readings of small sedan") {
		t.Error("it is still there")
	}
}

// Readings typed in for a quote are of its build and car; what is wrong with them
// is said, with what was typed still there.
func TestMeterTyped(t *testing.T) {
	c := open(t, nil)
	bookOne(t, c)
	form := url.Values{"quote": {"1"}, "date": {"2026-03-09"}, "do": {"add"},
		"place": {"dash", "headrest", "dash", "dash"}, "openings": {"doors open", "shut", "shut", "shut"},
		"frequency": {"46", "50 Hz", "", ""}, "level": {"127.5", "121", "", ""}, "clamp_voltage": {"28", "", "", ""}, "clamp_current": {"7", "", "", ""},
		"supply_voltage": {"", "", "", ""}, "note": {"", "windy", "", ""}}
	if w := post(c, "/meter", form, own...); w.Code != http.StatusSeeOther || !strings.Contains(w.Header().Get("Location"), "added=2") {
		t.Fatalf("%d: %s", w.Code, w.Body)
	}
	list, err := c.book.Readings(t.Context(), "")
	if err != nil || len(list) != 2 || list[0].Quote != 1 || list[0].Vehicle != "small sedan" || list[0].Level != 127.5 || list[1].Note != "windy" || list[0].Amps != 7 {
		t.Errorf("%+v, %v", list, err)
	}
	page := computed(t, c, "/meter?quote=1")
	if !strings.Contains(page, "127.5") || !strings.Contains(page, "Take next") {
		t.Errorf("the page of the quote:\n%s", page)
	}
	form["level"][1] = "loud"
	w := post(c, "/meter", form, own...)
	for _, want := range []string{"Nothing was added", "loud", `value="127.5"`, `value="windy"`} {
		if !strings.Contains(w.Body.String(), want) {
			t.Errorf("%q is not on the page:\n%s", want, w.Body)
		}
	}
	if list, err := c.book.Readings(t.Context(), ""); err != nil || len(list) != 2 {
		t.Errorf("%d readings, %v", len(list), err)
	}
	if w := post(c, "/meter", url.Values{"car": {"small sedan"}, "do": {"add"}}, own...); w.Code != http.StatusBadRequest || !strings.Contains(w.Body.String(), "no reading was typed") {
		t.Errorf("an empty form: %d", w.Code)
	}
}

// No visitor names a file of this machine.
func TestMeterOpensNoFile(t *testing.T) {
	c := open(t, nil)
	for _, build := range []string{"/etc/passwd.yaml", "../x.yml", "secret.YAML"} {
		w := sent(t, c, "/meter", "a.csv", "vehicle,build,frequency,level\nsmall sedan,"+build+",40,120\n", url.Values{"car": {"small sedan"}, "do": {"add"}})
		if !strings.Contains(w.Body.String(), "the build is the name of a file") {
			t.Errorf("%s: %d %s", build, w.Code, w.Body)
		}
	}
}
