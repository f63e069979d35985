package catalog

import (
	"fmt"
	"strings"
	"testing"
)

// checked gives what Check says about one part.
func checked(t *testing.T, part string) []Problem {
	t.Helper()
	return Check(loadText(t, "parts:\n  - {sku: X, price: 1 USD, "+part+"}\n"))
}

func says(problems []Problem, s Severity, words string) *Problem {
	for i := range problems {
		if p := &problems[i]; p.Severity == s && strings.Contains(p.Summary+"\n"+p.Detail, words) {
			return p
		}
	}
	return nil
}

// Each warning comes on one side of its threshold and not on the other, and
// marks the value that it is about.
func TestCheck(t *testing.T) {
	const amp = "kind: amplifier, channels: 2, class: AB, fuse: 20 A, ratings: [{mode: bridged, load: 4 ohm, watts: %s, basis: claimed}]"
	const head = "kind: source, pre_outs: 2, power: %s"
	const box = "kind: enclosure, type: %s, holes: 1 x 12 in, volume: %s, outside: 38 x 36 x 33 cm"
	const port = "kind: enclosure, type: vented, holes: 1 x 12 in, volume: 45 L, port: {diameter: 10 cm, length: 25 cm}, tuning: %s"
	const two = "kind: amplifier, channels: 1, class: D, fuse: 90 A, ratings: [{mode: mono, load: 4 ohm, watts: 200 W}, {mode: mono, load: 2 ohm, watts: %s}]"
	const bridge = "kind: amplifier, channels: 2, class: D, fuse: 90 A, ratings: [{mode: stereo, load: 2 ohm, watts: 100 W}, {mode: bridged, load: 4 ohm, watts: %s}]"
	const low = "kind: amplifier, channels: 1, class: D, fuse: 200 A, ratings: [{mode: mono, load: %s, watts: 900 W}]"
	const kit = "kind: wiring kit, gauge: 8 AWG, length: 5 m, fuse: %s"
	for _, c := range []struct {
		form, good, bad string
		severity        Severity
		words, marked   string
	}{
		// 20 A x 14.4 V x 0.6 = 172.8 W.
		{amp, "172 W", "175 W", Warning, "more than the fuse can feed", "175 W"},
		// (14.4 V less the losses)^2 / 2 / 4 ohm is about 22.6 W.
		{head, "4 x 22 W", "4 x 24 W", Warning, "cannot come from 14.4 V", "4 x 24 W"},
		// Half the load takes twice the power at the same voltage, and bridged
		// channels give twice what one of them gives into half the load; 5 %
		// are let pass. Less power into less load means a limit of current.
		{two, "419 W", "421 W", Warning, "at most 400 W follow", "421 W"},
		{two, "191 W", "190 W", Info, "are less than 200 W", "190 W"},
		{bridge, "209 W", "211 W", Warning, "more than twice the 100 W", "211 W"},
		{low, "0.5 ohm", "0.4 ohm", Warning, "a very low load", "0.4 ohm"},
		// 38 x 36 x 33 cm are 45.144 L.
		{strings.Replace(box, "%s", "sealed", 1), "45.1 L", "45.2 L", Warning, "inside do not fit", "45.2 L"},
		{"kind: enclosure, type: vented, holes: 1 x 12 in, volume: 30 L, tuning: 35 Hz, front_volume: %s", "", "9 L", Warning, "only a band-pass box", "9 L"},
		// 45 L, 78.5 cm2, 25 cm with end corrections of 0.85 + 0.61 radii:
		// c/(2 pi) sqrt(S/(V L)) = 40.1 Hz; 8 % either side is let pass.
		{port, "37.3 Hz", "37 Hz", Warning, "the port's size gives 40.1 Hz", "37 Hz"},
		{port, "43.2 Hz", "43.5 Hz", Warning, "the port's size gives 40.1 Hz", "43.5 Hz"},
		// 30 L with a port of the usual area, 10.2 cm wide: of 1.2 m and 10 L at 25.3 Hz,
		// 8 m long at 10 Hz; as a mere hole 105 Hz.
		{"kind: enclosure, type: vented, holes: 1 x 12 in, volume: 30 L, tuning: %s", "26 Hz", "25 Hz", Warning, "of its chamber", "25 Hz"},
		{"kind: enclosure, type: vented, holes: 1 x 12 in, volume: 30 L, tuning: %s", "26 Hz", "10 Hz", Warning, "have no room for it", "10 Hz"},
		{"kind: enclosure, type: vented, holes: 1 x 12 in, volume: 30 L, tuning: %s", "104 Hz", "106 Hz", Warning, "no port of the usual area", "106 Hz"},
		// 4 x 32 cm take 16.6 L at 1.3 m: a third of 50 L.
		{"kind: enclosure, type: vented, holes: 1 x 12 in, volume: 50 L, port: {width: 4 cm, height: 32 cm, length: %s}", "1.3 m", "1.31 m", Warning, "of its chamber", ""},
		// 8 AWG carries 65 A (ABYC E-11, from memory).
		{kit, "65 A", "70 A", Warning, "does not protect a cable", "70 A"},
		{"kind: wiring kit, gauge: 8 AWG, length: 5 m, fuse: 30 A, material: %s", "copper", "copper-clad aluminium", Info, "carries as copper of 64 %", "copper-clad aluminium"},
		{"kind: wiring kit, gauge: 8 AWG, length: 5 m, fuse: 30 A, basis: %s", "measured", "claimed", Info, "the maker's claim", "claimed"},
		{"kind: subwoofer, size: 12 in, coils: 4 ohm, cutout: %s", "31 cm", "31.2 cm", Warning, "wider than the driver", "31.2 cm"},
		{"kind: enclosure, type: sealed, holes: 1 x %s, volume: 20 L, outside: 38 x 36 x 33 cm", "14 in", "15 in", Warning, "does not fit", "1 x 15 in"},
		{"kind: enclosure, type: sealed, holes: 1 x 10 in, volume: 20 L, outside: 38 x 36 x 33 cm, depth: %s", "37 cm", "39 cm", Warning, "of depth inside do not fit", "39 cm"},
		{"kind: loaded enclosure, type: sealed, volume: 20 L, outside: 38 x 36 x 33 cm, driver: {size: %s, coils: 4 ohm}", "14 in", "15 in", Warning, "does not fit a box", "15 in"},
		// Cones of 36 g, 48 g and 1.7 kg, and travel in spreads of 0.45 about 7 mm.
		{"kind: subwoofer, size: 10 in, coils: 4 ohm, fs: 32 Hz, qts: 0.55, xmax: 9 mm, vas: %s", "36 L", "125 L", Warning, "moving mass", "125 L"},
		{"kind: subwoofer, size: 12 in, coils: 4 ohm, fs: 31 Hz, qts: 0.60, xmax: 9 mm, vas: %s", "58 L", "200 L", Warning, "moving mass", "200 L"},
		{"kind: subwoofer, size: 12 in, coils: 4 ohm, fs: 31 Hz, qts: 0.60, xmax: 9 mm, vas: %s", "58 L", "5.8 L", Warning, "moving mass", "5.8 L"},
		{"kind: subwoofer, size: 8 in, coils: 4 ohm, fs: 40 Hz, qts: 0.60, vas: 12 L, xmax: %s", "21 mm", "22 mm", Warning, "travel", "22 mm"},
		{"kind: subwoofer, size: 8 in, coils: 4 ohm, fs: 40 Hz, qts: 0.60, vas: 12 L, xmax: %s", "7 mm", "60 mm", Warning, "travel", "60 mm"},
		// Qts = Qms Qes/(Qms + Qes) = 0.444.
		{"kind: subwoofer, size: 12 in, coils: 4 ohm, qms: 4, qes: 0.5, qts: %s", "0.444", "0.35", Warning, "Qts = Qms Qes/(Qms+Qes) is off", "0.35"},
	} {
		if c.good != "" {
			if p := says(checked(t, strings.Replace(c.form, "%s", c.good, 1)), c.severity, c.words); p != nil {
				t.Errorf("%s: said %q", c.good, p.Summary)
			}
		}
		problems := checked(t, strings.Replace(c.form, "%s", c.bad, 1))
		p := says(problems, c.severity, c.words)
		if p == nil {
			t.Errorf("%s: %q is not among %v", c.bad, c.words, problems)
			continue
		}
		if c.marked != "" && p.Text != c.marked {
			t.Errorf("%s: marked %q at %v, want %q", c.bad, p.Text, p.Where, c.marked)
		}
	}
}

