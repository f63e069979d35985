package catalog

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	gocmp "github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"loudfor/catalog/demo"
	"loudfor/catalog/document"
	"loudfor/catalog/units"
)

// apartFromPositions compares catalogues by everything but where they stand.
var apartFromPositions = gocmp.Options{
	cmpopts.IgnoreUnexported(Catalogue{}),
	cmpopts.IgnoreFields(Part{}, "Where", "Keys"),
	cmpopts.IgnoreFields(Deal{}, "Where", "Keys"),
	cmpopts.IgnoreFields(Mention{}, "Where"),
	cmpopts.IgnoreFields(Offer{}, "Where"),
	cmpopts.IgnoreFields(Store{}, "Where"),
}

func reload(text string) (*Catalogue, *Report) {
	return LoadFS(fstest.MapFS{"parts.yaml": {Data: []byte(text)}}, []string{"parts.yaml"})
}

// again writes a catalogue and loads it.
func again(t interface{ Fatalf(string, ...any) }, c *Catalogue) (*Catalogue, string) {
	var b bytes.Buffer
	if err := WriteParts(&b, c); err != nil {
		t.Fatalf("%v", err)
	}
	back, report := reload(b.String())
	if err := report.Err(); err != nil {
		t.Fatalf("%v in\n%s", err, b.String())
	}
	return back, b.String()
}

func same(t interface{ Fatalf(string, ...any) }, c *Catalogue) string {
	back, text := again(t, c)
	if diff := gocmp.Diff(c, back, apartFromPositions); diff != "" {
		t.Fatalf("(-written +read):\n%s\nfrom\n%s", diff, text)
	}
	if _, second := again(t, back); second != text {
		t.Fatalf("written twice:\n%s\n%s", text, second)
	}
	return text
}

func TestWritePartsOfDemo(t *testing.T) {
	c, report := LoadFS(demo.FS, []string{demo.Parts})
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	text := same(t, c)
	// What people write is what is written.
	for _, line := range []string{"size: 12 in", "xmax: 9 mm", "coils: 2 x 4 ohm", "gauge: 4 AWG", "type: vented"} {
		if !strings.Contains(text, line) {
			t.Errorf("no %q in the written demo", line)
		}
	}
}

// sample draws a text for a value of a key within its range, from the tables
// that files are read with: a new key is in the test on the day it is added.
func sample(r *rand.Rand, s *document.Spec, indent string, met map[string]bool) string {
	low, high, dim := limits(s)
	draw := func() float64 {
		v := low + (high-low)*math.Pow(r.Float64(), 3)
		if r.IntN(2) == 0 { // as people write, and as conversions leave it
			return min(max(roundTo(v, 1+r.IntN(4)), low), high)
		}
		return v
	}
	q := func() string { return units.Plain(draw()) + unitOf(dim) }
	switch s.Shape {
	case document.Text:
		return []string{"plain", "Tamsel 12-inch value", "'null'", `"a: b # c"`, `"quote \" and \\ back"`, `"two\nlines"`, `"Größe 6½\""`, "'yes'", "'12'", `"\u2028 \U0001F508 \x07"`, "- x"[2:]}[r.IntN(11)]
	case document.Word:
		return s.Words[r.IntN(len(s.Words))]
	case document.Flag:
		return fmt.Sprint(r.IntN(2) == 0)
	case document.Whole:
		return fmt.Sprint(int(low) + r.IntN(int(high-low)+1))
	case document.Quantity, document.Named:
		if s.None != 0 && r.IntN(3) == 0 {
			if s.Free != "" {
				return s.Free
			}
			return "none"
		}
		return q()
	case document.Times, document.Sum:
		return fmt.Sprintf("%d x %s", 1+r.IntN(3), q())
	case document.Oval:
		if r.IntN(3) == 0 {
			return "6 x 9 in"
		}
		return q()
	case document.Size:
		return fmt.Sprintf("%s x %s x %s", q(), q(), q())
	case document.Pair:
		return fmt.Sprintf("%s x %s", q(), q())
	case document.Price:
		return fmt.Sprintf("%d.%02d USD", r.IntN(2000), r.IntN(100))
	case document.Wire:
		return []string{"4 AWG", "1/0 AWG", "4/0 AWG", "25 mm2", "21.15 mm2", units.Plain(1e-6+r.Float64()*1e-4) + " m2"}[r.IntN(6)]
	case document.Group:
		return "\n" + keysOfSample(r, s.Sub, indent+"  ", s.Key+".", 0.3, met)
	case document.Groups:
		if s.Key == "offers" {
			return " [{store: north, price: 3.50 USD, stock: 2}, {store: \"so: uth\", price: " + fmt.Sprint(r.IntN(90)) + " USD}]"
		}
		return " [{mode: mono, load: 4 ohm, watts: " + units.Plain(1+r.Float64()*300) + ", basis: measured, volts: 13.8 V}, {mode: mono, load: 2 ohm, watts: 300.5}]"
	}
	panic(fmt.Sprint("no sample of ", s.Key))
}

