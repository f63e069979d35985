package tables

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"go.yaml.in/yaml/v3"

	"loudfor/catalog"
)

// Headers as they come: with units in the names, below them or above them,
// with headings over several columns, in other words. Common practice, no
// source.
func TestHeaders(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"units in the names": {
			"SKU,Kind,Driver size (in),Voice coils,Power handling (W),fs (Hz),Vas [L],Xmax mm,\"Sd, cm2\",Price in EUR\nA,sub,12,dual 4 ohm,250,31,58,9,480,39\n",
			"size 12 in, coils 2 x 4 ohm, rms 250 W, fs 31 Hz, vas 58 L, xmax 9 mm, sd 480 cm2, price 39 EUR"},
		"units in a row": {
			"SKU;Kind;Size;Coils;RMS;fs;Vas\n;;in;ohm;W;Hz;L\nA;sub;12;2 x 4;250;31;58\n",
			"size 12 in, coils 2 x 4 ohm, rms 250 W, fs 31 Hz, vas 58 L"},
		"headings above": {
			"Spring list,,,,,\n,,,RMS power,,\nSKU,Kind,Channels,4 ohm stereo,4 ohm bridged,Price (USD)\nA,amp,4,50,150,99\n",
			"channels 4, ratings stereo 4 ohm 50 W; bridged 4 ohm 150 W, price 99 USD"},
		"headings with names below": {
			"SKU\tKind\tChannels\tWatts\t\tPrice (USD)\n\t\t\t4 ohm\t2 ohm\t\nA\tamp\t1\t200\t350\t99\n",
			"channels 1, ratings mono 4 ohm 200 W; mono 2 ohm 350 W, price 99 USD"},
		"pieces of a value": {
			"Code,Category,Box type,No of holes,Hole size (in),Net volume (L),Width (cm),External depth (cm),Height (cm),Fb,Cost\nA,boxes,ported,2,12,60,90,40,38,36 Hz,80 USD\n",
			"type vented, holes 2 x 12 in, volume 60 L, outside 90 cm x 40 cm x 38 cm, tuning 36 Hz, price 80 USD"},
		"other words": {
			"Item,Type of thing,Product type,Conductor,AWG,Cable length,Price (USD)\nA,x,cables,CCA,4,5 m,20\n",
			"material copper-clad aluminium, gauge 4 AWG, length 5 m, price 20 USD"},
		"nothing where nothing is known": {
			"SKU,Kind,Size,Impedance,RMS,Qts,Xmax,Price\nA,sub,12 in,4 ohm,250 W,n/a,-,39 USD\n",
			"size 12 in, coils 4 ohm, rms 250 W, price 39 USD"},
		"a loaded box with a bare card": {
			"SKU,Kind,Size,Coils,Box type,Volume,fs,Price\nA,loaded boxes,10 in,2 ohm,sealed,20 L,40 Hz,90 USD\n",
			"driver.size 10 in, driver.coils 2 ohm, type sealed, volume 20 L, driver.fs 40 Hz, price 90 USD"},
	} {
		t.Run(name, func(t *testing.T) {
			l := readList(t, c.text)
			if len(l.rows.parts) != 1 {
				t.Fatalf("%d parts", len(l.rows.parts))
			}
			got := map[string]string{}
			each(l.rows.parts[0].node(), "", func(key string, v *yaml.Node) {
				if key != "sku" && key != "kind" {
					got[key+" "+strings.ReplaceAll(cellText(key, v), ", ", "; ")] = ""
				}
			})
			want := map[string]string{}
			for item := range strings.SplitSeq(c.want, ", ") {
				want[item] = ""
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// What could be two things is refused, at its cell.
func TestRefused(t *testing.T) {
	for _, c := range []struct{ text, where, summary string }{
		{"SKU,Kind,Capacitance,Price (USD)\nA,bass blocker,220,5\n", "list.csv:2:16", "has no unit"},
		{"SKU,Kind,Capacitance,Value (uF),Price (USD)\nA,bass blocker,220 uF,200,5\n", "list.csv:1:1", ""},
		{"SKU,Kind,Capacitance,Price (USD)\nA,bass blocker,220 uF,5\nA,bass blocker,100 uF,5\n", "list.csv:3:1", "stands in two rows"},
		{"SKU,Kind,Capacitance,Price (USD)\nA,bass blocker,220 uF,5,7\n", "list.csv:2:25", "5 values, but the header names 4 columns"},
		{"SKU,Kind,Capacitance,Price (USD)\nA,bass blocker,220 uF,5 EUR\nB,bass blocker,220 uF,5\n", "", ""},
		{"SKU,Kind,Capacitance,Price (USD)\n", "list.csv", "holds no part"},
		{"", "list.csv", "empty"},
		{"SKU,Kind,watts 4 ohm,Price (USD),channels\nA,amplifier,lots,5,1\n", "list.csv:2:13", "does not start with a number"},
		{"SKU,Kind,ratings,channels,Price (USD)\nA,amplifier,stereo 4 ohm,4,5\n", "list.csv:2:13", "is not a rating"},
	} {
		_, report := Read("list.csv", []byte(c.text), Options{Kind: catalog.KindCount})
		if c.summary == "" {
			continue
		}
		if report.Err() == nil {
			t.Errorf("%q was read", c.text)
			continue
		}
		p := report.Problems[0]
		if p.Where.String() != c.where || !strings.Contains(p.Summary, c.summary) {
			t.Errorf("%q: %s %s", c.text, p.Where, p.Summary)
		}
	}
}

// Two columns that mean the same, for a list of one kind, are an error.
func TestTwoColumnsForOneKey(t *testing.T) {
	_, report := Read("list.csv", []byte("SKU,Capacitance,Value (uF),Price (USD)\nA,220 uF,200,5\n"), Options{Kind: catalog.KindBlocker})
	if len(report.Problems) != 1 || !strings.Contains(report.Problems[0].Summary, `a second column for capacitance: "Value (uF)"`) {
		t.Error(report.Problems)
	}
}

// No name of a column stands for two keys of one kind: which one a list is read
// by would be chance.
func TestNamesAreUnique(t *testing.T) {
	for k := range catalog.KindCount {
		seen := map[string]string{}
		for _, names := range ofKind[k] {
			for key, list := range names {
				for _, name := range list {
					name, _, _ := strings.Cut(name, "|")
					if other, again := seen[tidied(name)]; again && other != key {
						t.Errorf("%s: %q is %s and %s", k, name, other, key)
					}
					seen[tidied(name)] = key
				}
				if _, ok := specs()[k][key]; !ok && whole()[key] == "" {
					if _, ok := specs()[k]["driver."+key]; !ok && k != catalog.KindLoaded {
						t.Errorf("%s has no key %s", k, key)
					}
				}
			}
		}
	}
}

// BenchmarkReadWorkbook reads a distributor's workbook of 50,000 rows.
func BenchmarkReadWorkbook(b *testing.B) {
	content := workbook(b, 50_000)
	b.SetBytes(int64(len(content)))
	b.ReportAllocs()
	for b.Loop() {
		if _, report := Read("parts.xlsx", content, Options{Kind: catalog.KindCount}); report.Err() != nil {
			b.Fatal(report.Err())
		}
	}
}

// workbook makes a list of n parts out of those of the demo.
func workbook(t testing.TB, n int) []byte {
	t.Helper()
	shelf := demoParts(t).Parts
	parts := make([]*catalog.Part, n)
	for i := range parts {
		p := *shelf[i%len(shelf)]
		p.SKU = fmt.Sprintf("%s-%d", p.SKU, i)
		parts[i] = &p
	}
	var b strings.Builder
	if err := WriteXLSX(&b, catalog.New("USD", parts)); err != nil {
		t.Fatal(err)
	}
	return []byte(b.String())
}
