package optimizer

import (
	"context"
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/verify"
)

// The recheck lets every winner pass (Pick would fail otherwise) and catches
// each way of spoiling one.
func TestRecheckCatchesWhatIsWrong(t *testing.T) {
	c := garage(t)
	spoiled := map[string]int{}
	for seed := uint64(1); seed <= 60; seed++ {
		p, car := c.small(seed)
		r, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Builds) == 0 {
			continue
		}
		for name, spoil := range map[string]func(p *Problem, b *Build){
			"costs":               func(_ *Problem, b *Build) { b.Cost.Minor-- },
			"above the cap":       func(p *Problem, b *Build) { p.Brief.Cap = catalog.Money{Minor: b.Cost.Minor - 1, Currency: "USD"} },
			"the reading is":      func(_ *Problem, b *Build) { b.Reading.DB += 0.001 },
			"the bass with":       func(_ *Problem, b *Build) { b.Music.Bass -= 0.001 },
			"the music level":     func(_ *Problem, b *Build) { b.Music.DB += 0.001 },
			"leaves coils out":    func(_ *Problem, b *Build) { b.Plan.Series++ },
			"below the rated":     func(_ *Problem, b *Build) { b.Plan.Parallel *= 40 },
			"too many":            func(p *Problem, b *Build) { b.Bass.Drivers = 99 },
			"do not fit the":      func(p *Problem, _ *Build) { p.Brief.Space = catalog.Size3{Width: 0.01, Depth: 0.01, Height: 0.01} },
			"must not be used":    func(p *Problem, b *Build) { p.Brief.Never = mention(b.Lines[0].Part.SKU) },
			"must be used":        func(p *Problem, _ *Build) { p.Brief.Must = mention("NO-SUCH") },
			"not in the":          func(p *Problem, b *Build) { p.Catalogue = without(p.Catalogue, b.Lines[0].Part) },
			"in use do not":       func(_ *Problem, b *Build) { b.Bass.Amplifiers++ },
			"instead of one":      func(_ *Problem, b *Build) { b.Lines = b.Lines[:1] },
			"the front plays":     func(_ *Problem, b *Build) { b.Front.DB += 0.001 },
			"through the opening": func(p *Problem, _ *Build) { p.Vehicle.Boot = [2]float64{0.01, 0.01} },
			"nothing drives the":  func(_ *Problem, b *Build) { b.Front.Power = FromNothing },
		} {
			q, b := p, r.Builds[0]
			b.Lines = slices.Clone(b.Lines)
			spoil(&q, &b)
			err := verify.Check(q, &b, car.Room)
			if (name == "do not fit the" || name == "through the opening") && unsized(&b) {
				continue
			}
			if err == nil || !strings.Contains(err.Error(), name) {
				t.Fatalf("seed %d: %q not caught: %v", seed, name, err)
			}
			spoiled[name]++
		}
		for name, spoil := range spoils {
			q, b := p, r.Builds[0]
			b.Lines = slices.Clone(b.Lines)
			if !spoil(&q, &b) {
				continue
			}
			if err := verify.Check(q, &b, car.Room); err == nil || !strings.Contains(err.Error(), name) {
				t.Fatalf("seed %d: %q not caught: %v", seed, name, err)
			}
			spoiled[name]++
		}
	}
	if len(spoiled) < 17+len(spoils) {
		t.Errorf("only %d kinds of spoiling were tried: %v", len(spoiled), spoiled)
	}
}

func mention(sku string) []catalog.Mention { return []catalog.Mention{{SKU: sku, Count: 1}} }

func without(c *catalog.Catalogue, p *catalog.Part) *catalog.Catalogue {
	return &catalog.Catalogue{Currency: c.Currency, Parts: slices.DeleteFunc(slices.Clone(c.Parts), func(q *catalog.Part) bool { return q == p })}
}

func unsized(b *Build) bool {
	if b.Bass.Enclosure == nil {
		return b.Bass.Part.Loaded.Outside == catalog.Size3{}
	}
	return b.Bass.Enclosure.Enclosure.Outside == catalog.Size3{}
}
