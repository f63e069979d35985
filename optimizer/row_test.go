package optimizer

import (
	"context"
	"math/rand/v2"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/testing/generate"
)

// A row holds just those pairs that bar.go lets in, whatever the incumbent, and has
// each ready for just those blocks beside which it is let in.
func TestRowHoldsWhatMayEnter(t *testing.T) {
	c := garage(t)
	for n := range 4 {
		r := rand.New(rand.NewPCG(uint64(n), 0x726f77))
		p, car := large(c, 300, 300+r.Int64N(1500), []generate.Tightness{generate.Loose, generate.Tight}[n%2], catalog.GoalMusic)
		p.Catalogue = generate.Catalogue(300, uint64(n), generate.Tight)
		p.Brief.Front = []catalog.FrontRule{catalog.FrontReplace, catalog.FrontEither}[n/2]
		k, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		s := k.search(context.Background())
		held, spares, refused := 0, 0, 0
		for range 40 {
			w := &worker{search: s}
			w.ranking.size = 1
			c := k.Loads[r.IntN(len(k.Loads))]
			if r.IntN(8) > 0 {
				w.ranking = ranking{size: 1, best: []candidate{{
					level: s.most - build.Level(r.IntN(20_000)),
					price: k.at(c).block() + c.Floor + r.Int64N(max(1, k.Limit-k.at(c).block()-c.Floor)),
				}}}
			}
			w.tune()
			row := w.rowOf(c)
			rooms := make(map[int]int64)
			for i, x := range row.places {
				if room, twice := rooms[x.pair]; !twice || row.rooms[i] > room {
					rooms[x.pair] = row.rooms[i]
				}
			}
			for range 20 {
				w.price = k.at(c).block() + r.Int64N(max(1, k.Limit/2))
				w.group = &group{class: c}
				n := row.payable(w)
				for i := range c.Choices {
					p := &c.Choices[i]
					_, want := w.barFor(p, withAny, build.Silent)
					want = want && w.price+p.Floor <= w.Limit
					room, in := rooms[i]
					if got := in && w.price <= room; got != want {
						t.Fatalf("case %d: pair %d with a block for %d: %v, want %v", n, i, w.price, got, want)
					}
					if want && p.Spare {
						spares++
					}
					if !want {
						refused++
					}
				}
				for i, x := range row.places[:n] {
					held++
					if x.room < w.price {
						t.Fatalf("case %d: pair %d leaves %d, and is counted for %d", n, x.pair, x.room, w.price)
					}
					if f, _ := row.strongest(row.payable(w)); !f.Covers(&row.felts[i]) {
						t.Fatalf("case %d: pair %d is stronger than the strongest", n, x.pair)
					}
					for _, way := range c.Choices[x.pair].Wirings {
						if (way.Spare || x.with != withSpare) && !row.felts[i].Covers(&way.AtCoil) {
							t.Fatalf("case %d: a way of pair %d is stronger than the pair", n, x.pair)
						}
					}
				}
				if n < len(row.rooms) && row.rooms[n] >= w.price {
					t.Fatalf("case %d: a pair is missing", n)
				}
			}
		}
		if held == 0 || spares == 0 || refused == 0 {
			t.Fatalf("case %d: %d held, %d of them with channels over, %d refused", n, held, spares, refused)
		}
	}
}

// What lies between the steps of a ladder holds all that may enter it, and but for equal
// prices nothing else.
func TestSpansHoldWhatMayEnter(t *testing.T) {
	c := garage(t)
	in, out := 0, 0
	for n := range 3 {
		r := rand.New(rand.NewPCG(uint64(n), 0x7370))
		p, car := large(c, 300, 300+r.Int64N(1500), generate.Tight, catalog.GoalMusic)
		p.Catalogue = generate.Catalogue(300, uint64(n), generate.Tight)
		p.Brief.Front = catalog.FrontEither
		k, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		k.ladder = true
		s := k.search(context.Background())
		for range 20 {
			w := &worker{search: s}
			w.ranking = ranking{ladder: true}
			for range r.IntN(12) {
				w.ranking.climb(candidate{level: s.most - build.Level(r.IntN(20_000)), price: r.Int64N(k.Limit)})
			}
			c, spans := k.Loads[r.IntN(len(k.Loads))], s.spansOf(w.ranking.best, nil)
			for range 20 {
				w.group, w.price = &group{class: c}, k.at(c).block()+r.Int64N(max(1, k.Limit/2))
				rooms := make(map[int]int64)
				for _, x := range spans {
					for _, at := range x.row(w, c).places {
						rooms[at.pair] = max(rooms[at.pair], at.room)
					}
				}
				for i := range c.Choices {
					_, want := w.barOnLadder(&c.Choices[i], withAny, build.Silent)
					room, held := rooms[i]
					switch {
					case want && (!held || room < w.price):
						t.Fatalf("case %d: pair %d may enter with a block for %d, and is in no span", n, i, w.price)
					case want:
						in++
					case held && room > w.price:
						t.Fatalf("case %d: pair %d with a block for %d is in a span, and cannot enter", n, i, w.price)
					default:
						out++
					}
				}
			}
		}
	}
	if in < 1000 || out < 1000 {
		t.Fatalf("%d may enter, %d may not", in, out)
	}
}
