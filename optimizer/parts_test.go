package optimizer

import (
	"context"
	"math"
	"testing"

	"loudfor/catalog"
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
