package optimizer

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
)

// TestToldAsBuilt: what a build says of its signal and its front is what is in it, and
// a comparison within a series gives the figures of the ranking.
func TestToldAsBuilt(t *testing.T) {
	c := garage(t)
	ctx := context.Background()
	told := map[string]int{}
	for seed := uint64(1); seed <= 60; seed++ {
		p, car := c.small(seed)
		p.Bare = false
		r, err := pickIn(ctx, p, car)
		if err != nil {
			t.Fatal(err)
		}
		for _, b := range r.Builds {
			source := lineOf(&b, catalog.KindSource).Source
			want := "speaker wires of the source into the amplifier's speaker-level input"
			switch convert := lineOf(&b, catalog.KindConverter); {
			case source.PreOuts > 0 && b.Front.Power == FromSource:
				want = "line outputs of the source"
			case source.PreOuts > 0:
				want = "line outputs of the source, split to bass and front"
			case convert != nil:
				want = "speaker wires of the source through the line converter " + convert.SKU
			}
			if b.Signal != want {
				t.Errorf("seed %d, %v, front from %v: %q, want %q", seed, skus(&b), b.Front.Power, b.Signal, want)
			}
			kept := slices.ContainsFunc(b.Assumed, func(n string) bool { return strings.Contains(n, "the speakers that came with the car") })
			if kept != (b.Front.Part == nil) {
				t.Errorf("seed %d, %v: the car's speakers are told of: %t", seed, skus(&b), kept)
			}
			told[strings.Split(want, " through ")[0]]++
			told[fmt.Sprint("kept: ", kept)]++
		}
		if len(r.Builds) == 0 || seed > 12 {
			continue
		}
		var bare []*Build
		for i := range r.Builds {
			b := r.Builds[i]
			b.Difference, b.Tie, b.Reading.Band, b.Music.Band = Difference{}, false, 0, 0
			bare = append(bare, &b)
		}
		s, err := NewSeries(p)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Compare(p, bare); err != nil {
			t.Fatal(err)
		}
		for i, b := range bare {
			want := r.Builds[i]
			if got, want := fmt.Sprint(b.Difference, b.Tie, b.Reading, b.Music), fmt.Sprint(want.Difference, want.Tie, want.Reading, want.Music); got != want {
				t.Errorf("seed %d, build %d: %s, want %s", seed, i, got, want)
			}
		}
	}
	if len(told) < 6 {
		t.Errorf("only this was to be told: %v", told)
	}
}

// TestUsualTop: a ranking of which nobody says how long it is has the usual length,
// over the shops as well.
func TestUsualTop(t *testing.T) {
	c := garage(t)
	ranked := 0
	for seed := uint64(1); seed <= 30 && ranked < 3; seed++ {
		p, car := c.small(seed)
		manyShops(&p, seed)
		if p.Bare = true; !touring(&p) {
			continue
		}
		p.Top = DefaultTop
		want, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		p.Top = 0
		got, err := pickIn(context.Background(), p, car)
		if err != nil || len(got.Builds) != len(want.Builds) {
			t.Fatalf("seed %d: %d builds, want %d; %v", seed, len(got.Builds), len(want.Builds), err)
		}
		ranked += min(1, len(want.Builds))
	}
	if ranked == 0 {
		t.Error("no ranking over several shops")
	}
}
