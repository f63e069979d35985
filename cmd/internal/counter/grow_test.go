package counter

import (
	"encoding/json"
	"html"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
)

var stepQuote = regexp.MustCompile(`href="(/quote\?[^"]*)">Quote this step`)

// A plan on the page: each step can be quoted by itself, and its quote comes to the sum
// of the plan, since what the steps before have bought is owned then.
func TestGrow(t *testing.T) {
	c := open(t, nil)
	const address = "/grow?cap=210&then=240&live=yes"
	_, text := get(t, c, address, "Accept", "application/json")
	var doc struct {
		Steps []struct {
			Build struct{ Cost json.Number }
			Idle  []struct{ SKU string }
		}
		Amplifiers []struct{ Goal string }
	}
	if err := json.Unmarshal([]byte(text), &doc); err != nil || len(doc.Steps) != 2 || len(doc.Amplifiers) != 2 {
		t.Fatalf("%v: %s", err, text)
	}
	status, page := get(t, c, address)
	links := stepQuote.FindAllStringSubmatch(page, -1)
	if status != http.StatusOK || len(links) != 2 || strings.Contains(page, "Idle from now on") != (len(doc.Steps[1].Idle) > 0) || !strings.Contains(page, "Which amplifier to live with") {
		t.Fatalf("%d, %d quotes: %s", status, len(links), page)
	}
	for i, link := range links {
		to := html.UnescapeString(link[1])
		if _, quote := get(t, c, to); !strings.Contains(quote, "$"+doc.Steps[i].Build.Cost.String()) {
			t.Errorf("step %d costs %s, and its quote says: %s", i+1, doc.Steps[i].Build.Cost, quote)
		}
		if later := strings.Contains(to, "then=240"); later != (i == 0) {
			t.Errorf("step %d: what still comes: %s", i+1, to)
		}
	}
	for query, want := range map[string]string{"": "Say what comes later", "then=lots": "then: &#34;lots&#34; is not a sum of money", "cap=1&then=2": "No plan was found",
		"then=1&then=1&then=1&then=1": "5 steps"} {
		get(t, c, "/grow?"+query, "Accept", "application/json") // which waits
		if _, page := get(t, c, "/grow?"+query); !strings.Contains(page, want) {
			t.Errorf("%q does not say %q: %s", query, want, page)
		}
	}
}

// Money that comes later stays with a question whose budget is moved, and goes where
// nothing is said to come.
func TestLaterMoney(t *testing.T) {
	s := open(t, nil).stock.Load()
	base := s.Brief
	usd := func(minor int64) catalog.Money { return catalog.Money{Minor: minor, Currency: "USD"} }
	base.Cap, base.Steps = usd(20_000), []catalog.Money{usd(20_000), usd(50_000)}
	for query, want := range map[string][]int64{"": {20_000, 50_000}, "cap=250": {25_000, 55_000}, "then=10&then=20": {20_000, 21_000, 23_000}, "cap=300&then=": nil} {
		values, err := url.ParseQuery(query)
		if err != nil {
			t.Fatal(err)
		}
		for range 2 { // also by its own address
			q, err := s.ask(base, 0, values)
			if err != nil {
				t.Fatal(err)
			}
			var got []int64
			for _, sum := range q.job.Brief.Steps {
				got = append(got, sum.Minor)
			}
			if !slices.Equal(got, want) || len(q.complaints) > 0 {
				t.Errorf("%q: %v, want %v; %v", query, got, want, q.complaints)
			}
			values = q.values
		}
	}
}
