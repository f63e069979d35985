package catalog

import (
	"bytes"
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"loudfor/catalog/demo"
	"loudfor/model/amplifier"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
)

// inFile is a file system with one file.
func inFile(name, text string) fstest.MapFS {
	return fstest.MapFS{name: {Data: []byte(text)}}
}

// loadText reads one file of parts that has to be good.
func loadText(t testing.TB, text string) *Catalogue {
	t.Helper()
	c, report := LoadFS(inFile("parts.yaml", text), []string{"parts.yaml"})
	if err := report.Err(); err != nil {
		var b strings.Builder
		_ = report.Write(&b, false)
		t.Fatalf("%s", b.String())
	}
	return c
}

const everyKind = `parts:
  - {sku: A1, kind: subwoofer, name: Twelve, maker: Tamsel, store: Dock Street, price: 39.00 USD, stock: 3, limit: 2, note: dented, size: 12 in, coils: 2 x 4 ohm, rms: 250 W, fs: 31 Hz, qts: 0.6, vas: 58 L, xmax: 9 mm, cutout: 28 cm, depth: 14 cm, displacement: 2 L}
  - {sku: A2, kind: amplifier, price: 99.00 USD, channels: 4, class: AB, fuse: 2 x 15 A, ratings: [{mode: stereo, load: 4 ohm, watts: 50, basis: standard}, {mode: bridged, load: 4 ohm, watts: 0.15 kW, basis: measured, volts: 13.8}], high_pass: true, low_pass: yes, bass_control: false, speaker_input: on}
  - {sku: A3, kind: enclosure, price: 42.00 USD, type: vented, holes: 2 x 12 in, volume: 90 L, tuning: 36 Hz, port: {count: 2, diameter: 10 cm, length: 20 cm, flanged_ends: 2}, outside: 80 x 45 x 45 cm, depth: 30 cm, cutout: 28 cm, leak_q: 7, absorption_q: 50}
  - {sku: A4, kind: loaded enclosure, price: 119.00 USD, type: band-pass, volume: 30 L, front_volume: 20 L, tuning: 55 Hz, drivers: 2, driver: {size: 10 in, coils: 4 ohm, rms: 200 W}, outside: 60 x 45 x 45 cm}
  - {sku: A5, kind: front speakers, price: 29.00 USD, load: 4 ohm, rms: 45 W, sensitivity: 90 dB, fs: 70 Hz, sd: 130 cm2, xmax: 3 mm, size: 6 x 9 in}
  - {sku: A6, kind: source, pre_outs: 2, pre_out_volts: 2 V, power: 4 x 17 W, load: 4 ohm, minimum_load: 4 ohm, high_pass: true, low_pass: true, bass_control: true, basis: claimed, supply: 14.4 V}
  - {sku: A7, kind: line converter, price: 12.00 USD, channels: 2}
  - {sku: A8, kind: bass blocker, price: 6.00 USD, capacitance: 220 uF}
  - {sku: A9, kind: wiring kit, price: 27.00 USD, gauge: 4 AWG, material: copper-clad aluminium, length: 5 m, fuse: 80 A, basis: claimed}
  - {sku: B1, kind: sheet material, price: 46.00 USD, thickness: 19 mm, board: 244 x 122 cm, density: 0.75 kg/L, charge: area}
  - {sku: B2, kind: workshop, price: 30.00 USD, per_box: 1.5 h, per_panel: 4 min, per_hole: 600 s, per_port: 0 min, kerf: 2.5 mm}
`

