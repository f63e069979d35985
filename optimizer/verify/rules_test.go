package verify

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/cabin"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/front"
	"loudfor/model/hookup"
	"loudfor/optimizer/build"
)

// Each rule alone, on a build made by hand: on the border it lets pass what it may,
// and just beyond it says its words. The search is in none of this.

// bench is a build with parts that no other shares.
type bench struct {
	p                                      build.Problem
	b                                      build.Build
	sub, box, amp, own, pair, source, kit  *catalog.Part
	subs, boxes, amps, owns, sources, kits int
	converters                             []*catalog.Part
}

func newBench() *bench {
	usd := func(minor int64) catalog.Money { return catalog.Money{Minor: minor, Currency: "USD"} }
	part := func(sku string, kind catalog.Kind, price int64) *catalog.Part {
		return &catalog.Part{SKU: sku, Kind: kind, Price: usd(price), Priced: true, Stock: catalog.Unlimited, Limit: catalog.Unlimited, Store: "near"}
	}
	s := &bench{subs: 2, boxes: 1, amps: 1, owns: 1, sources: 1, kits: 1,
		sub: part("SUB", catalog.KindSubwoofer, 100), box: part("BOX", catalog.KindEnclosure, 50), amp: part("AMP", catalog.KindAmplifier, 200),
		own: part("OWN", catalog.KindAmplifier, 90), pair: part("PAIR", catalog.KindFront, 70), source: part("HEAD", catalog.KindSource, 110), kit: part("KIT", catalog.KindKit, 30)}
	s.sub.Subwoofer = &catalog.Subwoofer{Card: driver.Card{Size: 0.3048}, Cutout: 0.279, Depth: 0.15}
	s.box.Enclosure = &catalog.Enclosure{Box: enclosure.Box{Kind: enclosure.Sealed, Drivers: 2, Volume: 0.06}, Hole: 0.3048, Cutout: 0.279, Depth: 0.2,
		Outside: catalog.Size3{Width: 0.8, Depth: 0.4, Height: 0.4}}
	s.amp.Amplifier = &catalog.Amplifier{Spec: amplifier.Spec{Channels: 1, Class: amplifier.ClassD, Ratings: []amplifier.Rating{{Mode: amplifier.Mono, Load: 2, Watts: 300}}}}
	s.own.Amplifier = &catalog.Amplifier{Spec: amplifier.Spec{Channels: 2, Ratings: []amplifier.Rating{{Mode: amplifier.Stereo, Load: 4, Watts: 50}}}}
	s.pair.Front = &catalog.FrontSpeakers{Load: 4, Power: 60, Sensitivity: 90, Size: 0.165}
	s.source.Source = &catalog.Source{PreOuts: 2, Channels: 4, Power: 17, Load: 4}
	s.kit.Kit = &catalog.WiringKit{Area: 25e-6, Length: 5, Fuse: 80}
	s.p.Catalogue = &catalog.Catalogue{Currency: "USD"}
	s.p.Brief = catalog.DefaultBrief()
	s.p.Brief.Front, s.p.Brief.FrontWatts = catalog.FrontEither, 2
	s.p.Vehicle = catalog.Vehicle{Body: cabin.Bodies()[0], Space: catalog.Size3{Width: 1, Depth: 0.5, Height: 0.5}, Boot: [2]float64{0.9, 0.45}}
	s.b.Bass = build.Bass{Part: s.sub, Enclosure: s.box, Boxes: 1, Drivers: 2, Amplifier: s.amp, Amplifiers: 1, Driver: driver.Driver{Coils: 2, CoilLoad: 2}}
	s.b.Plan = hookup.Plan{Mode: amplifier.Mono, Outputs: 1, Series: 2, Parallel: 2, Load: 2}
	s.b.Front = build.Front{Part: s.pair, Power: build.FromOwn, Amplifier: s.own, Given: 50}
	s.b.Front.DB, s.b.Front.Usable, _ = s.stage(50, 0, 2).Play(s.room())
	return s
}