func limits(s *document.Spec) (low, high float64, dim units.Dimension) {
	dim = s.Dim
	if s.Shape == document.Oval || s.Shape == document.Size || s.Shape == document.Pair {
		dim = units.Length
	}
	a, b, ok := strings.Cut(strings.TrimPrefix(s.Range, ">"), "..")
	if !ok || s.Shape == document.Price {
		return 0, 1, dim
	}
	x, _ := units.ParseNamed(a, dim)
	y, _ := units.ParseNamed(b, dim)
	low, high = x.SI, y.SI
	if strings.HasPrefix(s.Range, ">") {
		low += (high - low) * 1e-5
	}
	return low, high, dim
}

func unitOf(d units.Dimension) string {
	if u := units.SIUnit(d); u != "" {
		return " " + u
	}
	return ""
}

func roundTo(v float64, digits int) float64 {
	var out float64
	fmt.Sscan(fmt.Sprintf("%.*g", digits, v), &out)
	return out
}

func keysOfSample(r *rand.Rand, specs []document.Spec, indent, prefix string, chance float64, met map[string]bool) string {
	var b strings.Builder
	for i := range specs {
		s := &specs[i]
		if s.Key == "sku" || s.Key == "kind" || !s.Required && r.Float64() > chance {
			continue
		}
		if s.Key == "offers" && !(met["store"] && met["price"]) {
			continue // other shops are beside the part's own
		}
		met[prefix+s.Key] = true
		fmt.Fprintf(&b, "%s%s: %s\n", indent, s.Key, sample(r, s, indent, met))
	}
	return b.String()
}

// Parts with random keys and values come back equal, and every key of every
// kind takes part, there or in the full parts below. Numbers that cannot be
// together are refused by the reader, so only what it accepts is written.
func TestWritePartsRandom(t *testing.T) {
	met := stated(t, full)
	const rounds = 300
	for seed := range uint64(rounds) {
		r := rand.New(rand.NewPCG(seed, 1))
		c := &Catalogue{}
		for k := range KindCount {
			seen := map[string]bool{}
			text := fmt.Sprintf("parts:\n  - sku: S%02d\n    kind: %s\n%s", k, k, keysOfSample(r, schemas[k].Specs(), "    ", "", 0.3*float64(1+r.IntN(3)), seen))
			one, report := reload(text)
			if report.Err() != nil {
				continue
			}
			for key := range seen {
				met[k][key] = true
			}
			c.Parts = append(c.Parts, one.Parts...)
			c.Currency = cmp.Or(c.Currency, one.Currency)
		}
		if len(c.Parts) > 0 {
			same(t, c)
		}
	}
	for k := range KindCount {
		for _, s := range schemas[k].Specs() {
			for _, key := range append(subKeys(s), s.Key) {
				if key != "sku" && key != "kind" && !met[k][key] {
					t.Errorf("%s: the key %s was never part of a valid sample", k, key)
				}
			}
		}
	}
}

// stated are the keys that the parts of a text state, by kind.
func stated(t *testing.T, text string) (met [KindCount]map[string]bool) {
	for k := range met {
		met[k] = map[string]bool{}
	}
	c, report := reload(text)
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	for _, p := range c.Parts {
		for _, k := range p.Keys {
			met[p.Kind][regexp.MustCompile(`\[\d+\]`).ReplaceAllString(k.Path.Value(), "")] = true
		}
	}
	return met
}

// subKeys are the keys inside a group; those of a rating are always written.
func subKeys(s document.Spec) (keys []string) {
	for _, sub := range s.Sub {
		if s.Shape == document.Group {
			keys = append(keys, s.Key+"."+sub.Key)
		}
	}
	return keys
}

