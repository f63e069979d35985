package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/prices"
	"loudfor/cmd/internal/answer"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/style"
	"loudfor/optimizer"
)

// quoting is what book add and book quote are asked for besides the brief.
type quoting struct {
	request        inputs.Request
	lists          priceLists
	customer, note string
	workers, top   int
	seed           uint64
}

func (q *quoting) flags(cmd *cobra.Command) {
	f := cmd.Flags()
	shelfFlags(cmd, &q.request)
	skipFlag(cmd, &q.request)
	f.IntVarP(&q.top, "top", "n", 5, "how `many` builds to quote")
	f.IntVar(&q.workers, "workers", 0, "how many `cores` work (0: all); never changes the answer")
	f.Uint64Var(&q.seed, "seed", 1, "`number` that starts the draws behind the bands")
	q.lists.flags(cmd, true)
}

func (q *quoting) check(cmd *cobra.Command) error {
	switch {
	case q.workers < 0:
		return usageError{text: "--workers is 0 (all cores) or more", command: cmd.CommandPath()}
	case q.top < 1 || q.top > mostTop:
		return usageError{text: "--top is from 1 to 1000", command: cmd.CommandPath()}
	}
	return nil
}

func bookAddCommand(c *console, file *string) *cobra.Command {
	var q quoting
	cmd := &cobra.Command{
		Use:   "add BRIEF",
		Short: "Book a customer's brief with a quote",
		Long: `book add ranks the best builds for a brief as pick does, prints them, and keeps
the brief, the answer and the state of the catalogue in the job book. Prices that
the book has recorded are laid over the catalogue first, and those of --prices.

The book keeps the brief as its file is, with the vehicle that it names; wishes
belong into the file. Where no build satisfies the brief, nothing is booked.`,
		Example: `  loudfor book add brief.yaml --catalog parts/ --customer Rosa --note "calls on Friday"
  loudfor book add demo:250-reading --book shop.db`,
		Args: exactly(1, "one brief: a file, - or demo:NAME"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := q.check(cmd); err != nil {
				return err
			}
			q.request.Brief, q.request.Stdin = args[0], c.in
			return c.addJob(cmd.Context(), *file, &q)
		},
	}
	q.flags(cmd)
	cmd.Flags().StringVar(&q.request.Vehicles, "vehicles", "", "`file` or folder of vehicles (default: those beside the parts, then the body styles)")
	cmd.Flags().StringVar(&q.customer, "customer", "", "`name` of the customer")
	cmd.Flags().StringVar(&q.note, "note", "", "`text` to keep with the job")
	return cmd
}

// exactly asks for a number of arguments in words of this program.
func exactly(n int, what string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) != n {
			return usageError{text: fmt.Sprintf("%s takes %s", cmd.Name(), what), command: cmd.CommandPath()}
		}
		return nil
	}
}

func (c *console) addJob(ctx context.Context, file string, q *quoting) error {
	text, err := heard(ctx, q.request.Raw)
	if err != nil {
		return err
	}
	in, err := heard(ctx, func() (inputs.Job, error) { return inputs.Load(q.request) })
	if err != nil {
		return err
	}
	c.origin = record.Origin{Demo: in.Invented, From: in.From, Outdated: in.Vehicle.Outdated}
	if !c.json {
		if err := c.page().Close(); err != nil {
			return err
		}
	}
	c.remark(in.Remarks)
	car, err := inputs.CarFiles(in, in.Invented)
	if err != nil {
		return err
	}
	job := book.Job{Customer: q.customer, Note: q.note, File: text.Name, Brief: text.Content}
	for _, f := range car {
		job.Attachments = append(job.Attachments, book.Attachment{Name: f.Name, Content: f.Content})
	}
	return openBook(file, book.Options{Create: true}, func(b *book.Book, file string) error {
		made, err := c.quote(ctx, b, q, in)
		if err != nil {
			return err
		}
		id, err := b.AddJob(ctx, job, made.quote)
		if err != nil {
			return err
		}
		latest, err := b.Quotes(ctx, id)
		if err != nil {
			return err
		}
		return c.booked(file, id, latest[len(latest)-1].ID, made)
	})
}

// made is a quote that is ready to be booked.
type made struct {
	quote book.Quote
	doc   record.Pick
}