func (s *bench) room() front.Room {
	c := s.p.Vehicle.Body.Cavity
	return front.Room{Length: c.Length, Width: c.Width, Height: c.Height}
}

func (s *bench) stage(watts, highPass float64, order int) *front.Stage {
	f := s.pair.Front
	return &front.Stage{Sensitivity: f.Sensitivity, Load: f.Load, Power: f.Power, Watts: watts, HighPass: highPass, Order: order, Size: f.Size, Fs: f.Fs, Sd: f.Sd, Xmax: f.Xmax}
}

// faults of one rule.
func (s *bench) faults(rule func(*checker)) string {
	c := &checker{p: s.p, b: &s.b, count: map[string]int{}}
	line := func(part *catalog.Part, n int) {
		if part != nil && n > 0 {
			c.lines = append(c.lines, build.Line{Part: part, Count: n, Cost: catalog.Money{Minor: part.Price.Minor * int64(n)}})
			c.count[part.SKU] += n
		}
	}
	line(s.sub, s.subs)
	line(s.box, s.boxes)
	line(s.amp, s.amps)
	line(s.own, s.owns)
	line(s.pair, 1)
	line(s.source, s.sources)
	line(s.kit, s.kits)
	for _, part := range s.converters {
		line(part, 1)
	}
	rule(c)
	return fmt.Sprint(errors.Join(c.faults...))
}

// ruled is a change of the build and what is then said; nothing: it still holds.
type ruled struct {
	name   string
	change func(*bench)
	says   string
}

func check(t *testing.T, rule func(*checker), cases []ruled) {
	t.Helper()
	for _, c := range append(cases, ruled{"as it is", func(*bench) {}, ""}) {
		s := newBench()
		c.change(s)
		got := s.faults(rule)
		if c.says == "" && got != "<nil>" || !strings.Contains(got, c.says) {
			t.Errorf("%s: %q, want %q", c.name, got, c.says)
		}
	}
}

