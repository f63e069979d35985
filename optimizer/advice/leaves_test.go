package advice

import (
	"context"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/testing/generate"
)

// Where one builds for far less than the cap, a part may get dearer until what is
// bought costs the cap: bought once and untaxed, by just what is left of it. That
// holds however far off that is: a hundred times the dearest part is not the end.
func TestDearerUntilTheCap(t *testing.T) {
	series, err := garage()
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	asked := 0
	for seed := uint64(1); seed <= 12; seed++ {
		p := random(seed)
		p.Brief.TaxPPM, p.Brief.TaxByKind, p.Brief.Labour, p.Brief.Owned, p.Catalogue.Deals = 0, nil, nil, nil, nil
		var dearest int64
		for _, part := range p.Catalogue.Parts {
			dearest = max(dearest, part.Price.Minor)
		}
		p.Brief.Cap = catalog.Money{Minor: 1000 * dearest, Currency: generate.Currency}
		d, err := AskIn(ctx, series, p)
		if err != nil {
			t.Fatal(err)
		}
		best := d.Best()
		if best == nil {
			continue
		}
		for _, l := range best.Lines {
			if l.Part.Kind != catalog.KindSubwoofer || best.Bought(l.Part.SKU) == 0 {
				continue
			}
			r, err := d.Range(ctx, l.Part.SKU)
			if err != nil {
				t.Fatal(err)
			}
			// Unless another build is as loud, the cap ends it.
			left := p.Brief.Cap.Minor - best.Cost.Minor
			want := l.Part.Price.Minor + left/int64(best.Bought(l.Part.SKU))
			if r.Above != nil && r.Above.Objective >= best.Objective {
				continue
			}
			asked++
			if r.Open || r.Most.Minor != want {
				t.Errorf("seed %d: %d x %s at %s may cost %s (open: %v), want %d", seed, best.Bought(l.Part.SKU), l.Part.SKU, l.Part.Price, r.Most, r.Open, want)
			}
		}
	}
	if asked < 3 {
		t.Errorf("only %d parts were asked about", asked)
	}
}
