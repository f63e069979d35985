package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"loudfor/catalog/units"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/install"
	"loudfor/cmd/internal/sheet"
	"loudfor/cmd/internal/style"
	"loudfor/optimizer"
	"loudfor/optimizer/uncertainty"
)

// sheetFlags are what sheet is asked for besides its answer. The installer's
// own figures are quantities with units, as files have them.
type sheetFlags struct {
	format, output, svg       string
	run, drop, fuse, measured string
}

func sheetCommand(c *console) *cobra.Command {
	var w wishes
	var s sheetFlags
	cmd := &cobra.Command{
		Use:   "sheet [BUILD|BRIEF]",
		Short: "The installer's sheet: wiring, power, fit, filters, gain, readings",
		Long: `sheet works out what an installer needs beside the parts of a build, or of the
best build for a brief (a file, "-" for standard input, or demo:NAME): the
wiring of the coils as a drawing with the load at each point, the way of signal
and power, cable and fuse, the alternator's reserve, gain, filters, what has to
fit, and what meter and clamp will show at each place and opening of the car.

Briefs: ` + inputs.DemoNames(inputs.DemoBriefs) + `.
Builds: ` + inputs.DemoNames(inputs.DemoBuilds) + `.

With --format html the sheet is one file that needs no network and prints on A4
or Letter; print it to a file for a PDF. A fuse above what its cable may carry
is never printed: there is no sheet then, and the numbers say why.`,
		Example: `  loudfor sheet
  loudfor sheet build.yaml --catalog parts/ --format html --output sheet.html
  loudfor sheet demo:value-12-sealed --svg wiring.svg
  loudfor sheet brief.yaml --catalog parts/ --run "5.2 m" --measured-load "3.1 ohm"`,
		Args: atMost(1, "one build or brief"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := w.check(cmd); err != nil {
				return err
			}
			format, ok := sheet.ParseFormat(s.format)
			if c.markdown && !cmd.Flags().Changed("format") {
				format = sheet.Markdown
			}
			switch {
			case !ok:
				return usageError{text: fmt.Sprintf("--format is terminal, markdown or html, not %q", s.format), command: cmd.CommandPath()}
			case c.json && (s.output != "" || cmd.Flags().Changed("format")):
				return usageError{text: "--json is a format of its own: leave out --format and --output", command: cmd.CommandPath()}
			}
			return c.sheet(cmd.Context(), &w, &s, format, first(args))
		},
	}
	w.flags(cmd)
	f := cmd.Flags()
	f.StringVar(&s.format, "format", "terminal", "how the sheet `looks`: terminal, markdown or html")
	f.StringVarP(&s.output, "output", "o", "", "write the sheet to `file` in place of standard output")
	f.StringVar(&s.svg, "svg", "", "draw the wiring of the coils into `file`")
	f.StringVar(&s.run, "run", "", "measured `length` of the power cable, one way, such as \"4.5 m\" (default: the vehicle's)")
	f.StringVar(&s.drop, "drop", "", "`volts` that the power cable may lose (default \"0.5 V\")")
	f.StringVar(&s.fuse, "fuse", "", "`amperes` of the fuse at the battery (default: the kit's, if it is right)")
	f.StringVar(&s.measured, "measured-load", "", "`ohm` measured at one output, for the gain, such as \"3.1 ohm\"")
	complete(cmd, "format", sheet.Formats()...)
	return cmd
}

func (c *console) sheet(ctx context.Context, w *wishes, s *sheetFlags, format sheet.Format, name string) error {
	var own install.Wishes
	run := 0.0
	if err := errors.Join(
		wished("run", s.run, units.Length, &run), wished("drop", s.drop, units.Voltage, &own.Drop),
		wished("fuse", s.fuse, units.Current, &own.Fuse), wished("measured-load", s.measured, units.Resistance, &own.MeasuredLoad),
	); err != nil {
		return err
	}
	if err := c.buildOrBrief(&w.request, name); err != nil {
		return err
	}
	job, err := c.load(&w.request)
	if err != nil {
		return err
	}
	if run > 0 {
		job.Vehicle.CableRun = run // the loss in it is heard, so it is set before the prediction
	}
	problem := w.problem(job, 1)
	build, err := c.buildFor(ctx, &w.request, problem, job)
	if err != nil {
		return err
	}
	plan, err := c.plan(ctx, problem, job, build, own)
	if err != nil {
		return err
	}
	if s.svg != "" {
		d := plan.Coils()
		if err := replace(s.svg, []byte(d.SVG())); err != nil {
			return err
		}
	}
	if c.json {
		return c.writeJSON(plan.Document())
	}
	page := plan.Sheet()
	if s.output == "" {
		if format != sheet.HTML {
			if err := c.page().Close(); err != nil {
				return err
			}
		}
		return c.turn(func(w io.Writer, paged bool) error {
			page.Paged = paged
			return page.Write(w, format, c.style)
		})
	}
	var text bytes.Buffer
	if err := page.Write(&text, format, style.Style{}); err != nil {
		return err
	}
	return replace(s.output, text.Bytes())
}

// wished reads a quantity of the command line; an empty one leaves to as it is.
func wished(flag, text string, d units.Dimension, to *float64) error {
	if text == "" {
		return nil
	}
	q, bad := units.Parse(text, d)
	if bad != nil {
		return inputs.UsageError{Text: fmt.Sprintf("--%s %s: %v", flag, text, bad)}
	}
	if !(q.SI > 0) {
		return fmt.Errorf("--%s %s: it must be above zero; measure it", flag, strings.TrimSpace(text))
	}
	*to = q.SI
	return nil
}

// buildFor is the given build, or the best one for the brief.
func (c *console) buildFor(ctx context.Context, r *inputs.Request, p optimizer.Problem, job inputs.Job) (optimizer.Build, error) {
	if r.Build != "" {
		return optimizer.Predict(ctx, p, job.Parts, job.Mode, job.Load)
	}
	var result optimizer.Result
	err := c.search(ctx, limits{}, &p, func(ctx context.Context) (err error) {
		result, err = optimizer.Pick(ctx, p)
		return err
	})
	if err == nil {
		err = c.whole(job, result)
	}
	if err != nil {
		return optimizer.Build{}, err
	}
	return result.Builds[0], nil
}

// plan works the sheet out, with what the meters will show all over the car.
func (c *console) plan(ctx context.Context, p optimizer.Problem, job inputs.Job, b optimizer.Build, own install.Wishes) (*install.Plan, error) {
	j := install.Job{Question: job.Question(), Build: b, Wishes: own}
	made := job.Box
	if job.Shop != nil {
		made = job.Shop.Of(&b)
	}
	if made != nil {
		j.Extra = append(j.Extra, install.BoxSection(made, j.Air()))
	}
	// Refusals first: they need no prediction.
	first, err := install.Of(j)
	if err != nil {
		return nil, err
	}
	defer c.working("metering every place of the car")()
	if j.Expected, err = uncertainty.Elsewhere(ctx, p, &b, uncertainty.Spots(job.Vehicle), first.Passed()); err != nil {
		return nil, err
	}
	return install.Of(j)
}
