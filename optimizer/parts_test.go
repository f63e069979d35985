package optimizer

import (
	"context"
	"math"
	"testing"

	"loudfor/catalog"
	"loudfor/model/front"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
)

// A branch of pairs is no dearer, no weaker and no more bound than any pair on it.
func TestBranchCoversItsPairs(t *testing.T) {
	c := garage(t)
	branches := 0
	for seed := uint64(1); seed <= 24; seed++ {
		p, car := c.small(seed)
		full, err := readyIn(p, setting.Relaxation{}, car)
		if err != nil {
			t.Fatal(err)
		}
		groups := full.search(context.Background()).groups
		seen := map[*drive.CoilLoad]bool{}
		for _, g := range groups {
			c := g.class
			if seen[c] || len(c.Choices) == 0 {
				continue
			}
			seen[c] = true
			which := make([]int, len(c.Choices))
			for i := range which {
				which[i] = i
			}
			grown := c.Grow(which)
			var walk func(at int) []int
			walk = func(at int) []int {
				b := &grown[at]
				below := []int{b.Choice}
				if b.Choices > 1 {
					below = append(walk(at+1), walk(b.Right)...)
				}
				if branches++; len(below) != b.Choices {
					t.Fatalf("seed %d: %d pairs of %d on a branch", seed, len(below), b.Choices)
				}
				floor, bare, amps, rest, spare := int64(math.MaxInt64), int64(math.MaxInt64), int64(math.MaxInt64), int64(math.MaxInt64), false
				for _, k := range below {
					p := &c.Choices[k]
					floor, bare, amps, rest, spare = min(floor, p.Floor), min(bare, p.Bare), min(amps, p.Price), min(rest, p.Kitless()), spare || p.Spare
					if !b.AtCoil.Covers(&p.AtCoil) {
						t.Fatalf("seed %d: a pair is stronger than its branch", seed)
					}
				}
				if b.Floor != floor || b.Bare != bare || b.Amps != amps || b.Rest != rest || b.Spare != spare {
					t.Fatalf("seed %d: %+v, of its pairs %d, %d, %d, %d, %t", seed, *b, floor, bare, amps, rest, spare)
				}
				return below
			}
			walk(0)
		}
	}
	if branches < 100 {
		t.Errorf("%d branches say little", branches)
	}
}

// What a head unit gives a side, by hand: its watts by the ohms they are rated into, no
// more than its supply allows, and nothing below the load it may drive.
func TestSourcePower(t *testing.T) {
	for _, c := range []struct {
		s    catalog.Source
		load float64
		want float64
	}{
		{catalog.Source{Channels: 4, Power: 5, Load: 4}, 4, 5},
		{catalog.Source{Channels: 4, Power: 5, Load: 4}, 8, 2.5},
		{catalog.Source{Channels: 4, Power: 5}, 4, 5},
		{catalog.Source{Channels: 4, Power: 5, Load: 4}, 3.97, 5 * 4 / 3.97},
		{catalog.Source{Channels: 4, Power: 5, Load: 4}, 3.9, 0},
		{catalog.Source{Channels: 4, Power: 5, Load: 4, MinimumLoad: 2}, 2, 10},
		{catalog.Source{Channels: 4, Power: 5, Load: 4, MinimumLoad: 2}, 1.9, 0},
		{catalog.Source{Channels: 1, Power: 5, Load: 4}, 4, 0},
		{catalog.Source{Channels: 2, Power: 5, Load: 4}, 4, 5},
		{catalog.Source{Channels: 4, Power: 500, Load: 4}, 4, front.HeadUnitCeiling(14.4, 4, 4)},
		{catalog.Source{Channels: 4, Load: 4}, 4, front.HeadUnitCeiling(14.4, 4, 4)},
		{catalog.Source{Channels: 4, Load: 4, SupplyVolts: 13}, 4, front.HeadUnitCeiling(13, 4, 4)},
	} {
		if got := sourcePower(&c.s, c.load); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%+v into %g ohm: %g W, want %g W", c.s, c.load, got, c.want)
		}
	}
}

// 100 uF before 4 ohm are a first order from 398 Hz on: 1/(2 pi R C).
func TestBlockerFilter(t *testing.T) {
	if f := blockerFilter(&catalog.BassBlocker{Capacitance: 100e-6}, 4); math.Abs(f.hz-397.887) > 1e-3 || f.order != 1 || f.free {
		t.Errorf("%+v", f)
	}
	if f := blockerFilter(&catalog.BassBlocker{}, 4); f != (filter{}) {
		t.Errorf("%+v of a blocker without capacitors", f)
	}
}

// fake fills a slot for some price.
type fake struct {
	lower, list, marginal int64
	at                    int
}

func (f fake) Lower(n int) int64             { return int64(n) * f.lower }
func (f fake) List(n int) int64              { return int64(n) * f.list }
func (f fake) Marginal() int64               { return f.marginal }
func (f fake) place() int                    { return f.at }
func (f fake) unsure() (*pricing.Item, bool) { return nil, true }

