package readings

import (
	"context"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"loudfor/catalog"
	"loudfor/catalog/book"
)

const yamlFile = `vehicle: small sedan
build: demo:value-12-sealed
openings: doors open
date: 2026-03-09
readings:
  - {place: dash, frequency: 40 Hz, level: 124.1 dB, clamp_voltage: 26 V, clamp_current: 6.2 A, supply_voltage: 13.6 V}
  - {place: kick panel, frequency: 45, level: 125.3, tolerance: 0.3 dB, note: "rain, wind", date: 2026-03-10}
`

const csvFile = `# taken on Monday
date;place;Frequency (Hz);level_db;clamp voltage;clamp_current;supply_voltage;tolerance;note;vehicle;build;openings
2026-03-09;dash;40;124,1;26;6,2;13.6 V;;;small sedan;demo:value-12-sealed;doors open

2026-03-10;kick panel;45;125.3;;;;0.3;"rain, wind";small sedan;demo:value-12-sealed;doors open
`

// YAML and CSV give the same readings.
func TestTwoForms(t *testing.T) {
	a, report := Read("a.yaml", []byte(yamlFile))
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	b, report := Read("b.csv", []byte(csvFile))
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(a, b, cmpopts.IgnoreFields(Reading{}, "Where", "At", "file")); diff != "" {
		t.Errorf("YAML and CSV differ: %s", diff)
	}
	r := a[0]
	if len(a) != 2 || r.Frequency != 40 || r.Level != 124.1 || r.Volts != 26 || r.Amps != 6.2 || r.Supply != 13.6 || r.Date.String() != "2026-03-09" || r.Openings != "doors open" {
		t.Errorf("%+v", a)
	}
	if at := b[0].Source("level"); at.Line != 3 || at.Column != 20 {
		t.Errorf("the level of the CSV stands at %v", at)
	}
	if at := a[0].Source("openings"); at.Line != 3 {
		t.Errorf("the openings of the YAML stand at %v", at)
	}
}

// Every mistake is told, at its place.
func TestMistakes(t *testing.T) {
	const head = "vehicle: small sedan\nbuild: demo:value-12-sealed\nreadings:\n"
	for _, c := range []struct{ name, text, where, words string }{
		{"a.yaml", head + "  - {frequency: 40 Hz, level: 310 dB}\n", "a.yaml:4:31", "level lies between 40 dB and 190 dB"},
		{"a.yaml", head + "  - {frequency: 0 Hz, level: 120 dB}\n", "a.yaml:4:17", "frequency lies between 5 Hz and 500 Hz"},
		{"a.yaml", head + "  - {frequency: 40 Hz, level: 120 dB, clamp_current: 6 A}\n", "a.yaml:4:54", "add clamp_voltage"},
		{"a.yaml", head + "  - {frequency: 40 Hz, lvel: 120 dB}\n", "a.yaml:4:24", "did you mean \"level\""},
		{"a.yaml", head + "  - {frequency: 40 Hz, level: 120 W}\n", "a.yaml:4:31", "is a power, not a level"},
		{"a.yaml", head + "  - {frequency: 40 Hz, level: 120 dB, date: 2026-13-09}\n", "a.yaml:4:45", ""},
		{"a.yaml", head + "  - {level: 120 dB}\n", "a.yaml:4:5", "add frequency: 40 Hz"},
		{"a.yaml", "readings:\n  - {frequency: 40 Hz, level: 120 dB}\n", "a.yaml:2:5", "add vehicle: small sedan"},
		{"a.yaml", "", "a.yaml", "list readings"},
		{"a.yaml", "vehicle: van\nbuild: x\nreadings: []\n", "a.yaml", "list readings"},
		{"a.csv", "vehicle,build,frequency,level\nvan,x,40,310\n", "a.csv:2:10", "level lies between 40 dB and 190 dB"},
		{"a.csv", "vehicle,build,frequency,level\nvan,x,0,120\n", "a.csv:2:7", "frequency lies between"},
		{"a.csv", "vehicle,build,frequency,level,clamp_current\nvan,x,40,120,3\n", "a.csv:2:14", "add clamp_voltage"},
		{"a.csv", "vehicle,build,frequency,lvel\nvan,x,40,120\n", "a.csv:1:25", "did you mean \"level\""},
		{"a.csv", "vehicle,build,frequency,level\nvan,x,40,120,7\n", "a.csv:2:14", "double quotes"},
		{"a.csv", "vehicle,build,frequency,level\nvan,\"x,40,120\n", "a.csv:2:", "CSV"},
	} {
		list, report := Read(c.name, []byte(c.text))
		found := false
		for _, p := range report.Problems {
			found = found || strings.HasPrefix(p.Where.String(), c.where) && strings.Contains(p.Detail+p.Summary, c.words)
		}
		if !found || list != nil {
			t.Errorf("%q: %v, want %q at %s", c.text, report.Err(), c.words, c.where)
		}
	}
}

