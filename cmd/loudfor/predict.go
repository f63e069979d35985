package main

import (
	"context"
	"io"
	"math"

	"github.com/spf13/cobra"

	"loudfor/catalog/writing"
	"loudfor/cmd/internal/chart"
	"loudfor/cmd/internal/curve"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/record"
	"loudfor/model/bass"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
)

// outputs are the files that predict may write besides its answer.
type outputs struct{ curve, svg string }

func predictCommand(c *console) *cobra.Command {
	var w wishes
	var files outputs
	volts, full := 0.0, false
	cmd := &cobra.Command{
		Use:   "predict BUILD",
		Short: "Predict one given build: level, load, current, heat, travel",
		Long: `predict reads a build (a file, "-" for standard input, or demo:NAME for one of the
built-in ones: ` + inputs.DemoNames(inputs.DemoBuilds) + `) and prints the
whole chain at its peak; --full which limit binds at which frequency as well,
the level over frequency, and what was assumed.

The vehicle "open field" is open ground, 1 m away. With --volts the build is
driven by that voltage at each output, linearly and without any limit, as
handbooks reckon, in the wiring that the build's mode and load ask for.`,
		Example: `  loudfor predict demo:value-12-sealed
  loudfor predict build.yaml --catalog parts/ --curve curve.csv --svg curve.svg
  loudfor predict build.yaml --catalog parts/ --vehicle "open field" --volts 2.83`,
		ValidArgsFunction: completeDemo(inputs.DemoBuilds),
		Args: cobra.MatchAll(atMost(1, "one build"), func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usageError{text: "predict needs a build: a file, - or demo:NAME", command: cmd.CommandPath()}
			}
			return nil
		}),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := w.check(cmd); err != nil {
				return err
			}
			if cmd.Flags().Changed("volts") && !(volts > 0 && volts <= mostVolts) {
				return usageError{text: "--volts is above 0 and at most 1000", command: cmd.CommandPath()}
			}
			if files.curve == "-" && c.json {
				return usageError{text: "--curve - and --json both want standard output; the JSON holds the curve", command: cmd.CommandPath()}
			}
			w.request.Build = args[0]
			return predict(cmd.Context(), c, &w, files, volts, full)
		},
	}
	w.flags(cmd)
	cmd.Flags().StringVar(&files.curve, "curve", "", "write the curve as CSV to `file`, or - for standard output in place of the answer")
	cmd.Flags().StringVar(&files.svg, "svg", "", "draw the curve into `file`")
	cmd.Flags().BoolVar(&full, "full", false, "say all: assumptions, cautions, what binds where, the curve")
	cmd.Flags().Float64Var(&volts, "volts", 0, "drive each output with `V` rms, small-signal, without limits")
	return cmd
}

// mostVolts guards against a slip of the keyboard.
const mostVolts = 1000

func predict(ctx context.Context, c *console, w *wishes, files outputs, volts float64, full bool) error {
	job, err := c.load(&w.request)
	if err != nil {
		return err
	}
	problem := w.problem(job, 1)
	var build optimizer.Build
	if volts > 0 {
		var points []bass.Operation
		points, build, err = optimizer.SmallSignal(problem, job.Parts, volts, job.Mode, job.Load)
		build.Curve = points
		build.Operation = loudest(points)
	} else {
		build, err = optimizer.Predict(ctx, problem, job.Parts, job.Mode, job.Load)
	}
	if err != nil {
		return err
	}
	if err := c.writeFiles(files, job, build); err != nil || files.curve == "-" {
		return err
	}
	if c.json {
		var asked *advice.Asked
		if volts == 0 {
			if asked, err = advice.AskedOf(ctx, problem, &build); err != nil {
				return err
			}
		}
		return c.writeJSON(record.OfPredict(job.Vehicle, build, asked))
	}
	page := c.page()
	switch {
	case volts > 0:
		page.SmallSignal(job.Question(), build, volts, build.Curve)
	case full:
		page.PredictInFull(job.Question(), build)
	default:
		page.Predict(job.Question(), build, "--full says all, with the curve and what binds where.")
	}
	return page.Close()
}

func (c *console) writeFiles(files outputs, job inputs.Job, build optimizer.Build) error {
	if files.curve != "" {
		text, err := curve.CSV(build.Curve)
		if err != nil {
			return err
		}
		if files.curve == "-" {
			if _, err := c.out.Write(text); err != nil {
				return err
			}
		} else if err := replace(files.curve, text); err != nil {
			return err
		}
	}
	if files.svg == "" {
		return nil
	}
	title := job.Brief.Name
	if title == "" {
		title = job.Vehicle.Name
	}
	return replace(files.svg, chart.File(curve.Chart(title, build.Curve)))
}

// replace writes a whole file or leaves the old one as it was.
func replace(name string, content []byte) error {
	return writing.Replace(name, func(w io.Writer) error {
		_, err := w.Write(content)
		return err
	})
}

func loudest(points []bass.Operation) bass.Operation {
	best := bass.Operation{Level: math.Inf(-1)}
	for _, p := range points {
		if p.Level > best.Level {
			best = p
		}
	}
	return best
}
