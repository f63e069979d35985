package plan

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"loudfor/catalog"
)

const whole = `catalogues: [shops/*, outlet.yaml]
centre: centre
vehicles: cars.yaml
cars: [blue sedan]
briefs: [/briefs/one.yaml]
caps: [250 USD, USD 500.00]
goals: [reading, music]
places: [dash]
openings: [shut, doors open]
results: out/night.parquet
`

func TestRead(t *testing.T) {
	got, report := Read("chain/plan.yaml", []byte(whole))
	want := Plan{
		Catalogues: []string{"chain/shops/*", "chain/outlet.yaml"}, Centre: "chain/centre", Vehicles: []string{"chain/cars.yaml"},
		Cars: []string{"blue sedan"}, Briefs: []string{"/briefs/one.yaml"}, Caps: []catalog.Money{{Minor: 25000, Currency: "USD"}, {Minor: 50000, Currency: "USD"}},
		Goals: []catalog.Goal{catalog.GoalReading, catalog.GoalMusic}, Places: []string{"dash"}, Openings: []string{"shut", "doors open"},
		Results: "chain/out/night.parquet", Kept: "chain/out/night.kept",
	}
	if diff := cmp.Diff(want, got, cmpopts.IgnoreUnexported(Plan{})); diff != "" || len(report.Problems) > 0 {
		t.Errorf("%s%v", diff, report.Problems)
	}
	got, _ = Read("plan.yaml", []byte("catalogues: a\ncaps: [1 USD]\ncars: [van]\n"))
	if got.Results != "results.csv" || got.Kept != "results.kept" {
		t.Errorf("by default %q and %q", got.Results, got.Kept)
	}
}

// Each mistake is told at its place, and then there is no plan.
func TestRefused(t *testing.T) {
	const sound = "catalogues: a\ncars: van\ncaps: 1 USD\n"
	for text, want := range map[string]string{
		"":                                                    "p.yaml: the file is empty",
		"cars: van\ncaps: 1 USD\n":                            `p.yaml:1:1: a plan needs the key "catalogues"`,
		"catalogues: a\ncars: van\n":                          "p.yaml:1:1: the plan says neither briefs nor caps",
		"catalogues: a\ncaps: 1 USD\n":                        "p.yaml:1:1: the plan says neither briefs nor cars",
		sound + "capz: 2\n":                                   `p.yaml:4:1: "capz" is not a key of a plan`,
		sound + "goals: [reading, loud]\n":                    `p.yaml:4:18: "loud" is no goal`,
		sound + "goals: [music, music]\n":                     `p.yaml:4:16: "music" is listed twice under goals`,
		sound + "results: night.txt\n":                        `p.yaml:4:10: results go into "night.txt", whose ending says no format`,
		sound + "centre: shops/*\n":                           "p.yaml:4:9: the centre is one catalogue",
		"catalogues: a\ncars: van\ncaps: 5\n":                 `p.yaml:3:7: the cap "5" is no price`,
		"catalogues: a\ncars: v\ncaps: 0 USD":                 `p.yaml:3:7: the cap "0 USD" is not above zero`,
		"catalogues: []\ncars: v\ncaps: 1 USD":                "p.yaml:1:13: the plan names no catalogue",
		"catalogues: a\ncars: van\ncaps: [1 USD, 1 EUR]\n":    `p.yaml:3:15: the cap "1 EUR" is in another currency than 1.00 USD`,
		"catalogues: a\ncars: van\ncaps: [1 USD, 1.00 USD]\n": `p.yaml:3:15: the cap "1.00 USD" is listed already`,
	} {
		p, report := Read("p.yaml", []byte(text))
		if report.Err() == nil || len(p.Catalogues) > 0 {
			t.Errorf("%q was read", text)
			continue
		}
		first := report.Problems[0]
		if got := first.Where.String() + ": " + first.Summary; !strings.HasPrefix(got, want) || first.Detail == "" {
			t.Errorf("%q: %s = %s; want %s", text, got, first.Detail, want)
		}
	}
}

// A folder stands for what lies in it, each once, in order of name.
func TestShops(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"shops/b.yaml", "shops/a/parts.yaml", "shops/note.txt", "shops/.hidden.yaml", "out.yml"} {
		if err := os.MkdirAll(filepath.Join(dir, filepath.Dir(name)), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	plan := func(catalogues string) Plan {
		p, report := Read(filepath.Join(dir, "plan.yaml"), []byte("cars: van\ncaps: 1 USD\ncatalogues: "+catalogues+"\n"))
		if err := report.Err(); err != nil {
			t.Fatal(err)
		}
		return p
	}
	p := plan("[shops/*, out.yml, shops/b.yaml]")
	got, err := p.Shops()
	want := []string{filepath.Join(dir, "out.yml"), filepath.Join(dir, "shops/a"), filepath.Join(dir, "shops/b.yaml")}
	if diff := cmp.Diff(want, got); diff != "" || err != nil {
		t.Error(diff, err)
	}
	for _, bad := range []string{"none/*", "shops/a/../../.hidden/*"} {
		p := plan(bad)
		if _, err := p.Shops(); err == nil || !strings.Contains(err.Error(), "plan.yaml:3:13") {
			t.Errorf("%s: %v", bad, err)
		}
	}
}

// Whatever a plan holds: it is read or there is a word about it.
func FuzzRead(f *testing.F) {
	f.Add([]byte(whole))
	f.Add([]byte("catalogues: &a [x]\ncars: *a\ncaps: [1 USD]\n<<: {goals: music}\n"))
	f.Fuzz(func(t *testing.T, content []byte) {
		p, report := Read("plan.yaml", content)
		if err := report.Err(); err != nil {
			if len(report.Problems) == 0 || report.Problems[0].Summary == "" || len(p.Catalogues) > 0 {
				t.Error("refused without a word, or half read")
			}
			return
		}
		if len(p.Catalogues) == 0 || p.Results == "" || p.Kept == "" {
			t.Errorf("read, but not whole: %+v", p)
		}
	})
}