// quote ranks builds at the prices that the book knows. Without any build there
// is no quote, and the answer says why.
func (c *console) quote(ctx context.Context, b *book.Book, q *quoting, in inputs.Job) (made, error) {
	now, err := heard(ctx, func() (layered, error) { return atPrices(ctx, b, q, in) })
	if err != nil {
		return made{}, err
	}
	c.remark(now.report)
	state := now.catalogue
	in.Catalogue = state
	if in.Brief.BuildBoxes {
		// The book keeps the state without the boxes: they follow from it and
		// the brief, and are worked out again when prices change.
		if err := in.BuildBoxes(ctx, q.workers); err != nil {
			return made{}, err
		}
	}
	problem := optimizer.Problem{Catalogue: in.Catalogue, Brief: in.Brief, Vehicle: in.Vehicle,
		Top: q.top, Distinct: optimizer.DistinctBass, Workers: q.workers, Seed: q.seed}
	var answers optimizer.Answers
	err = c.search(ctx, limits{}, &problem, func(ctx context.Context) (err error) {
		answers, err = optimizer.FirstAnswers(ctx, problem, optimizer.Noticed)
		return err
	})
	result := answers.Result
	if err == nil {
		err = c.whole(in, result)
	}
	if err != nil {
		return made{}, err
	}
	m := made{doc: record.OfAnswers(in.Brief, in.Vehicle, c.origin, optimizer.Noticed, answers)}
	m.doc.BuiltBoxes, m.doc.BoxSearch = record.OfBuilt(in.Shop, result.Builds, in.Brief.Celsius)
	var page bytes.Buffer
	p := answer.New(&page, style.Style{})
	p.Choices(in.Question(), &answers, optimizer.Noticed, "")
	p.Pick(in.Question(), result)
	p.Built(in.Question(), in.Shop, result.Builds)
	if err := p.Close(); err != nil {
		return made{}, err
	}
	var text bytes.Buffer
	if err := encodeJSON(&text, m.doc); err != nil {
		return made{}, err
	}
	best := result.Builds[0]
	m.quote = book.Quote{Catalogue: state, Answer: json.RawMessage(text.Bytes()), Printed: page.String(),
		QuoteSummary: book.QuoteSummary{Objective: m.doc.Goal, Level: best.Objective, Price: best.Cost, Form: record.PickSchema, Lines: bookLines(best.Lines)}}
	return m, nil
}

// bookLines tells bought pieces from owned ones.
func bookLines(lines []optimizer.Line) (out []book.Line) {
	for _, l := range lines {
		if bought := l.Count - l.Owned; bought > 0 {
			out = append(out, book.Line{SKU: l.Part.SKU, Count: bought})
		}
		if l.Owned > 0 {
			out = append(out, book.Line{SKU: l.Part.SKU, Count: l.Owned, Owned: true})
		}
	}
	return out
}

// layered is a catalogue with prices laid over it, and what is odd about them.
type layered struct {
	catalogue *catalog.Catalogue
	report    *catalog.Report
}

// atPrices is the catalogue at the prices that the book has recorded and the
// lists state.
func atPrices(ctx context.Context, b *book.Book, q *quoting, in inputs.Job) (l layered, err error) {
	lists, asOf, report, err := q.lists.load(in.Catalogue.Currency)
	if err != nil {
		return l, err
	}
	recorded, err := b.PriceList(ctx)
	if err != nil {
		return l, err
	}
	known := recorded.Only(func(e *prices.Entry) bool { return in.Catalogue.Part(e.SKU) != nil })
	state, _, found := prices.Layer(in.Catalogue, prices.Layering{AsOf: asOf, Stores: in.Brief.Stores, Strict: q.lists.strict}, append(lists, known)...)
	report.Merge(found)
	report.Sort(0)
	return layered{state, report}, report.Err()
}

// booked prints a quote and where it is kept.
func (c *console) booked(file string, job, quote int64, m made) error {
	if c.json {
		return c.writeJSON(record.Booked{Schema: record.BookedSchema, Book: file, Job: job, Quote: quote, Answer: m.doc})
	}
	if _, err := io.Copy(c.out, strings.NewReader(m.quote.Printed)); err != nil {
		return err
	}
	_, err := fmt.Fprintf(c.out, "\nBooked as job %d, quote %d, in %s\n", job, quote, file)
	return err
}
