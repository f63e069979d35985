package main

import (
	"context"
	"fmt"
	"io"
	"strconv"

	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/prices"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/shop"
)

func bookListCommand(c *console, file *string) *cobra.Command {
	word, state, removed := "", "", false
	cmd := &cobra.Command{
		Use:   "list",
		Short: "List the jobs with their latest quotes",
		Example: `  loudfor book list
  loudfor book list --word wagon --state accepted`,
		Args: atMost(0, "no argument"),
		RunE: func(cmd *cobra.Command, args []string) error {
			search := book.Search{Word: word}
			if state != "" {
				var err error
				if search.State, err = book.ParseState(state); err != nil {
					return inputs.UsageError{Text: "--state: " + err.Error()}
				}
			}
			return openBook(*file, book.Options{ReadOnly: true}, func(b *book.Book, file string) error {
				list := b.Jobs
				if removed {
					list = b.Removed
				}
				jobs, err := list(cmd.Context())
				if err != nil {
					return err
				}
				jobs = search.Among(jobs)
				if c.json {
					return c.writeJSON(record.OfJobs(file, jobs))
				}
				page := c.page()
				page.Jobs(file, jobs)
				return page.Close()
			})
		},
	}
	cmd.Flags().StringVar(&word, "word", "", "only jobs with these `words` in customer, name, car, note or a quoted part")
	cmd.Flags().StringVar(&state, "state", "", "only jobs in this `state`: offered, accepted, ordered, installed")
	cmd.Flags().BoolVar(&removed, "removed", false, "the jobs that were removed")
	complete(cmd, "state", stateWords()...)
	return cmd
}

func bookShowCommand(c *console, file *string) *cobra.Command {
	quote, brief, parts, page := int64(0), false, false, false
	cmd := &cobra.Command{
		Use:   "show JOB",
		Short: "Print a quote again, exactly as it was given",
		Long: `book show prints the latest quote of a job, or the one that --quote names, byte for
byte as it was given, from what the book keeps; with --json the document of that
day. --brief prints the brief instead, and --parts the state of the catalogue that
the quote came from, as a file of parts. --page prints the page that the customer was
given, of a quote that was booked on the page at the counter.`,
		Example: `  loudfor book show 1
  loudfor book show 1 --quote 3 --json
  loudfor book show 1 --parts > then.yaml`,
		Args: exactly(1, "the number of a job"),
		RunE: func(cmd *cobra.Command, args []string) error {
			job, err := jobNumber(args[0])
			if err != nil {
				return err
			}
			if brief && parts || page && (brief || parts) {
				return usageError{text: "--brief, --parts and --page all want standard output", command: cmd.CommandPath()}
			}
			return openBook(*file, book.Options{ReadOnly: true}, func(b *book.Book, _ string) error {
				if brief {
					j, err := b.Job(cmd.Context(), job)
					if err != nil {
						return err
					}
					_, err = io.WriteString(c.out, j.Brief)
					return err
				}
				q, err := findQuote(cmd.Context(), b, job, quote)
				if err != nil {
					return err
				}
				switch {
				case parts:
					state, err := b.Catalogue(cmd.Context(), q.Hash)
					if err != nil {
						return err
					}
					return catalog.WriteParts(c.out, state)
				case page && q.Page == nil:
					return fmt.Errorf("quote %d has no page: it was booked in the terminal", q.ID)
				case page:
					_, err = c.out.Write(q.Page)
				case c.json:
					_, err = c.out.Write(q.Answer)
				default:
					_, err = io.WriteString(c.out, q.Printed)
				}
				return err
			})
		},
	}
	cmd.Flags().Int64Var(&quote, "quote", 0, "`number` of the quote (default: the latest of the job)")
	cmd.Flags().BoolVar(&brief, "brief", false, "print the brief instead")
	cmd.Flags().BoolVar(&parts, "parts", false, "print the parts that the quote came from instead")
	cmd.Flags().BoolVar(&page, "page", false, "print the page that the customer was given instead, as HTML")
	return cmd
}

// findQuote is a quote of a job, the latest if none is named.
func findQuote(ctx context.Context, b *book.Book, job, quote int64) (book.Quote, error) {
	if quote == 0 {
		if _, err := b.Job(ctx, job); err != nil {
			return book.Quote{}, err
		}
		return b.LatestQuote(ctx, job)
	}
	q, err := b.Quote(ctx, quote)
	if err == nil && q.Job != job {
		err = fmt.Errorf("quote %d is of job %d, not of job %d", quote, q.Job, job)
	}
	return q, err
}

func jobNumber(text string) (int64, error) {
	n, err := strconv.ParseInt(text, 10, 64)
	if err != nil || n < 1 {
		return 0, inputs.UsageError{Text: fmt.Sprintf("%q is not the number of a job; \"loudfor book list\" shows them", text)}
	}
	return n, nil
}

func bookQuoteCommand(c *console, file *string) *cobra.Command {
	var q quoting
	cmd := &cobra.Command{
		Use:   "quote JOB",
		Short: "Quote a booked job again, at the prices of now",
		Long: `book quote ranks the builds for a booked brief again and keeps the answer as a
further quote of the job; earlier ones stay. Without --catalog the parts are those
of the latest quote. Prices that the book has recorded are laid over them, and
those of --prices.`,
		Example: `  loudfor book quote 1
  loudfor book quote 1 --catalog parts/ --prices may.csv`,
		Args: exactly(1, "the number of a job"),
		RunE: func(cmd *cobra.Command, args []string) error {
			job, err := jobNumber(args[0])
			if err != nil {
				return err
			}
			if err := q.check(cmd); err != nil {
				return err
			}
			return openBook(*file, book.Options{}, func(b *book.Book, file string) error {
				return c.quoteAgain(cmd.Context(), b, file, job, &q)
			})
		},
	}
	q.flags(cmd)
	return cmd
}

