package growth

import (
	"loudfor/catalog"
	"loudfor/optimizer"
)

// fill makes the answer of the best plan.
func (s *solver) fill(p *Plan) {
	money := func(minor int64) catalog.Money {
		return catalog.Money{Minor: minor, Currency: s.budgets[0].Currency}
	}
	var before counts
	for i := range s.best.steps {
		t := &s.best.steps[i]
		s.home(t.build)
		idle := counts{}
		for sku, n := range before {
			if k := min(n-t.sold[sku], max(0, s.owned[sku]+n-t.sold[sku]-t.build.Holds(sku))); k > 0 {
				idle[sku] = k
			}
		}
		p.Steps = append(p.Steps, Step{Budget: s.budgets[i], Cash: money(t.ready), Left: money(t.ready - t.build.Cost.Minor),
			Build: *t.build, Sold: t.sold.mentions(), Idle: idle.mentions(), Best: s.nothing[i]})
		before = t.held
	}
	p.Spent, p.Thrown, p.Short = money(s.best.net), money(s.best.thrown), s.best.short.DB()
	p.Asked = s.asked
	if s.stopped {
		p.GapDB = max(0, (s.unseen - s.best.first(s.order)).DB())
	}
}

// remark gives the builds of the plan their bands, and what else an answer says of
// them.
func (s *solver) remark(p *Plan) error {
	if s.p.Bare {
		return nil
	}
	var builds []*optimizer.Build
	for i := range p.Steps {
		if builds = append(builds, &p.Steps[i].Build); p.Steps[i].Best != nil {
			builds = append(builds, p.Steps[i].Best)
		}
	}
	if err := s.series.Compare(s.p, builds); err != nil {
		return err
	}
	for i := range p.Steps {
		step := &p.Steps[i]
		if step.Best != nil {
			step.Behind, step.Tie = s.series.Apart(&step.Build, step.Best)
		}
		if err := optimizer.Remark(s.problem(i, step.Cash.Minor, nil), &step.Build); err != nil {
			return err
		}
	}
	return nil
}

// home gives a build back the parts of the catalogue, in place of those of a question
// that was narrowed.
func (s *solver) home(b *optimizer.Build) {
	own := func(p **catalog.Part) {
		if *p == nil {
			return
		}
		if q := s.p.Catalogue.Part((*p).SKU); q != nil {
			*p = q
		}
	}
	for i := range b.Lines {
		own(&b.Lines[i].Part)
	}
	own(&b.Bass.Part)
	own(&b.Bass.Enclosure)
	own(&b.Bass.Amplifier)
	own(&b.Front.Part)
	own(&b.Front.Amplifier)
	own(&b.Front.Source)
}