// Every key of every kind arrives in its field, in SI units.
func TestLoadEveryKind(t *testing.T) {
	c := loadText(t, everyKind)
	usd := func(minor int64) Money { return Money{minor, "USD"} }
	plain := func(sku string, k Kind, price int64) Part {
		return Part{SKU: sku, Kind: k, Price: usd(price), Priced: true, Stock: Unlimited, Limit: Unlimited}
	}
	sub := plain("A1", KindSubwoofer, 3900)
	sub.Name, sub.Maker, sub.Store, sub.Stock, sub.Limit, sub.Note = "Twelve", "Tamsel", "Dock Street", 3, 2, "dented"
	sub.Subwoofer = &Subwoofer{
		Card:   driver.Card{Size: 0.3048, Coils: 2, CoilLoad: 4, Fs: 31, Qts: 0.6, Vas: 0.058, Xmax: 0.009, Power: 250},
		Cutout: 0.28, Depth: 0.14, Displacement: 0.002,
	}
	amp := plain("A2", KindAmplifier, 9900)
	amp.Amplifier = &Amplifier{
		Spec: amplifier.Spec{Channels: 4, Class: amplifier.ClassAB, Fuse: 30, Ratings: []amplifier.Rating{
			{Mode: amplifier.Stereo, Load: 4, Watts: 50, Basis: amplifier.Standard},
			{Mode: amplifier.Bridged, Load: 4, Watts: 150, Basis: amplifier.Measured, Volts: 13.8},
		}},
		HighPass: true, LowPass: true, SpeakerInput: true,
	}
	box := plain("A3", KindEnclosure, 4200)
	box.Enclosure = &Enclosure{
		Box: enclosure.Box{Kind: enclosure.Vented, Drivers: 2, Volume: 0.09, Tuning: 36, LeakQ: 7, AbsorptionQ: 50,
			Port: enclosure.Port{Count: 2, Diameter: 0.1, Length: 0.2, FlangedEnds: 2}},
		Hole: 0.3048, Cutout: 0.28, Depth: 0.3, Outside: Size3{0.8, 0.45, 0.45},
	}
	loaded := plain("A4", KindLoaded, 11900)
	loaded.Loaded = &Loaded{
		Box:     enclosure.Box{Kind: enclosure.BandPass, Drivers: 2, Volume: 0.03, FrontVolume: 0.02, Tuning: 55},
		Card:    driver.Card{Size: 0.254, Coils: 1, CoilLoad: 4, Power: 200},
		Outside: Size3{0.6, 0.45, 0.45},
	}
	speakers := plain("A5", KindFront, 2900)
	speakers.Front = &FrontSpeakers{Load: 4, Power: 45, Sensitivity: 90, Fs: 70, Sd: 0.013, Xmax: 0.003, Size: 0.0254 * math.Sqrt(54)}
	source := plain("A6", KindSource, 0)
	source.Price, source.Priced = Money{}, false
	source.Source = &Source{PreOuts: 2, PreOutVolts: 2, Channels: 4, Power: 17, Load: 4, MinimumLoad: 4, HighPass: true, LowPass: true, BassControl: true, SupplyVolts: 14.4, PowerClaimed: true}
	converter := plain("A7", KindConverter, 1200)
	converter.Converter = &LineConverter{Channels: 2}
	blocker := plain("A8", KindBlocker, 600)
	blocker.Blocker = &BassBlocker{Capacitance: 220e-6}
	kit := plain("A9", KindKit, 2700)
	// 4 AWG is 21.15 mm2 (ASTM B258).
	kit.Kit = &WiringKit{Area: 21.15e-6, CopperClad: true, Length: 5, Fuse: 80, GaugeClaimed: true}

	sheet := plain("B1", KindSheet, 4600)
	sheet.Sheet = &Sheet{Thickness: 0.019, Length: 2.44, Width: 1.22, Density: 750, ByArea: true}
	bench := plain("B2", KindWorkshop, 3000)
	bench.Workshop = &Workshop{PerBox: 5400, PerPanel: 240, PerHole: 600, Kerf: 0.0025}

	want := []*Part{&sub, &amp, &box, &loaded, &speakers, &source, &converter, &blocker, &kit, &sheet, &bench}
	if diff := cmp.Diff(want, c.Parts, cmpopts.IgnoreFields(Part{}, "Where", "Keys"), cmpopts.EquateApprox(1e-3, 0)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	if c.Currency != "USD" {
		t.Errorf("currency %q", c.Currency)
	}
}

func TestPartLookup(t *testing.T) {
	c := loadText(t, everyKind)
	if p := c.Part("A3"); p == nil || p.Kind != KindEnclosure {
		t.Errorf("A3 is %+v", p)
	}
	if p := c.Part("A33"); p != nil {
		t.Errorf("A33 is %+v", p)
	}
	for k := range KindCount {
		if n := len(c.ByKind(k)); n != 1 {
			t.Errorf("%d parts of kind %v", n, k)
		}
	}
}

// Every key keeps its place, also in groups and lists.
func TestKeyPositions(t *testing.T) {
	c := loadText(t, everyKind)
	for _, c2 := range []struct{ sku, path, text string }{
		{"A1", "price", "39.00 USD"}, {"A1", "xmax", "9 mm"}, {"A2", "ratings[1].watts", "50"}, {"A2", "ratings[2].watts", "0.15 kW"},
		{"A2", "ratings[2].mode", "bridged"}, {"A3", "port.length", "20 cm"}, {"A4", "driver.rms", "200 W"}, {"A2", "ratings[2]", "{mode: bridged"},
		{"A1", "qms", "{sku: A1"}, {"A4", "driver.fs", "{size: 10 in"}, {"A2", "ratings[3].watts", "[{mode"}, {"A1", "nonsense", "{sku: A1"},
	} {
		at := c.Part(c2.sku).At(c2.path)
		if rest := c.Line(at)[max(at.Column-1, 0):]; !strings.HasPrefix(rest, c2.text) {
			t.Errorf("%s %s stands at %v: %.20q, want %q", c2.sku, c2.path, at, rest, c2.text)
		}
	}
	if p := c.Part("A1"); !p.States("xmax") || p.States("qms") || p.States("nonsense") {
		t.Error("States is wrong")
	}
}

// The demo is a catalogue without errors, and its briefs and builds fit it.
func TestLoadDemo(t *testing.T) {
	c, report := LoadFS(demo.FS, []string{demo.Parts})
	if report.Err() != nil || len(c.Parts) < 60 {
		t.Fatal(report.Err())
	}
	vehicles, report := LoadVehiclesFS(demo.FS, demo.Vehicles)
	if report.Err() != nil || len(vehicles) != 3 {
		t.Fatalf("%d vehicles, %v", len(vehicles), report.Err())
	}
	names, _ := fs.Glob(demo.FS, demo.Briefs+"/*.yaml")
	if len(names) < 4 {
		t.Errorf("%d briefs", len(names))
	}
	for _, name := range names {
		b, report := LoadBriefFS(demo.FS, name)
		if report.Err() != nil {
			t.Errorf("%s: %v", name, report.Err())
		}
		if _, report := CheckBrief(b, c, vehicles); report.Err() != nil {
			t.Errorf("%s: %v", name, report.Err())
		}
	}
	names, _ = fs.Glob(demo.FS, demo.Builds+"/*.yaml")
	for _, name := range names {
		b, report := LoadBuildFS(demo.FS, name)
		if report.Err() != nil {
			t.Errorf("%s: %v", name, report.Err())
		}
		if slices.ContainsFunc(b.Parts, func(m Mention) bool { return strings.HasPrefix(m.SKU, "SHOP-") }) {
			continue // its box is built and in no catalogue: a script predicts it
		}
		if _, report := CheckBuild(b, c, vehicles); report.Err() != nil {
			t.Errorf("%s: %v", name, report.Err())
		}
	}
}

// Folders are searched with their folders; other sorts of files and hidden
// ones are left out; a file that is named twice is read once.
func TestLoadFolders(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		name = filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	blocker := func(sku string) string {
		return fmt.Sprintf("parts:\n  - {sku: %s, kind: bass blocker, capacitance: 220 uF}\n", sku)
	}
	write("a.yaml", blocker("A"))
	write("deep/er/b.YML", blocker("B"))
	write("notes.txt", "no parts here")
	write(".hidden/c.yaml", blocker("C"))
	write("vehicles.yaml", "vehicles:\n  - {name: x, body: van}\n")
	write("brief.yaml", "cap: 250 USD\nvehicle: van\n")
	write("build.yaml", "vehicle: van\nparts: [A]\n")
	write("empty/readme.txt", "")
	if err := os.Symlink(filepath.Join(dir, "a.yaml"), filepath.Join(dir, "link.yaml")); err != nil {
		t.Logf("no symbolic links here: %v", err)
	}
	c, report := Load([]string{dir, filepath.Join(dir, "a.yaml"), dir + "/./a.yaml", filepath.Join(dir, "deep")})
	if report.Err() != nil {
		t.Fatal(report.Err())
	}
	if got := c.SKUs(); !slices.Equal(got, []string{"A", "B"}) {
		t.Errorf("parts %v", got)
	}
	for _, c := range []struct {
		paths []string
		words string
	}{
		{[]string{filepath.Join(dir, "empty")}, "holds no YAML file"},
		{[]string{filepath.Join(dir, "none.yaml")}, "no such file"},
		{[]string{filepath.Join(dir, "vehicles.yaml")}, `"vehicles" is not a key of a catalogue`},
		{nil, "no file of parts is named"},
	} {
		got, report := Load(c.paths)
		if err := report.Err(); err == nil || got != nil || !strings.Contains(report.Problems[0].Summary, c.words) {
			t.Errorf("%v: %v", c.paths, err)
		}
	}
	if v, report := LoadVehicles(dir); report.Err() != nil || len(v) != 1 {
		t.Errorf("%d vehicles, %v", len(v), report.Err())
	}
}

func TestEmptyCatalogue(t *testing.T) {
	for _, text := range []string{"", "# nothing\n", "parts: []\n"} {
		c, report := LoadFS(inFile("parts.yaml", text), []string{"parts.yaml"})
		if c != nil || report.Err() == nil || !strings.Contains(report.Problems[0].Summary, "empty") {
			t.Errorf("%q: %v", text, report.Err())
		}
	}
}

// With many errors all are counted, and only so many kept.
func TestFloodOfErrors(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and about the text alone")
	}
	var b bytes.Buffer
	b.WriteString("parts:\n")
	for range 12_000 {
		b.WriteString("  - {sku: A, kind: bass blocker, colour: red, weight: 2 kg}\n")
	}
	_, report := LoadFS(inFile("parts.yaml", b.String()), []string{"parts.yaml"})
	if n := len(report.Problems); n != 10_000 || report.More < 20_000 {
		t.Errorf("%d problems kept, %d more", n, report.More)
	}
}

