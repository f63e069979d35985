package advice

import (
	"context"
	"testing"

	"loudfor/catalog"
)

// Every break price is confirmed by searches of its own, just above and just
// below: at the ends of the interval the best build is the same, one minor unit
// further it is another.
func TestBreakPricesByResolving(t *testing.T) {
	cases := 200
	if !long() {
		cases = 15
	}
	series, err := garage()
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	var in, out, free, open, dead, dealt int
	for seed := uint64(1); cases > 0; seed++ {
		d, err := AskIn(ctx, series, random(seed))
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if d.Best() == nil {
			continue
		}
		cases--
		if len(d.p.Catalogue.Deals) > 0 {
			dealt++
		}
		same := func(sku string, minor int64) bool {
			b, err := d.first(ctx, d.at(sku, minor))
			if err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
			return b != nil && b.Same(d.Best())
		}
		for i, part := range d.Near() {
			if i%3 != int(seed%3) { // a third of them, in turn
				continue
			}
			r, err := d.Range(ctx, part.SKU)
			if err != nil {
				t.Fatalf("seed %d, %s: %v", seed, part.SKU, err)
			}
			check := func(minor int64, want bool) {
				t.Helper()
				if same(part.SKU, minor) != want {
					t.Fatalf("seed %d, %s (%s, bought %v, now %s): at %d the build is the same: %v, said %v; %+v", seed, part.SKU, part.Kind, r.In, part.Price, minor, !want, want, r)
				}
			}
			check(r.Least.Minor, true)
			if r.Free {
				free++
				if r.Least.Minor != 0 {
					t.Fatalf("seed %d, %s: no lower end, and least is %s", seed, part.SKU, r.Least)
				}
			} else {
				check(r.Least.Minor-1, false)
				if r.Below == nil || r.Below.Same(d.Best()) {
					t.Fatalf("seed %d, %s: what comes below is missing", seed, part.SKU)
				}
			}
			switch {
			case r.Open:
				open++
				check(10*d.dearest(), true)
			default:
				check(r.Most.Minor, true)
				check(r.Most.Minor+1, false)
				if r.Dead != (r.Above == nil) {
					t.Fatalf("seed %d, %s: dead %v", seed, part.SKU, r.Dead)
				}
				if r.Dead {
					dead++
				}
			}
			if r.In {
				in++
			} else {
				out++
			}
		}
	}
	t.Logf("%d bought, %d not; %d down to nothing, %d without an upper end, %d beyond which nothing can be built; %d cases with deals", in, out, free, open, dead, dealt)
	if in == 0 || out == 0 || free == 0 || open == 0 || dealt == 0 {
		t.Error("not every sort of case came up")
	}
}

// A part that is not in the best build is in it from one unit below the least
// price on: that is the price at which it would be chosen.
func TestChosenBelowTheLeastPrice(t *testing.T) {
	ctx := context.Background()
	p := demoProblem(t, "250-reading")
	p.Catalogue.Deals = nil
	d, err := Ask(ctx, p)
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, part := range d.Near() {
		r, err := d.Range(ctx, part.SKU)
		if err != nil {
			t.Fatal(err)
		}
		if r.In || r.Free {
			continue
		}
		n++
		if r.Below.Holds(part.SKU) == 0 {
			t.Errorf("%s at %s: the best build does without it", part.SKU, r.Least)
		}
	}
	if n == 0 {
		t.Error("no part was looked at")
	}
}

// In the plain case the break price can be worked out by hand: what the cap
// leaves, before tax; unless a build exactly as loud becomes the cheaper one
// before.
func TestBreakPriceByHand(t *testing.T) {
	ctx := context.Background()
	p := demoProblem(t, "250-reading")
	p.Catalogue.Deals = nil
	p.Brief.TaxPPM = 0
	d, err := Ask(ctx, p)
	if err != nil {
		t.Fatal(err)
	}
	best := d.Best()
	left, byHand := p.Brief.Cap.Minor-best.Cost.Minor, 0
	for _, line := range best.Lines {
		if line.Owned > 0 {
			continue
		}
		r, err := d.Range(ctx, line.Part.SKU)
		if err != nil {
			t.Fatal(err)
		}
		want := line.Part.Price.Minor + left/int64(line.Count)
		if r.Most.Minor < want && r.Above != nil && r.Above.Objective == best.Objective && r.Above.Cost.Minor-best.Cost.Minor <= r.Most.Minor+1-line.Part.Price.Minor {
			continue
		}
		byHand++
		if r.Most.Minor != want {
			t.Errorf("%s: up to %s, want %s", line.Part.SKU, r.Most, catalog.Money{Minor: want, Currency: "USD"})
		}
	}
	if byHand == 0 {
		t.Error("every part has a twin")
	}
}

// The search from a level on is the quick one.
func BenchmarkRange(b *testing.B) {
	ctx := context.Background()
	d, err := Ask(ctx, demoProblem(b, "250-reading"))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		for _, part := range d.Near() {
			if _, err := d.Range(ctx, part.SKU); err != nil {
				b.Fatal(err)
			}
		}
	}
}