// full holds every key that can stand together, one part for each way.
const full = `parts:
  - {sku: A, kind: subwoofer, name: n, maker: m, store: s, price: 1.05 USD, stock: 0, limit: 2, note: x, size: 12 in, coils: 2 x 4 ohm, rms: 250 W, cutout: 28 cm, depth: 13 cm, displacement: 2.1 L}
  - {sku: B, kind: loaded enclosure, drivers: 2, driver: {size: 6 x 9 in, coils: 4 ohm, fs: 40 Hz, sd: 215 cm2}, outside: 38 x 36 x 33 cm, type: vented, volume: 0.85 ft3, port: {count: 2, width: 4 cm, height: 12 cm, length: 25 cm, flanged_ends: 0}, leak_q: 9, absorption_q: 60}
  - {sku: C, kind: enclosure, holes: 2 x 10 in, type: band-pass, volume: 30 L, front_volume: 20 L, tuning: 55 Hz, depth: 20 cm, cutout: 23 cm}
  - {sku: D, kind: enclosure, holes: 10 in, type: vented, volume: 30 L, port: {diameter: 3 in, length: 10 in}}
  - {sku: E, kind: source, pre_outs: 3, pre_out_volts: 4, power: 4 x 17 W, load: 2 ohm, minimum_load: 2 ohm, high_pass: true, low_pass: true, bass_control: true, basis: claimed, supply: 13.8 V}
  - {sku: F, kind: wiring kit, gauge: 2/0 AWG, material: copper-clad aluminium, length: 17 ft, fuse: 2 x 60 A, basis: claimed}
  - {sku: G, kind: amplifier, channels: 4, class: D, fuse: 2 x 30 A, high_pass: true, low_pass: true, bass_control: true, speaker_input: true, ratings: [{mode: bridged, load: 4 ohm, watts: 0.15 kW, basis: standard, volts: 12 V}, {mode: stereo, load: 2 ohm, watts: 75}]}
  - {sku: "0x10", kind: bass blocker, capacitance: 220 uF}
  - {sku: "- H", kind: front speakers, load: 4 ohm, rms: 45 W, sensitivity: 88.5 dB, fs: 70 Hz, sd: 130 cm2, xmax: 3 mm, size: 6.5 in}
  - {sku: I, kind: line converter, channels: 2}
`

func TestWritePartsFull(t *testing.T) {
	c, report := reload(full)
	if err := report.Err(); err != nil {
		t.Fatal(err)
	}
	text := same(t, c)
	for _, line := range []string{"price: 1.05 USD", "stock: 0", "gauge: 2/0 AWG", "length: 17 ft", "volume: 0.85 ft3", "capacitance: 220 uF", `sku: "- H"`, `sku: "0x10"`, "outside: 38 x 36 x 33 cm"} {
		if !strings.Contains(text, line+"\n") {
			t.Errorf("no %q in\n%s", line, text)
		}
	}
	// A default that is stated means the same as one that is not.
	a, _ := reload("parts: [{sku: A, kind: source, load: 4 ohm, basis: standard, bass_control: false}]")
	b, _ := reload("parts: [{sku: A, kind: source, pre_outs: 0}]")
	if _, x := again(t, a); x != func() string { _, y := again(t, b); return y }() {
		t.Errorf("equal parts are written differently: %s", x)
	}
}

func TestWritePartsRefuses(t *testing.T) {
	for name, c := range map[string]*Catalogue{
		"without parts": New("USD", nil),
		"UTF-8":         New("USD", []*Part{{SKU: "A\xff", Kind: KindBlocker, Blocker: &BassBlocker{1e-4}}}),
		"space":         New("USD", []*Part{{SKU: " A", Kind: KindBlocker, Blocker: &BassBlocker{1e-4}}}),
		"description":   New("USD", []*Part{{SKU: "A", Kind: KindBlocker}}),
	} {
		var b bytes.Buffer
		if err := WriteParts(&b, c); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func BenchmarkWriteParts(b *testing.B) {
	c, report := LoadFS(demo.FS, []string{demo.Parts})
	if err := report.Err(); err != nil {
		b.Fatal(err)
	}
	var parts []*Part
	for n := 0; len(parts) < 10_000; n++ {
		p := *c.Parts[n%len(c.Parts)]
		p.SKU = fmt.Sprintf("%s-%05d", p.SKU, n)
		parts = append(parts, &p)
	}
	c = New(c.Currency, parts)
	var out bytes.Buffer
	for b.Loop() {
		out.Reset()
		if err := WriteParts(&out, c); err != nil {
			b.Fatal(err)
		}
	}
	b.SetBytes(int64(out.Len()))
}