func TestBlockRules(t *testing.T) {
	loaded := func(s *bench) {
		s.sub.Loaded = &catalog.Loaded{Box: enclosure.Box{Drivers: 2}, Outside: catalog.Size3{Width: 0.8, Depth: 0.4, Height: 0.4}}
		s.b.Bass.Enclosure, s.subs, s.boxes = nil, 1, 0
	}
	const counts, hole, room, boot = "do not agree", "does not go into the hole", "do not fit the space", "through the opening of the boot"
	check(t, (*checker).block, []ruled{
		{"a driver too few in the list", func(s *bench) { s.subs = 1 }, counts},
		{"a box too many in the list", func(s *bench) { s.boxes = 2 }, counts},
		{"one driver in a box for two", func(s *bench) { s.b.Bass.Drivers, s.subs = 1, 1 }, counts},
		{"a box that does not say for how many", func(s *bench) { s.box.Enclosure.Box.Drivers = 0; s.b.Bass.Drivers, s.subs = 1, 1 }, ""},
		{"a hole for other drivers", func(s *bench) { s.box.Enclosure.Hole = 0.3048 - 0.0031 }, "not of the hole's size"},
		{"nearly the size", func(s *bench) { s.box.Enclosure.Hole = 0.3048 + 0.0029 }, ""},
		{"a cutout as rasped", func(s *bench) { s.box.Enclosure.Cutout = 0.277 }, ""},
		{"too narrow a cutout", func(s *bench) { s.box.Enclosure.Cutout = 0.2769 }, hole},
		{"no depth behind", func(s *bench) { s.box.Enclosure.Depth = 0.1479 }, hole},
		{"four drivers", func(s *bench) {
			s.b.Bass.Drivers, s.subs, s.b.Bass.Boxes, s.boxes = 4, 4, 2, 2
			s.p.Vehicle.Space = catalog.Size3{}
		}, ""},
		{"more than anybody asked for", func(s *bench) {
			s.p.Vehicle.Space = catalog.Size3{}
			s.b.Bass.Drivers, s.subs, s.b.Bass.Boxes, s.boxes = 6, 6, 3, 3
		}, "6 drivers are too many"},
		{"one driver asked for", func(s *bench) { s.p.Brief.Drivers = 1 }, "2 drivers are too many"},
		{"as many as asked for", func(s *bench) { s.p.Brief.Drivers, s.p.Brief.Boxes = 2, 1 }, ""},
		{"drivers where nobody says how many", func(s *bench) { s.p.Brief.Drivers, s.p.Brief.Boxes = 0, 0 }, ""},
		{"two boxes where one is asked for", func(s *bench) { s.p.Brief.Boxes, s.b.Bass.Boxes = 1, 2 }, "2 boxes are too many"},
		{"three where nobody says how many", func(s *bench) { s.p.Brief.Boxes, s.b.Bass.Boxes = 0, 3 }, "3 boxes are too many"},
		{"a small boot", func(s *bench) { s.p.Vehicle.Space.Width = 0.799 }, room},
		{"the brief's own space counts", func(s *bench) { s.p.Brief.Space = catalog.Size3{Width: 0.79, Depth: 0.5, Height: 0.5} }, room},
		{"and may be larger", func(s *bench) {
			s.p.Vehicle.Space.Width, s.p.Brief.Space = 0.5, catalog.Size3{Width: 0.8, Depth: 0.5, Height: 0.5}
		}, ""},
		{"a narrow opening", func(s *bench) { s.p.Vehicle.Boot = [2]float64{0.9, 0.39} }, boot},
		{"nobody measured the box", func(s *bench) { s.box.Enclosure.Outside = catalog.Size3{}; s.p.Vehicle.Boot = [2]float64{0.1, 0.1} }, ""},
		{"nor the car", func(s *bench) { s.p.Vehicle.Boot, s.p.Vehicle.Space = [2]float64{}, catalog.Size3{} }, ""},
		{"with its drivers in it", loaded, ""},
		{"two in the list for one", func(s *bench) { loaded(s); s.subs = 2 }, counts},
		{"one driver of two", func(s *bench) { loaded(s); s.b.Bass.Drivers = 1 }, counts},
		{"one that does not say how many", func(s *bench) { loaded(s); s.sub.Loaded.Box.Drivers = 0; s.b.Bass.Drivers = 1 }, ""},
		{"one too large", func(s *bench) { loaded(s); s.sub.Loaded.Outside.Width = 1.1 }, room},
	})
}

