package advice

import (
	"context"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// Why a part is not in the best build. There are four answers, and each is
// proved by a search: it is in it; a build of the brief holds it, and this is
// the best of those; only the cap forbids it; or a rule does, whatever it costs.

// Answer is which of them.
type Answer int

const (
	InBest    Answer = iota // the best build holds it
	Possible                // other builds within the cap do
	AboveCap                // only builds above the cap do
	Forbidden               // no build does, at any price
)

func (a Answer) String() string {
	return [...]string{"in the best build", "possible", "above the cap", "forbidden"}[a]
}

// Verdict is what can be said of one part.
type Verdict struct {
	Part   *catalog.Part
	Answer Answer

	Role *Role // of a part in the best build
	With *Step // the best build that holds it, of a possible one

	// Cheapest is the price of the cheapest build that holds it, of one above
	// the cap; Over is how far that is above.
	Cheapest, Over catalog.Money

	// Rules are what forbids it, with the numbers, and Conflicts the sets of
	// requirements that leave no build with it, each with what would unblock
	// it: those that the customer could give up.
	Rules     []string
	Conflicts [][]optimizer.Requirement

	// Range is between which of its prices the best build stays as it is; nil
	// for a part that has no price, or is forbidden. A part that is not bought
	// for the best build is chosen below Range.Least.
	Range *Range
}

// Part answers for one part of the catalogue; the SKU must be in it, and a best
// build must exist.
func (d *Desk) Part(ctx context.Context, sku string) (*Verdict, error) {
	v := &Verdict{Part: d.bySKU[sku]}
	best := d.Best()
	if best.Holds(sku) > 0 {
		v.Answer = InBest
		roles, err := d.rolesOf(ctx, sku)
		if err != nil {
			return nil, err
		}
		v.Role = &roles[0]
		return v, d.rangeOf(ctx, v)
	}
	if v.Part.Kind.ForBuilding() {
		v.Answer = Forbidden
		return v, d.forbid(ctx, v)
	}
	with := d.p
	with.With = sku
	b, err := d.first(ctx, with)
	if err != nil {
		return nil, err
	}
	if b != nil {
		v.Answer = Possible
		if v.With, err = d.stepOf(b); err != nil {
			return nil, err
		}
		return v, d.rangeOf(ctx, v)
	}
	cost, any, err := d.series.Cheapest(with)
	if err != nil {
		return nil, err
	}
	if any {
		v.Answer, v.Cheapest = AboveCap, cost
		v.Over = catalog.Money{Minor: cost.Minor - d.p.Brief.Cap.Minor, Currency: cost.Currency}
		return v, d.rangeOf(ctx, v)
	}
	v.Answer = Forbidden
	return v, d.forbid(ctx, v)
}

func (d *Desk) rangeOf(ctx context.Context, v *Verdict) error {
	if !v.Part.Priced {
		return nil
	}
	r, err := d.Range(ctx, v.Part.SKU)
	v.Range = &r
	return err
}

// forbid finds the rules against a part that no build holds.
func (d *Desk) forbid(ctx context.Context, v *Verdict) error {
	if v.Rules = d.shelved(v.Part); len(v.Rules) > 0 {
		return nil
	}
	must := d.p
	must.Brief.Must = append(append([]catalog.Mention(nil), must.Brief.Must...), catalog.Mention{SKU: v.Part.SKU, Count: 1})
	r, err := d.series.Pick(ctx, must)
	if err != nil {
		return err
	}
	v.Rules = d.unfit(v.Part)
	switch {
	case len(r.Builds) > 0:
		v.Rules = append(v.Rules, idleWords(v.Part.Kind))
	case r.Stop != optimizer.StopComplete:
		return ErrStopped
	}
	for _, set := range r.Conflicts {
		var others []optimizer.Requirement
		for _, q := range set {
			if q.Kind != optimizer.RequireMust || q.Subject != v.Part.SKU {
				others = append(others, q)
			}
		}
		if len(others) > 0 && others[0].Kind != optimizer.RequireKinds {
			v.Conflicts = append(v.Conflicts, others)
		}
	}
	if len(v.Rules)+len(v.Conflicts) == 0 {
		v.Rules = []string{"the catalogue has nothing that goes with it"}
	}
	return nil
}
