// Package shop runs the quotes of a whole job book again when prices change.
//
//	results, report, err := shop.Shop{Book: b, Lists: lists}.All(ctx, nil)
//	for _, r := range results {
//		fmt.Println(r.Job, r.Changed)
//	}
//
// What many briefs have in common is made once: each state of the catalogue is
// read once and laid over once for each set of shops that customers buy from;
// drivers are completed and cars computed once, and what several customers ask
// alike is searched for once. Jobs are settled side by side,
// one core each, which leaves no core idle and gives the same results in the
// same order however many there are. Limit: it only reads the book.
package shop

import (
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
	"sync"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/prices"
	"loudfor/catalog/report"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/reprice"
	"loudfor/model/parallel"
	"loudfor/optimizer"
)

// Shop is a job book that meets new prices.
type Shop struct {
	Book    *book.Book
	Lists   []*prices.List // besides those that the book has recorded
	AsOf    prices.Date    // zero: every row counts
	Strict  bool           // rows about parts that no quote knows are mistakes
	Workers int            // cores; 0: all
	Seed    uint64
	// Full wants all changes that matter, for each job.
	Full bool
	// Progress, if set, is told how many jobs are settled; never twice at once.
	Progress func(done, all int)
}

// All settles the latest quote of every job, or of those named, in the order of
// the jobs. The report holds what is odd about the lists; the error is for a
// book or lists that cannot be used, and then there are no results.
func (s Shop) All(ctx context.Context, only []int64) ([]reprice.Result, *catalog.Report, error) {
	cases, report, err := s.cases(ctx, only)
	if err != nil || report.Err() != nil {
		return nil, report, err
	}
	workers := s.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	inside := max(1, workers/max(len(cases), 1)) // one job alone has all the cores
	results := make([]reprice.Result, len(cases))
	var mutex sync.Mutex
	done := 0
	parallel.Each(workers, len(cases), func(i int) {
		c := cases[i]
		if c.err != nil || ctx.Err() != nil {
			results[i] = reprice.Result{Case: c.Case, Err: errors.Join(c.err, ctx.Err())}
		} else {
			c.Problem.Workers = inside
			if fault := parallel.Caught(func() { results[i] = reprice.Settle(ctx, c.Case, s.Full) }); fault != nil {
				results[i] = reprice.Result{Case: c.Case, Err: fault}
			}
		}
		mutex.Lock()
		defer mutex.Unlock()
		if done++; s.Progress != nil {
			s.Progress(done, len(cases))
		}
	})
	return results, report, ctx.Err()
}

// maybe is a case, or why there is none.
type maybe struct {
	reprice.Case
	err error
}

func (s Shop) cases(ctx context.Context, only []int64) ([]maybe, *catalog.Report, error) {
	jobs, err := s.Book.AllJobs(ctx)
	if err != nil {
		return nil, nil, err
	}
	quotes, err := s.Book.LatestQuotes(ctx)
	if err != nil {
		return nil, nil, err
	}
	for _, id := range only {
		if !slices.ContainsFunc(jobs, func(j book.Job) bool { return j.ID == id }) {
			return nil, nil, fmt.Errorf("job %d is %w", id, book.ErrNone)
		}
	}
	if len(only) > 0 {
		jobs = slices.DeleteFunc(jobs, func(j book.Job) bool { return !slices.Contains(only, j.ID) })
	}
	recorded, err := s.Book.PriceList(ctx)
	if err != nil {
		return nil, nil, err
	}
	states, err := s.read(ctx, jobs, quotes, recorded)
	if err != nil {
		return nil, nil, err
	}
	shared, answers := new(optimizer.Shared), new(reprice.Answers)
	var cases []maybe
	for _, j := range jobs {
		c := maybe{Case: reprice.Case{Job: j.ID, Name: j.Name, Customer: j.Customer}}
		if q, ok := quotes[j.ID]; !ok {
			c.err = errors.New("it was never quoted")
		} else if c.err = states.unread[q.Hash]; c.err != nil {
			c.err = fmt.Errorf("%w; quote it again from parts of today (book quote %d --catalog FILE)", c.err, j.ID)
		} else if c.Problem, c.err = ProblemOf(j, states.old[q.Hash]); c.err == nil {
			c.Problem.Seed, c.Problem.Shared, c.Answers = s.Seed, shared, answers
			c.New, c.Changes = states.lay(q.Hash, c.Problem.Brief.Stores)
			c.Quoted = &reprice.Quoted{Best: optimizer.Best{Parts: mentions(q.Lines), Cost: q.Price}, Level: q.Level}
		}
		cases = append(cases, c)
	}
	return cases, states.report, nil
}

// Check holds the lists against the states of the catalogue that the latest
// quotes came from, without what the book has recorded before.
func (s Shop) Check(ctx context.Context) (*catalog.Report, error) {
	jobs, err := s.Book.AllJobs(ctx)
	if err != nil {
		return nil, err
	}
	quotes, err := s.Book.LatestQuotes(ctx)
	if err != nil {
		return nil, err
	}
	states, err := s.read(ctx, jobs, quotes, new(prices.List))
	if err != nil {
		return nil, err
	}
	return states.report, nil
}

