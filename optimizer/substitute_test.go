package optimizer

import (
	"context"
	"testing"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/optimizer/setting"
)

// A source that is cheaper and stronger, and yet no substitute: with it the pair
// could be driven behind a bass blocker, so an amplifier of the pair's own is
// idle beside it, and the blocker costs more than the amplifier.
func TestABetterSourceIsNoSubstitute(t *testing.T) {
	c := garage(t)
	tried := 0
	for seed := uint64(1); seed < 60 && tried < 5; seed++ {
		p, car := c.fronts(seed)
		p.Brief.Cap, p.Brief.Owned, p.Brief.Never, p.Top = catalog.Money{}, nil, nil, 1
		usd := func(minor int64) catalog.Money {
			return catalog.Money{Minor: minor, Currency: p.Catalogue.Currency}
		}
		plain := func(sku string, kind catalog.Kind, minor int64) *catalog.Part {
			return &catalog.Part{SKU: sku, Kind: kind, Priced: true, Price: usd(minor), Stock: catalog.Unlimited, Limit: catalog.Unlimited}
		}
		var parts []*catalog.Part
		for _, part := range p.Catalogue.Parts {
			switch {
			case part.Kind == catalog.KindSource || part.Kind == catalog.KindBlocker || part.Kind == catalog.KindFront:
			case part.Kind == catalog.KindAmplifier && part.Amplifier.Spec.Channels != 1:
			default:
				parts = append(parts, part)
			}
		}
		own := plain("AM-OWN", catalog.KindAmplifier, 1000)
		own.Amplifier = &catalog.Amplifier{HighPass: true, Spec: amplifier.Spec{Channels: 2, Class: amplifier.ClassAB, Fuse: 20,
			Ratings: []amplifier.Rating{{Mode: amplifier.Stereo, Load: 4, Watts: 50, Basis: amplifier.Standard}}}}
		weak, strong := plain("HU-WEAK", catalog.KindSource, 9000), plain("HU-STRONG", catalog.KindSource, 8000)
		weak.Source = &catalog.Source{PreOuts: 1, Channels: 4, Load: 4, Power: 5}
		strong.Source = &catalog.Source{PreOuts: 1, Channels: 4, Load: 4, Power: 17}
		pair := plain("FR-NEEDY", catalog.KindFront, 4000)
		pair.Front = &catalog.FrontSpeakers{Load: 4, Power: 60, Fs: 70, Xmax: 0.0045, Size: 0.13, Sensitivity: 88}
		blocker := plain("BB-DEAR", catalog.KindBlocker, 7000)
		blocker.Blocker = &catalog.BassBlocker{Capacitance: 150e-6}
		p.Brief.Front = catalog.FrontReplace
		p.Catalogue = catalog.New(p.Catalogue.Currency, append(parts, own, weak, strong, pair, blocker))
		full, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		want := (&oracle{p: p, t: full}).run(1)
		if len(want) == 0 {
			continue
		}
		r, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		tried++
		var builds []*Build
		for i := range r.Builds {
			builds = append(builds, &r.Builds[i])
		}
		sameBuilds(t, seed, "the ranking", builds, want)
	}
}
