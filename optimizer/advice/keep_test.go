package advice

import (
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/supply"
	"loudfor/optimizer"
)

// Front speakers that stay as they are forbid all others, and a car whose run of cable
// nobody measured forbids no kit for its length.
func TestWhatStaysForbidsOthers(t *testing.T) {
	pair := &catalog.Part{SKU: "PAIR", Kind: catalog.KindFront, Priced: true, Stock: 1, Limit: 1, Front: &catalog.FrontSpeakers{Load: 4, Power: 50}}
	kit := &catalog.Part{SKU: "KIT", Kind: catalog.KindKit, Priced: true, Stock: 1, Limit: 1, Kit: &catalog.WiringKit{Area: supply.AreaOfGauge(8), Length: 3}}
	const stay, short = "the front speakers stay as they are", "its cable is"
	for _, c := range []struct {
		part  *catalog.Part
		rule  catalog.FrontRule
		owned []catalog.Mention
		run   float64 // m
		says  string
	}{
		{pair, catalog.FrontKeep, nil, 0, stay}, {pair, catalog.FrontEither, nil, 0, ""}, {pair, catalog.FrontReplace, nil, 0, ""},
		{pair, catalog.FrontKeep, []catalog.Mention{{SKU: "PAIR", Count: 1}}, 0, ""},
		{kit, catalog.FrontEither, nil, 4.5, short}, {kit, catalog.FrontEither, nil, 3, ""}, {kit, catalog.FrontEither, nil, 0, ""},
	} {
		d := &Desk{p: optimizer.Problem{Catalogue: &catalog.Catalogue{Parts: []*catalog.Part{c.part}}, Brief: catalog.Brief{Front: c.rule, Owned: c.owned}, Vehicle: catalog.Vehicle{CableRun: c.run}}}
		said := strings.Join(d.unfit(c.part), "; ")
		if c.says == "" && (strings.Contains(said, stay) || strings.Contains(said, short)) || !strings.Contains(said, c.says) {
			t.Errorf("%s, %v, run %g m: %q, want %q", c.part.SKU, c.rule, c.run, said, c.says)
		}
	}
}

// What mends a supply that sags: an amplifier that takes less for the same watts, or a
// cable that loses less.
func TestWhatMends(t *testing.T) {
	feed := supply.Feed{Volts: 14.4, Reserve: 20, BatteryVolts: 12.6, BatteryResistance: 0.02, CableResistance: 0.02}
	amp := func(class amplifier.Class, priced bool) *catalog.Part {
		return &catalog.Part{Kind: catalog.KindAmplifier, Priced: priced, Amplifier: &catalog.Amplifier{Spec: amplifier.Spec{Class: class}}}
	}
	kit := func(area float64) *catalog.Part {
		return &catalog.Part{Kind: catalog.KindKit, Priced: true, Kit: &catalog.WiringKit{Area: area, Length: 5}}
	}
	p := optimizer.Problem{Vehicle: catalog.Vehicle{CableRun: 5}}
	// The most watts with which the lamps do not dim.
	edge := func(part *catalog.Part) float64 {
		low, high := 0.0, 5000.0
		for high-low > 1e-3 {
			if w := (low + high) / 2; mends(p, part, feed, w, 0.6) {
				low = w
			} else {
				high = w
			}
		}
		return low
	}
	d, ab, none := edge(amp(amplifier.ClassD, true)), edge(amp(amplifier.ClassAB, true)), edge(amp(amplifier.ClassD, false))
	thick, thin := edge(kit(50e-6)), edge(kit(8e-6))
	if !(d > 50 && d < 4000 && ab > 0 && ab < d*0.95 && none < 1e-3) {
		t.Errorf("%g W in class D, %g W in class AB, %g W without a price", d, ab, none)
	}
	if !(thin > 0 && thick > thin) {
		t.Errorf("%g W through a thick cable, %g W through a thin one", thick, thin)
	}
}
