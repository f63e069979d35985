package optimizer

import (
	"context"
	"math/rand/v2"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// predictions is how many random cases are predicted again with LOUDFOR_LONG; a fifth
// without, more with LOUDFOR_ORACLE_CASES.
const predictions = 200

// Every ranked build, predicted again from its parts under the same brief in the same
// car or in the open field, has the figures that it was ranked by: under all rules of the front, with parts
// that are owned, have to be in it or are gone from the shelf since, on all tours.
func TestPredictSaysWhatPickSaid(t *testing.T) {
	c := garage(t)
	builds, gone := 0, 0
	fronts := map[catalog.FrontRule]int{}
	for seed := firstSeed(t); seed < firstSeed(t)+caseCount(t, predictions); seed++ {
		g := rand.New(rand.NewPCG(seed, 0x61676169))
		p, car := c.drawn(seed, mixedMost)
		switch g.IntN(4) {
		case 0:
			manyShops(&p, seed)
		case 1:
			dealt(&p, seed)
		}
		if g.IntN(8) == 0 {
			p.Vehicle, p.Brief.Vehicle, p.Brief.Openings, car = catalog.OpenField(), catalog.OpenFieldName, "", nil
		}
		p.Distinct = DistinctParts
		r, err := pickIn(context.Background(), p, car)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for i := range r.Builds {
			want := &r.Builds[i]
			builds++
			fronts[p.Brief.Front]++
			q := p
			if g.IntN(3) == 0 && !touring(&p) { // somebody has bought the last of everything
				q.Catalogue = soldOut(p.Catalogue, want)
				gone++
			}
			got, err := Predict(context.Background(), q, build.Mentions(want.Lines), "", 0)
			if err != nil {
				t.Fatalf("seed %d: build %d %v: %v", seed, i+1, skus(want), err)
			}
			same := got.Operation == want.Operation && got.Reading == want.Reading && got.Music == want.Music && got.Plan == want.Plan &&
				got.Front.Power == want.Front.Power && got.Front.HighPass == want.Front.HighPass && got.Front.DB == want.Front.DB &&
				got.Bass.Amplifier.SKU == want.Bass.Amplifier.SKU && got.Bass.Amplifiers == want.Bass.Amplifiers && got.Signal == want.Signal
			if !same || got.Cost != want.Cost && len(p.Catalogue.Deals) == 0 {
				t.Fatalf("seed %d: build %d %v, front %v: picked %.3f dB, music %.3f dB, %s, front %v by %v at %.0f Hz, %v; predicted %.3f dB, music %.3f dB, %s, front %v by %v at %.0f Hz, %v", seed, i+1, skus(want), p.Brief.Front,
					want.Reading.DB, want.Music.DB, want.Cost, want.Front.DB, want.Front.Power, want.Front.HighPass, want.Plan.Words,
					got.Reading.DB, got.Music.DB, got.Cost, got.Front.DB, got.Front.Power, got.Front.HighPass, got.Plan.Words)
			}
		}
	}
	t.Logf("%d builds, %d of them of parts that are gone; by the rule for the front: %v", builds, gone, fronts)
}

// soldOut is the catalogue after a build was bought down to the last piece.
func soldOut(c *catalog.Catalogue, b *Build) *catalog.Catalogue {
	after := *c
	after.Parts = nil
	for _, part := range c.Parts {
		for _, l := range b.Lines {
			if l.Part == part && l.Count > l.Owned {
				q := *part
				q.Stock, part = 0, &q
			}
		}
		after.Parts = append(after.Parts, part)
	}
	return &after
}