// With enough on the card the wrong number is the one that is marked. With too
// little any of those in the identity may be it: the least believed is marked,
// and the next cited.
func TestCheckMarksTheWrongNumber(t *testing.T) {
	// 31 Hz, 480 cm2 and 120 g make 72 L, and with Qes 0.65 a level of 87.2 dB.
	const whole = "fs: 31 Hz, vas: 110 L, sd: 480 cm2, mms: 120 g, qes: 0.65, qms: 8, sensitivity: 87.2 dB"
	const little = "fs: 31 Hz, vas: 110 L, qes: 0.65, qms: 8, sensitivity: 87.2 dB"
	for _, c := range []struct{ form, card, marked string }{
		{"kind: subwoofer, size: 12 in, coils: 4 ohm, %s", whole, "110 L"},
		{"kind: subwoofer, size: 12 in, coils: 4 ohm, %s", little, "87.2 dB"},
		{"kind: loaded enclosure, type: sealed, volume: 20 L, driver: {size: 12 in, coils: 4 ohm, %s}", little, "87.2 dB"},
	} {
		text := "parts:\n  - {sku: X, price: 1 USD, " + strings.Replace(c.form, "%s", c.card, 1) + "}\n"
		p := says(Check(loadText(t, text)), Warning, "eta0 = ")
		if p == nil || p.Text != c.marked || p.Related == nil {
			t.Errorf("%s: %+v", c.card, p)
			continue
		}
		other := strings.Split(text, "\n")[1][p.Related.Column-1:]
		if c.marked != "110 L" && !strings.HasPrefix(other, "110 L") || strings.HasPrefix(other, c.marked) {
			t.Errorf("%s: contradicts %q", c.card, other)
		}
	}
}

