package catalog

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

func loadBriefText(t testing.TB, text string) Brief {
	t.Helper()
	b, report := LoadBriefFS(inFile("brief.yaml", text), "brief.yaml")
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	return b
}

func TestLoadBrief(t *testing.T) {
	b := loadBriefText(t, `name: loud
cap: 250 USD
tax: 8.25 %
vehicle: small sedan
goal: music
place: headrest
openings: doors open
front: either
owned: [HU-1, "TM-12V x 2"]
must: OR-4C
never: []
stores: [Dock Street, Pell Street]
space: 95 x 45 x 50 cm
boxes: 1
drivers: 16
amplifiers: 3
alternator: 70 A
bass_lift: 0 dB
front_watts: 15
temperature: 68 F
burst: 500 ms
overdrive: 1
lowest_note: 31.5 Hz
`)
	want := Brief{
		Name: "loud", Cap: Money{25000, "USD"}, TaxPPM: 82_500, Vehicle: "small sedan", Goal: GoalMusic,
		Place: "headrest", Openings: "doors open", Front: FrontEither,
		Owned: []Mention{{SKU: "HU-1", Count: 1}, {SKU: "TM-12V", Count: 2}}, Must: []Mention{{SKU: "OR-4C", Count: 1}},
		Stores: []string{"Dock Street", "Pell Street"}, Space: Size3{0.95, 0.45, 0.5},
		Boxes: 1, Drivers: 16, Amplifiers: 3, Alternator: 70, BassLift: 0, FrontWatts: 15, Celsius: 20, Burst: 0.5, Overdrive: 1, LowestNote: 31.5,
	}
	opts := cmp.Options{cmpopts.IgnoreFields(Brief{}, "Where", "Keys"), cmpopts.IgnoreUnexported(Brief{}), cmpopts.IgnoreFields(Mention{}, "Where"), cmpopts.EquateApprox(1e-12, 1e-12), cmpopts.EquateEmpty()}
	if diff := cmp.Diff(want, b, opts); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if at := b.At("tax"); at.Line != 3 || at.Column != 6 {
		t.Errorf("tax stands at %v", at)
	}
	if at := b.Owned[1].Where; at.Line != 9 || at.Column != 15 {
		t.Errorf("the second owned part stands at %v", at)
	}
}

// What is not stated takes the defaults, and those are the ones that the
// reference tells.
func TestBriefDefaults(t *testing.T) {
	b := loadBriefText(t, "cap: 250 USD\nvehicle: van\n")
	text := "cap: 250 USD\nvehicle: van\n"
	for _, s := range briefSchema.Specs() {
		if s.Default != "" {
			text += s.Key + ": " + s.Default + "\n"
		}
	}
	opts := cmp.Options{cmpopts.IgnoreFields(Brief{}, "Where", "Keys"), cmpopts.IgnoreUnexported(Brief{})}
	if diff := cmp.Diff(loadBriefText(t, text), b, opts); diff != "" {
		t.Errorf("(-reference +reader)\n%s", diff)
	}
	if strings.Count(text, "\n") < 14 {
		t.Errorf("the reference tells too few defaults:\n%s", text)
	}
}

func TestLoadBuild(t *testing.T) {
	f, report := LoadBuildFS(inFile("build.yaml", "vehicle: open field\nparts: [OR-M3, \"TM-12V x 2\"]\nmode: bridged\nload: 2 ohm\n"), "build.yaml")
	if report.Err() != nil {
		t.Fatal(report.Err())
	}
	if f.Mode != "bridged" || f.Load != 2 || len(f.Parts) != 2 || f.Parts[1].Count != 2 || f.Brief.Cap != (Money{}) || f.Brief.Boxes != defaultBoxes {
		t.Errorf("%+v", f)
	}
}

// A vehicle of the files goes before a body style of the same name; the open
// field is always there.
func TestFindVehicle(t *testing.T) {
	mine := []Vehicle{{Name: "Van", Alternator: 200}}
	if v, ok := FindVehicle(" van ", mine); !ok || v.Alternator != 200 {
		t.Errorf("van is %+v", v)
	}
	v, ok := FindVehicle("Small Sedan", mine)
	if !ok || v.OpenField || v.Alternator != 70 || v.Standby <= 0 || v.CableRun <= 0 || v.Space == (Size3{}) || v.Body.Name != "small sedan" {
		t.Errorf("small sedan is %+v", v)
	}
	said := strings.Join(v.Assumed, "\n")
	for _, words := range []string{"alternator of 70 A", "inside dimensions", "free for boxes", "of cable"} {
		if !strings.Contains(said, words) {
			t.Errorf("%q is not among the assumptions:\n%s", words, said)
		}
	}
	if v, ok := FindVehicle("open field", mine); !ok || !v.OpenField {
		t.Errorf("open field is %+v", v)
	}
	if _, ok := FindVehicle("tank", mine); ok {
		t.Error("a tank was found")
	}
	if names := VehicleNames(mine); names[0] != "Van" || names[len(names)-1] != OpenFieldName || len(names) != 9 {
		t.Errorf("%v", names)
	}
}

// Every body style has a row of assumptions of its own.
func TestAssumedSupplies(t *testing.T) {
	for _, name := range bodyNames() {
		found := false
		for _, row := range assumedSupplies {
			found = found || row.style == name
		}
		if !found {
			t.Errorf("nothing is assumed for %s", name)
		}
	}
	if len(assumedSupplies) != len(bodyNames()) {
		t.Errorf("%d rows for %d styles", len(assumedSupplies), len(bodyNames()))
	}
}

func TestCheckBriefCounts(t *testing.T) {
	c := loadText(t, "parts:\n  - {sku: A, kind: bass blocker, capacitance: 1 uF, price: 1 USD, stock: 2, limit: 3, store: Dock Street}\n")
	for rule, good := range map[string]bool{ // a must that cannot be had is no mistake, but said
		"must: A x 2": true, "must: A x 3": true, "must: A x 3\nowned: A": true, "must: A x 4\nowned: A": true, "must: C": false,
		"must: A\nstores: [dock street]": true, "stores: [Pell Street]": false, "owned: A x 99": true, "must: A\nowned: A\nnever: B": false,
	} {
		b := loadBriefText(t, "cap: 1 USD\nvehicle: van\n"+rule+"\n")
		if _, report := CheckBrief(b, c, nil); (report.Err() == nil) != good {
			t.Errorf("%q: %v, want good %v", rule, report.Err(), good)
		} else if warned := rule == "must: A x 3" || rule == "must: A x 4\nowned: A"; good && (report.Count(Warning) > 0) != warned {
			t.Errorf("%q: %v", rule, report.Problems)
		}
	}
}

// Letters that grow when they are made small must not move the count.
func TestMentionsCountWhateverTheLetters(t *testing.T) {
	f, report := LoadBuildFS(inFile("build.yaml", "vehicle: open field\nparts: [\"İİİİ X 2\", A x B x 3]\n"), "build.yaml")
	if report.Err() != nil {
		t.Fatal(report.Err())
	}
	if a, b := f.Parts[0], f.Parts[1]; a.SKU != "İİİİ" || a.Count != 2 || b.SKU != "A x B" || b.Count != 3 {
		t.Errorf("%+v %+v", a, b)
	}
}
