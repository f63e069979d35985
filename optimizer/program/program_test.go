package program

import (
	"context"
	"errors"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loudfor/catalog"
	"loudfor/model/amplifier"
	"loudfor/model/cabin"
	"loudfor/optimizer/build"
	"loudfor/optimizer/completion"
	"loudfor/optimizer/drive"
	"loudfor/optimizer/linear"
	"loudfor/optimizer/pricing"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/testing/generate"
)

// few are the parts of a small random problem, in every third with deals.
func few(t *testing.T, seed uint64) *completion.Lists {
	t.Helper()
	g := rand.New(rand.NewPCG(seed, 0x666577))
	var counts [catalog.KindCount]int
	for kind := range catalog.KindSheet {
		counts[kind] = 2 + g.IntN(3)
	}
	body, ok := cabin.BodyNamed("small sedan")
	if !ok {
		t.Fatal("no such body")
	}
	p := build.Problem{
		Catalogue: generate.Counts(counts, seed, generate.Loose),
		Vehicle:   catalog.Vehicle{Name: "car", Body: body, Alternator: 70 + 30*float64(g.IntN(2)), Standby: 25, CableRun: 4.5},
		Brief: catalog.Brief{Celsius: 20, Place: "dash", Openings: "shut", Goal: catalog.Goal(seed % 2), Front: catalog.FrontRule(g.IntN(3)),
			Boxes: 2, Drivers: 4, Amplifiers: 2, FrontWatts: 10, Cap: catalog.Money{Minor: int64(60_000 + g.IntN(150_000)), Currency: generate.Currency}},
		Workers: 1,
	}
	if seed%3 == 0 {
		p.Catalogue = generate.Dealt(p.Catalogue, seed)
		p.Brief.Owned = []catalog.Mention{{SKU: p.Catalogue.Parts[g.IntN(len(p.Catalogue.Parts))].SKU, Count: 1}}
	}
	b, err := pricing.Open(p, setting.Relaxation{})
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(b.Enter(nil), b.ListMusts()); err != nil {
		t.Fatal(err)
	}
	return completion.New(drive.New(b, 1, nil))
}

// A source is weaker than another that is better in nothing less than everything.
func TestWeakerIsBetterInNothing(t *testing.T) {
	s := amplifier.Source{OpenVoltage: 30, Resistance: 0.1, Current: 20, Efficiency: 0.7}
	if !weaker(s, s) {
		t.Error("a source is not weaker than itself")
	}
	for _, change := range []func(s *amplifier.Source, by float64){
		func(s *amplifier.Source, by float64) { s.OpenVoltage *= by }, func(s *amplifier.Source, by float64) { s.Resistance /= by },
		func(s *amplifier.Source, by float64) { s.Current *= by }, func(s *amplifier.Source, by float64) { s.Efficiency *= by },
	} {
		better, worse := s, s
		change(&better, 1.01)
		change(&worse, 0.99)
		if weaker(better, s) || !weaker(worse, s) || weaker(better, worse) || !weaker(worse, better) {
			t.Errorf("%+v and %+v beside %+v", better, worse, s)
		}
	}
}