func TestCheckRemarks(t *testing.T) {
	for part, words := range map[string]string{
		"kind: subwoofer, size: 12 in, coils: 4 ohm, fs: 31 Hz, qts: 0.6":                                                           "assumed as typical of the size: Qms",
		"kind: amplifier, channels: 1, ratings: [{mode: mono, load: 4 ohm, watts: 100}]":                                            "the class is not stated",
		"kind: amplifier, channels: 1, class: D, ratings: [{mode: mono, load: 4 ohm, watts: 100, basis: claimed}]":                  "the fuse is not stated",
		"kind: amplifier, channels: 1, class: D, fuse: 30 A, ratings: [{mode: mono, load: 4 ohm, watts: 9}]":                        "one rating for mono",
		"kind: wiring kit, gauge: 8 AWG, length: 5 m":                                                                               "the kit has no fuse",
		"kind: enclosure, type: sealed, holes: 1 x 12 in, volume: 20 L, tuning: 30 Hz":                                              "a sealed box has no tuning",
		"kind: enclosure, type: sealed, holes: 1 x 12 in, volume: 20 L, port: {diameter: 5 cm, length: 5 cm}, outside: 1 x 1 x 1 m": "a sealed box has no port",
	} {
		problems := checked(t, part)
		if says(problems, Info, words) == nil && says(problems, Warning, words) == nil {
			t.Errorf("%s: %q is not among %v", part, words, problems)
		}
	}
	c := loadText(t, "parts:\n  - {sku: X, kind: bass blocker, capacitance: 220 uF}\n")
	if says(Check(c), Info, "it has no price") == nil {
		t.Error("a part without a price is passed over")
	}
}

