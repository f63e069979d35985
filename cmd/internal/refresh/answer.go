package refresh

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"sync"

	"loudfor/catalog"
	"loudfor/cmd/internal/reprice"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
	"loudfor/optimizer/workshop"
)

// Answer is what is kept of a job: all that its inputs decide.
type Answer struct {
	Outcome string            // optimal, feasible, infeasible, unknown or failed
	Parts   []catalog.Mention `json:",omitempty"`
	Price   catalog.Money
	Level   float64 // dB, of the goal
	Band    float64 // half-width of its 90 % interval, dB
	Proof   string  // why the search ended: complete, or what stopped it
	Gap     float64 // dB that a better build could be louder
	Error   string  `json:",omitempty"` // why there is no answer
	Stack   string  `json:",omitempty"` // of a fault of the program, for a report
}

// failed is the outcome of a job that was set aside.
const failed = "failed"

// Build is its parts in words, "OR-M3; TM-12V x 2".
func (a *Answer) Build() string {
	var words []string
	for _, m := range a.Parts {
		if m.Count > 1 {
			m.SKU = fmt.Sprintf("%s x %d", m.SKU, m.Count)
		}
		words = append(words, m.SKU)
	}
	return strings.Join(words, "; ")
}

// ranked is the answer as a ranking of one, and whether that is all there is to rank.
func (a *Answer) ranked() (ranking []optimizer.Ranked, all bool) {
	if a.Outcome != optimizer.Optimal.String() {
		return nil, a.Outcome == optimizer.Infeasible.String()
	}
	return []optimizer.Ranked{{Best: optimizer.Best{Parts: a.Parts, Cost: a.Price}, Objective: a.Level}}, false
}

// decibels are as results show them.
func decibels(db float64) float64 { return math.Round(db*1000) / 1000 }

// Seed of the draws behind bands: that of the commands.
const seed = 1

// Ask is the best build for a brief, by a search.
func (l *Library) Ask(ctx context.Context, s *Shelf, b catalog.Brief, cars []catalog.Vehicle) (*Answer, error) {
	p, err := l.problem(ctx, s, b, cars)
	if err != nil {
		return nil, err
	}
	return search(ctx, p)
}

// problem holds a brief against a shelf.
func (l *Library) problem(ctx context.Context, s *Shelf, b catalog.Brief, cars []catalog.Vehicle) (p optimizer.Problem, err error) {
	b.Resolve(s.Catalogue)
	vehicle, report := catalog.CheckBrief(b, s.Catalogue, cars)
	if err := report.Err(); err != nil {
		return p, err
	}
	p = optimizer.Problem{Catalogue: s.Catalogue, Brief: b, Vehicle: vehicle, Workers: 1, Seed: seed, Shared: s.shared}
	if b.BuildBoxes {
		shop, err := workshop.Stock(ctx, p)
		if err != nil {
			return p, err
		}
		p.Catalogue = shop.Catalogue
	}
	return p, nil
}

// search answers a problem.
func search(ctx context.Context, p optimizer.Problem) (*Answer, error) {
	series, err := optimizer.NewSeries(p)
	if err != nil {
		return nil, err
	}
	b, whole, err := series.First(ctx, p)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return nil, err
	}
	a := &Answer{Proof: optimizer.StopComplete.String()}
	switch {
	case b == nil && whole:
		a.Outcome = optimizer.Infeasible.String()
		return a, nil
	case !whole: // a proof is what this is for; Pick tells how much is left open
		return stopped(ctx, p)
	}
	if b.Fault != "" {
		return nil, errors.New(b.Fault)
	}
	if err := series.Compare(p, []*optimizer.Build{b}); err != nil {
		return nil, err
	}
	a.Outcome = optimizer.Optimal.String()
	a.take(b)
	return a, nil
}

// take fills in a build.
func (a *Answer) take(b *optimizer.Build) {
	a.Parts, a.Price, a.Level, a.Band = build.Mentions(b.Lines), b.Cost, decibels(b.Objective), decibels(b.Band())
}

// stopped is the answer where a search would take more memory than it may.
func stopped(ctx context.Context, p optimizer.Problem) (*Answer, error) {
	p.Top, p.Distinct = 1, optimizer.DistinctParts
	r, err := optimizer.Pick(ctx, p)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return nil, err
	}
	a := &Answer{Outcome: r.Outcome.String(), Proof: r.Stop.String(), Gap: decibels(r.Proof.GapDB)}
	if len(r.Builds) > 0 {
		a.take(&r.Builds[0])
	}
	return a, nil
}

// question is the brief of a question: that of the file, with what the plan says in its
// place.
func (l *Library) question(ctx context.Context, g *Group, q Question) (b catalog.Brief, err error) {
	if b, err = l.brief(ctx, g, q); err != nil {
		return b, err
	}
	b.Keys = maps.Clone(b.Keys)
	if b.Keys == nil {
		b.Keys = map[string]catalog.Position{}
	}
	set := func(key, from string, to *string) {
		if from != "" {
			*to, b.Keys[key] = from, catalog.Position{File: "the plan's " + key}
		}
	}
	set("vehicle", g.Car, &b.Vehicle)
	set("place", q.Place, &b.Place)
	set("openings", q.Openings, &b.Openings)
	if q.Goal != "" {
		b.Goal, _ = catalog.ParseGoal(q.Goal)
	}
	if q.Cap != "" {
		if b.Cap, err = catalog.ParseMoney(q.Cap); err != nil {
			return b, err
		}
		b.Keys["cap"] = catalog.Position{File: "the plan's caps"}
	}
	return b, nil
}