// ProblemOf makes the question of a job again, with the vehicle that was
// booked with it.
func ProblemOf(j book.Job, c *catalog.Catalogue) (p optimizer.Problem, err error) {
	brief, report := j.Load()
	if err := report.Err(); err != nil {
		return p, err
	}
	var files []inputs.CarFile
	for _, a := range j.Attachments {
		files = append(files, inputs.CarFile{Name: a.Name})
	}
	vehicles, report := inputs.LoadCars(j.Files(), files)
	if err := report.Err(); err != nil {
		return p, err
	}
	brief.Resolve(c)
	vehicle, report := catalog.CheckBrief(brief, c, vehicles)
	return optimizer.Problem{Catalogue: c, Brief: brief, Vehicle: vehicle}, report.Err()
}

// mentions joins the lines of a quote, which tell owned pieces from bought
// ones, to the parts of a build.
func mentions(lines []book.Line) []catalog.Mention {
	count := map[string]int{}
	var skus []string
	for _, l := range lines {
		if count[l.SKU] == 0 {
			skus = append(skus, l.SKU)
		}
		count[l.SKU] += l.Count
	}
	slices.Sort(skus)
	var out []catalog.Mention
	for _, sku := range skus {
		out = append(out, catalog.Mention{SKU: sku, Count: count[sku]})
	}
	return out
}

// states are the states of the catalogue that quotes came from, with the new
// prices laid over each.
type states struct {
	asOf    prices.Date
	old     map[string]*catalog.Catalogue
	unread  map[string]error // of states that were good once and are refused today
	lists   map[string][]*prices.List
	layered map[string]layered
	report  *catalog.Report
}

type layered struct {
	c       *catalog.Catalogue
	changes []prices.Change
}

// read reads the states, and sorts out which rows are for which: a row about a
// part that some state knows is no mistake, but one that none knows is. Where a
// state cannot be read, nobody knows which parts it knew.
func (s Shop) read(ctx context.Context, jobs []book.Job, quotes map[int64]book.QuoteSummary, recorded *prices.List) (*states, error) {
	all := &states{asOf: s.AsOf, old: map[string]*catalog.Catalogue{}, unread: map[string]error{}, lists: map[string][]*prices.List{}, layered: map[string]layered{}, report: &catalog.Report{}}
	newest := ""
	for _, j := range jobs {
		q, ok := quotes[j.ID]
		if !ok || all.old[q.Hash] != nil || all.unread[q.Hash] != nil {
			continue
		}
		c, err := s.Book.Catalogue(ctx, q.Hash)
		if refused := (*report.Failure)(nil); errors.As(err, &refused) {
			all.unread[q.Hash] = err
			continue
		}
		if err != nil {
			return nil, err
		}
		all.old[q.Hash], newest = c, q.Hash
	}
	for hash, c := range all.old {
		known := func(e *prices.Entry) bool { return c.Part(e.SKU) != nil }
		all.lists[hash] = append(all.lists[hash], recorded.Only(known))
		for _, l := range s.Lists {
			all.lists[hash] = append(all.lists[hash], l.Only(func(e *prices.Entry) bool {
				return known(e) || hash == newest && len(all.unread) == 0 && !all.knows(e.SKU)
			}))
		}
	}
	for _, hash := range sortedKeys(all.old) { // every row is checked, whoever buys where
		_, _, report := prices.Layer(all.old[hash], prices.Layering{AsOf: s.AsOf, Strict: s.Strict}, all.lists[hash]...)
		all.report.Merge(report)
	}
	all.report.Sort(0)
	all.report.Problems = slices.CompactFunc(all.report.Problems, func(a, b catalog.Problem) bool { return a.Where == b.Where && a.Summary == b.Summary })
	return all, nil
}

func (a *states) knows(sku string) bool {
	for _, c := range a.old {
		if c.Part(sku) != nil {
			return true
		}
	}
	return false
}

// lay gives a state with the new prices, for customers of some shops.
func (a *states) lay(hash string, stores []string) (*catalog.Catalogue, []prices.Change) {
	sorted := slices.Clone(stores)
	slices.Sort(sorted)
	key := hash + "\x00" + strings.ToLower(strings.Join(sorted, "\x00"))
	if known, ok := a.layered[key]; ok {
		return known.c, known.changes
	}
	c, changes, report := prices.Layer(a.old[hash], prices.Layering{AsOf: a.asOf, Stores: stores}, a.lists[hash]...)
	if report.Err() != nil { // it was checked already: cases are not settled then
		c = a.old[hash]
	}
	a.layered[key] = layered{c, changes}
	return c, changes
}

func sortedKeys[V any](m map[string]V) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
