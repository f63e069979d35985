package optimizer_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/catalog/demo"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
)

// The demo shelf from end to end: what the program shows first.

func shelf(t *testing.T) (*catalog.Catalogue, []catalog.Vehicle) {
	t.Helper()
	c, report := catalog.LoadFS(demo.FS, []string{demo.Parts})
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	vehicles, report := catalog.LoadVehiclesFS(demo.FS, demo.Vehicles)
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	return c, vehicles
}

func problem(t *testing.T, brief catalog.Brief) optimizer.Problem {
	t.Helper()
	c, vehicles := shelf(t)
	p := optimizer.Problem{Catalogue: c, Brief: brief, Seed: 1}
	for _, v := range vehicles {
		if v.Name == brief.Vehicle {
			p.Vehicle = v
		}
	}
	return p
}

func demoBrief(t *testing.T, path string) optimizer.Problem {
	t.Helper()
	b, report := catalog.LoadBriefFS(demo.FS, path)
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	return problem(t, b)
}

func TestDemoPick(t *testing.T) {
	r, err := optimizer.Pick(context.Background(), demoBrief(t, demo.Brief))
	if err != nil {
		t.Fatal(err)
	}
	if r.Outcome != optimizer.Optimal || r.Proof.GapDB != 0 || len(r.Builds) != optimizer.DefaultTop {
		t.Fatalf("%v, gap %g, %d builds", r.Outcome, r.Proof.GapDB, len(r.Builds))
	}
	for i, b := range r.Builds {
		if b.Rank != i+1 || b.Cost.Minor > 25_000 || b.Reading.DB != b.Operation.Level || len(b.Curve) == 0 {
			t.Errorf("build %d: %+v", i+1, b)
		}
		for _, band := range []float64{b.Reading.Band, b.Music.Band, b.Music.BassBand, b.Front.Band} {
			if band < 1 || band > 12 {
				t.Errorf("build %d: band of %.1f dB", i+1, band)
			}
		}
		if i > 0 && (b.Objective > r.Builds[i-1].Objective || b.Difference.Band > b.Reading.Band) {
			t.Errorf("build %d: %+v", i+1, b.Difference)
		}
		if i > 0 && b.Tie != (math.Abs(b.Difference.DB) <= min(b.Difference.Band, optimizer.Noticed)) {
			t.Errorf("build %d: tie %v of %+v", i+1, b.Tie, b.Difference)
		}
		if len(b.Assumed) == 0 {
			t.Errorf("build %d assumes nothing", i+1)
		}
	}
}

func TestDemoBriefWithoutBuild(t *testing.T) {
	r, err := optimizer.Pick(context.Background(), demoBrief(t, demo.BriefWithoutBuild))
	if err != nil {
		t.Fatal(err)
	}
	if r.Outcome != optimizer.Infeasible || len(r.Conflicts) != 1 {
		t.Fatalf("%v, conflicts %+v", r.Outcome, r.Conflicts)
	}
	var kinds []optimizer.RequirementKind
	for _, q := range r.Conflicts[0] {
		kinds = append(kinds, q.Kind)
	}
	if fmt.Sprint(kinds) != "[must space]" {
		t.Errorf("blocked by %v", kinds)
	}
}

func mentions(list ...string) (all []catalog.Mention) {
	for _, s := range list {
		m := catalog.Mention{SKU: s, Count: 1}
		if sku, n, found := strings.Cut(s, " x "); found {
			m.SKU = sku
			fmt.Sscan(n, &m.Count)
		}
		all = append(all, m)
	}
	return all
}

