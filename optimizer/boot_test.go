package optimizer

import (
	"context"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"loudfor/catalog"
	"loudfor/optimizer/setting"
	"loudfor/optimizer/verify"
)

func TestPasses(t *testing.T) {
	box := catalog.Size3{Width: 0.56, Depth: 0.40, Height: 0.44}
	for _, c := range []struct {
		opening [2]float64
		goes    bool
	}{
		{[2]float64{0.56, 0.44}, true},  // as it stands
		{[2]float64{0.44, 0.40}, true},  // an end ahead, on its side
		{[2]float64{0.40, 0.44}, true},  // an end ahead
		{[2]float64{0.43, 0.43}, false}, // tilted, perhaps; that is not asked
		{[2]float64{2.00, 0.39}, false}, // however wide
		{[2]float64{0.4396, 0.3996}, true},
		{[2]float64{0.4396, 0.3994}, false},
		{[2]float64{}, true}, // nobody said how large it is
	} {
		if got := setting.Passes(box, c.opening); got != c.goes {
			t.Errorf("through %v: %v", c.opening, got)
		}
	}
	if !setting.Passes(catalog.Size3{}, [2]float64{0.1, 0.1}) {
		t.Error("a box of unknown size does not go in")
	}
}

// The rule of the search and that of the recheck, which are written otherwise,
// agree; and a box that goes through one opening goes through a larger one.
func TestPassesAgainstTheRecheck(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Custom(func(t *rapid.T) float64 { return float64(rapid.IntRange(1, 12).Draw(t, "decimetres")) / 10 })
		box := catalog.Size3{Width: side.Draw(t, "width"), Depth: side.Draw(t, "depth"), Height: side.Draw(t, "height")}
		hole := [2]float64{side.Draw(t, "across"), side.Draw(t, "up")}
		goes := setting.Passes(box, hole)
		if goes != verify.SlidesIn(box, hole) {
			t.Fatalf("%v through %v: %v, rechecked %v", box, hole, goes, !goes)
		}
		if goes && !setting.Passes(box, [2]float64{hole[0] + side.Draw(t, "more"), hole[1]}) {
			t.Fatalf("%v through %v, but not through a wider one", box, hole)
		}
	})
}

// An opening takes away exactly the builds with boxes that do not go through
// it; the ranking of the others is as before. One that nothing goes through
// blocks by itself, and what it lacks is said to the millimetre.
func TestOpeningOfTheBoot(t *testing.T) {
	ranked, blocked, enough := 0, 0, 24
	if testing.Short() {
		enough = 6
	}
	for seed := uint64(1); ranked+blocked < enough; seed++ {
		p, car := garage(t).small(seed)
		p.Vehicle.Boot, p.Distinct, p.Top = [2]float64{}, DistinctParts, 40
		all, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		if len(all.Builds) == 0 || len(all.Builds) == p.Top {
			continue // nothing to take away, or not all that there is
		}
		outside := func(b *Build) catalog.Size3 {
			if b.Bass.Enclosure != nil {
				return b.Bass.Enclosure.Enclosure.Outside
			}
			return b.Bass.Part.Loaded.Outside
		}
		sizes := []float64{}
		for i := range all.Builds {
			o := outside(&all.Builds[i])
			s := []float64{o.Width, o.Depth, o.Height}
			slices.Sort(s)
			sizes = append(sizes, s[1])
		}
		slices.Sort(sizes)
		p.Vehicle.Boot = [2]float64{2, 0.999 * sizes[len(sizes)/2]}
		var want []string
		for i := range all.Builds {
			if o := outside(&all.Builds[i]); o == (catalog.Size3{}) || verify.SlidesIn(o, p.Vehicle.Boot) {
				want = append(want, strings.Join(skus(&all.Builds[i]), " "))
			}
		}
		got, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		var names []string
		for i := range got.Builds {
			names = append(names, strings.Join(skus(&got.Builds[i]), " "))
		}
		if !slices.Equal(names, want) {
			t.Fatalf("seed %d: through %v go\n%v, want\n%v", seed, p.Vehicle.Boot, names, want)
		}
		if ranked++; slices.ContainsFunc(all.Builds, func(b Build) bool { return outside(&b) == (catalog.Size3{}) }) {
			continue
		}
		p.Vehicle.Boot = [2]float64{0.06, 0.06}
		none, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		if len(none.Conflicts) != 1 || len(none.Conflicts[0]) != 1 || none.Conflicts[0][0].Kind != RequireBoot || !none.Conflicts[0][0].Alone {
			continue // boxes of unknown size go through, and something else forbids them
		}
		blocked++
		fixes := none.Conflicts[0][0].Fixes
		if len(fixes) != 1 || !strings.Contains(fixes[0].Words, "width") || !strings.HasSuffix(fixes[0].Words, "of the boot's opening") {
			t.Fatalf("seed %d: %+v", seed, fixes)
		}
		for by, goes := range map[float64]bool{0: true, -1.0 / millimetres: false} {
			for side := range 2 {
				p.Vehicle.Boot = fixes[0].Boot
				p.Vehicle.Boot[side] += by
				r, err := pickIn(context.Background(), p, car)
				if err != nil {
					t.Fatal(err)
				}
				if (len(r.Builds) > 0) != goes {
					t.Errorf("seed %d: %d builds through %v, of which %g m were said to be enough", seed, len(r.Builds), p.Vehicle.Boot, fixes[0].Boot)
				}
			}
		}
	}
	if ranked == 0 || blocked == 0 {
		t.Errorf("%d rankings, %d blocked: the cases say little", ranked, blocked)
	}
}
