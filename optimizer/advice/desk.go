package advice

import (
	"context"
	"errors"
	"slices"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// Desk holds the answer to a problem, ready to be asked about.
type Desk struct {
	Result optimizer.Result // the ranking; its first build is the one in question

	p      optimizer.Problem
	series *optimizer.Series
	bySKU  map[string]*catalog.Part
}

// Runners is how many builds are ranked, so that the parts of the runners-up
// count as near the best build.
const Runners = 5

// ErrStopped says that the context ended before a question was answered.
var ErrStopped = errors.New("the search was stopped before the question was answered")

// Ask finds the best build. Top, Distinct and Bare of the problem do not
// matter: the ranking holds the best build of each pair of bass driver and
// amplifier, with bands. Errors are those of optimizer.Pick.
func Ask(ctx context.Context, p optimizer.Problem) (*Desk, error) {
	series, err := optimizer.NewSeries(p)
	if err != nil {
		return nil, err
	}
	return AskIn(ctx, series, p)
}

// AskIn is Ask about a car that has been asked about before.
func AskIn(ctx context.Context, series *optimizer.Series, p optimizer.Problem) (d *Desk, err error) {
	p.Top, p.Distinct, p.Bare, p.With = Runners, optimizer.DistinctBass, true, ""
	if p.Shared == nil {
		p.Shared = new(optimizer.Shared) // the drivers are the same in all questions
	}
	d = &Desk{p: p, series: series, bySKU: make(map[string]*catalog.Part)}
	for _, part := range p.Catalogue.Parts {
		d.bySKU[part.SKU] = part
	}
	if d.Result, err = series.Pick(ctx, p); err != nil {
		return nil, err
	}
	d.p.Distinct, d.p.Top, d.p.Progress = optimizer.DistinctParts, 1, nil
	return d, d.compare(pointers(d.Result.Builds)...)
}

// Best is the build in question; nil when there is none.
func (d *Desk) Best() *optimizer.Build {
	if len(d.Result.Builds) == 0 {
		return nil
	}
	return &d.Result.Builds[0]
}

func pointers(builds []optimizer.Build) (all []*optimizer.Build) {
	for i := range builds {
		all = append(all, &builds[i])
	}
	return all
}

// compare draws the bands of builds that are to be held against each other.
func (d *Desk) compare(builds ...*optimizer.Build) error {
	return d.series.Compare(d.p, builds)
}

// first is the best build of a problem; nil when there is none.
func (d *Desk) first(ctx context.Context, p optimizer.Problem) (*optimizer.Build, error) {
	b, whole, err := d.series.First(ctx, p)
	if err == nil && !whole {
		err = ErrStopped
	}
	if err != nil {
		return nil, err
	}
	return b, nil
}

// from is the ladder of a problem from a level on.
func (d *Desk) from(ctx context.Context, p optimizer.Problem, least float64) ([]optimizer.Build, error) {
	builds, whole, err := d.series.From(ctx, p, least)
	if err == nil && !whole {
		err = ErrStopped
	}
	return builds, err
}

// never is a problem without a part.
func never(p optimizer.Problem, sku string) optimizer.Problem {
	p.Brief.Never = append(slices.Clone(p.Brief.Never), catalog.Mention{SKU: sku, Count: 1})
	return p
}

// among is the problem with a few parts only: those named, and of the deals
// those that they can take part in. What the brief says of other parts has no
// meaning then and is left out, but for a must, which nothing can meet: there
// the problem is as it was.
func among(p optimizer.Problem, keep func(sku string) bool) optimizer.Problem {
	few := *p.Catalogue
	few.Parts = nil
	for _, part := range p.Catalogue.Parts {
		if keep(part.SKU) || mentioned(p.Brief.Must, part.SKU) {
			few.Parts = append(few.Parts, part)
		}
	}
	few.Deals = nil
	in := func(m catalog.Mention) bool { return keep(m.SKU) || mentioned(p.Brief.Must, m.SKU) }
	for _, deal := range p.Catalogue.Deals {
		if !slices.ContainsFunc(deal.Parts, func(m catalog.Mention) bool { return !in(m) }) {
			few.Deals = append(few.Deals, deal)
		}
	}
	only := func(list []catalog.Mention) []catalog.Mention {
		return slices.DeleteFunc(slices.Clone(list), func(m catalog.Mention) bool { return !in(m) })
	}
	p.Catalogue = &few
	p.Brief.Owned, p.Brief.Never = only(p.Brief.Owned), only(p.Brief.Never)
	return p
}

func mentioned(list []catalog.Mention, sku string) bool {
	return slices.ContainsFunc(list, func(m catalog.Mention) bool { return m.SKU == sku })
}

// Step is another build, held against the best.
type Step struct {
	Build      optimizer.Build
	Difference optimizer.Difference // its level less that of the best, with the band of that
	Tie        bool                 // the difference is none
	Cost       catalog.Money        // its price less that of the best; negative: it is cheaper
}

// step holds a build against the best.
func (d *Desk) step(b *optimizer.Build) (Step, error) {
	best := d.Best()
	if err := d.compare(best, b); err != nil {
		return Step{}, err
	}
	s := Step{Build: *b, Cost: catalog.Money{Minor: b.Cost.Minor - best.Cost.Minor, Currency: b.Cost.Currency}}
	s.Difference, s.Tie = d.series.Apart(b, best)
	return s, nil
}