func TestWiringRules(t *testing.T) {
	four := func(mode amplifier.Mode, outputs int) func(*bench) {
		return func(s *bench) {
			s.amp.Amplifier.Spec = amplifier.Spec{Channels: 4, Ratings: []amplifier.Rating{{Mode: amplifier.Stereo, Load: 2, Watts: 60}, {Mode: amplifier.Bridged, Load: 4, Watts: 150}}}
			s.b.Plan.Mode, s.b.Plan.Outputs = mode, outputs
			s.b.Plan.Series, s.b.Plan.Parallel = 4/outputs, 1
		}
	}
	const coils, low, channels, amps, spare = "leaves coils out", "below the rated", "more than there are", "in use do not agree", "no channels are left over"
	check(t, (*checker).wiring, []ruled{
		{"three coils of four", func(s *bench) { s.b.Plan.Series, s.b.Plan.Parallel = 3, 1 }, coils},
		{"one in place of four in parallel", func(s *bench) { s.b.Plan.Series, s.b.Plan.Parallel, s.b.Bass.Driver.Coils = 1, 1, 1 }, coils},
		{"one coil each", func(s *bench) { s.b.Bass.Driver.Coils, s.b.Plan.Series = 1, 1; s.b.Bass.Driver.CoilLoad = 4 }, ""},
		{"all in parallel", func(s *bench) { s.b.Plan.Series, s.b.Plan.Parallel = 1, 4 }, low},
		{"a load hardly below", func(s *bench) { s.b.Bass.Driver.CoilLoad = 2 * (1 - 0.5*amplifier.LoadTolerance) }, ""},
		{"a mode that is not rated", func(s *bench) { s.b.Plan.Mode = amplifier.Bridged }, low},
		{"a mono channel of four", func(s *bench) { four(amplifier.Mono, 1)(s) }, channels},
		{"two bridged pairs of four", four(amplifier.Bridged, 2), ""},
		{"three bridged pairs of four", func(s *bench) { four(amplifier.Bridged, 2)(s); s.b.Plan.Outputs = 3 }, channels},
		{"two stereo channels of four", four(amplifier.Stereo, 2), ""},
		{"an amplifier nobody uses", func(s *bench) { s.amps = 2 }, amps},
		{"the front's is missing", func(s *bench) { s.owns = 0 }, amps},
		{"the front's is one too many", func(s *bench) { s.b.Front.Power = build.FromSource }, amps},
		{"two, each with half", func(s *bench) {
			s.b.Bass.Amplifiers, s.amps, s.b.Plan.Series, s.b.Plan.Parallel = 2, 2, 1, 2
			s.b.Bass.Driver.CoilLoad = 4
		}, ""},
		{"three where two are usual", func(s *bench) { s.p.Brief.Amplifiers, s.b.Bass.Amplifiers = 0, 3 }, "3 bass amplifiers are too many"},
		{"two where one is asked for", func(s *bench) { s.p.Brief.Amplifiers, s.b.Bass.Amplifiers = 1, 2 }, "2 bass amplifiers are too many"},
		{"the front on what is left of four", func(s *bench) { four(amplifier.Bridged, 1)(s); s.b.Front.Power, s.owns = build.FromBass, 0 }, ""},
		{"and on nothing", func(s *bench) { four(amplifier.Bridged, 2)(s); s.b.Front.Power, s.owns = build.FromBass, 0 }, spare},
		{"the front beside the mono channel of five", func(s *bench) {
			s.amp.Amplifier.Spec = amplifier.Spec{Channels: 5, Ratings: []amplifier.Rating{{Mode: amplifier.Mono, Load: 2, Watts: 300}}}
			s.b.Front.Power, s.owns = build.FromBass, 0
		}, ""},
		{"the front beside the mono channel of three", func(s *bench) {
			s.amp.Amplifier.Spec = amplifier.Spec{Channels: 3, Ratings: []amplifier.Rating{{Mode: amplifier.Mono, Load: 2, Watts: 300}}}
			s.b.Front.Power, s.owns = build.FromBass, 0
		}, ""},
		{"and beside one alone", func(s *bench) { s.b.Front.Power, s.owns = build.FromBass, 0 }, spare},
	})
	check(t, (*checker).current, []ruled{
		{"a fuse too small", func(s *bench) { s.kit.Kit.Fuse = 30 }, "does not carry"},
		{"a thin cable", func(s *bench) { s.kit.Kit.Area = 2e-6 }, "does not carry"},
		{"four amplifiers", func(s *bench) { s.amps = 4 }, "does not carry"},
	})
}

func TestSignalRules(t *testing.T) {
	converter := func(channels int) *catalog.Part {
		return &catalog.Part{SKU: fmt.Sprint("LINE", channels), Kind: catalog.KindConverter, Converter: &catalog.LineConverter{Channels: channels}}
	}
	dumb := func(s *bench) { s.source.Source.PreOuts = 0 }
	const lost = "does not reach every amplifier"
	check(t, (*checker).signal, []ruled{
		{"no line outputs", dumb, lost},
		{"both take speaker wires", func(s *bench) { dumb(s); s.amp.Amplifier.SpeakerInput, s.own.Amplifier.SpeakerInput = true, true }, ""},
		{"the front's does not", func(s *bench) { dumb(s); s.amp.Amplifier.SpeakerInput = true }, lost},
		{"the bass's does not", func(s *bench) { dumb(s); s.own.Amplifier.SpeakerInput = true }, lost},
		{"a converter of two", func(s *bench) { dumb(s); s.converters = []*catalog.Part{converter(2)} }, ""},
		{"a converter of one", func(s *bench) { dumb(s); s.converters = []*catalog.Part{converter(1)} }, lost},
		{"a converter of one, for the bass alone", func(s *bench) {
			dumb(s)
			s.own.Amplifier.SpeakerInput, s.converters = true, []*catalog.Part{converter(1)}
		}, ""},
		{"no outputs at all", func(s *bench) { dumb(s); s.source.Source.Channels = 1; s.converters = []*catalog.Part{converter(2)} }, "nothing to take a signal from"},
		{"the front on the source", func(s *bench) { dumb(s); s.b.Front.Amplifier = nil; s.amp.Amplifier.SpeakerInput = true }, ""},
	})
}

