package workshop

import (
	"testing"

	"loudfor/catalog"
	"loudfor/model/air"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/optimizer"
)

func drivers() []*catalog.Part {
	var parts []*catalog.Part
	for _, sku := range []string{"A", "B"} {
		parts = append(parts, &catalog.Part{SKU: sku, Kind: catalog.KindSubwoofer, Priced: true, Price: catalog.Money{Minor: 100}, Stock: 3, Limit: catalog.Unlimited,
			Subwoofer: &catalog.Subwoofer{Card: driver.Card{Size: 0.3048, Coils: 1, CoilLoad: 4, Fs: 30, Qts: 0.5, Vas: 0.058, Xmax: 0.01, Power: 250}}})
	}
	return append(parts, &catalog.Part{SKU: "AMP", Kind: catalog.KindAmplifier, Priced: true, Stock: 1, Limit: 1})
}

// A brief that asks for a driver gets boxes for it alone; one that asks for something
// else, for all, in every number that there is money and stock for.
func TestPairsThatAreWanted(t *testing.T) {
	for _, c := range []struct {
		must []string
		most int
		cap  int64
		want int
	}{
		{nil, 2, 0, 4}, {nil, 5, 0, 6}, {nil, 2, 150, 2}, {nil, 2, 100, 2}, {nil, 2, 99, 0}, {nil, 0, 0, 6},
		{[]string{"A"}, 2, 0, 2}, {[]string{"AMP"}, 2, 0, 4}, {[]string{"AMP", "B"}, 2, 0, 2}, {[]string{"GONE"}, 2, 0, 4},
	} {
		b := &bench{p: optimizer.Problem{Catalogue: catalog.New("USD", drivers()), Brief: catalog.Brief{Drivers: c.most, Cap: catalog.Money{Minor: c.cap}}}, air: air.At(20)}
		for _, sku := range c.must {
			b.p.Brief.Must = append(b.p.Brief.Must, catalog.Mention{SKU: sku, Count: 1})
		}
		got := b.pairs()
		if len(got) != c.want {
			t.Errorf("%+v: %d pairs, want %d", c, len(got), c.want)
		}
	}
}

// A slot of the length that the grid begins with has about the tuning that it is for:
// exactly in the air that is guessed to be left.
func TestLengthOfASlot(t *testing.T) {
	b := &bench{air: air.At(20)}
	part := drivers()[0]
	part.Subwoofer.Displacement = 0.002
	for n := 1; n <= 2; n++ {
		for _, tuning := range []float64{28, 35, 45} {
			const gross, slot, high = 0.064, 0.04, 0.4
			length := b.length(pair{part: part, n: n}, gross, slot, tuning)
			p := enclosure.Port{Count: 1, Width: slot, Height: high, FlangedEnds: 2, Length: length}
			if got := p.Tuning(gross*0.85-0.002*float64(n), b.air); !(got > tuning*0.999 && got < tuning*1.001) {
				t.Errorf("%d drivers: a slot of %.3f m for %g Hz has %.2f Hz", n, length, tuning, got)
			}
		}
	}
}