// What is left out stands behind as many as asked for whose full price is below what it
// is worth with every deal; at the same price the one that comes first.
func TestDeepGoesByFullPrices(t *testing.T) {
	any := func(q, p fake) bool { return true }
	for _, c := range []struct {
		name  string
		items []fake
		depth int
		want  int // how many stay
	}{
		{"one behind another", []fake{{1, 1, 1, 0}, {5, 5, 5, 1}}, 1, 1},
		{"two deep", []fake{{1, 1, 1, 0}, {5, 5, 5, 1}, {6, 6, 6, 2}}, 2, 2},
		{"cheaper with a deal only", []fake{{1, 10, 1, 0}, {5, 5, 5, 1}}, 1, 2},
		{"worth less with a deal", []fake{{4, 4, 4, 0}, {5, 5, 3, 1}}, 1, 2},
		{"as dear, and first", []fake{{5, 5, 5, 0}, {5, 5, 5, 1}}, 1, 1},
		{"as dear, and not first", []fake{{5, 5, 5, 2}, {5, 5, 5, 1}}, 1, 2},
	} {
		if got := deep(c.items, c.depth, any); len(got) != c.want {
			t.Errorf("%s: %v stay, want %d", c.name, got, c.want)
		}
	}
	if got := deep([]fake{{1, 1, 1, 0}, {5, 5, 5, 1}}, 1, func(q, p fake) bool { return false }); len(got) != 2 {
		t.Errorf("%v stay where none replaces another", got)
	}
}

// Where nothing but stock is in the way, exactly what lacks is named.
func TestWhatHasToBeHad(t *testing.T) {
	c := garage(t)
	told := 0
	for seed := uint64(1); seed <= 20 && told < 4; seed++ {
		p, car := c.small(seed)
		p.Brief.Cap, p.Brief.Must, p.Brief.Never, p.Brief.Stores, p.Brief.Owned = catalog.Money{}, nil, nil, nil, nil
		p.Top = 1
		r, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Builds) == 0 {
			continue
		}
		amps := map[string]bool{}
		for _, part := range p.Catalogue.Parts {
			if part.Kind == catalog.KindAmplifier {
				part.Stock, amps[part.SKU] = 0, true
			}
		}
		if r, err = pickIn(context.Background(), p, car); err != nil {
			t.Fatal(err)
		}
		for _, set := range r.Conflicts {
			for _, q := range set {
				if q.Kind != RequireStock || !q.Alone {
					continue
				}
				if told++; len(q.Fixes) != 1 || len(q.Fixes[0].Stock) == 0 {
					t.Fatalf("seed %d: %+v", seed, q)
				}
				for _, m := range q.Fixes[0].Stock {
					if !amps[m.SKU] || m.Count < 1 || m.Count > p.Brief.Amplifiers+1 {
						t.Errorf("seed %d: %+v", seed, m)
					}
				}
			}
		}
	}
	if told == 0 {
		t.Error("nothing was told")
	}
}

// How the signal gets to the amplifiers, in words.
func TestSignalInWords(t *testing.T) {
	source := func(outs, channels int) *pricing.Item {
		return &pricing.Item{Part: &catalog.Part{SKU: "HEAD", Source: &catalog.Source{PreOuts: outs, Channels: channels}}}
	}
	amp := func(speaker bool) *pricing.Item {
		return &pricing.Item{Part: &catalog.Part{SKU: "AMP", Amplifier: &catalog.Amplifier{SpeakerInput: speaker}}}
	}
	line := &pricing.Item{Part: &catalog.Part{SKU: "LINE"}}
	for _, c := range []struct {
		a    arrangement
		want string
	}{
		{arrangement{amp: amp(false)}, "no source"},
		{arrangement{source: source(1, 4), amp: amp(true)}, "line outputs of the source"},
		{arrangement{source: source(1, 4), amp: amp(false), own: amp(false)}, "line outputs of the source, split to bass and front"},
		{arrangement{source: source(2, 4), amp: amp(false), power: FromBass}, "line outputs of the source, split to bass and front"},
		{arrangement{source: source(0, 4), amp: amp(false), convert: line}, "speaker wires of the source through the line converter LINE"},
		{arrangement{source: source(0, 2), amp: amp(true)}, "speaker wires of the source into the amplifier's speaker-level input"},
		{arrangement{source: source(0, 1), amp: amp(true)}, "incomplete"}, {arrangement{source: source(0, 4), amp: amp(false)}, "incomplete"},
	} {
		if got := (*task)(nil).signal(&c.a); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// A source in parentheses has none of its own.
func TestAside(t *testing.T) {
	for from, want := range map[string]string{
		"typical of 12 in": "typical of 12 in", "usual (common practice, no source)": "usual: common practice, no source", "a (b) c": "a (b) c", "(whole)": "(whole)", "a (b) (c)": "a (b): c",
	} {
		if got := aside(from); got != want {
			t.Errorf("%q: %q, want %q", from, got, want)
		}
	}
}