func TestPredictAgreesWithPick(t *testing.T) {
	for _, path := range []string{demo.Brief, demo.Briefs + "/800-music.yaml"} {
		p := demoBrief(t, path)
		r, err := optimizer.Pick(context.Background(), p)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range r.Builds[:3] {
			var parts []catalog.Mention
			for _, l := range b.Lines {
				parts = append(parts, catalog.Mention{SKU: l.Part.SKU, Count: l.Count})
			}
			got, err := optimizer.Predict(context.Background(), p, parts, "", 0)
			if err != nil {
				t.Fatal(err)
			}
			if got.Operation != b.Operation || got.Plan != b.Plan || got.Cost != b.Cost || got.Reading != b.Reading || got.Music != b.Music {
				t.Errorf("%s: predicted %+v, picked %+v", path, got.Reading, b.Reading)
			}
		}
	}
}

func TestPredictOfBassAlone(t *testing.T) {
	p := problem(t, catalog.Brief{Celsius: 20, FrontWatts: 10, Vehicle: "small sedan", Place: "dash", Openings: "doors open"})
	b, err := optimizer.Predict(context.Background(), p, mentions("TM-12V", "KE-S12", "OR-M3"), "", 0)
	if err != nil {
		t.Fatal(err)
	}
	if b.Reading.DB < 100 || b.Reading.Band <= 0 {
		t.Errorf("reading %+v", b.Reading)
	}
	all := strings.Join(b.Warnings, "\n")
	for _, want := range []string{"no wiring kit", "no source", "nothing drives the front"} {
		if !strings.Contains(all, want) {
			t.Errorf("no warning of %q in:\n%s", want, all)
		}
	}
	if b.Front.Power != optimizer.FromNothing || b.Music.FrontLimits {
		t.Errorf("front %+v, music %+v", b.Front, b.Music)
	}
}

// What the brief asks of the front is said where the parts do not do it.
func TestPredictSaysWhatTheFrontLacks(t *testing.T) {
	for _, c := range []struct {
		watts float64
		pair  []string
		want  string
	}{
		{10, nil, "there is no pair among the parts"}, {200, []string{"TM-F4"}, "of the 200 W that the brief asks for"}, {0, []string{"TM-F4"}, ""},
	} {
		p := problem(t, catalog.Brief{Celsius: 20, FrontWatts: c.watts, Front: catalog.FrontReplace, Vehicle: "small sedan", Place: "dash", Openings: "doors open", Owned: mentions("HU-STOCK")})
		b, err := optimizer.Predict(context.Background(), p, mentions(append([]string{"TM-12V", "KE-S12", "OR-M3", "KE-K8", "HU-STOCK"}, c.pair...)...), "", 0)
		if err != nil {
			t.Fatal(err)
		}
		all := strings.Join(b.Warnings, "\n")
		if !strings.Contains(all, c.want) || c.want == "" && strings.Contains(all, "the brief asks for") {
			t.Errorf("%g W, %v: %q not in:\n%s", c.watts, c.pair, c.want, all)
		}
	}
}

func TestPredictChoosesTheWiringAskedFor(t *testing.T) {
	p := problem(t, catalog.Brief{Celsius: 20, FrontWatts: 10, Vehicle: "small sedan"})
	parts := mentions("TM-12V", "KE-S12", "OR-4C")
	bridged, err := optimizer.Predict(context.Background(), p, parts, "bridged", 8)
	if err != nil {
		t.Fatal(err)
	}
	if bridged.Plan.Mode.String() != "bridged" || bridged.Plan.Load != 8 {
		t.Errorf("plan %+v", bridged.Plan)
	}
	free, err := optimizer.Predict(context.Background(), p, parts, "", 0)
	if err != nil {
		t.Fatal(err)
	}
	if free.Reading.DB < bridged.Reading.DB {
		t.Errorf("the free choice reads %.2f dB, a given one %.2f dB", free.Reading.DB, bridged.Reading.DB)
	}
}

