package workshop

import (
	"math"
	"slices"
	"testing"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/driver"
	"loudfor/model/joinery"
	"loudfor/optimizer"
)

func dollars(cents int64) catalog.Money { return catalog.Money{Minor: cents, Currency: "USD"} }

// TestWhatABoxCosts, by hand: 60 x 40 x 36 cm of 18 mm, six boards and a brace, of sheets of 62 x
// 62 cm, each taking one large board or two or three small ones, at 20 a sheet, and an
// hour at 30 for 1,200 s a box, 120 s a board and 300 s a hole: 1,200 + 7 x 120 + 300
// = 2,340 s, 19.50.
func TestWhatABoxCosts(t *testing.T) {
	d := joinery.Design{Outside: joinery.Size{0.60, 0.40, 0.36}, Thickness: 0.018, Drivers: 1, Mount: joinery.Mount{Size: 0.254}}
	made, err := d.Build()
	if err != nil {
		t.Fatal(err)
	}
	sheet := &catalog.Part{SKU: "SHEET", Kind: catalog.KindSheet, Priced: true, Price: dollars(2000), Sheet: &catalog.Sheet{Thickness: 0.018, Length: 0.62, Width: 0.62}}
	shop := &catalog.Part{SKU: "SHOP", Kind: catalog.KindWorkshop, Priced: true, Price: dollars(3000),
		Workshop: &catalog.Workshop{PerBox: 1200, PerPanel: 120, PerHole: 300, PerPort: 999}}
	for _, c := range []struct {
		name           string
		owned          []catalog.Mention
		byArea         bool
		material, work func(sheets int, used float64) int64
	}{
		{"whole sheets", nil, false, func(n int, _ float64) int64 { return 2000 * int64(n) }, func(int, float64) int64 { return 1950 }},
		{"one sheet is there", []catalog.Mention{{SKU: "SHEET", Count: 1}}, false, func(n int, _ float64) int64 { return 2000 * int64(n-1) }, func(int, float64) int64 { return 1950 }},
		{"all are there", []catalog.Mention{{SKU: "SHEET", Count: 99}}, false, func(int, float64) int64 { return 0 }, func(int, float64) int64 { return 1950 }},
		{"built at home", []catalog.Mention{{SKU: "SHOP"}}, false, func(n int, _ float64) int64 { return 2000 * int64(n) }, func(int, float64) int64 { return 0 }},
		{"by area", nil, true, func(_ int, used float64) int64 { return int64(math.Ceil(2000 * used / 0.3844)) }, func(int, float64) int64 { return 1950 }},
	} {
		s := *sheet
		s.Sheet = &catalog.Sheet{Thickness: 0.018, Length: 0.62, Width: 0.62, ByArea: c.byArea}
		b := &Box{Joinery: made, Sheet: &s, Workshop: shop}
		if err := b.cut(&catalog.Brief{Owned: c.owned}); err != nil {
			t.Fatal(err)
		}
		if b.Nesting.Sheets < 3 {
			t.Fatalf("%d sheets: the case says little", b.Nesting.Sheets)
		}
		if want := c.material(b.Nesting.Sheets, b.Nesting.Used); b.Material.Minor != want {
			t.Errorf("%s: %d sheets cost %d, want %d", c.name, b.Nesting.Sheets, b.Material.Minor, want)
		}
		if want := c.work(0, 0); b.Work.Minor != want || math.Abs(b.Hours-2340.0/3600) > 1e-12 {
			t.Errorf("%s: %g hours cost %d, want %d", c.name, b.Hours, b.Work.Minor, want)
		}
	}
}

