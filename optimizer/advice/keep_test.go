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
	// The most watts that a class D amplifier takes without dimming the lamps.
	low, high := 0.0, 5000.0
	for high-low > 0.01 {
		if w := (low + high) / 2; mends(p, amp(amplifier.ClassD, true), feed, w, 0.3) {
			low = w
		} else {
			high = w
		}
	}
	if !(low > 50 && low < 4000) {
		t.Fatalf("%g W", low)
	}
	for name, c := range map[string]struct {
		part  *catalog.Part
		watts float64
		want  bool
	}{
		"class D": {amp(amplifier.ClassD, true), low, true}, "class AB": {amp(amplifier.ClassAB, true), low, false}, "no price": {amp(amplifier.ClassD, false), low, false},
		"a thick cable": {kit(50e-6), low / 4, true}, "a thin one": {kit(0.02e-6), low / 4, false},
	} {
		if got := mends(p, c.part, feed, c.watts, 0.8); got != c.want {
			t.Errorf("%s, %g W: %t", name, c.watts, got)
		}
	}
}