// ranking is what the centre knows of a question.
type ranking struct {
	builds []optimizer.Ranked
	all    bool
	mutex  sync.Mutex
	known  map[int]Answer // of places that were some shop's answer
}

// rank finds it; nil: there is none that is proven.
func rank(ctx context.Context, p optimizer.Problem) (*ranking, error) {
	r := &ranking{known: map[int]Answer{}}
	first, err := search(ctx, p) // asks not what blocks, where nothing can be built
	if err != nil || first.Proof != optimizer.StopComplete.String() {
		return nil, err
	}
	if r.all = len(first.Parts) == 0; r.all {
		return r, nil
	}
	p.Top, p.Distinct, p.Bare, p.Known = central, optimizer.DistinctParts, true, first.Parts
	found, err := optimizer.Pick(ctx, p)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil || found.Outcome != optimizer.Optimal || slices.ContainsFunc(found.Builds, func(b optimizer.Build) bool { return b.Fault != "" }) {
		return nil, err
	}
	r.builds, r.all = optimizer.RankedOf(found.Builds), len(found.Builds) < central
	return r, nil
}

// at is the answer that a place of the ranking is. What it sounds like does not depend
// on the shop, and is worked out once.
func (r *ranking) at(ctx context.Context, p optimizer.Problem, place int, cost catalog.Money) (*Answer, error) {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	a, ok := r.known[place]
	if !ok {
		parts := r.builds[place].Parts
		p.Catalogue = reprice.Shelf(p.Catalogue, p.Brief, parts)
		p.Brief.Must, p.Brief.Never = nil, nil
		b, err := optimizer.Predict(ctx, p, parts, "", 0)
		if err != nil {
			return nil, err
		}
		a = Answer{Outcome: optimizer.Optimal.String(), Proof: optimizer.StopComplete.String()}
		a.take(&b)
		r.known[place] = a
	}
	a.Price = cost
	return &a, nil
}

// central is how many builds of the centre's ranking a shop is looked for in.
const central = 100

// answer is the answer to the i-th question of a group: from what was answered before,
// from the chain's centre, or else by a search.
func (l *Library) answer(ctx context.Context, g *Group, i int) (*Answer, error) {
	q := g.Questions[i]
	if g.Shop.Trouble != "" {
		return nil, errors.New(g.Shop.Trouble)
	}
	shop, err := l.catalogue(ctx, g.Shop)
	if err != nil {
		return nil, err
	}
	cars, err := l.vehicles(ctx, g.Cars)
	if err != nil {
		return nil, err
	}
	b, err := l.question(ctx, g, q)
	if err != nil {
		return nil, err
	}
	if _, report := catalog.CheckBrief(b, shop.Catalogue, cars); report.Err() != nil {
		return nil, report.Err()
	}
	if !b.BuildBoxes {
		if g.Known != nil && g.Known[i] != nil && g.Before.Hash != none {
			if a, err := l.fromBefore(ctx, g, g.Known[i], shop, b, cars); a != nil || err != nil {
				return a, err
			}
		}
		if g.Centre.Hash != none {
			if a, err := l.fromCentre(ctx, g, i, shop, b, cars); a != nil || err != nil {
				return a, err
			}
		}
	}
	return l.Ask(ctx, shop, b, cars)
}

// against is the question asked of another catalogue, and the shop as a state of that
// one; nil where the two differ in more than that, or the brief names what the other has
// not.
func (l *Library) against(ctx context.Context, other Bundle, shop *Shelf, b catalog.Brief, cars []catalog.Vehicle) (p optimizer.Problem, like *Shelf, err error) {
	base, err := l.catalogue(ctx, other)
	if err != nil {
		return p, nil, err
	}
	if like = shop.as(base); like == nil {
		return p, nil, nil
	}
	if p, err = l.problem(ctx, base, b, cars); err != nil {
		return p, nil, nil
	}
	return p, like, nil
}

// fromBefore is what the last answer tells of today; nil: nothing.
func (l *Library) fromBefore(ctx context.Context, g *Group, known *Answer, shop *Shelf, b catalog.Brief, cars []catalog.Vehicle) (*Answer, error) {
	p, like, err := l.against(ctx, g.Before, shop, b, cars)
	if like == nil {
		return nil, err
	}
	builds, all := known.ranked()
	place, cost, told, err := optimizer.Foremost(p, like.Catalogue, builds, all)
	if err != nil || !told {
		return nil, err
	}
	a := *known
	if place < 0 {
		return nothing(), nil
	}
	a.Price = cost
	return &a, nil
}

// nothing is the answer where nothing can be built.
func nothing() *Answer {
	return &Answer{Outcome: optimizer.Infeasible.String(), Proof: optimizer.StopComplete.String()}
}

// fromCentre is what the centre's ranking tells of the shop; nil: nothing. What has to
// be searched for all the same is searched with the centre's cards.
func (l *Library) fromCentre(ctx context.Context, g *Group, i int, shop *Shelf, b catalog.Brief, cars []catalog.Vehicle) (*Answer, error) {
	p, like, err := l.against(ctx, g.Centre, shop, b, cars)
	if like == nil {
		return nil, err
	}
	known, err := l.others.of("ranking "+g.Centre.Hash+" "+g.key(g.Questions[i], "centre"), func() (any, error) { return rank(ctx, p) })
	if err != nil {
		return nil, err
	}
	r := known.(*ranking)
	if r == nil {
		return nil, nil
	}
	place, cost, told, err := optimizer.Foremost(p, like.Catalogue, r.builds, r.all)
	switch {
	case err != nil:
		return nil, err
	case !told:
		return l.Ask(ctx, like, b, cars)
	case place < 0:
		return nothing(), nil
	}
	return r.at(ctx, p, place, cost)
}