// TestBoxHasAPrice: where what has to be bought and the workshop have one.
func TestBoxHasAPrice(t *testing.T) {
	d := joinery.Design{Outside: joinery.Size{0.60, 0.40, 0.36}, Thickness: 0.018, Drivers: 1, Mount: joinery.Mount{Size: 0.254}}
	made, err := d.Build()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ sheet, shop, ownsSheets, ownsShop, priced bool }{
		{true, true, false, false, true}, {false, true, false, false, false}, {true, false, false, false, false}, {false, false, false, false, false},
		{false, true, true, false, true}, {true, false, false, true, true}, {false, false, true, true, true}, {false, false, true, false, false},
	} {
		var brief catalog.Brief
		if c.ownsSheets {
			brief.Owned = append(brief.Owned, catalog.Mention{SKU: "SHEET", Count: 99})
		}
		if c.ownsShop {
			brief.Owned = append(brief.Owned, catalog.Mention{SKU: "SHOP"})
		}
		b := &Box{Joinery: made, Sheet: &catalog.Part{SKU: "SHEET", Priced: c.sheet, Sheet: &catalog.Sheet{Thickness: 0.018, Length: 2, Width: 1}},
			Workshop: &catalog.Part{SKU: "SHOP", Priced: c.shop, Workshop: &catalog.Workshop{PerBox: 60}}}
		if err := b.cut(&brief); err != nil || b.priced != c.priced {
			t.Errorf("%+v: priced %t, %v", c, b.priced, err)
		}
	}
}

// TestWaysToDrive: two drivers on an amplifier of two channels have one each, or share
// one of them, or the two bridged, in series or in parallel, as far as its loads allow.
func TestWaysToDrive(t *testing.T) {
	amp := &catalog.Part{SKU: "A", Kind: catalog.KindAmplifier, Priced: true, Price: dollars(100), Amplifier: &catalog.Amplifier{Spec: amplifier.Spec{Channels: 2, Ratings: []amplifier.Rating{
		{Mode: amplifier.Stereo, Load: 2, Watts: 100}, {Mode: amplifier.Bridged, Load: 4, Watts: 200}}}}}
	b := &bench{p: optimizer.Problem{}}
	all := b.drives(pair{driver: driver.Driver{Coils: 1, CoilLoad: 4}, n: 2}, []*catalog.Part{amp})
	var got [][3]int
	for _, p := range all {
		if p.price != 100 {
			t.Errorf("costs %d", p.price)
		}
		got = append(got, [3]int{p.drive.Outputs, p.drive.Series, p.drive.Parallel})
	}
	// Stereo down to 2 ohm: one channel, in parallel 2 ohm or in series 8, and one each, 4
	// ohm. Bridged down to 4: in series only.
	want := [][3]int{{1, 1, 2}, {1, 2, 1}, {2, 1, 1}, {1, 2, 1}}
	if !slices.Equal(got, want) {
		t.Errorf("outputs, series, parallel %v, want %v", got, want)
	}
}

// TestWorthwhile: what is louder than all that is cheaper by more than the gain, up to
// the most that may be spent, that itself allowed, and the loudest in any case.
func TestWorthwhile(t *testing.T) {
	at := func(price int64, level float64) trial {
		return trial{box: &Box{Material: dollars(price)}, levels: []float64{level}}
	}
	all := []trial{at(50, 100), at(30, 97), at(40, 96), at(60, 100.3), at(70, 103), at(45, 99.8), at(30, 98)}
	for _, c := range []struct {
		most int64
		gain float64
		want []int64 // prices
	}{
		{70, 0, []int64{30, 45, 50, 60, 70}}, {69, 0, []int64{30, 45, 50, 60}}, {70, 1, []int64{30, 45, 70}},
		{60, 1, []int64{30, 45, 60}}, // less than the gain, but the loudest
		{30, 1, []int64{30}}, {29, 1, nil},
	} {
		var got []int64
		for _, x := range worthwhile(all, 0, c.most, c.gain) {
			got = append(got, x.price())
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("for %d at most, by %g dB: %v, want %v", c.most, c.gain, got, c.want)
		}
	}
	if best := worthwhile(all, 0, 30, 0); best[0].levels[0] != 98 {
		t.Errorf("of two that cost as much, the one of %g dB", best[0].levels[0])
	}
}
