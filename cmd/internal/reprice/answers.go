package reprice

import (
	"bytes"
	"context"
	"reflect"
	"sync"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// Many customers ask the same: the same cap, car and wishes. What is the best
// build then is one question, however many quotes wait for its answer.

// Answers remembers the best build of each question; the zero value is ready,
// and may be used by cases that are settled at the same time. A question that
// somebody else is just answering is waited for. Limit: it keeps all that it has
// been asked, so it is for one run over a book.
type Answers struct {
	mutex sync.Mutex
	known map[string][]*answered // by what the brief says
}

// answered is a question and its answer.
type answered struct {
	catalogue *catalog.Catalogue
	vehicle   catalog.Vehicle
	seed      uint64

	mutex sync.Mutex // held by the one who searches
	done  bool
	build *optimizer.Build
}

// first is optimizer.First, asked once for all problems that are one: the same
// state of the catalogue, the same car and the same wishes, whatever the briefs
// are called and whatever was quoted before. An error is no answer: the next one
// asks again.
func (a *Answers) first(ctx context.Context, p optimizer.Problem) (*optimizer.Build, error) {
	if a == nil {
		return optimizer.First(ctx, p)
	}
	q, err := a.find(&p)
	if err != nil {
		return nil, err
	}
	q.mutex.Lock()
	defer q.mutex.Unlock()
	if !q.done {
		b, err := optimizer.First(ctx, p)
		if err != nil {
			return nil, err
		}
		q.build, q.done = b, true
	}
	if q.build == nil {
		return nil, nil
	}
	b := *q.build // bands and remarks are filled in later, for each quote its own
	return &b, nil
}

// find gives the question that a problem is.
func (a *Answers) find(p *optimizer.Problem) (*answered, error) {
	brief := p.Brief
	brief.Name = ""
	var text bytes.Buffer
	if err := catalog.WriteBrief(&text, brief); err != nil {
		return nil, err
	}
	vehicle := p.Vehicle
	vehicle.Where = catalog.Position{} // the name stands in the brief
	a.mutex.Lock()
	defer a.mutex.Unlock()
	for _, q := range a.known[text.String()] {
		if q.catalogue == p.Catalogue && q.seed == p.Seed && reflect.DeepEqual(q.vehicle, vehicle) {
			return q, nil
		}
	}
	q := &answered{catalogue: p.Catalogue, vehicle: vehicle, seed: p.Seed}
	if a.known == nil {
		a.known = make(map[string][]*answered)
	}
	a.known[text.String()] = append(a.known[text.String()], q)
	return q, nil
}