// A good part gives rise to nothing.
func TestCheckIsQuiet(t *testing.T) {
	for _, part := range []string{
		"kind: amplifier, channels: 1, class: D, fuse: 60 A, ratings: [{mode: mono, load: 4 ohm, watts: 300, basis: measured}, {mode: mono, load: 2 ohm, watts: 500, basis: measured}]",
		"kind: enclosure, type: vented, holes: 1 x 12 in, volume: 45 L, tuning: 36 Hz, outside: 60 x 40 x 40 cm",
		"kind: source, pre_outs: 2, power: 4 x 17 W", "kind: line converter, channels: 2", "kind: bass blocker, capacitance: 220 uF",
		"kind: wiring kit, gauge: 4 AWG, length: 5 m, fuse: 100 A", "kind: front speakers, load: 4 ohm, rms: 45 W",
	} {
		if problems := checked(t, part); len(problems) > 0 {
			t.Errorf("%s: %+v", part, problems)
		}
	}
}

// A catalogue that was made by hand has no places, but is checked all the same.
func TestCheckWithoutFiles(t *testing.T) {
	k := &Part{SKU: "K", Kind: KindKit, Priced: true, Kit: &WiringKit{Area: 1e-6, Length: 5, Fuse: 100}}
	problems := Check(New("USD", []*Part{k}))
	if says(problems, Warning, "does not protect") == nil {
		t.Errorf("%v", problems)
	}
}

// What is said comes in the order of the places, whatever the order of parts.
func TestCheckIsSorted(t *testing.T) {
	var b strings.Builder
	b.WriteString("parts:\n")
	for i := range 50 {
		fmt.Fprintf(&b, "  - {sku: %c%d, kind: bass blocker, capacitance: 1 uF}\n", 'z'-i%26, i)
	}
	problems := Check(loadText(t, b.String()))
	for i := range problems {
		if i > 0 && problems[i].Where.Compare(problems[i-1].Where) < 0 {
			t.Errorf("%v comes after %v", problems[i].Where, problems[i-1].Where)
		}
	}
	if len(problems) != 50 {
		t.Errorf("%d problems", len(problems))
	}
}

// Seven kits at 20 to 32 and one more: the median is 26, and a quarter of it is
// where a price begins to look like a slip.
func TestCheckPrices(t *testing.T) {
	shelf := func(price string, others int) []Problem {
		text := "parts:\n  - {sku: X, kind: wiring kit, gauge: 8 AWG, length: 5 m, fuse: 30 A, price: " + price + "}\n"
		for i := range others {
			text += fmt.Sprintf("  - {sku: K-%d, kind: wiring kit, gauge: 8 AWG, length: 5 m, fuse: 30 A, price: %d USD}\n", i, 20+2*i)
		}
		return Check(loadText(t, text))
	}
	if p := says(shelf("2.60 USD", 7), Warning, "very cheap for a wiring kit"); p == nil || p.Text != "2.60 USD" {
		t.Errorf("a tenth of the price: %v", p)
	}
	if p := says(shelf("9.00 USD", 7), Warning, "very cheap"); p != nil {
		t.Errorf("a third of the price: %v", p)
	}
	if p := says(shelf("2.60 USD", 6), Warning, "very cheap"); p != nil {
		t.Errorf("seven prices are too few to tell: %v", p)
	}
}

func TestCheckTwins(t *testing.T) {
	const text = "parts:\n" +
		"  - {sku: A, kind: subwoofer, name: one, price: 40 USD, size: 12 in, coils: 4 ohm, rms: 250 W}\n" +
		"  - {sku: B, kind: subwoofer, name: other, store: east, price: 30 USD, stock: 1, size: 30.48 cm, coils: 4 ohm, rms: 0.25 kW}\n" +
		"  - {sku: C, kind: subwoofer, price: 30 USD, size: 12 in, coils: 4 ohm, rms: 251 W}\n"
	found := Check(loadText(t, text))
	if p := says(found, Info, "B: every figure is that of A"); p == nil || p.Related == nil || p.Related.Line != 2 {
		t.Errorf("%v", found)
	}
	if p := says(found, Info, "C: every figure"); p != nil {
		t.Error(p)
	}
}
