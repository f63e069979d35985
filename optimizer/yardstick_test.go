package optimizer

import (
	"math"
	"math/rand/v2"
	"testing"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/optimizer/build"
	"loudfor/optimizer/drive"
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
	k.FillLoads(k.rests.Floor, k.aiming() && !k.ladder)
	r := rand.New(rand.NewPCG(1, 0x79617264))
	covered, behindMore, throughLonger := 0, 0, 0
	for range blocks {
		g := groups[r.IntN(len(groups))]
		box := g.housing[r.IntN(len(g.housing))]
		var block bass.Prepared
		if len(g.class.Choices) == 0 || bass.PrepareInto(&block, k.Setup(&g.Block, box), k.Room) != nil {
			continue
		}
		k.Feed.Reserve = 5 + 100*r.Float64()
		y := k.Dominance(g.class)
		level := func(f drive.CoilSource, cable float64) float64 {
			d := f.Drive(g.class.Drivers * g.class.Coils)
			d.Feed = k.Feed
			d.Feed.CableResistance = cable
			return block.Loudest(d, k.Reading).Level
		}
		felts := make([]drive.CoilSource, 6)
		for i := range felts {
			felts[i] = drive.CoilSource{Voltage: 2 + 40*r.Float64(), Resistance: 2 * r.Float64() * r.Float64(), Current: 0.5 + 20*r.Float64()*r.Float64(), Efficiency: 0.6 + 0.2*float64(r.IntN(2))}
		}
		cable := func() float64 { return k.Kits[k.Usable[r.IntN(len(k.Usable))]].Resistance }
		// The hard cases: just as high a voltage as it takes.
		for i := 0; i < 4; i += 2 {
			f, o := &felts[i], &felts[i+1]
			f.Current, f.Efficiency = max(f.Current, y.Flow(o)), max(f.Efficiency, o.Efficiency)
			f.Voltage = o.Voltage * y.Ratio(f.Resistance, o.Resistance)
		}
		for i, f := range felts {
			if a, b := level(f, 0.01), level(y.Clip(f), 0.01); math.Abs(a-b) > build.BoundSlack {
				t.Fatalf("%v reads %.9f dB, with its current clipped %.9f dB", f, a, b)
			}
			for j, o := range felts {
				if i == j {
					continue
				}
				mine, its := cable(), cable()
				before := drive.Feed{AtCoil: y.Clip(o), Cable: its}
				s := y.Drop(&before)
				share := s.SupplyShare(mine)
				if j == i+1 && share > 0 {
					f.Voltage = o.Voltage * y.Ratio(f.Resistance, o.Resistance) / share * drive.SpareVolts
				}
				weaker := level(o, its)
				if y.Covers(&f, &before.AtCoil, share) {
					covered++
					if f.Resistance > o.Resistance {
						behindMore++
					}
					if mine > its {
						throughLonger++
					}
					if got := level(f, mine); got < weaker-build.BoundSlack {
						t.Fatalf("%v through %g ohm reads %.9f dB, %v through %g ohm that it covers %.9f dB", f, mine, got, o, its, weaker)
					}
				}
				if join := y.Join(f, o); level(join, its) < max(weaker, level(f, its))-build.BoundSlack {
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
		k.FillLoads(k.rests.Floor, k.aiming() && !k.ladder)
		for _, c := range k.Loads {
			k.BuildFeeds(c)
			want, got, front := 0, 0, 0
			for i := range c.Choices {
				for range c.Choices[i].Wirings {
					want++
				}
			}
			w := &c.Feeds
			for i := range w.Wired {
				got += 1 + len(w.Behind[i])
				for _, x := range w.Behind[i] {
					if x.Price < w.Wired[i].Price {
						t.Fatalf("a wiring for %d stands behind one for %d", x.Price, w.Wired[i].Price)
					}
				}
			}
			if got != want {
				t.Fatalf("%d wirings stand in the wardrobe, of %d", got, want)
			}
			want, got = 0, 0
			for i := range w.Wired {
				for _, kit := range c.Choices[w.Wired[i].Choice].KitTier.Kits {
					if w.Wired[i].Price+kit.Lower(1) <= k.Limit {
						want++
					}
				}
			}
			for i := range w.All {
				o := &w.All[i]
				got, front = got+1+len(o.Behind), front+1
				for _, x := range o.Behind {
					if x.Floor < o.Floor {
						t.Fatalf("a feed for %d stands behind one for %d", x.Floor, o.Floor)
					}
				}
			}
			if got != want || want > 0 && front == 0 {
				t.Fatalf("%d feeds stand in line, %d in front, of %d", got, front, want)
			}
		}
	}
}