func TestPredictSaysWhatIsWrong(t *testing.T) {
	p := problem(t, catalog.Brief{Celsius: 20, FrontWatts: 10, Vehicle: "small sedan"})
	for _, c := range []struct {
		name  string
		parts []catalog.Mention
		mode  string
		load  float64
		want  []string
	}{
		{"nothing", nil, "", 0, []string{"bass driver is missing", "enclosure is missing", "amplifier is missing"}},
		{"no amplifier", mentions("TM-12V", "KE-S12"), "", 0, []string{"amplifier is missing"}},
		{"unknown SKUs", mentions("TM-12W", "KE-S13", "OR-M3"), "", 0, []string{"TM-12W is not in the catalogue", "KE-S13 is not in the catalogue"}},
		{"another size", mentions("TM-10V", "KE-S12", "OR-M3"), "", 0, []string{"TM-10V", "10 in", "12 in"}},
		{"holes left open", mentions("TM-12V", "TM-S212", "OR-M3"), "", 0, []string{"do not fill"}},
		{"no such mode", mentions("TM-12V", "KE-S12", "OR-M3"), "brigded", 0, []string{`"brigded" is no mode`}},
		{"mode not rated", mentions("TM-12V", "KE-S12", "OR-M3"), "bridged", 0, []string{"in mode bridged"}},
		{"load below the rated one", mentions("TM-12V", "KE-S12", "OR-2C"), "bridged", 2, []string{"to 2 ohm", "at or above"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := optimizer.Predict(context.Background(), p, c.parts, c.mode, c.load)
			if err == nil {
				t.Fatal("no error")
			}
			for _, want := range c.want {
				if !strings.Contains(err.Error(), want) {
					t.Errorf("%q does not say %q", err, want)
				}
			}
		})
	}
}

func TestSmallSignalInTheOpenField(t *testing.T) {
	p := problem(t, catalog.Brief{Celsius: 20, FrontWatts: 10, Vehicle: "open field"})
	one, b, err := optimizer.SmallSignal(p, mentions("TM-12V", "KE-S12"), 1, "", 0)
	if err != nil {
		t.Fatal(err)
	}
	two, _, err := optimizer.SmallSignal(p, mentions("TM-12V", "KE-S12"), 2, "", 0)
	if err != nil {
		t.Fatal(err)
	}
	for i := range one {
		if d := two[i].Level - one[i].Level; math.Abs(d-20*math.Log10(2)) > 1e-6 {
			t.Fatalf("at %.1f Hz twice the voltage makes %.4f dB: not linear", one[i].Hz, d)
		}
		if i > 0 && one[i].Level < one[i-1].Level-1 {
			t.Errorf("a sealed box in half space falls from %.1f to %.1f dB at %.1f Hz", one[i-1].Level, one[i].Level, one[i].Hz)
		}
	}
	if b.Bass.Drivers != 1 || len(b.Warnings) == 0 || b.Reading.Openings != "open field" {
		t.Errorf("%+v", b)
	}
	for _, volts := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if _, _, err := optimizer.SmallSignal(p, mentions("TM-12V", "KE-S12"), volts, "", 0); err == nil {
			t.Errorf("%g V was taken", volts)
		}
	}
}

