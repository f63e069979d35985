package facts

import (
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/model/front"
	"loudfor/model/preferred"
	"loudfor/optimizer"
)

// What would keep bass from the front is the part of the catalogue that keeps enough away
// and the least above it, or else a capacitor whose price has to be asked for.
// 1 / (2 pi R C) by hand: 150 uF before 4 ohm part at 265 Hz, 180 uF at 221 Hz, 330 uF at
// 121 Hz.
func TestBlockerToWishFor(t *testing.T) {
	b := optimizer.Build{Front: optimizer.Front{Power: optimizer.FromSource, Given: 25, Stage: front.Stage{Load: 4, Size: 0.165, Xmax: 2e-3, Sd: 0.0133, Fs: 70, Power: 60}}}
	if w, ok := BlockerWish(Question{}, b); !ok || !(w.Least > 121 && w.Least <= 221) {
		t.Fatalf("%+v: the case says nothing", w)
	}
	part := func(sku string, uF float64, price int64, stock int) *catalog.Part {
		return &catalog.Part{SKU: sku, Name: "blocker " + sku, Kind: catalog.KindBlocker, Priced: true, Stock: stock, Limit: catalog.Unlimited, Store: "Dock",
			Price: catalog.Money{Minor: price, Currency: "USD"}, Blocker: &catalog.BassBlocker{Capacitance: uF * 1e-6}}
	}
	wish := func(q Question) string { all := ToAdd(q, b); return all[len(all)-1] }
	q := Question{Shelf: []*catalog.Part{part("LOW", 330, 100, catalog.Unlimited), part("TINY", 4.7, 50, catalog.Unlimited), part("OUT", 150, 200, 0),
		part("DEAR", 150, 900, catalog.Unlimited), part("FAIR", 150, 800, catalog.Unlimited), part("FIT", 180, 950, 2)}}
	if got := wish(q); !strings.Contains(got, "if wished, blocker FIT, high-pass at 221 Hz, for the front's full 25.0 W a side (9.50 USD before tax;") {
		t.Error(got)
	}
	q.Brief.Never = []catalog.Mention{{SKU: "FIT", Count: 1}}
	if got := wish(q); !strings.Contains(got, "if wished, blocker FAIR, high-pass at 265 Hz") {
		t.Error(got)
	}
	q.Brief.Stores = []string{"Pell"}
	if got := wish(q); !strings.Contains(got, "uF in series with each speaker, high-pass at ") || strings.Contains(got, "blocker") {
		t.Error(got)
	}
	// The nearest of a series may let through too much; what is wished for never does.
	less := 0
	for b.Front.Given = 5; b.Front.Given < 40; b.Front.Given++ {
		w, ok := BlockerWish(Question{}, b)
		if ok && preferred.Corner(4, w.Farads) < w.Least {
			t.Errorf("%g W: %s, and the cones stand it from %g Hz on", b.Front.Given, w, w.Least)
		}
		if ok && w.Farads < preferred.Blocker(4, w.Least) {
			less++
		}
	}
	if less == 0 {
		t.Error("the nearest always does: the case says nothing")
	}
	b.Front.HighPass = 80
	if _, ok := BlockerWish(q, b); ok {
		t.Error("a high-pass that is there is not enough")
	}
}
