package optimizer

import (
	"context"
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
