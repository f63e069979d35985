package counter

import (
	"context"
	"errors"
	"slices"
	"strings"
	"time"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
	"loudfor/optimizer/workshop"
)

// What is searched, and what is remembered of it.

// problem is what a search is given. Where the brief has boxes built, those that
// the workshops could build for it are parts of the catalogue, as in every
// command.
func (c *Counter) problem(ctx context.Context, q *question, brief catalog.Brief) (optimizer.Problem, error) {
	p := optimizer.Problem{Catalogue: q.Catalogue, Brief: brief, Vehicle: q.job.Vehicle,
		Top: top, Distinct: optimizer.DistinctBass, Workers: c.options.Workers, Seed: c.options.Seed, Shared: q.shared}
	shop, err := c.shop(ctx, q)
	if shop != nil {
		p.Catalogue = shop.Catalogue
	}
	return p, err
}

// shop is the workshops' boxes for a question; nil where none are to be built.
func (c *Counter) shop(ctx context.Context, q *question) (*workshop.Shop, error) {
	if !q.job.Brief.BuildBoxes {
		return nil, nil
	}
	job := q.job
	return c.shops.get(ctx, q.key(), func(ctx context.Context) (*workshop.Shop, error) {
		err := job.BuildBoxes(ctx, c.options.Workers)
		return job.Shop, err
	})
}

// ladder is the ladder of a question if it has been climbed; else it is started
// and will be told of under the key.
func (c *Counter) ladder(q *question) (r optimizer.LadderResult, key string, done bool, err error) {
	key, climb := c.climb(q)
	r, done, err = c.ladders.begin(key, climb)
	return r, key, done, err
}

// Warm begins to climb the ladder of the brief before anybody asks for it.
func (c *Counter) Warm() {
	s := c.stock.Load()
	if q, err := s.ask(s.Brief, 0, nil); err == nil {
		_, _, _, _ = c.ladder(q) // what goes wrong is told to who asks
	}
}

// climbed is the ladder, waited for as long as the context lasts.
func (c *Counter) climbed(ctx context.Context, q *question) (optimizer.LadderResult, error) {
	key, climb := c.climb(q)
	return c.ladders.get(ctx, key, climb)
}

// climb is the search for a ladder, and its key.
func (c *Counter) climb(q *question) (key string, climb func(context.Context) (optimizer.LadderResult, error)) {
	brief, key := q.ladderQuestion()
	return key, func(ctx context.Context) (r optimizer.LadderResult, err error) {
		problem, err := c.problem(ctx, q, brief) // its boxes take none of the search's time
		if err != nil {
			return r, err
		}
		ctx, stop := context.WithTimeout(ctx, ladderTime)
		defer stop()
		return optimizer.Ladder(ctx, problem)
	}
}

// shortly waits for a ladder that was just begun: a small catalogue's is there
// before a page could say that it is on its way.
func (c *Counter) shortly(v *visit, q *question) (r optimizer.LadderResult, done bool, err error) {
	ctx, stop := context.WithTimeout(v.context(), quickly)
	defer stop()
	r, err = c.climbed(ctx, q)
	if gone(err) {
		return r, false, nil
	}
	return r, err == nil, err
}

// quickly is how long a page waits for what it could also show later.
const quickly = 400 * time.Millisecond

// ranking is the ranking of a question, with the builds that are answered first.
func (c *Counter) ranking(ctx context.Context, q *question) (optimizer.Answers, error) {
	return c.rankings.get(ctx, q.key(), c.answers(q))
}

// soon is the best that is found in a moment, for a budget that moves while there
// is no ladder yet; how far it may be off stands beside it.
func (c *Counter) soon(ctx context.Context, q *question) (optimizer.Answers, error) {
	if r, done := c.rankings.look(q.key()); done {
		return r, nil
	}
	return c.rankings.get(ctx, q.key()+"\x00soon", c.answersWithin(q, soonTime))
}

// answers searches for them.
func (c *Counter) answers(q *question) func(context.Context) (optimizer.Answers, error) {
	return c.answersWithin(q, rankingTime)
}

func (c *Counter) answersWithin(q *question, limit time.Duration) func(context.Context) (optimizer.Answers, error) {
	return func(ctx context.Context) (a optimizer.Answers, err error) {
		problem, err := c.problem(ctx, q, q.job.Brief)
		if err != nil {
			return a, err
		}
		ctx, stop := context.WithTimeout(ctx, limit)
		defer stop()
		return optimizer.FirstAnswers(ctx, problem, optimizer.Noticed)
	}
}

// build is what given parts do, under the question's brief.
func (c *Counter) build(ctx context.Context, q *question, code string) (optimizer.Build, error) {
	return c.buildAt(ctx, q, code, q.job.Brief.Place)
}

// buildAt is the same, metered at another place of the car.
func (c *Counter) buildAt(ctx context.Context, q *question, code, place string) (optimizer.Build, error) {
	brief := q.job.Brief
	brief.Place = place
	_, key := q.ladderQuestion() // the cap does not matter for given parts
	return c.builds.get(ctx, strings.Join([]string{key, code, place}, "\x00"), func(ctx context.Context) (b optimizer.Build, err error) {
		problem, err := c.problem(ctx, q, brief)
		if err != nil {
			return b, err
		}
		parts, err := partsOf(problem.Catalogue, code)
		if err != nil {
			return b, unknownError{err.Error()}
		}
		b, err = optimizer.Predict(ctx, problem, parts, "", 0)
		if err != nil && ctx.Err() == nil {
			err = unknownError{err.Error()}
		}
		return b, err
	})
}

// askedOf is what customers ask about a build.
func (c *Counter) askedOf(ctx context.Context, q *question, code string, b optimizer.Build) (*advice.Asked, error) {
	_, key := q.ladderQuestion()
	a, err := c.asked.get(ctx, strings.Join([]string{key, code, q.job.Brief.Place}, "\x00"), func(ctx context.Context) (*advice.Asked, error) {
		problem, err := c.problem(ctx, q, q.job.Brief)
		if err != nil {
			return nil, err
		}
		return advice.AskedOf(ctx, problem, &b)
	})
	if errors.Is(err, advice.ErrStopped) {
		err = context.DeadlineExceeded
	}
	return a, err
}

// unknownError is a question about something that is not there or cannot be
// built: the visitor's address is at fault, not the program.
type unknownError struct{ text string }

func (e unknownError) Error() string { return e.text }

// stepOf is the place of the ladder's step for a sum; -1 below the first.
func stepOf(steps []optimizer.Step, sum catalog.Money) int {
	at, _ := slices.BinarySearchFunc(steps, sum.Minor+1, func(s optimizer.Step, minor int64) int {
		switch {
		case s.Build.Cost.Minor < minor:
			return -1
		}
		return 1
	})
	return at - 1
}

// gone tells whether an error only says that nobody waits any more.
func gone(err error) bool {
	return errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded)
}
