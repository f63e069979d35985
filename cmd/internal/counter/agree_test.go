package counter

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"html"
	"math/rand/v2"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/optimizer"
)

// picked is what the command pick answers for a brief.
func picked(t testing.TB, r inputs.Request) (inputs.Job, optimizer.Answers) {
	t.Helper()
	job, err := inputs.Load(r)
	if err == nil && job.Brief.BuildBoxes {
		err = job.BuildBoxes(context.Background(), 0)
	}
	if err != nil {
		t.Fatal(err)
	}
	a, err := optimizer.FirstAnswers(context.Background(), optimizer.Problem{Catalogue: job.Catalogue, Brief: job.Brief, Vehicle: job.Vehicle,
		Top: 5, Distinct: optimizer.DistinctBass, Seed: 1}, optimizer.Noticed)
	if err != nil {
		t.Fatal(err)
	}
	return job, a
}

var (
	levelShown = regexp.MustCompile(`<span class="num">([^<]*)</span>`)
	priceShown = regexp.MustCompile(`<p class="cost"><strong>([^<]*)</strong>`)
	linkShown  = regexp.MustCompile(`<a class="button" href="/build\?([^"]*)">This build in full`)
)

// agrees holds an address of the page against what pick answers.
func agrees(t testing.TB, c *Counter, address string, job inputs.Job, a optimizer.Answers) {
	t.Helper()
	var page record.Pick
	status, text := get(t, c, address, "Accept", "application/json")
	if err := json.Unmarshal([]byte(text), &page); status != http.StatusOK || err != nil {
		t.Fatalf("%s: %d %v\n%.400s", address, status, err, text)
	}
	want := record.OfAnswers(job.Brief, job.Vehicle, record.Origin{Demo: job.Invented, Outdated: job.Vehicle.Outdated}, optimizer.Noticed, a)
	want.BuiltBoxes, want.BoxSearch = record.OfBuilt(job.Shop, a.Builds, job.Brief.Celsius)
	if page.Outcome != want.Outcome || len(page.Builds) < min(len(want.Builds), 5) || len(page.Builds) > 8 {
		t.Fatalf("%s: %v with %d builds, pick: %v with %d", address, page.Outcome, len(page.Builds), want.Outcome, len(want.Builds))
	}
	same := func(what string, x, y any) {
		t.Helper()
		got, _ := json.Marshal(x)
		if expected, _ := json.Marshal(y); !bytes.Equal(got, expected) {
			t.Errorf("%s: %s is\n%.300s\npick has\n%.300s", address, what, got, expected)
		}
	}
	same("the cap", page.Cap, want.Cap)
	for i := range want.Builds {
		same(fmt.Sprintf("build %d", i+1), page.Builds[i], want.Builds[i])
	}
	same("the choice", page.Answers, want.Answers)
	same("what blocks", page.Conflicts, want.Conflicts)
	// What people see.
	_, body := get(t, c, address)
	if len(a.Builds) == 0 {
		if !strings.Contains(body, "No build satisfies the brief") {
			t.Errorf("%s: the page does not say that there is no build", address)
		}
		return
	}
	b, v := a.Builds[0], voiceOf(nil, map[string][]string{keyLanguage: {"en-US"}})
	level, price, link := levelShown.FindStringSubmatch(body), priceShown.FindStringSubmatch(body), linkShown.FindStringSubmatch(body)
	if level == nil || price == nil || link == nil || level[1] != v.DB(b.Objective) || price[1] != v.Money(b.Cost) {
		t.Errorf("%s: the page shows %v for %v, pick %s for %s", address, level, price, v.DB(b.Objective), v.Money(b.Cost))
		return
	}
	if a.Outcome == optimizer.Optimal && !strings.Contains(body, "Proven best") {
		t.Errorf("%s: the page does not say that it is proven", address)
	}
	status, body = get(t, c, "/build?"+html.UnescapeString(link[1]))
	if level := levelShown.FindStringSubmatch(body); status != http.StatusOK || level == nil || level[1] != v.DB(b.Objective) {
		t.Errorf("%s: that build in full: %d, %v", address, status, level)
	}
}

// Whatever a brief says, the page answers as pick does.
func TestPageAnswersAsPick(t *testing.T) {
	for _, name := range strings.Split(inputs.DemoNames(inputs.DemoBriefs), ", ") {
		r := inputs.Request{Brief: "demo:" + name}
		job, a := picked(t, r)
		c := open(t, func(o *Options) { o.Request = r })
		agrees(t, c, "/", job, a)
	}
	// Music on open ground: no cabin is around the front, and it counts all the same.
	file := filepath.Join(t.TempDir(), "brief.yaml")
	write(t, file, "cap: 990 USD\nvehicle: open field\ngoal: music\nfront: either\nowned: [HU-OLD, TM-2C]\nstores: [Pell Street Sound]\n")
	r := inputs.Request{Brief: file, Demo: true}
	job, a := picked(t, r)
	agrees(t, open(t, func(o *Options) { o.Request = r }), "/", job, a)
}

