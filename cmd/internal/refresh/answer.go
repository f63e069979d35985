package refresh

import (
	"context"
	"encoding/json"
	"errors"
	"maps"
	"slices"
	"sync"

	"loudfor/catalog"
	"loudfor/cmd/internal/reprice"
	"loudfor/cmd/library"
	"loudfor/optimizer"
)

// failed is the outcome of a job that was set aside.
const failed = "failed"

// question is the brief of a question: that of the file, with what the plan says in its
// place.
func (l *reader) question(ctx context.Context, g *Group, q Question) (b catalog.Brief, err error) {
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
	Builds []optimizer.Ranked
	All    bool
	mutex  sync.Mutex
	known  map[int]library.Answer // of places that were some shop's answer
}

// ranking is that of the centre for a question, kept from one refresh to the next; nil:
// there is none that is proven.
func (l *reader) ranking(ctx context.Context, g *Group, q Question, p optimizer.Problem) (*ranking, error) {
	key := g.rankingKey(q)
	known, err := l.others.of(key, func() (any, error) {
		r := &ranking{}
		if text, err := l.source(ctx, key); err == nil && json.Unmarshal(text, r) == nil {
			return r, nil
		}
		r, err := rank(ctx, p)
		if err == nil && r != nil && l.keep != nil {
			err = l.keep(ctx, key, r)
		}
		return r, err
	})
	if err != nil {
		return nil, err
	}
	return known.(*ranking), nil
}

// rank finds it.
func rank(ctx context.Context, p optimizer.Problem) (*ranking, error) {
	r := &ranking{}
	first, err := library.Best(ctx, p) // asks not what blocks, where nothing can be built
	if err != nil || first.Proof != optimizer.StopComplete.String() {
		return nil, err
	}
	if r.All = len(first.Parts) == 0; r.All {
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
	r.Builds, r.All = optimizer.RankedOf(found.Builds), len(found.Builds) < central
	return r, nil
}

// at is the answer that a place of the ranking is. What it sounds like does not depend
// on the shop, and is worked out once.
func (r *ranking) at(ctx context.Context, p optimizer.Problem, place int, cost catalog.Money) (*library.Answer, error) {
	r.mutex.Lock()
	defer r.mutex.Unlock()
	a, ok := r.known[place]
	if !ok {
		parts := r.Builds[place].Parts
		p.Catalogue = reprice.Shelf(p.Catalogue, p.Brief, parts)
		p.Brief.Must, p.Brief.Never = nil, nil
		b, err := optimizer.Predict(ctx, p, parts, "", 0)
		if err != nil {
			return nil, err
		}
		a = library.Answer{Outcome: optimizer.Optimal.String(), Proof: optimizer.StopComplete.String()}
		a.Take(&b)
		if r.known == nil {
			r.known = map[int]library.Answer{}
		}
		r.known[place] = a
	}
	a.Price = cost
	return &a, nil
}

// central is how many builds of the centre's ranking a shop is looked for in.
const central = 100

// answer is the answer to the i-th question of a group: from what was answered before,
// from the chain's centre, or else by a search.
func (l *reader) answer(ctx context.Context, g *Group, i int) (*library.Answer, error) {
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
	return shop.Ask(ctx, b, cars)
}

// against is the question asked of another catalogue, and the shop as a state of that
// one; nil where the two differ in more than that, or the brief names what the other has
// not.
func (l *reader) against(ctx context.Context, other Bundle, shop *shelf, b catalog.Brief, cars []catalog.Vehicle) (p optimizer.Problem, like *shelf, err error) {
	base, err := l.catalogue(ctx, other)
	if err != nil {
		return p, nil, err
	}
	if like = shop.as(base); like == nil {
		return p, nil, nil
	}
	if p, err = base.Problem(ctx, b, cars); err != nil {
		return p, nil, nil
	}
	return p, like, nil
}

// fromBefore is what the last answer tells of today; nil: nothing.
func (l *reader) fromBefore(ctx context.Context, g *Group, known *library.Answer, shop *shelf, b catalog.Brief, cars []catalog.Vehicle) (*library.Answer, error) {
	p, like, err := l.against(ctx, g.Before, shop, b, cars)
	if like == nil {
		return nil, err
	}
	builds, all := rankedOf(known)
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

// rankedOf is an answer as a ranking of one, and whether that is all there is to rank.
func rankedOf(a *library.Answer) (ranking []optimizer.Ranked, all bool) {
	if a.Outcome != optimizer.Optimal.String() {
		return nil, a.Outcome == optimizer.Infeasible.String()
	}
	return []optimizer.Ranked{{Best: optimizer.Best{Parts: a.Parts, Cost: a.Price}, Objective: a.Level}}, false
}

// nothing is the answer where nothing can be built.
func nothing() *library.Answer {
	return &library.Answer{Outcome: optimizer.Infeasible.String(), Proof: optimizer.StopComplete.String()}
}

// fromCentre is what the centre's ranking tells of the shop; nil: nothing. What has to
// be searched for all the same is searched with the centre's cards.
func (l *reader) fromCentre(ctx context.Context, g *Group, i int, shop *shelf, b catalog.Brief, cars []catalog.Vehicle) (*library.Answer, error) {
	p, like, err := l.against(ctx, g.Centre, shop, b, cars)
	if like == nil {
		return nil, err
	}
	r, err := l.ranking(ctx, g, g.Questions[i], p)
	if err != nil {
		return nil, err
	}
	if r == nil {
		return nil, nil
	}
	place, cost, told, err := optimizer.Foremost(p, like.Catalogue, r.Builds, r.All)
	switch {
	case err != nil:
		return nil, err
	case !told:
		return like.Ask(ctx, b, cars)
	case place < 0:
		return nothing(), nil
	}
	return r.at(ctx, p, place, cost)
}
