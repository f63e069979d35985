package optimizer

import (
	"context"
	"math/big"
	"testing"

	"loudfor/catalog"
	"loudfor/optimizer/testing/generate"
)

// Where thousands of builds are as loud as one another and cost the same, the search
// works out hardly more of them than it ranks; at one price a kind it was 150,000 of
// this shelf with the front kept, and lists of parts that no memory held where many
// are owned.
func TestAPlateauIsNotTakenApart(t *testing.T) {
	c := garage(t)
	for style := range generate.StyleCount {
		for n := range 6 {
			p, car := large(c, 400, 800, generate.Tight, catalog.Goal(n%2))
			p.Catalogue, p.Brief.Owned = generate.Styled(400, 1, generate.Tight, style)
			p.Brief.Front = catalog.FrontRule(n / 2)
			t.Run("", func(t *testing.T) {
				r, s, err := pickWith(context.Background(), p, car)
				if err != nil || r.Outcome != Optimal {
					t.Fatalf("%v: %v, %v", style, r.Outcome, err)
				}
				if r.Proof.Evaluated.Int64() > 2_000 {
					t.Errorf("%v, goal %d, front %d: %v builds were worked out", style, p.Brief.Goal, p.Brief.Front, r.Proof.Evaluated)
				}
				if longest := s.rests.Longest(); longest > 2_000 {
					t.Errorf("%v, goal %d, front %d: a list of %d front stages", style, p.Brief.Goal, p.Brief.Front, longest)
				}
			})
		}
	}
}

// Where the customer owns two of every part, all builds cost nothing, and with a given
// front all that are loud enough are as loud as one another: only pieces and SKUs tell
// them apart. Blocks that come early in that order are opened first, and what comes
// after the last that ranks is not looked at one by one. What is bounded is how many
// builds are looked at: without the order of blocks it was 981 for the ranking and 13 for
// the ladder, and of ten thousand parts there was no end to it.
func TestAPlateauOfOwnedPartsIsNotTakenApart(t *testing.T) {
	c := garage(t)
	p, car := large(c, 600, 800, generate.Tight, catalog.GoalMusic)
	p.Brief.Front, p.Workers = catalog.FrontKeep, 1
	for _, part := range p.Catalogue.Parts {
		p.Brief.Owned = append(p.Brief.Owned, catalog.Mention{SKU: part.SKU, Count: 2})
	}
	r, err := pickIn(context.Background(), p, car)
	if err != nil || r.Outcome != Optimal {
		t.Fatal(r.Outcome, err)
	}
	l, err := ladderIn(context.Background(), p, car)
	if err != nil || len(l.Steps) != 1 {
		t.Fatal(len(l.Steps), err)
	}
	if n := r.Proof.Evaluated; n.Cmp(big.NewInt(500)) > 0 {
		t.Errorf("%v builds were looked at for the ranking", n)
	}
	if n := l.Proof.Evaluated; n.Cmp(big.NewInt(6)) > 0 {
		t.Errorf("%v builds were looked at for the ladder", n)
	}
}
