package main

import (
	"context"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/prices"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/reprice"
	"loudfor/cmd/internal/shop"
)

// clock is what a book is written by. Tests of whole commands set it, so that
// what they print does not depend on the day.
var clock = time.Now

// bookWait is how long to wait for another program that writes to a book; zero:
// as long as the book thinks right. Tests set it.
var bookWait time.Duration

func bookCommand(c *console) *cobra.Command {
	file := ""
	cmd := &cobra.Command{
		Use:   "book",
		Short: "The job book: customers' briefs, what each was quoted, prices by day",
		Long: `The job book is one file that keeps customers' briefs, what each was quoted with
the state of the catalogue that the quote came from, and the prices of every day.
A quote can be printed again exactly as it was given, and run again when prices
change.

It lies in the user's data folder unless --book names another file. It is made
when the first job is added. What a command has confirmed stays, whatever happens
to the program or the power afterwards; several may use the book at one time.`,
		Example: `  loudfor book add brief.yaml --catalog parts/ --customer Rosa
  loudfor book list
  loudfor book show 1
  loudfor book prices may.csv
  loudfor book reprice`,
		Args: cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			return unknownCommand(cmd, args[0])
		},
	}
	cmd.SuggestionsMinimumDistance = 2
	cmd.PersistentFlags().StringVar(&file, "book", "", "`file` of the job book (default: loudfor/book.db in the user's data folder)")
	cmd.AddCommand(bookAddCommand(c, &file), bookListCommand(c, &file), bookShowCommand(c, &file), bookQuoteCommand(c, &file),
		bookPricesCommand(c, &file), bookRepriceCommand(c, &file), bookMarkCommand(c, &file), bookNoteCommand(c, &file),
		bookRemoveCommand(c, &file), bookRestoreCommand(c, &file))
	return cmd
}

// openBook opens a job book for the length of one piece of work. What is wrong
// with it is said of the name that the user gave.
func openBook(file string, o book.Options, work func(b *book.Book, file string) error) (err error) {
	if file == "" {
		if file, err = book.DefaultPath(); err != nil {
			return err
		}
	}
	o.Now, o.Wait = clock, bookWait
	b, err := book.Open(file, o)
	if err == nil {
		err = work(b, file)
		err = errors.Join(err, b.Close())
	}
	var fault *book.Error
	if errors.As(err, &fault) {
		as := *fault
		if at, e := filepath.Abs(file); e == nil && sameFile(at, as.Path) {
			as.Path = file
		}
		problem := as.Problem()
		return (&catalog.Report{Problems: []catalog.Problem{problem}}).Err()
	}
	return err
}

func sameFile(a, b string) bool {
	if a == b {
		return true
	}
	real, err := filepath.EvalSymlinks(a)
	return err == nil && real == b
}

// bookRun is what became of a book's quotes.
type bookRun struct {
	results  []reprice.Result
	lists    []*prices.List
	recorded int  // rows of the book's own history
	invented bool // of one job: it was quoted from the demo
}

// settled are the results of a shop with what is odd about its lists.
type settled struct {
	results []reprice.Result
	report  *catalog.Report
}

// question is a job as the head of an answer tells it.
func (r bookRun) question(i int) facts.Question {
	p := r.results[i].Problem
	q := facts.Question{Brief: p.Brief, Vehicle: p.Vehicle, Invented: r.invented, Parts: len(p.Catalogue.Parts)}
	if boxes := r.results[i].Boxes; boxes != nil {
		q.Built = len(boxes.Boxes)
		q.Parts -= q.Built
	}
	return q
}

// runBook settles the jobs of a book.
func (c *console) runBook(ctx context.Context, file string, l priceLists, workers int, seed uint64, only []int64) (done bookRun, err error) {
	err = openBook(file, book.Options{ReadOnly: true}, func(b *book.Book, file string) error {
		currency, err := bookCurrency(ctx, b)
		if err != nil {
			return err
		}
		read, err := l.heard(ctx, currency)
		if err != nil {
			return err
		}
		report := read.report
		recorded, err := b.PriceList(ctx)
		if err != nil {
			return err
		}
		done.lists, done.recorded = read.lists, len(recorded.Entries)
		s := shop.Shop{Book: b, Lists: read.lists, AsOf: read.asOf, Strict: l.strict, Workers: workers, Seed: seed, Full: len(only) == 1}
		var bar jobMeter
		if c.terminal != nil && !c.quiet {
			bar = jobMeter{file: c.terminal, start: time.Now()}
			s.Progress = func(done, all int) {
				if ctx.Err() == nil { // else it may be cleared already
					bar.show(done, all)
				}
			}
			defer bar.clear()
		}
		found, err := heard(ctx, func() (found settled, err error) {
			found.results, found.report, err = s.All(ctx, only)
			return found, err
		})
		if err != nil {
			return err
		}
		report.Merge(found.report)
		report.Sort(0)
		if err := report.Err(); err != nil {
			return err
		}
		c.remark(report)
		done.results = found.results
		if len(only) == 1 {
			latest, err := b.LatestQuote(ctx, only[0])
			done.invented = err == nil && quotedFromDemo(latest)
		}
		return nil
	})
	return done, err
}

// quotedFromDemo says that a quote's parts are the invented ones of the demo.
func quotedFromDemo(q book.Quote) bool {
	var doc record.Pick
	return json.Unmarshal(q.Answer, &doc) == nil && doc.Demo
}

// bookCurrency is the currency of the latest quote: that of prices which name
// none.
func bookCurrency(ctx context.Context, b *book.Book) (string, error) {
	jobs, err := b.Jobs(ctx)
	currency := ""
	for _, j := range jobs {
		if j.Latest != nil {
			currency = j.Latest.Price.Currency
		}
	}
	return currency, err
}

// jobMeter shows on a terminal how many jobs are settled.
type jobMeter struct {
	file  *os.File
	start time.Time
	bar   *progressbar.ProgressBar
}

func (m *jobMeter) show(done, all int) {
	if m.bar == nil {
		if time.Since(m.start) < patience {
			return
		}
		m.bar = progressbar.NewOptions(all, progressbar.OptionSetWriter(m.file), progressbar.OptionClearOnFinish(),
			progressbar.OptionSetWidth(40), progressbar.OptionThrottle(100*time.Millisecond), progressbar.OptionSetDescription("jobs"), progressbar.OptionShowCount())
	}
	_ = m.bar.Set(done)
}

func (m *jobMeter) clear() {
	if m.bar != nil {
		_ = m.bar.Clear()
	}
}
