package tables

import (
	"bytes"
	"io/fs"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"loudfor/catalog"
	"loudfor/catalog/demo"
)

const kept = `# Our shelf, spring
parts:
  # the one that everybody asks for
  - sku: TM-12V
    kind: subwoofer   # heavy
    name: Tamsel 12-inch value
    price: 39.00 USD  # was 45

    size: 12 in
    coils: 2 x 4 ohm
    rms: 250 W
  - {sku: OR-4C, kind: amplifier, price: 99 USD, channels: 4, class: AB, ratings: [{mode: stereo, load: 4 ohm, watts: 50}]} # flat
  - sku: KE-M3
    kind: amplifier
    price: 89.00 USD
    channels: 1
    high_pass: true
    ratings:
      - {mode: mono, load: 4 ohm, watts: 200, basis: claimed}  # hopeful
      - {mode: mono, load: 2 ohm, watts: 350, basis: claimed}
    note: last one
# the end
`

const list = `SKU,Kind,Price (USD),Qty,Size (cm),RMS (W),fs (Hz),Channels,HPF,watts 4 ohm stereo,watts 4 ohm bridged,watts 4 ohm mono claimed,watts 1 ohm mono,Name
TM-12V,subs,41.50,4,30.48,250,31,,,,,,,Tamsel 12-inch value
OR-4C,amps,99.00,,,,,4,no,55,150,,,
KE-M3,amps,89,2,,,,1,no,,,200,500,
NEW-8,subs,20,1,20.32,90,45,,,,,,,An 8-inch
`

const updated = `# Our shelf, spring
parts:
  # the one that everybody asks for
  - sku: TM-12V
    kind: subwoofer   # heavy
    name: Tamsel 12-inch value
    price: 41.50 USD  # was 45
    stock: 4

    size: 12 in
    coils: 2 x 4 ohm
    rms: 250 W
    fs: 31 Hz
  - {sku: OR-4C, kind: amplifier, price: 99 USD, channels: 4, class: AB, ratings: [{mode: stereo, load: 4 ohm, watts: 55 W}, {mode: bridged, load: 4 ohm, watts: 150 W}]} # flat
  - sku: KE-M3
    kind: amplifier
    price: 89.00 USD
    stock: 2
    channels: 1
    high_pass: false
    ratings:
      - {mode: mono, load: 4 ohm, watts: 200, basis: claimed}  # hopeful
      - {mode: mono, load: 2 ohm, watts: 350, basis: claimed}
      - {mode: mono, load: 1 ohm, watts: 500 W}
    note: last one
  - sku: NEW-8
    kind: subwoofer
    name: An 8-inch
    price: 20 USD
    stock: 1
    size: 20.32 cm
    coils: 4 ohm
    rms: 90 W
    fs: 45 Hz
# the end
`

// withCoils is the list with the coils of its drivers.
var withCoils = strings.NewReplacer(",Name\n", ",Name,Coils\n", "An 8-inch\n", "An 8-inch,4 ohm\n", "Tamsel 12-inch value\n", "Tamsel 12-inch value,dual 4 ohm\n").Replace(list)

func readList(t testing.TB, text string) *List {
	t.Helper()
	l, report := Read("list.csv", []byte(text), Options{Kind: catalog.KindCount})
	if report.Err() != nil {
		var b strings.Builder
		_ = report.Write(&b, false)
		t.Fatal(b.String())
	}
	return l
}

// Only what differs is touched: comments, blank lines and ways of writing stay.
func TestUpdateKeepsWhatIsThere(t *testing.T) {
	l := readList(t, withCoils)
	u, report := l.Update("shelf.yaml", []byte(kept))
	if report.Err() != nil {
		t.Fatal(report.Problems)
	}
	if diff := cmp.Diff(updated, string(u.Text)); diff != "" {
		t.Error(diff)
	}
	again, report := l.Update("shelf.yaml", u.Text)
	if report.Err() != nil || string(again.Text) != string(u.Text) || len(again.Changes)+len(again.Added) > 0 {
		t.Errorf("a second time changes %v", again.Changes)
	}
	if diff := cmp.Diff([]string{"NEW-8"}, u.Added); diff != "" || len(u.Changes) != 8 {
		t.Errorf("added %s; changes %v", diff, u.Changes)
	}
}