// Of a file that is one long line, each of its errors shows a piece.
func TestOneLongLine(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and about the text alone")
	}
	text := "parts: [" + strings.Repeat("{sku: A, kind: bass blocker, colour: red}, ", 12_000) + "]"
	_, report := LoadFS(inFile("parts.yaml", text), []string{"parts.yaml"})
	var b strings.Builder
	if err := report.Write(&b, false); err != nil || len(report.Problems) != 10_000 {
		t.Errorf("%d problems, %v", len(report.Problems), err)
	}
	if b.Len() > 1000*len(report.Problems) {
		t.Errorf("%d bytes are written", b.Len())
	}
	if p := report.Problems[5000]; p.Where.Line != 1 || p.Where.Column < 50_000 {
		t.Errorf("%+v", p)
	}
}

// The order of files and of parts, and the cutting of long files into pieces,
// do not change the catalogue.
func TestOrderDoesNotMatter(t *testing.T) {
	var items []string
	for line := range strings.SplitSeq(strings.TrimPrefix(everyKind, "parts:\n"), "\n") {
		if line != "" {
			items = append(items, line+"\n")
		}
	}
	want := loadText(t, everyKind).Parts
	rapid.Check(t, func(t *rapid.T) {
		shuffled := rapid.Permutation(items).Draw(t, "order")
		files := fstest.MapFS{}
		var names []string
		for i := 0; i < len(shuffled); {
			n := rapid.IntRange(1, len(shuffled)-i).Draw(t, "parts in the file")
			name := fmt.Sprintf("%c%d.yaml", 'a'+rapid.IntRange(0, 25).Draw(t, "name"), i)
			files[name] = &fstest.MapFile{Data: []byte("parts:\n" + strings.Join(shuffled[i:i+n], ""))}
			names = append(names, name)
			i += n
		}
		c, report := LoadFS(files, rapid.Permutation(names).Draw(t, "files"))
		if report.Err() != nil {
			t.Fatal(report.Err())
		}
		if diff := cmp.Diff(want, c.Parts, cmpopts.IgnoreFields(Part{}, "Where", "Keys")); diff != "" {
			t.Fatal(diff)
		}
	})
}

