package advice

import (
	"context"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer"
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

// polled is over after it was asked so many times.
type polled struct {
	context.Context
	left int
}

func (c *polled) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

// A range that was stopped is no answer, at whatever moment, and questions to a desk do
// not tell the progress of its first.
func TestStoppedRangeIsNoAnswer(t *testing.T) {
	series, err := garage()
	if err != nil {
		t.Fatal(err)
	}
	p := random(3)
	told := 0
	p.Progress = func(optimizer.Progress) { told++ }
	d, err := AskIn(context.Background(), series, p)
	if err != nil {
		t.Fatal(err)
	}
	stopped, first := 0, told
	for _, part := range d.Near() {
		want, err := d.Range(context.Background(), part.SKU)
		if err != nil {
			t.Fatal(err)
		}
		for n := 0; ; n += 1 + n/4 {
			ctx := &polled{context.Background(), n}
			if got, err := d.Range(ctx, part.SKU); err != nil {
				stopped++
			} else if got.Least != want.Least || got.Most != want.Most || (got.Below == nil) != (want.Below == nil) || (got.Above == nil) != (want.Above == nil) {
				t.Fatalf("%s, stopped at the %dth look: %+v, want %+v", part.SKU, n, got, want)
			}
			if ctx.left >= 0 {
				break
			}
		}
	}
	if stopped == 0 {
		t.Error("nothing was stopped")
	}
	if first == 0 || told > first {
		t.Errorf("told %d times of the first question, and %d times of the others", first, told-first)
	}
}