// The program for outside solvers holds nothing that another part of it beats, in the
// order of listing, and says why a rule holds once.
func TestProgramHasNothingIdle(t *testing.T) {
	systems, ways, rows := 0, 0, 0
	for seed := uint64(1); seed <= 12; seed++ {
		full := few(t, seed)
		f := &formulation{t: full, floor: build.Silent + 1, tops: map[*pricing.Item]build.Level{}, topped: map[slot][]system{}}
		f.shelve()
		f.stages()
		if err := f.tabulate(context.Background()); err != nil {
			t.Fatal(err)
		}
		if !slices.IsSortedFunc(f.systems, func(a, b system) int { return a.block - b.block }) {
			t.Errorf("seed %d: the systems are not in the order of the blocks", seed)
		}
		for i := range f.systems {
			systems++
			for j := range f.systems {
				a, b := &f.systems[i], &f.systems[j]
				if i < j && f.slotOf(a) == f.slotOf(b) && f.beats(a, b) && f.beats(b, a) {
					t.Errorf("seed %d: systems %d and %d stand in for each other", seed, i, j)
				}
			}
		}
		for i := range f.ways {
			ways++
			for j := range f.ways {
				a, b := &f.ways[i], &f.ways[j]
				if i < j && a.group() == b.group() && !a.needed && !b.needed && f.beatsWay(a, b) && f.beatsWay(b, a) {
					t.Errorf("seed %d: front stages %d and %d stand in for each other", seed, i, j)
				}
			}
		}
		for i := range f.kits {
			if len(f.kits[i].kits) == 0 {
				t.Errorf("seed %d: no kit in a class", seed)
			}
			for _, it := range f.kits[i].kits {
				for _, o := range f.kits[i].kits {
					if o != it && !it.Dealt && full.Kits[o].Capacity >= full.Kits[it].Capacity && o.List(1) <= it.List(1) {
						t.Errorf("seed %d: %s stays beside %s", seed, it.Part.SKU, o.Part.SKU)
					}
				}
			}
		}
		f.dropUndriven()
		said := map[string]bool{}
		selection := f.program()
		program := selection.Program
		for _, part := range selection.parts {
			named := slices.ContainsFunc(program.Rows, func(r linear.Row) bool { return r.Name == "buys_"+part.name })
			if want := part.item.Dealt && part.bought != absent && part.owned != absent; len(full.Deals) > 0 && named != want {
				t.Errorf("seed %d: %s, whether owned pieces come first: %t", seed, part.item.Part.SKU, named)
			}
		}
		goal := map[bool]string{false: "level is the reading", true: "level is the music level"}[full.Music()]
		if !strings.Contains(strings.Join(program.Title, "\n"), goal) {
			t.Errorf("seed %d: %q, not %q", seed, program.Title, goal)
		}
		for _, r := range program.Rows {
			if rows++; r.Note != "" && said[r.Note] {
				t.Errorf("seed %d: %q twice", seed, r.Note)
			}
			said[r.Note] = true
		}
	}
	if systems < 50 || ways < 20 || rows < 200 {
		t.Errorf("%d systems, %d front stages, %d rows: the cases say little", systems, ways, rows)
	}
}

// Whole minor units and millionths make up the price, also of savings, and the
// two rows let through exactly what the till does.
func TestMinorUnits(t *testing.T) {
	for _, c := range []struct {
		price, unit, whole, rest int64
	}{
		{12_345, 1_000_000, 12_345, 0},
		{12_345, 1, 0, 12_345},
		{-12_345, 1, -1, pricing.Million - 12_345},
		{-2_000_000, 1, -2, 0},
		{3, 537_500, 1, 612_500},
		{pricing.Dearest, pricing.Million + pricing.LargestTax, 11 * pricing.Dearest, 0},
	} {
		if whole, rest := minorUnits(c.price, uint64(c.unit)); whole != c.whole || rest != c.rest {
			t.Errorf("%d x %d: %d and %d, want %d and %d", c.price, c.unit, whole, rest, c.whole, c.rest)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.Int64Range(1, 2*pricing.Million).Draw(t, "unit")
		var sum, whole, rest int64
		for _, p := range rapid.SliceOfN(rapid.Int64Range(-1e9, 1e11), 1, 12).Draw(t, "prices") {
			n, r := minorUnits(p, uint64(unit))
			sum, whole, rest = sum+p, whole+n, rest+r
		}
		// The least carry and what is paid with it.
		carry := max(0, (rest-(pricing.Million/2-1)+pricing.Million-1)/pricing.Million)
		if got, want := whole+carry, pricing.Taxed(sum, unit-pricing.Million); sum > 0 && got != want {
			t.Fatalf("paid %d, the till says %d", got, want)
		}
	})
}