// A long file read in pieces is the same catalogue as its parts in short
// files, down to the positions, and so are its errors.
func TestPiecesDoNotMatter(t *testing.T) {
	text := string(shelf(3000))
	c := loadText(t, text)
	if len(c.Parts) != 3000 {
		t.Fatalf("%d parts", len(c.Parts))
	}
	random := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		p := c.Parts[random.IntN(len(c.Parts))]
		at := p.At("sku")
		if line := c.Line(at); line[at.Column-1:] != p.SKU {
			t.Fatalf("%s stands at %v: %q", p.SKU, at, line)
		}
	}
	// Mistakes in two pieces are found in one run.
	broken := text + "  - sku: \"open\n"
	broken = strings.Replace(broken, "kind: subwoofer", "kind: subwofer", 1)
	_, report := LoadFS(inFile("parts.yaml", broken), []string{"parts.yaml"})
	if len(report.Problems) != 2 || report.Problems[0].Where.Line != 3 || report.Problems[1].Summary != "a quote is not closed" || report.Problems[1].Where.Line != strings.Count(broken, "\n") {
		t.Errorf("%+v", report.Problems)
	}
	// An anchor in one piece and its alias in another.
	parted := strings.Replace(text, "fs: 31 Hz", "fs: &fs 31 Hz", 1) + "  - {sku: Z, kind: subwoofer, size: 12 in, coils: 4 ohm, fs: *fs}\n"
	if c := loadText(t, parted); len(c.Parts) != 3001 || c.Part("Z").Subwoofer.Card.Fs != 31 {
		t.Errorf("%d parts", len(c.Parts))
	}
	_, report = LoadFS(inFile("parts.yaml", text+"  - sku: TM-00000\n    kind: bass blocker\n    capacitance: 1 uF\n"), []string{"parts.yaml"})
	if len(report.Problems) != 1 || report.Problems[0].Related == nil || report.Problems[0].Related.Line != 2 {
		t.Errorf("%+v", report.Problems)
	}
}
