package main

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/catalog/prices"
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/reprice"
	"loudfor/optimizer"
)

func repriceCommand(c *console) *cobra.Command {
	var w wishes
	var l priceLists
	bookFile, watched := "", ""
	cmd := &cobra.Command{
		Use:   "reprice [BRIEF]",
		Short: "What new prices change: for one brief, or for the job book",
		Long: `reprice lays price lists over the catalogue, by date, and tells what that changes
for a brief: the old best build and the new, how far they are apart, what the old
one costs now and whether it can still be bought, and which price changes
mattered. A change matters if, made alone, it changes the old best build or its
price, or, undone alone, changes the new one; this is decided exactly.

With --book it does so for the latest quote of every job of a job book, each with
the state of the catalogue that it was quoted from (see "loudfor book").

With --watch it waits for changes of the price lists in a folder and prints one
line for each answer that changes, until it is interrupted.

What a price list looks like: "loudfor help formats". It exits with 0 when nothing
changed, 4 when something did; no file is changed.`,
		Example: `  loudfor reprice demo:250-reading --prices demo:clearance
  loudfor reprice brief.yaml --catalog parts/ --prices may.xlsx --prices june.csv
  loudfor reprice --book shop.db --prices lists/
  loudfor reprice brief.yaml --watch lists/`,
		Args: atMost(1, "one brief"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := w.check(cmd); err != nil {
				return err
			}
			w.request.Brief = first(args)
			switch {
			case watched != "" && len(l.paths) > 0:
				return usageError{text: "--watch names the folder of the price lists; leave --prices out", command: cmd.CommandPath()}
			case watched == "" && len(l.paths) == 0 && bookFile == "":
				return usageError{text: "reprice needs --prices, a price list or a folder of them", command: cmd.CommandPath()}
			case bookFile != "" && (len(args) > 0 || len(w.request.Catalog) > 0):
				return usageError{text: "--book runs the briefs of the book with the catalogues that they were quoted from; leave BRIEF and --catalog out", command: cmd.CommandPath()}
			}
			if bookFile != "" {
				return c.repriceBook(cmd.Context(), bookFile, l, w.workers, w.seed, nil, watched)
			}
			return c.repriceBrief(cmd.Context(), &w, l, watched)
		},
	}
	w.flags(cmd)
	l.flags(cmd, true)
	cmd.Flags().StringVar(&bookFile, "book", "", "run every job of this job `book`")
	cmd.Flags().StringVar(&watched, "watch", "", "run again whenever a price list in this `folder` changes")
	return cmd
}

// repriceBrief runs one brief against new prices.
func (c *console) repriceBrief(ctx context.Context, w *wishes, l priceLists, watched string) error {
	w.request.SkipBad = w.request.SkipBad || watched != ""
	w.request.ReadyMade = true // the boxes are worked out at both states of prices
	job, err := c.load(&w.request)
	if err != nil {
		return err
	}
	problem := w.problem(job, 1)
	problem.Shared = new(optimizer.Shared)
	settle := func(ctx context.Context, full bool) (r reprice.Result, lists []*prices.List, err error) {
		type state struct {
			readLists
			newer   *catalog.Catalogue
			changes []prices.Change
		}
		now, err := heard(ctx, func() (s state, err error) {
			if s.lists, s.asOf, s.report, err = l.load(job.Catalogue.Currency); err != nil {
				return s, err
			}
			var layered *catalog.Report
			s.newer, s.changes, layered = prices.Layer(job.Catalogue, prices.Layering{AsOf: s.asOf, Stores: job.Brief.Stores, Strict: l.strict}, s.lists...)
			s.report.Merge(layered)
			s.report.Sort(0)
			return s, s.report.Err()
		})
		if err != nil {
			return r, nil, err
		}
		c.remark(now.report)
		r = reprice.Settle(ctx, reprice.Case{Name: job.Brief.Name, Problem: problem, New: now.newer, Changes: now.changes}, full)
		return r, now.lists, r.Err
	}
	if watched != "" {
		l.paths, l.watched = []string{watched}, true
		return c.watch(ctx, watched, func(ctx context.Context) ([]reprice.Result, error) {
			r, _, err := settle(ctx, false)
			return []reprice.Result{r}, err
		})
	}
	var r reprice.Result
	var lists []*prices.List
	err = c.search(ctx, limits{}, &problem, func(ctx context.Context) (err error) {
		r, lists, err = settle(ctx, true)
		return err
	})
	if err != nil {
		return err
	}
	if c.json {
		err = c.writeJSON(record.OfReprice(c.origin, []reprice.Result{r}))
	} else {
		page := c.page()
		q := job.Question()
		if r.Boxes != nil {
			q.Built = len(r.Boxes.Boxes)
		}
		page.Reprice(q, sources(lists, 0), r)
		err = page.Close()
	}
	if err == nil && r.Before == nil && r.After == nil {
		return answeredError{statusNoBuild, "no build satisfies the brief"}
	}
	if err != nil || !r.Changed {
		return err
	}
	return answeredError{statusChanged, "the best build or its price has changed"}
}

// repriceBook runs the jobs of a book, all if none is named.
func (c *console) repriceBook(ctx context.Context, file string, l priceLists, workers int, seed uint64, only []int64, watched string) error {
	run := func(ctx context.Context) (run bookRun, err error) {
		return c.runBook(ctx, file, l, workers, seed, only)
	}
	if watched != "" {
		l.paths, l.watched = []string{watched}, true
		return c.watch(ctx, watched, func(ctx context.Context) ([]reprice.Result, error) {
			done, err := run(ctx)
			return done.results, err
		})
	}
	done, err := run(ctx)
	if err != nil {
		return err
	}
	switch {
	case c.json:
		err = c.writeJSON(record.OfReprice(record.Origin{Demo: done.invented}, done.results))
	case len(only) == 1 && done.results[0].Err == nil:
		page := c.page()
		page.Reprice(done.question(0), sources(done.lists, done.recorded), done.results[0])
		err = page.Close()
	default:
		page := c.page()
		page.RepriceBook(file, sources(done.lists, done.recorded), done.results)
		err = page.Close()
	}
	if err != nil {
		return err
	}
	changed, failed := 0, 0
	for _, r := range done.results {
		switch {
		case r.Err != nil:
			failed++
		case r.Changed || r.Otherwise:
			changed++
		}
	}
	switch {
	case failed > 0:
		return answeredError{statusBadInput, fmt.Sprintf("%s could not be run again", jobsWord(failed))}
	case changed > 0:
		return answeredError{statusChanged, fmt.Sprintf("%s changed", quotesWord(changed))}
	}
	return nil
}

func jobsWord(n int) string {
	if n == 1 {
		return "1 job"
	}
	return fmt.Sprintf("%d jobs", n)
}

func quotesWord(n int) string {
	if n == 1 {
		return "1 quote has"
	}
	return fmt.Sprintf("%d quotes have", n)
}