// The same for briefs of all rules, which reach the page as a brief's file and
// as an address of another brief's page. LOUDFOR_BRIEFS=50 tries so many.
func TestPageAnswersRandomBriefsAsPick(t *testing.T) {
	cases := 4
	if text := os.Getenv("LOUDFOR_BRIEFS"); text != "" {
		if _, err := fmt.Sscan(text, &cases); err != nil {
			t.Fatal(err)
		}
	}
	shelf, report := catalog.LoadFS(demo.FS, []string{demo.Parts})
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	other := open(t, func(o *Options) { o.Request = inputs.Request{Brief: "demo:250-reading"} })
	said, built, none := map[string]int{}, 0, 0
	for seed := range cases {
		b := randomBrief(rand.New(rand.NewPCG(uint64(seed), 20)), shelf, other.stock.Load().Vehicles)
		for _, s := range catalog.BriefSpecs() {
			if len(b.Said(s.Key)) > 0 {
				said[s.Key]++
			}
		}
		var text bytes.Buffer
		if err := catalog.WriteBrief(&text, b); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(t.TempDir(), "brief.yaml")
		write(t, file, text.String())
		r := inputs.Request{Brief: file, Demo: true}
		job, a := picked(t, r)
		if len(a.Builds) == 0 {
			none++
		} else if job.Shop.Of(&a.Builds[0]) != nil {
			built++
		}
		t.Logf("brief %d: %d builds\n%s", seed, len(a.Builds), text.String())
		agrees(t, open(t, func(o *Options) { o.Request = r }), "/", job, a)
		s := other.stock.Load()
		q := question{stock: s, base: s.Brief, job: inputs.Job{}, values: map[string][]string{}}
		q.job.Brief = job.Brief
		q.canonical()
		agrees(t, other, q.link("/"), job, a)
		if t.Failed() {
			return
		}
	}
	if cases < 50 {
		return
	}
	for _, s := range catalog.BriefSpecs() {
		if said[s.Key] == 0 {
			t.Errorf("no brief said anything of %s", s.Key)
		}
	}
	if built == 0 || none == 0 || none > cases/2 {
		t.Errorf("%d answers with a built box, %d without a build, of %d", built, none, cases)
	}
}

// randomBrief wishes for some of everything.
func randomBrief(r *rand.Rand, shelf *catalog.Catalogue, vehicles []catalog.Vehicle) catalog.Brief {
	some := func(n int) bool { return r.IntN(n) == 0 }
	between := func(low, high float64) float64 { return float64(int(100*(low+(high-low)*r.Float64()))) / 100 }
	b := catalog.DefaultBrief()
	b.Cap = catalog.Money{Minor: int64(10_000 + r.IntN(90_000)), Currency: shelf.Currency}
	names := catalog.VehicleNames(vehicles)
	b.Vehicle = names[r.IntN(len(names))]
	v, _ := catalog.FindVehicle(b.Vehicle, vehicles)
	if !v.OpenField {
		places, openings := v.Body.PlaceNames(), v.Body.OpeningNames()
		b.Place, b.Openings = places[r.IntN(len(places))], openings[r.IntN(len(openings))]
	}
	b.Goal, b.Front = catalog.Goal(r.IntN(2)), catalog.FrontRule(r.IntN(3))
	part := func(kinds ...catalog.Kind) (list []catalog.Mention) {
		for range 8 {
			p := shelf.Parts[r.IntN(len(shelf.Parts))]
			if p.Priced && p.InStock() != 0 && slices.Contains(kinds, p.Kind) && len(list) == 0 {
				list = append(list, catalog.Mention{SKU: p.SKU, Count: 1})
			}
		}
		return list
	}
	if !some(4) {
		b.Owned = []catalog.Mention{{SKU: "HU-OLD", Count: 1}}
	}
	b.Owned = append(b.Owned, part(catalog.KindSubwoofer, catalog.KindAmplifier, catalog.KindKit)...)
	if some(2) {
		b.Never = part(catalog.KindSubwoofer, catalog.KindAmplifier, catalog.KindEnclosure, catalog.KindKit)
	}
	if some(4) {
		for _, m := range part(catalog.KindSubwoofer, catalog.KindAmplifier) {
			if !slices.ContainsFunc(b.Never, func(n catalog.Mention) bool { return n.SKU == m.SKU }) {
				b.Must = append(b.Must, m)
			}
		}
	}
	set := func(n int, to *float64, low, high float64) {
		if some(n) {
			*to = between(low, high)
		}
	}
	if some(2) {
		b.Name = "wishes, of all kinds: " + fmt.Sprint(r.IntN(9))
	}
	if some(2) {
		b.TaxPPM = int64(r.IntN(200)) * 1000
	}
	if some(5) {
		b.TaxByKind = map[catalog.Kind]int64{catalog.KindAmplifier: int64(r.IntN(100)) * 1000}
	}
	if some(3) {
		b.Labour = []catalog.Labour{{Name: "fitting", Price: catalog.Money{Minor: int64(r.IntN(6000)), Currency: shelf.Currency}, Per: catalog.KindAmplifier, Installed: some(2)}}
	}
	if stores := shelf.Stores(); some(3) && len(b.Must) == 0 {
		b.Stores = []string{stores[r.IntN(len(stores))]}
	} else if some(3) {
		b.MostStores = 1 + r.IntN(2)
	}
	if some(3) {
		b.Space = catalog.Size3{Width: between(0.5, 1.1), Depth: between(0.35, 0.7), Height: between(0.35, 0.7)}
	}
	if some(2) {
		b.Boxes, b.Drivers, b.Amplifiers = 1+r.IntN(2), 1+r.IntN(4), 1+r.IntN(2)
	}
	if b.BuildBoxes = some(2); b.BuildBoxes {
		set(2, &b.BoxWeight, 15, 60)
		set(2, &b.LowestNote, 25, 60)
	}
	set(4, &b.Alternator, 40, 150)
	set(4, &b.BassLift, 0, 12)
	set(4, &b.FrontWatts, 5, 30)
	set(4, &b.Celsius, -10, 40)
	set(4, &b.Burst, 0.5, 10)
	set(4, &b.Overdrive, 0.8, 1.5)
	return b
}
