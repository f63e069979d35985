// Package reprice answers what new prices change: for one brief, or for every
// quote of a job book.
//
//	r := reprice.Settle(ctx, reprice.Case{Problem: problem, New: newer}, true)
//	if r.Changed {
//		fmt.Println(r.Before.Cost, r.After.Cost)
//	}
//
// What was quoted is predicted again first: only what this program still finds
// as it was quoted may be taken for the best of its catalogue. Then the lemma of
// package optimizer settles most quotes without a search. Limit: between the
// two states of a catalogue only prices, stocks and shops may differ.
package reprice

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/prices"
	"loudfor/optimizer"
	"loudfor/optimizer/workshop"
)

// Case is one brief with the state of the catalogue that it was answered from,
// which is its problem's, and the new one.
type Case struct {
	Job            int64 // 0: no job of a book
	Name, Customer string
	Problem        optimizer.Problem
	New            *catalog.Catalogue
	Changes        []prices.Change
	Quoted         *Quoted // nil: the old answer is searched for

	// Answers, if set, is shared by cases of which some may ask the same. Never
	// changes a result.
	Answers *Answers
}

// Quoted is what a customer was told.
type Quoted struct {
	Best  optimizer.Best
	Level float64 // dB, of the objective
}

// Result is what has become of a case.
type Result struct {
	Case
	Before, After *optimizer.Build // nil: there is no build
	Changed       bool             // another build, or another price
	Searched      bool             // the new answer needed a search

	// Now is what the old build costs at the new prices, Over by how much that
	// is above the cap, and Gone lists those of its parts that cannot be
	// bought any more, in words.
	Now, Over catalog.Money
	Gone      []string

	// Boxes are those that could be built at the new prices; nil: the brief
	// builds none. In Matters a box stands for what it is built of, too.
	Boxes *workshop.Shop

	// Otherwise says that this program predicts or prices the quoted build
	// otherwise than the one that quoted it: then the quote is worth making
	// again, whatever the prices, and is no proof of anything.
	Otherwise bool

	// Matters lists the SKUs whose change matters; Complete says that it
	// holds all of them, and not only those seen without a search.
	Matters  []string
	Complete bool

	Err error // the case could not be settled; the rest means nothing then
}

// Settle settles one case; full says that the changes that matter are all
// wanted, and the bands of both builds even when nothing has changed.
func Settle(ctx context.Context, c Case, full bool) Result {
	r := Result{Case: c}
	r.Err = r.settle(ctx, full)
	return r
}

func (r *Result) settle(ctx context.Context, full bool) (err error) {
	if r.Problem.Brief.BuildBoxes {
		before, after, err := workshop.Reprice(ctx, r.Problem, r.New)
		if err != nil {
			return err
		}
		r.Problem.Catalogue, r.New, r.Boxes = before.Catalogue, after.Catalogue, after
	}
	if err := r.before(ctx); err != nil {
		return err
	}
	best := optimizer.BestOf(r.Before)
	p := r.Problem
	p.Catalogue, p.Known = r.New, best.Parts
	// A quote with boxes to build is searched for again in any case: it may be
	// from before boxes were quoted.
	if !r.Otherwise && r.Boxes == nil && optimizer.Unaffected(r.Problem, r.New, best) {
		r.After = r.Before
	} else {
		r.Searched = true
		if r.After, err = r.Answers.first(ctx, p); err != nil {
			return err
		}
	}
	after := optimizer.BestOf(r.After)
	r.Changed = !best.Same(after)
	if err := r.standing(ctx); err != nil {
		return err
	}
	if full {
		r.Matters, err = optimizer.Matters(ctx, r.Problem, r.New, best, after)
		r.Complete = true
	} else {
		r.Matters = optimizer.Shown(r.Problem, r.New, best, after)
	}
	r.builtOf()
	if err != nil || !full && !r.Changed {
		return err
	}
	return r.compare(ctx)
}

// builtOf adds the sheets and workshops of the boxes that matter.
func (r *Result) builtOf() {
	if r.Boxes == nil {
		return
	}
	for _, sku := range slices.Clone(r.Matters) {
		box := r.Boxes.Box(sku)
		if box == nil {
			continue
		}
		for _, p := range []*catalog.Part{box.Sheet, box.Workshop} {
			changed := slices.ContainsFunc(r.Changes, func(c prices.Change) bool { return c.SKU == p.SKU })
			if changed && !slices.Contains(r.Matters, p.SKU) {
				r.Matters = append(r.Matters, p.SKU)
			}
		}
	}
	slices.Sort(r.Matters)
}

