package optimizer

import (
	"math"
	"math/rand/v2"
	"testing"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/testing/generate"
)

// What one source covers another with, the model grants: no block is quieter with
// it. Nor is one with the join of both, or another with a clipped current.
func TestYardstick(t *testing.T) {
	blocks := 1500
	if !long() {
		blocks = 200
	}
	c := garage(t)
	p, car := large(c, 600, 3000, generate.Loose, catalog.GoalReading)
	k, err := readyIn(p, setting.Relaxation{}, car)
	if err != nil {
		t.Fatal(err)
	}
	var books ledger
	groups := k.groups(&books)
	k.fillClasses(k.rests.floor, k.aiming() && !k.ladder)
	r := rand.New(rand.NewPCG(1, 0x79617264))
	covered, behindMore, throughLonger := 0, 0, 0
	for range blocks {
		g := groups[r.IntN(len(groups))]
		box := g.housing[r.IntN(len(g.housing))]
		var block bass.Prepared
		if len(g.class.pairs) == 0 || bass.PrepareInto(&block, k.setup(&g.bassBlock, box), k.Room) != nil {
			continue
		}
		k.Feed.Reserve = 5 + 100*r.Float64()
		y := k.yardstick(g.class)
		level := func(f coilSource, cable float64) float64 {
			d := f.drive(g.class.drivers * g.class.coils)
			d.Feed = k.Feed
			d.Feed.CableResistance = cable
			return block.Loudest(d, k.Reading).Level
		}
		felts := make([]coilSource, 6)
		for i := range felts {
			felts[i] = coilSource{2 + 40*r.Float64(), 2 * r.Float64() * r.Float64(), 0.5 + 20*r.Float64()*r.Float64(), 0.6 + 0.2*float64(r.IntN(2))}
		}
		cable := func() float64 { return k.kits[k.usable[r.IntN(len(k.usable))]].resistance }
		// The hard cases: just as high a voltage as it takes.
		for i := 0; i < 4; i += 2 {
			f, o := &felts[i], &felts[i+1]
			f.current, f.efficiency = max(f.current, y.flow(o)), max(f.efficiency, o.efficiency)
			f.voltage = o.voltage * y.ratio(f.resistance, o.resistance)
		}
		for i, f := range felts {
			if a, b := level(f, 0.01), level(y.clip(f), 0.01); math.Abs(a-b) > boundSlack {
				t.Fatalf("%v reads %.9f dB, with its current clipped %.9f dB", f, a, b)
			}
			for j, o := range felts {
				if i == j {
					continue
				}
				mine, its := cable(), cable()
				before := outfit{felt: y.clip(o), cable: its}
				s := y.sags(&before)
				share := s.through(mine)
				if j == i+1 && share > 0 {
					f.voltage = o.voltage * y.ratio(f.resistance, o.resistance) / share * spareVolts
				}
				weaker := level(o, its)
				if y.covers(&f, &before.felt, share) {
					covered++
					if f.resistance > o.resistance {
						behindMore++
					}
					if mine > its {
						throughLonger++
					}
					if got := level(f, mine); got < weaker-boundSlack {
						t.Fatalf("%v through %g ohm reads %.9f dB, %v through %g ohm that it covers %.9f dB", f, mine, got, o, its, weaker)
					}
				}
				if join := y.join(f, o); level(join, its) < max(weaker, level(f, its))-boundSlack {
					t.Fatalf("the join of %v and %v is %v, which reads less", f, o, join)
				}
			}
		}
	}
	if covered < blocks || behindMore < blocks/4 || throughLonger < blocks/4 {
		t.Errorf("only %d covered, %d behind more resistance, %d through more cable: the cases say little", covered, behindMore, throughLonger)
	}
}

// Each wiring with each kit that may carry it stands in the wardrobe once, in
// front or behind one that costs no more.
func TestWardrobe(t *testing.T) {
	c := garage(t)
	for _, tightness := range []generate.Tightness{generate.Loose, generate.Tight} {
		p, car := large(c, 600, 400, tightness, catalog.GoalReading)
		k, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		var books ledger
		k.groups(&books)
		k.fillClasses(k.rests.floor, k.aiming() && !k.ladder)
		for _, c := range k.order {
			k.dress(c)
			want, got, front := 0, 0, 0
			for i := range c.pairs {
				for range c.pairs[i].ways {
					want++
				}
			}
			w := &c.wardrobe
			for i := range w.wired {
				got += 1 + len(w.behind[i])
				for _, x := range w.behind[i] {
					if x.price < w.wired[i].price {
						t.Fatalf("a wiring for %d stands behind one for %d", x.price, w.wired[i].price)
					}
				}
			}
			if got != want {
				t.Fatalf("%d wirings stand in the wardrobe, of %d", got, want)
			}
			want, got = 0, 0
			for i := range w.wired {
				for _, kit := range c.pairs[w.wired[i].pair].kitTier.kits {
					if w.wired[i].price+kit.Lower(1) <= k.Limit {
						want++
					}
				}
			}
			for i := range w.outfits {
				o := &w.outfits[i]
				got, front = got+1+len(o.behind), front+1
				for _, x := range o.behind {
					if x.floor < o.floor {
						t.Fatalf("an outfit for %d stands behind one for %d", x.floor, o.floor)
					}
				}
			}
			if got != want || want > 0 && front == 0 {
				t.Fatalf("%d outfits stand in the wardrobe, %d in front, of %d", got, front, want)
			}
		}
	}
}