func sedan(t *testing.T) catalog.Vehicle {
	t.Helper()
	v, ok := catalog.FindVehicle("small sedan", nil)
	if !ok {
		t.Fatal("no small sedan")
	}
	return v
}

// Places that the car does not have, and readings that contradict each other.
func TestCheck(t *testing.T) {
	list, report := Read("a.yaml", []byte(`vehicle: small sedan
build: b
openings: doors open
readings:
  - {place: dash, frequency: 40 Hz, level: 124 dB}
  - {place: dash, frequency: 40.1 Hz, level: 119 dB}
  - {place: dash, frequency: 40 Hz, level: 119 dB, clamp_voltage: 12 V}
  - {place: dash, frequency: 50 Hz, level: 119 dB}
  - {place: dsah, frequency: 40 Hz, level: 124 dB}
  - {place: dash, frequency: 40 Hz, level: 125 dB, openings: roof open}
`))
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	found := Check(list, sedan(t))
	var got []string
	for _, p := range found.Problems {
		line := p.Severity.String() + " " + p.Where.String()
		if p.Related != nil {
			line += " " + p.Related.String()
		}
		got = append(got, line)
	}
	want := []string{"warning a.yaml:6:46 a.yaml:5:44", "error a.yaml:9:13", "error a.yaml:10:62"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("-want +got: %s", diff)
	}
	if !strings.Contains(found.Problems[1].Detail, `did you mean "dash"`) {
		t.Error(found.Problems[1].Detail)
	}
}

// What goes into the job book comes out of it.
func TestBook(t *testing.T) {
	b, err := book.Open(filepath.Join(t.TempDir(), "book"), book.Options{Create: true, Now: func() time.Time { return time.Unix(1e9, 0) }})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	list, _ := Read("a.yaml", []byte(yamlFile))
	ids, err := Book(context.Background(), b, list)
	if err != nil || len(ids) != 2 {
		t.Fatal(ids, err)
	}
	back, err := FromBook(context.Background(), b, "small sedan")
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(list, back, cmpopts.IgnoreFields(Reading{}, "Where", "At", "ID", "file")); diff != "" {
		t.Errorf("-in +out: %s", diff)
	}
	if none, err := FromBook(context.Background(), b, "van"); err != nil || len(none) != 0 {
		t.Error(none, err)
	}
}

// A build in words is read back as it was.
func TestParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) catalog.Mention {
			return catalog.Mention{SKU: rapid.StringMatching(`[A-Z]{2}-[A-Z0-9]{1,5}`).Draw(t, "sku"), Count: rapid.IntRange(1, mostPieces).Draw(t, "count")}
		}), 1, 6).Draw(t, "parts")
		mode := rapid.SampledFrom([]string{"", "mono", "bridged"}).Draw(t, "mode")
		load := rapid.SampledFrom([]float64{0, 1.5, 4}).Draw(t, "load")
		got, m, l, err := Parts(Words(parts, mode, load))
		if err != nil || m != mode || l != load || !cmp.Equal(parts, got) {
			t.Fatalf("%v %q %g became %v %q %g, %v", parts, mode, load, got, m, l, err)
		}
	})
	for _, bad := range []string{"", "A,,B", "A x 0", "A; loud", "A; -2 ohm"} {
		if _, _, _, err := Parts(bad); err == nil {
			t.Errorf("%q was accepted", bad)
		}
	}
}

// Whatever comes, it is readings that can be, or a complaint.
func FuzzRead(f *testing.F) {
	f.Add([]byte(yamlFile))
	f.Add([]byte(csvFile))
	f.Add([]byte("readings: [{frequency: 0 Hz, level: 310 dB}]"))
	f.Add([]byte("vehicle,build,frequency,level\nvan,\"x,40,120\n"))
	f.Add([]byte("frequency\tlevel\n40\t1e300\n"))
	f.Fuzz(func(t *testing.T, content []byte) {
		list, report := Read("file", content)
		if (list == nil) != (report.Err() != nil) {
			t.Fatalf("%d readings with %v", len(list), report.Err())
		}
		for _, r := range list {
			if !(r.Frequency >= 5 && r.Frequency <= 500 && r.Level >= 40 && r.Level <= 190) || r.Amps > 0 && !(r.Volts > 0) || r.Vehicle == "" || r.Build == "" {
				t.Fatalf("%+v was accepted", r)
			}
		}
	})
}

// Whatever stands for a build, it is parts or a complaint.
func FuzzParts(f *testing.F) {
	f.Add("HU-STOCK, TM-12V x 2; mono; 2 ohm")
	f.Add("\u0130\u023a x 2") // letters whose small ones have other lengths
	f.Fuzz(func(t *testing.T, text string) {
		parts, _, load, err := Parts(text)
		for _, p := range parts {
			if p.SKU == "" || p.Count < 1 || p.Count > mostPieces {
				t.Fatalf("%q gives %+v", text, p)
			}
		}
		if err == nil && (len(parts) == 0 || load < 0) {
			t.Fatalf("%q gives %v, %g", text, parts, load)
		}
	})
}
