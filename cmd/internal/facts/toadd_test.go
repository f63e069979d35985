package facts

import (
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/model/front"
	"loudfor/model/preferred"
	"loudfor/optimizer"
)

// What would keep bass from the front is the cheapest part of the catalogue that keeps
// enough away, or else a capacitor whose price has to be asked for. 1 / (2 pi R C) by
// hand: 150 uF before 4 ohm part at 265 Hz, 180 uF at 221 Hz, 330 uF at 121 Hz.
func TestBlockerToWishFor(t *testing.T) {
	b := optimizer.Build{Front: optimizer.Front{Power: optimizer.FromSource, Given: 25, Stage: front.Stage{Load: 4, Size: 0.165, Xmax: 2e-3, Sd: 0.0133, Fs: 70, Power: 60}}}
	farads, hz := Capacitor(b)
	if !(hz > 121 && hz <= 221) || farads != preferred.Blocker(4, hz) {
		t.Fatalf("%g F at %g Hz: the case says nothing", farads, hz)
	}
	part := func(sku string, uF float64, price int64, stock int) *catalog.Part {
		return &catalog.Part{SKU: sku, Name: "blocker " + sku, Kind: catalog.KindBlocker, Priced: true, Stock: stock,
			Price: catalog.Money{Minor: price, Currency: "USD"}, Blocker: &catalog.BassBlocker{Capacitance: uF * 1e-6}}
	}
	wish := func(q Question) string { all := ToAdd(q, b); return all[len(all)-1] }
	q := Question{Shelf: []*catalog.Part{part("LOW", 330, 100, catalog.Unlimited), part("OUT", 150, 200, 0), part("DEAR", 150, 900, catalog.Unlimited), part("FIT", 180, 650, 2)}}
	if got := wish(q); !strings.Contains(got, "blocker FIT for the front") {
		t.Error(got)
	}
	q.Brief.Never = []catalog.Mention{{SKU: "FIT", Count: 1}}
	if got := wish(q); !strings.Contains(got, "25.0 W a side (9.00 USD before tax;") {
		t.Error(got)
	}
	if got := wish(Question{}); !strings.Contains(got, "uF in series with each front speaker for the front") {
		t.Error(got)
	}
	b.Front.HighPass = 80
	if farads, _ := Capacitor(b); farads != 0 {
		t.Error("a high-pass that is there is not enough")
	}
}