// Whatever changed in a catalogue, its list brings the file of yesterday up to
// date: every value, and not one comment less.
func TestUpdateReachesTheList(t *testing.T) {
	var files []string
	if err := fs.WalkDir(demo.FS, demo.Parts, func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			files = append(files, name)
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom(files).Draw(t, "file")
		text, err := fs.ReadFile(demo.FS, name)
		if err != nil {
			t.Fatal(err)
		}
		c, report := catalog.LoadFS(demo.FS, []string{name})
		if report.Err() != nil || len(c.Deals) > 0 {
			return // deals that need parts of other files
		}
		var parts []*catalog.Part
		for _, p := range c.Parts {
			q := *p
			if q.Priced && rapid.Bool().Draw(t, "price") {
				q.Price.Minor = rapid.Int64Range(1, 99999).Draw(t, "minor")
			}
			if rapid.Bool().Draw(t, "stock") {
				q.Stock = rapid.IntRange(0, 9).Draw(t, "pieces")
			}
			if rapid.Bool().Draw(t, "note") {
				q.Note = rapid.SampledFrom([]string{"a: b", "#1", "it's", `"x"`, "- y", "{z}", "true", "12", "ü, [w]"}).Draw(t, "text")
			}
			if a := q.Amplifier; a != nil && rapid.Bool().Draw(t, "watts") {
				b := *a
				b.Spec.Ratings = append(b.Spec.Ratings[:0:0], a.Spec.Ratings...)
				b.Spec.Ratings[0].Watts = float64(rapid.IntRange(1, 4000).Draw(t, "w"))
				q.Amplifier = &b
			}
			parts = append(parts, &q)
		}
		want := catalog.New(c.Currency, parts)
		var table bytes.Buffer
		if err := WriteCSV(&table, want); err != nil {
			t.Fatal(err)
		}
		l, report := Read("list.csv", table.Bytes(), Options{Kind: catalog.KindCount})
		if report.Err() != nil {
			t.Fatal(report.Problems)
		}
		u, report := l.Update(name, text)
		if report.Err() != nil {
			t.Fatal(report.Problems)
		}
		if a, b := strings.Count(string(text), "#"), strings.Count(string(u.Text), "#"); b < a {
			t.Errorf("%d of %d comments are left", b, a)
		}
		got, report := catalog.LoadFS(oneFile(u.Text), []string{"parts.yaml"})
		if report.Err() != nil {
			t.Fatalf("%v\n%s", report.Problems, u.Text)
		}
		var a, b bytes.Buffer
		if catalog.WriteParts(&a, want) != nil || catalog.WriteParts(&b, got) != nil {
			t.Fatal("cannot be written")
		}
		if diff := cmp.Diff(a.String(), b.String()); diff != "" {
			t.Error(diff)
		}
	})
}

// Whatever an edit would leave undone or put elsewhere is found before anybody sees
// the text.
func TestConfirmFindsWhatIsAmiss(t *testing.T) {
	l := readList(t, withCoils)
	for _, c := range []struct{ from, to string }{
		{"41.50 USD", "39.00 USD"}, {"    stock: 4\n", ""}, {"fs: 31 Hz", "fs: 3.1 Hz"}, {"size: 12 in", "size: 10 in"},
		{"watts: 55 W", "watts: 50"}, {", {mode: bridged, load: 4 ohm, watts: 150 W}", ""}, {"load: 1 ohm, watts: 500 W", "load: 8 ohm, watts: 500 W"},
		{"high_pass: false", "high_pass: true"}, {"stock: 2", "stock: [2]"}, {"sku: NEW-8", "sku: NEW-9"}, {"sku: NEW-8", "sku: TM-12V"}, {"kind: amplifier", "kind: source"},
		{"# the end", "  - *gone"},
	} {
		text := strings.Replace(updated, c.from, c.to, 1)
		if text == updated || l.confirm("shelf.yaml", []byte(text)).Err() == nil {
			t.Errorf("%q in place of %q is not found", c.to, c.from)
		}
	}
	if report := l.confirm("shelf.yaml", []byte(updated)); report.Err() != nil {
		t.Error(report.Problems)
	}
}