func (c *console) quoteAgain(ctx context.Context, b *book.Book, file string, id int64, q *quoting) error {
	job, err := b.Job(ctx, id)
	if err != nil {
		return err
	}
	in := inputs.Job{}
	if len(q.request.Catalog) > 0 {
		if in.Catalogue, err = heard(ctx, q.request.Sound); err != nil {
			return err
		}
	} else {
		latest, err := b.LatestQuote(ctx, id)
		if err != nil {
			return err
		}
		if in.Catalogue, err = b.Catalogue(ctx, latest.Hash); err != nil {
			return err
		}
		in.Invented = quotedFromDemo(latest)
	}
	p, err := shop.ProblemOf(job, in.Catalogue)
	if err != nil {
		return err
	}
	in.Brief, in.Vehicle = p.Brief, p.Vehicle
	m, err := c.quote(ctx, b, q, in)
	if err != nil {
		return err
	}
	m.quote.Job = id
	quote, err := b.AddQuote(ctx, m.quote)
	if err != nil {
		return err
	}
	return c.booked(file, id, quote, m)
}

func bookPricesCommand(c *console, file *string) *cobra.Command {
	var l priceLists
	correct := false
	cmd := &cobra.Command{
		Use:   "prices LIST...",
		Short: "Record price lists in the job book",
		Long: `book prices keeps the rows of price lists (CSV or XLSX files, or folders of them)
in the job book, by part, shop and day. From then on the book's own commands lay
them over every catalogue, the latest day first; "loudfor book reprice" tells what
they change. Rows that are there already are no mistake; one that says something
else of the same part, shop and day is, unless --correct is given. Of a row without
a shop and one of the same day that names the part's own, the latter holds.`,
		Example: `  loudfor book prices may.csv
  loudfor book prices lists/ --correct`,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usageError{text: "prices takes one or more price lists", command: cmd.CommandPath()}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			l.paths = args
			return openBook(*file, book.Options{Create: true}, func(b *book.Book, file string) error {
				return c.recordPrices(cmd.Context(), b, file, l, correct)
			})
		},
	}
	l.flags(cmd, false)
	cmd.Flags().BoolVar(&correct, "correct", false, "let these rows take the place of what the book says of the same part, shop and day")
	return cmd
}

func (c *console) recordPrices(ctx context.Context, b *book.Book, file string, l priceLists, correct bool) error {
	currency, err := bookCurrency(ctx, b)
	if err != nil {
		return err
	}
	read, err := l.heard(ctx, currency)
	if err != nil {
		return err
	}
	c.remark(read.report)
	found, err := heard(ctx, func() (*catalog.Report, error) {
		return shop.Shop{Book: b, Lists: read.lists, Strict: l.strict}.Check(ctx)
	})
	if err != nil {
		return err
	}
	if err := found.Err(); err != nil {
		return err
	}
	var entries []prices.Entry
	for _, l := range read.lists {
		entries = append(entries, l.Entries...)
	}
	keep := b.AddPrices
	if correct {
		keep = b.CorrectPrices
	}
	n, err := keep(ctx, entries)
	if err != nil {
		return err
	}
	if c.json {
		return c.writeJSON(record.RecordedPrices{Schema: record.PricesSchema, Book: file, Rows: len(entries), Recorded: n})
	}
	_, err = fmt.Fprintf(c.out, "%s read, %d of them new: recorded in %s\n", rowsWord(len(entries)), n, file)
	return err
}

func bookRepriceCommand(c *console, file *string) *cobra.Command {
	var l priceLists
	workers, seed, watched := 0, uint64(1), ""
	cmd := &cobra.Command{
		Use:   "reprice [JOB...]",
		Short: "What new prices change for the booked quotes",
		Long: `book reprice runs the latest quote of every job again, or of the jobs named, at the
prices that the book has recorded and those of --prices, and tells which change
and why. Of one job alone it gives the full account, as "loudfor reprice" does.
Nothing in the book is changed: "book prices" records lists, "book quote" quotes
again. It exits with 0 when nothing changed, 4 when something did.`,
		Example: `  loudfor book reprice --prices june.csv
  loudfor book reprice 3
  loudfor book reprice --watch lists/`,
		RunE: func(cmd *cobra.Command, args []string) error {
			switch {
			case workers < 0:
				return usageError{text: "--workers is 0 (all cores) or more", command: cmd.CommandPath()}
			case watched != "" && len(l.paths) > 0:
				return usageError{text: "--watch names the folder of the price lists; leave --prices out", command: cmd.CommandPath()}
			}
			var only []int64
			for _, arg := range args {
				n, err := jobNumber(arg)
				if err != nil {
					return err
				}
				only = append(only, n)
			}
			at := *file
			if at == "" {
				var err error
				if at, err = book.DefaultPath(); err != nil {
					return err
				}
			}
			return c.repriceBook(cmd.Context(), at, l, workers, seed, only, watched)
		},
	}
	l.flags(cmd, true)
	cmd.Flags().IntVar(&workers, "workers", 0, "how many `cores` work (0: all); never changes the answer")
	cmd.Flags().Uint64Var(&seed, "seed", 1, "`number` that starts the draws behind the bands")
	cmd.Flags().StringVar(&watched, "watch", "", "run again whenever a price list in this `folder` changes")
	return cmd
}
