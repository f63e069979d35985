package catalog

import (
	"bytes"
	"reflect"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// reread writes a brief and reads it again.
func reread(t interface{ Fatalf(string, ...any) }, b Brief) Brief {
	// Key by key it comes back as well.
	said := DefaultBrief()
	for _, s := range BriefSpecs() {
		if err := said.Say(s.Key, b.Said(s.Key)...).Err(); err != nil {
			t.Fatalf("%s: %v", s.Key, err)
		}
	}
	if diff := cmp.Diff(b, said, sameBrief, cmpopts.EquateApprox(1e-12, 1e-12)); diff != "" {
		t.Fatalf("said key by key (-written +read):\n%s", diff)
	}
	var text bytes.Buffer
	if err := WriteBrief(&text, b); err != nil {
		t.Fatalf("%v", err)
	}
	back, report := LoadBriefFS(fstest.MapFS{"brief.yaml": {Data: text.Bytes()}}, "brief.yaml")
	if err := report.Err(); err != nil {
		t.Fatalf("%v in\n%s", err, text.Bytes())
	}
	return back
}

var sameBrief = cmp.Options{cmpopts.IgnoreUnexported(Brief{}), cmpopts.IgnoreFields(Brief{}, "Where", "Keys"),
	cmpopts.IgnoreFields(Mention{}, "Where"), cmpopts.IgnoreFields(Labour{}, "Where"), cmpopts.EquateEmpty()}

func TestWriteBrief(t *testing.T) {
	zero := int64(0)
	full := DefaultBrief()
	full.Name, full.Vehicle, full.Cap = `a "name": with # everything`, "small sedan", Money{25000, "USD"}
	full.TaxPPM, full.TaxByKind, full.LabourTax = 75_000, map[Kind]int64{KindAmplifier: 12_500, KindKit: 0}, &zero
	full.Labour = []Labour{{Name: "fitting, an amplifier", Price: Money{4000, "USD"}, Per: KindAmplifier, Installed: true, TaxPPM: 30_000, Taxed: true}, {Name: "cable", Price: Money{3500, "USD"}, Per: KindCount}}
	full.Goal, full.Place, full.Openings, full.Front = GoalMusic, "120 40 90 cm", "doors open", FrontEither
	full.Owned, full.Must, full.Never = []Mention{{SKU: "A x 2", Count: 1}, {SKU: "yes", Count: 3}}, []Mention{{SKU: "B,C", Count: 2}}, []Mention{{SKU: "- d", Count: 1}}
	full.Stores, full.Space = []string{"Dock Street", "100"}, Size3{0.95, 0.455, 0.5}
	full.MostStores = 2
	full.Steps, full.Resale, full.Order = []Money{{25000, "USD"}, {55000, "USD"}, {55001, "USD"}}, 405_000, PlanFair
	full.Boxes, full.Drivers, full.Amplifiers, full.Alternator = 1, 2, 3, 70.5
	full.BassLift, full.FrontWatts, full.Celsius, full.Burst, full.Overdrive = -3.5, 12, -12.5, 0.25, 1
	full.BuildBoxes, full.BoxWeight, full.LowestNote = true, 22.5, 28.5
	// A key that is added and not written is found here.
	for v, i := reflect.ValueOf(full), 0; i < v.NumField(); i++ {
		if f := v.Type().Field(i); f.IsExported() && f.Name != "Where" && f.Name != "Keys" && v.Field(i).IsZero() {
			t.Errorf("%s is not tried", f.Name)
		}
	}
	plain := DefaultBrief()
	plain.Vehicle, plain.Cap = "SUV", Money{1, "JPY"}
	// Zero is stated where it can be.
	zeros := plain
	zeros.BassLift, zeros.FrontWatts, zeros.Celsius = 0, 0, 0
	zeros.LowestNote = AnyNote
	zeros.Labour = []Labour{{Name: "a favour", Price: Money{0, "USD"}, Taxed: true}}
	for name, b := range map[string]Brief{"full": full, "plain": plain, "zeros": zeros} {
		if diff := cmp.Diff(b, reread(t, b), sameBrief); diff != "" {
			t.Errorf("%s (-written +read):\n%s", name, diff)
		}
	}
}

// Any figures and names come back as they were.
func TestWriteBriefProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := DefaultBrief()
		b.Cap = Money{rapid.Int64Range(1, 1_000_000_000).Draw(t, "cap"), "USD"}
		b.TaxPPM = rapid.Int64Range(0, 1_000_000).Draw(t, "tax")
		b.Vehicle = rapid.StringMatching(`[a-zA-Z0-9:#'"\[\]{},&*!|>%@-]([ -~]{0,20}[a-zA-Z0-9:#'"])?`).Draw(t, "vehicle")
		b.Goal = Goal(rapid.IntRange(0, 1).Draw(t, "goal"))
		b.Front = FrontRule(rapid.IntRange(0, 2).Draw(t, "front"))
		b.Boxes, b.Drivers = rapid.IntRange(1, 8).Draw(t, "boxes"), rapid.IntRange(1, 16).Draw(t, "drivers")
		b.BassLift = float64(rapid.IntRange(-20_000, 40_000).Draw(t, "lift")) / 1000
		b.Celsius = float64(rapid.IntRange(-40_000, 60_000).Draw(t, "temperature")) / 1000
		if diff := cmp.Diff(b, reread(t, b), sameBrief, cmpopts.EquateApprox(1e-12, 1e-12)); diff != "" {
			t.Fatalf("(-written +read):\n%s", diff)
		}
	})
}

func TestWriteBriefRefuses(t *testing.T) {
	b := DefaultBrief()
	b.Vehicle = "not UTF-8 \xff"
	if err := WriteBrief(&bytes.Buffer{}, b); err == nil {
		t.Error("a text that is not UTF-8 was written")
	}
}