func TestFrontRules(t *testing.T) {
	play := func(s *bench, watts, highPass float64, order int) {
		s.b.Front.Given, s.b.Front.HighPass = watts, highPass
		s.b.Front.DB, s.b.Front.Usable, _ = s.stage(watts, highPass, order).Play(s.room())
	}
	small := func(s *bench) { s.pair.Front.Fs, s.pair.Front.Sd, s.pair.Front.Xmax = 60, 0.008, 0.001 }
	owned := func(s *bench) { s.p.Brief.Owned = []catalog.Mention{{SKU: "PAIR", Count: 1}} }
	best := func(s *bench, from, to float64) (at float64) {
		most := -1e9
		for hz := from; hz <= to; hz += 10 {
			if l, _, _ := s.stage(50, hz, 2).Play(s.room()); l > most+2e-3 {
				most, at = l, hz
			}
		}
		return at
	}
	const watts = "the front uses"
	check(t, (*checker).front, []ruled{
		{"nothing drives it", func(s *bench) { s.b.Front.Power = build.FromNothing }, "nothing drives the front"},
		{"with no power", func(s *bench) { s.b.Front.Given = 0 }, "nothing drives the front"},
		{"new where the old should stay", func(s *bench) { s.p.Brief.Front = catalog.FrontKeep }, "should have stayed"},
		{"owned where the old should stay", func(s *bench) { s.p.Brief.Front = catalog.FrontKeep; owned(s) }, ""},
		{"none where new ones are asked for", func(s *bench) { s.p.Brief.Front, s.b.Front.Part = catalog.FrontReplace, nil }, "new front speakers are missing"},
		{"just enough power", func(s *bench) { s.p.Brief.FrontWatts = s.b.Front.Usable }, ""},
		{"too little for new ones", func(s *bench) { s.p.Brief.FrontWatts = s.b.Front.Usable * 1.001 }, watts},
		{"the same for owned ones", func(s *bench) { s.p.Brief.FrontWatts = s.b.Front.Usable * 1.001; owned(s) }, ""},
		{"owned, though new ones are asked for", func(s *bench) {
			s.p.Brief.FrontWatts, s.p.Brief.Front = s.b.Front.Usable*1.001, catalog.FrontReplace
			owned(s)
		}, watts},
		{"a little louder than it plays", func(s *bench) { s.b.Front.DB += 1e-5 }, "the front plays"},
		{"with a little more power", func(s *bench) { s.b.Front.Usable *= 1 + 1e-5 }, "the front plays"},
		{"the car's own", func(s *bench) {
			s.b.Front.Part = nil
			stock := front.Stage{Load: build.StockLoad, Size: build.StockSize, Watts: 50, Order: 2}
			s.b.Front.DB, s.b.Front.Usable, _ = stock.Play(s.room())
		}, ""},
		{"the car's own behind a filter of second order", func(s *bench) {
			s.b.Front.Part, s.b.Front.HighPass = nil, 200
			stock := front.Stage{Load: build.StockLoad, Size: build.StockSize, Watts: 50, HighPass: 200, Order: 2}
			s.b.Front.DB, s.b.Front.Usable, _ = stock.Play(s.room())
		}, ""},
		{"the best setting of its filter", func(s *bench) { small(s); play(s, 50, best(s, 50, 250), 2) }, ""},
		{"a setting too low for it", func(s *bench) { small(s); play(s, 50, max(50, best(s, 50, 250)-20), 2) }, "the front is louder with its high-pass"},
		{"behind a blocker of first order", func(s *bench) {
			small(s)
			s.p.Brief.FrontWatts = 0
			s.b.Front.HighPassBy = "bass blocker 100 uF"
			play(s, 50, 60, 1)
		}, ""},
		{"a blocker taken for a filter", func(s *bench) { small(s); s.b.Front.HighPassBy = "bass blocker 100 uF"; play(s, 50, 120, 2) }, "the front plays"},
	})
}