func TestSenselessProblems(t *testing.T) {
	good := demoBrief(t, demo.Brief)
	for name, spoil := range map[string]func(*optimizer.Problem){
		"no catalogue":      func(p *optimizer.Problem) { p.Catalogue = nil },
		"two currencies":    func(p *optimizer.Problem) { p.Brief.Cap.Currency = "EUR" },
		"negative cap":      func(p *optimizer.Problem) { p.Brief.Cap.Minor = -1 },
		"negative tax":      func(p *optimizer.Problem) { p.Brief.TaxPPM = -1 },
		"unknown place":     func(p *optimizer.Problem) { p.Brief.Place = "roof rack" },
		"unknown openings":  func(p *optimizer.Problem) { p.Brief.Openings = "everything off" },
		"unknown owned SKU": func(p *optimizer.Problem) { p.Brief.Owned = mentions("HU-NONE") },
		"unknown must SKU":  func(p *optimizer.Problem) { p.Brief.Must = mentions("HU-NONE") },
		"unknown never SKU": func(p *optimizer.Problem) { p.Brief.Never = mentions("HU-NONE") },
	} {
		p := good
		spoil(&p)
		if _, err := optimizer.Pick(context.Background(), p); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestCancelledBeforeItBegan(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	r, err := optimizer.Pick(ctx, demoBrief(t, demo.Brief))
	if err != nil {
		t.Fatal(err)
	}
	if r.Outcome != optimizer.Unknown || r.Stop != optimizer.StopCancelled || len(r.Builds) != 0 {
		t.Errorf("%v, %v, %d builds", r.Outcome, r.Stop, len(r.Builds))
	}
}

func ExamplePick() {
	parts, _ := catalog.LoadFS(demo.FS, []string{demo.Parts})
	vehicles, _ := catalog.LoadVehiclesFS(demo.FS, demo.Vehicles)
	brief, _ := catalog.LoadBriefFS(demo.FS, demo.Brief)
	r, err := optimizer.Pick(context.Background(), optimizer.Problem{Catalogue: parts, Brief: brief, Vehicle: vehicles[0], Top: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Outcome, len(r.Builds), r.Builds[0].Reading.Place)
	// Output: optimal 1 dash
}

// One search, and then an answer for every budget; the details of one step when
// they are wanted.
func ExampleLadder() {
	parts, _ := catalog.LoadFS(demo.FS, []string{demo.Parts})
	vehicles, _ := catalog.LoadVehiclesFS(demo.FS, demo.Vehicles)
	brief, _ := catalog.LoadBriefFS(demo.FS, demo.Brief)
	p := optimizer.Problem{Catalogue: parts, Brief: brief, Vehicle: vehicles[0], Bare: true}
	ladder, err := optimizer.Ladder(context.Background(), p)
	if err != nil {
		fmt.Println(err)
		return
	}
	sum := brief.Cap
	for _, sum.Minor = range []int64{50_00, 150_00, 250_00} {
		b := ladder.At(sum)
		if b == nil {
			fmt.Printf("%v: nothing\n", sum)
			continue
		}
		p.Bare = false
		full, err := optimizer.Predict(context.Background(), p, build.Mentions(b.Lines), "", 0)
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%v: a build for %v, as loud with all details: %v\n", sum, b.Cost, full.Objective == b.Objective && len(full.Curve) > 0)
	}
	// Output:
	// 50.00 USD: nothing
	// 150.00 USD: a build for 148.35 USD, as loud with all details: true
	// 250.00 USD: a build for 249.94 USD, as loud with all details: true
}

// A step's level has the band that pick gives the same build, and its rise the
// much smaller one of a difference in one car.
func TestDemoLadderBands(t *testing.T) {
	p := demoBrief(t, demo.Brief)
	ladder, err := optimizer.Ladder(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	pick, err := optimizer.Pick(context.Background(), p)
	if err != nil {
		t.Fatal(err)
	}
	last := &ladder.Steps[len(ladder.Steps)-1]
	if got, want := last.Build.Band(), pick.Builds[0].Band(); got != want || got == 0 {
		t.Errorf("band %g dB, pick gives %g dB", got, want)
	}
	ties, clear := 0, 0
	for i, s := range ladder.Steps {
		if i == 0 {
			continue
		}
		if !(s.Band >= 0 && s.Band < s.Build.Band()) || s.Tie != (s.Rise <= min(s.Band, optimizer.Noticed)) {
			t.Errorf("step %d rises %g +/- %g dB to a level of +/- %g dB, tie %v", i+1, s.Rise, s.Band, s.Build.Band(), s.Tie)
		}
		if s.Tie {
			ties++
		} else {
			clear++
		}
	}
	if ties == 0 || clear == 0 {
		t.Errorf("%d ties and %d clear rises: the steps say little", ties, clear)
	}
	p.Bare = true
	if bare, err := optimizer.Ladder(context.Background(), p); err != nil || bare.Steps[0].Build.Band() != 0 {
		t.Errorf("a bare ladder has bands: %v", err)
	}
}
