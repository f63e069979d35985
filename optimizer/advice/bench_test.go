package advice

import (
	"context"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/testing/generate"
)

// The whole talk, the cabin and all bands included: on the demo, and in a
// distributor's shop of 3,000 parts.
func BenchmarkTalk(b *testing.B) {
	for _, c := range []struct {
		name string
		p    optimizer.Problem
	}{
		{"demo", demoProblem(b, "250-reading")},
		{"parts=3000/loose", shop(3000, 800, generate.Loose)},
		{"parts=3000/tight", shop(3000, 800, generate.Tight)},
	} {
		b.Run(c.name, func(b *testing.B) {
			ctx := context.Background()
			for b.Loop() {
				d, err := Ask(ctx, c.p)
				if err != nil {
					b.Fatal(err)
				}
				t, err := d.Talk(ctx, nil)
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(len(t.Ranges)), "break-prices")
			}
		})
	}
}

// BenchmarkPart is the question for one part, in the same shop.
func BenchmarkPart(b *testing.B) {
	ctx := context.Background()
	d, err := Ask(ctx, shop(3000, 800, generate.Loose))
	if err != nil {
		b.Fatal(err)
	}
	var skus []string
	for i, part := range d.p.Catalogue.Parts {
		if i%600 == 300 {
			skus = append(skus, part.SKU)
		}
	}
	for b.Loop() {
		for _, sku := range skus {
			if _, err := d.Part(ctx, sku); err != nil {
				b.Fatal(err)
			}
		}
	}
	b.ReportMetric(float64(len(skus)), "parts")
}

func shop(parts int, limit int64, tightness generate.Tightness) optimizer.Problem {
	return optimizer.Problem{Catalogue: generate.Catalogue(parts, 1, tightness), Vehicle: car(), Seed: 1,
		Brief: catalog.Brief{Celsius: 20, FrontWatts: 10, Place: "dash", Openings: "shut", BassLift: 6, TaxPPM: 75_000,
			Space: catalog.Size3{Width: 1.0, Depth: 0.5, Height: 0.6}, Cap: catalog.Money{Minor: limit * 100, Currency: generate.Currency}}}
}