func TestMoneyRules(t *testing.T) {
	bill := func(s *bench) { s.b.Taxes = []build.TaxLine{{Sum: catalog.Money{Minor: 750}}}; s.b.Cost.Minor = 750 }
	check(t, func(c *checker) {
		if c.b.Cost.Minor == 0 {
			c.b.Cost.Minor, c.b.Taxes = 750, []build.TaxLine{{Sum: catalog.Money{Minor: 750}}}
		}
		c.money()
	}, []ruled{
		{"a cent too little", func(s *bench) { bill(s); s.b.Cost.Minor-- }, "costs 750, not 749"},
		{"at the cap", func(s *bench) { s.p.Brief.Cap = catalog.Money{Minor: 750, Currency: "USD"} }, ""},
		{"over it", func(s *bench) { s.p.Brief.Cap = catalog.Money{Minor: 749, Currency: "USD"} }, "above the cap"},
		{"a sum that is too high", func(s *bench) { bill(s); s.b.Taxes[0].Sum.Minor++ }, "does not add up"},
		{"a tax on nothing", func(s *bench) { bill(s); s.b.Taxes[0].Tax.Minor = 1 }, "does not add up"},
		{"two errors that make up for each other in what is paid", func(s *bench) { bill(s); s.b.Taxes[0].Sum.Minor, s.b.Taxes[0].Tax.Minor = 740, 10 }, "does not add up"},
		{"labour that is not in the price", func(s *bench) { bill(s); s.b.Labour = []build.LabourLine{{Cost: catalog.Money{Minor: 5}}} }, "does not add up"},
		{"a deal that is not in the price", func(s *bench) { bill(s); s.b.Deals = []build.AppliedDeal{{Saving: catalog.Money{Minor: 5}}} }, "does not add up"},
		{"owned pieces cost nothing", func(s *bench) {
			s.p.Brief.Owned = []catalog.Mention{{SKU: "PAIR", Count: 1}}
			bill(s)
			s.b.Cost.Minor, s.b.Taxes[0].Sum.Minor, s.b.Deals = 680, 680, []build.AppliedDeal{{Saving: catalog.Money{Minor: 70}}}
		}, ""},
		{"labour for each box, bought or not", func(s *bench) {
			s.p.Brief.Owned = []catalog.Mention{{SKU: "BOX", Count: 1}}
			s.p.Brief.Labour = []catalog.Labour{{Name: "fit", Price: catalog.Money{Minor: 7}, Per: catalog.KindEnclosure, Installed: true},
				{Name: "fetch", Price: catalog.Money{Minor: 1000}, Per: catalog.KindEnclosure}, {Name: "tidy", Price: catalog.Money{Minor: 3}, Per: catalog.KindCount}}
			s.b.Cost.Minor, s.b.Taxes = 710, []build.TaxLine{{Sum: catalog.Money{Minor: 710}}}
			s.b.Labour = []build.LabourLine{{Cost: catalog.Money{Minor: 10}}}
			s.b.Deals = []build.AppliedDeal{{Saving: catalog.Money{Minor: 50}}}
		}, ""},
		{"tax by kind", func(s *bench) {
			s.p.Brief.TaxPPM, s.p.Brief.TaxByKind = 100_000, map[catalog.Kind]int64{catalog.KindKit: 0}
			s.b.Cost.Minor, s.b.Taxes = 822, []build.TaxLine{{Sum: catalog.Money{Minor: 720}, Tax: catalog.Money{Minor: 72}}, {Sum: catalog.Money{Minor: 30}}}
		}, ""},
	})
}

