// Package library answers many questions from catalogues that are opened once, for
// programs of a shop's or a chain's own.
//
//	var l library.Library
//	shelf, err := l.Open("shops/dock")
//	if err != nil {
//		return err // every mistake, with its place and how to mend it
//	}
//	a, err := shelf.Ask(ctx, brief, cars)
//
// What a question needs is worked out once: of a part for all questions that its shelf is
// asked, of a car for all shelves of the library. There is nothing to close: a shelf is
// forgotten with the last variable that holds it, and the cars with their library. All
// of it may be used from many goroutines at once; an answer does not depend on what was
// asked before it.
//
// Limit: an answer is the best build alone. Problem gives what package optimizer takes,
// for rankings, ladders and reasons.
package library

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/build"
	"loudfor/optimizer/workshop"
)

// Library remembers what cars do to the sound; the zero value is ready.
type Library struct{ cars optimizer.Shared }

// Shelf is a catalogue that was opened, with what is remembered of its cards.
type Shelf struct {
	Catalogue *catalog.Catalogue // must not be changed
	shared    *optimizer.Shared
}

// Open reads the catalogue of some files and folders.
func (l *Library) Open(paths ...string) (*Shelf, error) {
	c, report := catalog.Load(paths)
	if err := report.Err(); err != nil {
		return nil, err
	}
	return l.Shelf(c), nil
}

// Shelf is a catalogue that was read otherwise.
func (l *Library) Shelf(c *catalog.Catalogue) *Shelf { return &Shelf{c, l.cars.Cars()} }

// With is the shelf at another state of its catalogue, such as Catalogue.With makes:
// what is remembered of the cards is used for both.
func (s *Shelf) With(c *catalog.Catalogue) *Shelf { return &Shelf{c, s.shared} }

// seed of the draws behind bands: that of the commands.
const seed = 1

// Problem holds a brief against a shelf, for one of the cars or a body style.
func (s *Shelf) Problem(ctx context.Context, b catalog.Brief, cars []catalog.Vehicle) (p optimizer.Problem, err error) {
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

// Ask is the best build for a brief.
func (s *Shelf) Ask(ctx context.Context, b catalog.Brief, cars []catalog.Vehicle) (*Answer, error) {
	p, err := s.Problem(ctx, b, cars)
	if err != nil {
		return nil, err
	}
	return Best(ctx, p)
}

// Answer is the best build, or why there is none.
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

// decibels are as results show them.
func decibels(db float64) float64 { return math.Round(db*1000) / 1000 }

// Take fills in a build.
func (a *Answer) Take(b *optimizer.Build) {
	a.Parts, a.Price, a.Level, a.Band = build.Mentions(b.Lines), b.Cost, decibels(b.Objective), decibels(b.Band())
}

// Best answers a problem.
func Best(ctx context.Context, p optimizer.Problem) (*Answer, error) {
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
	a.Take(b)
	return a, nil
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
		a.Take(&r.Builds[0])
	}
	return a, nil
}