// before finds the old answer: what was quoted, predicted once more, or else
// the best of the old state.
func (r *Result) before(ctx context.Context) (err error) {
	if r.Quoted == nil {
		r.Before, err = optimizer.First(ctx, r.Problem)
		return err
	}
	b, err := r.predict(ctx, r.Problem.Catalogue, r.Quoted.Best.Parts)
	if err != nil {
		return fmt.Errorf("what was quoted cannot be predicted any more: %w", err)
	}
	r.Otherwise = math.Abs(b.Objective-r.Quoted.Level) >= levelStep || b.Cost != r.Quoted.Best.Cost
	b.Cost = r.Quoted.Best.Cost
	r.Before = &b
	return nil
}

// levelStep is half of the thousandth of a decibel to which levels are rounded.
const levelStep = 0.0005

// predict predicts a build from its parts alone.
func (r *Result) predict(ctx context.Context, c *catalog.Catalogue, parts []catalog.Mention) (optimizer.Build, error) {
	p := r.Problem
	p.Catalogue, p.Bare, p.Known = Shelf(c, p.Brief, parts), true, nil
	return optimizer.Predict(ctx, p, parts, "", 0)
}

// Shelf is the part of a catalogue that a given build is made of, with the
// customer's own and the deals among them: all that its prediction depends on.
func Shelf(c *catalog.Catalogue, b catalog.Brief, parts []catalog.Mention) *catalog.Catalogue {
	wanted := map[string]bool{}
	for _, list := range [][]catalog.Mention{parts, b.Owned} {
		for _, m := range list {
			wanted[m.SKU] = true
		}
	}
	return c.Only(func(sku string) bool { return wanted[sku] })
}

// standing says what has become of the old build itself.
func (r *Result) standing(ctx context.Context) error {
	if r.Before == nil {
		return nil
	}
	r.Now = r.Before.Cost
	if !r.Searched {
		return nil
	}
	now, err := r.predict(ctx, r.New, optimizer.Mentions(r.Before.Lines))
	if err != nil {
		return err
	}
	r.Now = now.Cost
	if cap := r.Problem.Brief.Cap; cap.Minor > 0 && r.Now.Minor > cap.Minor {
		r.Over = catalog.Money{Minor: r.Now.Minor - cap.Minor, Currency: cap.Currency}
	}
	for _, l := range r.Before.Lines {
		r.Gone = append(r.Gone, missing(&r.Problem.Brief, r.New.Part(l.Part.SKU), l.Count-l.Owned)...)
	}
	return nil
}

// missing says why so many pieces of a part cannot be bought; nothing if they
// can.
func missing(b *catalog.Brief, p *catalog.Part, wanted int) []string {
	if wanted <= 0 {
		return nil
	}
	if !p.Priced && p.Stock != 0 {
		return []string{p.SKU + " has no price any more"}
	}
	left, sold := 0, false
	var shops []string
	for _, o := range append([]catalog.Offer{{Store: p.Store, Stock: p.Stock}}, p.Offers...) {
		switch {
		case !b.Sells(o.Store):
			shops = append(shops, o.Store)
			continue
		case o.Stock == catalog.Unlimited:
			return nil
		}
		left, sold = left+o.Stock, true
	}
	switch {
	case !sold && p.InStock() != 0:
		return []string{fmt.Sprintf("%s is sold by %s alone, where the customer does not buy", p.SKU, strings.Join(shops, ", "))}
	case left == 0:
		return []string{p.SKU + " is out of stock"}
	case left < wanted:
		return []string{fmt.Sprintf("of %s only %d are in stock", p.SKU, left)}
	}
	return nil
}

// compare draws the bands, and that of the difference of both answers.
func (r *Result) compare(ctx context.Context) error {
	var builds []optimizer.Build
	for _, b := range []*optimizer.Build{r.Before, r.After} {
		if b != nil {
			builds = append(builds, *b)
		}
	}
	if err := optimizer.Compare(ctx, r.Problem, builds); err != nil {
		return err
	}
	for i := range builds {
		state := r.New
		if i == 0 && r.Before != nil {
			state = r.Problem.Catalogue
		}
		p := r.Problem
		p.Catalogue = Shelf(state, p.Brief, optimizer.Mentions(builds[i].Lines))
		if err := optimizer.Remark(p, &builds[i]); err != nil {
			return err
		}
	}
	if r.After != nil && len(builds) > 0 {
		r.After = &builds[len(builds)-1]
	}
	if r.Before != nil {
		r.Before = &builds[0]
	}
	return nil
}
