package refresh

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"time"
)

// Estimate is what a refresh would do, and take.
type Estimate struct {
	Shops, Cars, Questions int // questions for each car of each shop
	Jobs, Kept, Missing    int
	Sampled                int           // jobs that were answered to find out
	CPU                    time.Duration // of all that is missing; zero: nothing is
}

// sampledCars is how many cars a sample looks into, each with one pair of shops for
// each of at most so many questions.
const (
	sampledCars      = 2
	sampledQuestions = 12
)

// handing is about what it takes to hand out one job, keep its answer and write its row,
// from profiles of some thousand jobs.
const handing = time.Millisecond

// Estimate answers a sample of what is missing, spread over shops, cars and questions,
// and counts what comes once: a catalogue for each shop; a car for each place and
// openings; the centre's ranking for each car and question. So each question is asked
// in one shop, where it is new, and in another, where it is not.
func (r *Refresh) Estimate(ctx context.Context) (*Estimate, error) {
	j := r.jobs
	e := &Estimate{Shops: len(j.shops), Cars: len(j.names), Questions: len(j.questions), Jobs: j.count()}
	keys, kept, err := r.missing(func(*Group) error { return nil })
	if err != nil {
		return nil, err
	}
	if e.Kept, e.Missing = kept, len(keys); e.Missing == 0 {
		return e, nil
	}
	l := newReader(r.source, nil)
	var reading, car, first, second time.Duration // each of one
	cars := min(sampledCars, len(j.names))
	questions := min(sampledQuestions, len(j.questions))
	if j.centre.Hash != none { // read once: not counted
		if _, err := l.catalogue(ctx, j.centre); err != nil {
			return nil, err
		}
	}
	timed := func(do func() error) (time.Duration, error) {
		began := cpuTime()
		err := do()
		return cpuTime() - began, err
	}
	for c := range cars {
		var pair [2]*Group
		for k := range pair {
			// A shop that cannot be read is set aside by a refresh; the next one is sampled.
			took, err := time.Duration(0), error(nil)
			for n := range j.shops {
				shop := ((c*2+k)*len(j.shops)/(2*cars) + n) % len(j.shops)
				pair[k] = j.group(shop*len(j.names) + c*len(j.names)/cars)
				if pair[k].Shop.Trouble != "" {
					continue
				}
				if took, err = timed(func() error { _, err := l.catalogue(ctx, pair[k].Shop); return err }); err == nil {
					break
				}
			}
			if err != nil || pair[k].Shop.Trouble != "" {
				return nil, fmt.Errorf("no catalogue of the plan can be read: %w", cmp.Or(err, errors.New(pair[k].Shop.Trouble)))
			}
			reading += took / time.Duration(2*cars)
		}
		ask := func(g *Group, i int) (time.Duration, error) {
			e.Sampled++
			return timed(func() error { _, err := l.answer(ctx, g, i); return err })
		}
		warm, err := ask(pair[0], 0)
		if err != nil {
			return nil, err
		}
		var news, olds time.Duration
		for k := range questions {
			i := k * len(j.questions) / questions
			a, err := ask(pair[0], i)
			if err != nil {
				return nil, err
			}
			b, err := ask(pair[1], i)
			if err != nil {
				return nil, err
			}
			news, olds = news+a/time.Duration(questions), olds+b/time.Duration(questions)
		}
		car += max(0, warm-news) / time.Duration(cars)
		first, second = first+news/time.Duration(cars), second+olds/time.Duration(cars)
	}
	seen := map[[2]string]bool{}
	for _, q := range j.questions {
		seen[[2]string{q.Place, q.Openings}] = true
	}
	each := (first + second) / 2
	once := time.Duration(0)
	if j.centre.Hash != none {
		each, once = second, max(0, first-second)
	}
	share := float64(e.Missing) / float64(e.Jobs)
	all := time.Duration(len(j.shops))*reading + time.Duration(len(j.names)*len(seen))*car + time.Duration(len(j.names)*len(j.questions))*once + time.Duration(e.Jobs)*each
	e.CPU = time.Duration(float64(all)*share) + time.Duration(e.Missing)*handing
	return e, nil
}