func TestShelfRules(t *testing.T) {
	check(t, func(c *checker) {
		for _, l := range c.lines {
			if l.Part.SKU != "GONE" {
				c.p.Catalogue.Parts = append(c.p.Catalogue.Parts, l.Part)
			}
		}
		c.shelf()
	}, []ruled{
		{"a part nobody lists", func(s *bench) { s.amp.SKU = "GONE" }, "GONE is not in the catalogue"},
		{"a part without a price", func(s *bench) { s.amp.Priced = false }, "AMP has no price"},
		{"and owned", func(s *bench) { s.amp.Priced = false; s.p.Brief.Owned = []catalog.Mention{{SKU: "AMP"}} }, ""},
		{"the last two", func(s *bench) { s.sub.Stock, s.sub.Limit = 2, 2 }, ""},
		{"one left of two", func(s *bench) { s.sub.Stock = 1 }, "2 x SUB cannot be bought"},
		{"one a customer", func(s *bench) { s.sub.Limit = 1 }, "2 x SUB cannot be bought"},
		{"one left, and one owned", func(s *bench) { s.sub.Stock = 1; s.p.Brief.Owned = []catalog.Mention{{SKU: "SUB", Count: 1}} }, ""},
		{"none left", func(s *bench) { s.sub.Stock = 0 }, "cannot be bought"},
		{"another shop", func(s *bench) { s.p.Brief.Stores = []string{"far"} }, "is in another store"},
		{"its shop", func(s *bench) { s.p.Brief.Stores = []string{"far", "near"} }, ""},
		{"not wanted", func(s *bench) { s.p.Brief.Never = []catalog.Mention{{SKU: "KIT"}} }, "KIT must not be used"},
		{"wanted, and there", func(s *bench) { s.p.Brief.Must = []catalog.Mention{{SKU: "SUB", Count: 2}, {SKU: "KIT"}} }, ""},
		{"one short of what is wanted", func(s *bench) { s.p.Brief.Must = []catalog.Mention{{SKU: "SUB", Count: 3}} }, "SUB must be used"},
		{"two sources", func(s *bench) {
			s.sources = 2
			s.converters = []*catalog.Part{{SKU: "H2", Kind: catalog.KindSource, Stock: -1, Limit: -1, Priced: true, Store: "near"}}
		}, "instead of one"},
		{"no kit", func(s *bench) { s.kits = 0 }, "instead of one"},
	})
}

// The feed of a build is that of its car, its brief and its kit.
func TestFeedOfABuild(t *testing.T) {
	feed := func(change func(*bench)) (reserve, cable float64) {
		s := newBench()
		s.p.Vehicle.Alternator, s.p.Vehicle.Standby, s.p.Vehicle.CableRun = 120, 40, 4
		change(s)
		s.faults(func(c *checker) { f := c.feed(); reserve, cable = f.Reserve, f.CableResistance })
		return reserve, cable
	}
	reserve, cable := feed(func(*bench) {})
	if more, _ := feed(func(s *bench) { s.p.Brief.Alternator = 240 }); !(more > 2*reserve) {
		t.Errorf("%g A of reserve, %g A with twice the alternator", reserve, more)
	}
	if _, same := feed(func(s *bench) { s.kit.Kit.Length = 9 }); same != cable {
		t.Errorf("the car's run of cable: %g ohm, with a longer kit %g ohm", cable, same)
	}
	if _, other := feed(func(s *bench) { s.p.Vehicle.CableRun = 0; s.kit.Kit.Length = 8 }); !(other > 1.99*cable && other < 2.01*cable) {
		t.Errorf("a kit of twice the length: %g ohm, not twice %g ohm", other, cable)
	}
}
