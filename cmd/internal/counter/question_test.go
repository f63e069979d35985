package counter

import (
	"context"
	"math"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loudfor/catalog"
	"loudfor/optimizer"
)

func askOf(t testing.TB, c *Counter, query string) *question {
	t.Helper()
	values, err := url.ParseQuery(query)
	if err != nil {
		t.Fatal(err)
	}
	s := c.stock.Load()
	q, err := s.ask(s.Brief, 0, values)
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// What makes no sense is told beside its field, and the brief's value stands.
func TestWrongValuesAreToldAndLeftOut(t *testing.T) {
	c := open(t, nil)
	for _, tc := range []struct{ query, field, words string }{
		{"cap=lots", "cap", "not a sum of money"},
		{"cap=-5", "cap", "not a sum of money"},
		{"cap=0", "cap", "not a sum of money"},
		{"cap=NaN", "cap", "not a sum of money"},
		{"cap=1e300", "cap", "not a sum of money"},
		{"cap=300+EUR", "cap", "the catalogue is in USD"},
		{"goal=loud", "goal", "reading or music"},
		{"front=maybe", "front", "keep, replace or either"},
		{"vehicle=spaceship", "vehicle", `no vehicle is called "spaceship"`},
		{"place=moon", "place", `has no "moon"`},
		{"openings=roof", "openings", `has no "roof"`},
		{"boxes=0", "boxes", "between 1 and 8"},
		{"boxes=9", "boxes", "between 1 and 8"},
		{"drivers=two", "drivers", "whole number"},
		{"amplifiers=99999999999999999999", "amplifiers", "whole number"},
		{"never=NOTHING-1", "never", `no part is called "NOTHING-1"`},
		{"must=%3Cscript%3E", "must", "no part is called"},
		{"store=Nowhere", "store", `no part is sold by "Nowhere"`},
		{"worth=x", "worth", "not a sum of money"},
		{"must=TM-12V&never=TM-12V", "", ""},
	} {
		q := askOf(t, c, tc.query)
		if tc.words == "" {
			continue
		}
		if len(q.complaints) != 1 || q.complaints[0].Field != tc.field || !strings.Contains(q.complaints[0].Text, tc.words) {
			t.Errorf("%s: complaints %v", tc.query, q.complaints)
		}
		if len(q.values) != 0 {
			t.Errorf("%s: kept %v", tc.query, q.values)
		}
	}
}

func TestValuesChangeTheBrief(t *testing.T) {
	c := open(t, nil)
	q := askOf(t, c, "cap=312.5&goal=music&place=headrest&openings=shut&front=either&boxes=1&drivers=2&amplifiers=1&never=TM-12V,KE-M3&store=Dunmarrow+Audio&worth=20")
	b := q.job.Brief
	if len(q.complaints) > 0 {
		t.Fatal(q.complaints)
	}
	if b.Cap.Minor != 31250 || b.Goal != catalog.GoalMusic || b.Place != "headrest" || b.Openings != "shut" || b.Front != catalog.FrontEither ||
		b.Boxes != 1 || b.Drivers != 2 || b.Amplifiers != 1 || skus(b.Never) != "TM-12V,KE-M3" || len(b.Stores) != 1 || q.worth.Minor != 2000 {
		t.Errorf("%+v", b)
	}
	again := askOf(t, c, strings.TrimPrefix(q.link("/"), "/?"))
	if again.link("/") != q.link("/") || again.key() != q.key() {
		t.Errorf("the address of its address: %s, was %s", again.link("/"), q.link("/"))
	}
}

// Openings made by words of the car's own are taken, offered and stay in the
// address.
func TestOpeningsByWords(t *testing.T) {
	c := open(t, nil)
	for _, words := range []string{"doors open 45 degrees", "left door open", "doors open 52.5 degrees"} {
		q := askOf(t, c, "openings="+url.QueryEscape(words))
		if len(q.complaints) > 0 || q.job.Brief.Openings != words {
			t.Errorf("%s: %q, %v", words, q.job.Brief.Openings, q.complaints)
		}
		chosen := ""
		f := form{}
		f.choices(q)
		for _, o := range f.Openings {
			if o.Chosen {
				chosen = o.Value
			}
		}
		if chosen != words {
			t.Errorf("%s: the form shows %q", words, chosen)
		}
		if again := askOf(t, c, strings.TrimPrefix(q.link("/"), "/?")); again.job.Brief.Openings != words {
			t.Errorf("%s: the address says %q", words, again.job.Brief.Openings)
		}
	}
}

// Another car has other places: those of the brief give way without a word.
func TestAnotherCarHasItsOwnPlaces(t *testing.T) {
	c := open(t, nil)
	for _, name := range catalog.VehicleNames(c.stock.Load().Vehicles) {
		q := askOf(t, c, "vehicle="+url.QueryEscape(name))
		if len(q.complaints) > 0 || q.job.Vehicle.Name != name {
			t.Errorf("%s: %v, %s", name, q.complaints, q.job.Vehicle.Name)
		}
	}
}

// Any query gives a question, whose address gives the same question again.
func TestAddressesAreStable(t *testing.T) {
	c := open(t, nil)
	rapid.Check(t, func(t *rapid.T) {
		values := url.Values{}
		for _, name := range []string{keyCap, keyGoal, keyPlace, keyOpenings, keyVehicle, keyFront, "boxes", "drivers", "owned", "space", "tax", "labour", "build_boxes", "lowest_note", keyNever, keyMust, keyStore, keyWorth} {
			if text := rapid.OneOf(rapid.Just(""), rapid.String(), rapid.SampledFrom([]string{"250", "1", "99.99", "music", "shut", "dash", "either", "SUV", "TM-12V", "KE-M3,TM-12V", "Pell Street Sound"})).Draw(t, name); text != "" {
				values.Set(name, text)
			}
		}
		s := c.stock.Load()
		q, err := s.ask(s.Brief, 0, values)
		if err != nil {
			t.Fatal(err)
		}
		again, err := s.ask(s.Brief, 0, q.values)
		if err != nil {
			t.Fatal(err)
		}
		if len(again.complaints) > 0 || again.link("/") != q.link("/") || again.key() != q.key() {
			t.Fatalf("%v became %v (%v)", q.values, again.values, again.complaints)
		}
	})
}

// One ladder serves the slider from end to end.
func TestTheSliderStaysOnOneLadder(t *testing.T) {
	c := open(t, nil)
	_, first := askOf(t, c, "cap=10").ladderQuestion()
	for _, sum := range []string{"50", "250", "399", "400"} {
		if _, key := askOf(t, c, "cap="+sum).ladderQuestion(); key != first {
			t.Errorf("a cap of %s asks for another ladder: %s, was %s", sum, key, first)
		}
	}
	if _, key := askOf(t, c, "cap=401").ladderQuestion(); key == first {
		t.Error("a cap above the ladder's end asks for the same ladder")
	}
	for minor := int64(1); minor < mostCap; minor = minor*7/3 + 1 {
		if up := roundUp(float64(minor)); up < minor || float64(up) > 1.6*float64(minor)+2 {
			t.Errorf("roundUp(%d) = %d", minor, up)
		}
	}
}

// What the ladder says for a cap is what a search for that cap finds first.
func TestTheLadderAnswersAsTheSearch(t *testing.T) {
	c := open(t, nil)
	ladder, err := c.climbed(context.Background(), askOf(t, c, ""))
	if err != nil {
		t.Fatal(err)
	}
	for _, sum := range []string{"130", "180", "249.93", "249.94", "333"} {
		q := askOf(t, c, "cap="+sum)
		r, err := c.ranking(context.Background(), q)
		if err != nil {
			t.Fatal(err)
		}
		at := stepOf(ladder.Steps, q.job.Brief.Cap)
		if at < 0 || len(r.Builds) == 0 {
			t.Fatalf("cap %s: step %d, %d builds", sum, at, len(r.Builds))
		}
		step, first := ladder.Steps[at].Build, r.Builds[0]
		if step.Cost != first.Cost || math.Abs(step.Objective-first.Objective) > 1e-9 || codeOf(step.Lines) != codeOf(first.Lines) {
			t.Errorf("cap %s: the ladder says %s at %.3f, the search %s at %.3f", sum, step.Cost, step.Objective, first.Cost, first.Objective)
		}
		// And the page of that build computes the same from its code alone.
		b, err := c.build(context.Background(), q, codeOf(first.Lines))
		if err != nil {
			t.Fatal(err)
		}
		if b.Cost != first.Cost || math.Abs(b.Objective-first.Objective) > 1e-9 {
			t.Errorf("cap %s: by its code the build has %.4f for %s, ranked %.4f for %s", sum, b.Objective, b.Cost, first.Objective, first.Cost)
		}
	}
	if at := stepOf(ladder.Steps, catalog.Money{Minor: 1}); at != -1 {
		t.Errorf("a cent buys step %d", at)
	}
}

// Any SKU can stand in an address.
func TestCodes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := rapid.SliceOfNDistinct(rapid.StringN(1, 12, -1), 1, 6, rapid.ID).Draw(t, "skus")
		var parts []*catalog.Part
		var lines []optimizer.Line
		for _, name := range names {
			p := &catalog.Part{SKU: name, Price: catalog.Money{Currency: "USD"}, Priced: true}
			parts = append(parts, p)
			lines = append(lines, optimizer.Line{Part: p, Count: rapid.IntRange(1, 9).Draw(t, "count")})
		}
		shelf := catalog.New("USD", parts)
		code := codeOf(lines)
		back, err := partsOf(shelf, code)
		if err != nil || len(back) != len(lines) {
			t.Fatalf("%q: %v, %v", code, back, err)
		}
		for i, m := range back {
			if m.SKU != lines[i].Part.SKU || m.Count != lines[i].Count {
				t.Fatalf("%q: %v", code, back)
			}
		}
	})
}

