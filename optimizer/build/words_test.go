package build

import (
	"testing"

	"loudfor/catalog"
)

// Every reason for which combinations are left out has words of its own, and so has
// every power of a front stage.
func TestWordsOfReasons(t *testing.T) {
	said := map[string]bool{}
	for r := range ReasonCount {
		if w := r.String(); w == "" || said[w] {
			t.Errorf("reason %d: %q", r, w)
		} else {
			said[w] = true
		}
	}
	for p := FromNothing; p <= FromOwn; p++ {
		if w := p.String(); w == "" || said[w] {
			t.Errorf("power %d: %q", p, w)
		} else {
			said[w] = true
		}
	}
}

// A line without purchases of its own is bought at the part's shop; what is owned is
// bought nowhere.
func TestWhereALineIsBought(t *testing.T) {
	part := &catalog.Part{SKU: "A", Store: "near", Price: catalog.Money{Minor: 100}}
	for _, c := range []struct{ count, owned, want int }{{3, 0, 3}, {3, 1, 2}, {2, 2, 0}} {
		l := Line{Part: part, Count: c.count, Owned: c.owned}
		got := l.Purchases()
		if c.want == 0 && len(got) != 0 || c.want > 0 && (len(got) != 1 || got[0].Count != c.want || got[0].Store != "near" || got[0].Each != part.Price) {
			t.Errorf("%d, %d owned: %+v", c.count, c.owned, got)
		}
	}
	l := Line{Part: part, Count: 1, From: []Purchase{{Store: "far", Count: 1}}}
	if got := l.Purchases(); len(got) != 1 || got[0].Store != "far" {
		t.Errorf("%+v", got)
	}
}
