package advice

import (
	"context"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// Every part of a shelf has its verdict, which the search itself bears out: in the best
// build, in another that is found, too dear by so much, or forbidden for a reason.
func TestEveryPartHasItsVerdict(t *testing.T) {
	series, err := garage()
	if err != nil {
		t.Fatal(err)
	}
	ctx, seen := context.Background(), map[Answer]int{}
	for _, seed := range []uint64{3} { // has all of them
		p := random(seed)
		d, err := AskIn(ctx, series, p)
		if err != nil {
			t.Fatal(err)
		}
		if len(d.Result.Builds) == 0 {
			continue
		}
		for _, part := range p.Catalogue.Parts {
			v, err := d.Part(ctx, part.SKU)
			if err != nil || v == nil {
				t.Fatalf("seed %d, %s: %v, %v", seed, part.SKU, v, err)
			}
			with := p
			with.With, with.Top, with.Bare = part.SKU, 1, true
			r, err := series.Pick(ctx, with)
			if err != nil {
				t.Fatal(err)
			}
			free := with
			free.Brief.Cap = catalog.Money{}
			rich, err := series.Pick(ctx, free)
			if err != nil {
				t.Fatal(err)
			}
			want := Forbidden
			switch {
			case d.Best().Holds(part.SKU) > 0:
				want = InBest
			case len(r.Builds) > 0:
				want = Possible
			case len(rich.Builds) > 0:
				want = AboveCap
			}
			if seen[want]++; v.Answer != want || v.Part.SKU != part.SKU {
				t.Errorf("seed %d, %s: %v, want %v", seed, part.SKU, v.Answer, want)
			}
			switch v.Answer {
			case InBest:
				if v.Role == nil || v.Role.Part.SKU != part.SKU {
					t.Errorf("seed %d, %s: %+v", seed, part.SKU, v.Role)
				}
			case AboveCap:
				if over := v.Cheapest.Minor - p.Brief.Cap.Minor; over <= 0 || v.Over.Minor != over {
					t.Errorf("seed %d, %s: %s, over by %s", seed, part.SKU, v.Cheapest, v.Over)
				}
			case Forbidden:
				if len(v.Rules)+len(v.Conflicts) == 0 && r.Outcome == optimizer.Infeasible {
					t.Errorf("seed %d, %s: forbidden for no reason", seed, part.SKU)
				}
			}
			if v.Part.Priced && v.Answer != Forbidden && v.Range == nil {
				t.Errorf("seed %d, %s: no range of its price", seed, part.SKU)
			}
		}
	}
	for _, a := range []Answer{InBest, Possible, AboveCap, Forbidden} {
		if seen[a] == 0 {
			t.Errorf("%v: the cases say little", seen)
		}
	}
}

// A question that was stopped is never answered with nothing: here that of money that
// buys nothing, on a shelf that holds the best build alone.
func TestStoppedWasteIsNoAnswer(t *testing.T) {
	series, err := garage()
	if err != nil {
		t.Fatal(err)
	}
	p := random(3)
	d, err := AskIn(context.Background(), series, p)
	if err != nil {
		t.Fatal(err)
	}
	alone := among(d.p, func(sku string) bool { return d.Best().Holds(sku) > 0 })
	if d, err = AskIn(context.Background(), series, alone); err != nil {
		t.Fatal(err)
	}
	if all, err := d.wastes(context.Background()); err != nil || len(all) > 0 {
		t.Errorf("%v, %v", all, err)
	}
	ended, end := context.WithCancel(context.Background())
	end()
	if all, err := d.wastes(ended); err == nil {
		t.Errorf("stopped, and yet: %v", all)
	}
}
