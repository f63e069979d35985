package catalog

import (
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
)

// Sums with a plus are added to the one before; each step has to bring something.
func TestSteps(t *testing.T) {
	usd := func(units ...int64) (sums []Money) {
		for _, u := range units {
			sums = append(sums, Money{100 * u, "USD"})
		}
		return sums
	}
	for _, c := range []struct {
		steps string
		want  []Money
		err   string
	}{
		{"[250 USD, +300 USD, +200 USD]", usd(250, 550, 750), ""},
		{"[250 USD, 550 USD, +200 USD]", usd(250, 550, 750), ""},
		{"[+250 USD, + 300 USD]", usd(250, 550), ""},
		{"[250 USD, 300 USD, 350 USD, 400 USD]", usd(250, 300, 350, 400), ""},
		{"[250 USD]", nil, "1 steps"},
		{"250 USD", nil, "1 steps"},
		{"[250 USD, 251 USD, 252 USD, 253 USD, 254 USD]", nil, "5 steps"},
		{"[250 USD, 250 USD]", nil, "by step 2 all that may be spent would be 250.00 USD"},
		{"[250 USD, +0 USD]", nil, "by step 2"},
		{"[250 USD, +300 EUR]", nil, "a step in EUR after one in USD"},
		{"[250 USD, soon]", nil, `a step cannot be "soon"`},
		{"[200 USD, +300 USD]", nil, "the first step is 200.00 USD, but the cap is 250.00 USD"},
	} {
		text := "cap: 250 USD\nvehicle: small sedan\nsteps: " + c.steps + "\n"
		b, report := LoadBriefFS(fstest.MapFS{"b.yaml": {Data: []byte(text)}}, "b.yaml")
		switch err := report.Err(); {
		case c.err == "" && err != nil:
			t.Errorf("%s: %v", c.steps, err)
		case c.err == "":
			if diff := cmp.Diff(c.want, b.Budgets()); diff != "" {
				t.Errorf("%s (-want +got):\n%s", c.steps, diff)
			}
		case err == nil || !strings.Contains(err.Error(), c.err):
			t.Errorf("%s: %v, want %q", c.steps, err, c.err)
		}
	}
	b := DefaultBrief()
	b.Cap, b.Steps = usd(250)[0], usd(250, 550)
	b.Cap = usd(400)[0] // as a flag would
	if diff := cmp.Diff(usd(400, 700), b.Budgets()); diff != "" {
		t.Error("with another cap", diff)
	}
	if said := b.Said("steps"); !cmp.Equal(said, []string{"400.00 USD", "+300.00 USD"}) {
		t.Error(said)
	}
}