// A part named as a script shows as text, on every view on which it appears.
func TestNamesAreNoMarkup(t *testing.T) {
	const evil = `<script>alert(1)</script>`
	file := filepath.Join(t.TempDir(), "parts.yaml")
	text := strings.ReplaceAll(evilParts, "EVIL", evil)
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	c := open(t, func(o *Options) { o.Request = shop(file) })
	s := c.stock.Load()
	seen := 0
	addresses := []string{"/", "/ladder", "/quote", "/catalogue", "/catalogue?word=%3Cscript%3E", "/why?part=" + url.QueryEscape(evil), "/why?part=" + url.QueryEscape(evil+"2"), "/?must=" + url.QueryEscape(evil+"3"),
		"/quote?customer=" + url.QueryEscape(evil), "/?cap=" + url.QueryEscape(evil), "/?store=" + url.QueryEscape(evil), "/build?parts=" + url.QueryEscape(evil), "/versus?v=" + url.QueryEscape(evil)}
	r, err := c.ranking(context.Background(), askOf(t, c, ""))
	if err != nil || len(r.Builds) == 0 {
		t.Fatalf("%v: %+v", err, r.Conflicts)
	}
	code := codeOf(r.Builds[0].Lines)
	addresses = append(addresses, "/build?parts="+url.QueryEscape(code), "/versus?v="+url.QueryEscape(code))
	if w := post(c, "/book", url.Values{"parts": {code}, "customer": {evil}}, "Sec-Fetch-Site", "same-origin"); w.Code != http.StatusSeeOther {
		t.Fatalf("booking: %d %s", w.Code, w.Body)
	}
	for _, address := range append(addresses, "/book") {
		_, body := get(t, c, address)
		if strings.Contains(body, evil) || strings.Contains(body, "<script>") {
			t.Errorf("%s holds the script as markup", address)
		}
		if strings.Contains(body, "&lt;script&gt;") {
			seen++
		}
	}
	if s.Catalogue.Part(evil) == nil || seen < 9 {
		t.Errorf("the name shows on %d views only", seen)
	}
}

// evilParts is a small shop whose texts are all markup.
const evilParts = `parts:
  - {sku: "EVIL", kind: subwoofer, name: "EVIL driver", maker: "EVIL", store: "EVIL", price: 39 USD, size: 12 in, coils: 2 x 4 ohm, rms: 250 W, fs: 31 Hz, qts: 0.6, vas: 58 L, xmax: 9 mm}
  - {sku: AMP, kind: amplifier, name: "EVIL amplifier", price: 89 USD, channels: 1, class: D, fuse: 40 A, speaker_input: true, ratings: [{mode: mono, load: 2 ohm, watts: 350, basis: standard}, {mode: mono, load: 4 ohm, watts: 200, basis: standard}]}
  - {sku: BOX, kind: enclosure, name: "EVIL box", price: 42 USD, type: sealed, holes: 1 x 12 in, volume: 0.85 ft3, outside: 38 x 36 x 33 cm}
  - {sku: KIT, kind: wiring kit, name: "EVIL kit", price: 27 USD, gauge: 8 AWG, length: 5 m, fuse: 40 A}
  - {sku: RADIO, kind: source, name: "EVIL radio", price: 20 USD, power: 4 x 15 W, load: 4 ohm}
`
