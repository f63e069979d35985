package main

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/cmd/internal/answer"
	"loudfor/cmd/internal/chart"
	"loudfor/cmd/internal/metering"
	"loudfor/cmd/internal/record"
	"loudfor/optimizer/learning"
)

func meterCompareCommand(c *console) *cobra.Command {
	var m metered
	svg := ""
	cmd := &cobra.Command{
		Use:   "compare [READINGS...]",
		Short: "Predicted beside measured, and what the difference means",
		Long: `compare holds each reading against the prediction: level against its band, the
peak's frequency, impedance and power. Then it says what stands out, with the
figures, and ranks what could be behind it: each cause is put into the model, and
the one that makes the readings likeliest comes first.

Without readings it answers for those of the built-in demo.`,
		Example: `  loudfor meter compare
  loudfor meter compare monday.yaml --catalog parts/ --svg monday.svg`,
		RunE: func(cmd *cobra.Command, args []string) error {
			return meterCompare(cmd.Context(), c, &m, args, svg)
		},
	}
	m.flags(cmd)
	cmd.Flags().StringVar(&svg, "svg", "", "draw the readings over the predicted band into `file`")
	return cmd
}

func meterCompare(ctx context.Context, c *console, m *metered, files []string, svg string) error {
	job, err := m.load(ctx, c, files)
	if err != nil {
		return err
	}
	found, err := job.Compare()
	if err != nil {
		return err
	}
	if err := drawBand(svg, job, found.Band); err != nil {
		return err
	}
	h := head(job)
	if c.json {
		return c.writeJSON(record.OfCompare(job.Vehicle.Name, c.origin, h.Builds, job.Readings, found.Prior, found.Causes))
	}
	page := c.page()
	page.Compare(h, found.Prior, found.Causes, found.Band)
	return page.Close()
}

func drawBand(name string, job *metering.Job, b answer.Band) error {
	if name == "" || len(b.Hz) == 0 {
		return nil
	}
	return replace(name, chart.File(b.Chart(job.Vehicle.Name+": "+b.Title, job.Study.Readings)))
}

func meterLearnCommand(c *console) *cobra.Command {
	var m metered
	out, svg := "", ""
	cmd := &cobra.Command{
		Use:   "learn [READINGS...]",
		Short: "Learn the car from readings",
		Long: `learn finds the car, and where the readings allow the box and the amplifier, that
explain the readings best, starting from what was stated and assumed. It says of
each figure how well it is known now, and what decided it; what the readings do
not decide stays as it was. Each reading is foretold by the others, and where
that goes worse than it should, all bands in this car are widened.

--out writes the file of vehicles with what was learned in it: name it with
--vehicles, and pick, ladder, predict and the others work in the learned car.
Learning always starts from the car as stated, so give all its readings.`,
		Example: `  loudfor meter learn
  loudfor meter learn monday.yaml friday.csv --catalog parts/ --out learned.yaml
  loudfor meter learn --book shop.db --vehicle "blue sedan" --catalog parts/`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if out == "-" && c.json {
				return usageError{text: "--out - and --json both want standard output", command: cmd.CommandPath()}
			}
			return meterLearn(cmd.Context(), c, &m, args, out, svg)
		},
	}
	m.flags(cmd)
	cmd.Flags().StringVar(&out, "out", "", "write the file of vehicles with the learned car to `file`, or - for standard output in place of the answer")
	cmd.Flags().StringVar(&svg, "svg", "", "draw the readings over the band of the learned car into `file`")
	return cmd
}

func meterLearn(ctx context.Context, c *console, m *metered, files []string, out, svg string) error {
	job, err := m.load(ctx, c, files)
	if err != nil {
		return err
	}
	l, err := job.Learn()
	if err != nil {
		return err
	}
	fit := l.Fit
	if err := writeLearned(c, m, job, fit, out); err != nil || out == "-" {
		return err
	}
	if svg != "" {
		band, err := job.OverBand(fit)
		if err != nil {
			return err
		}
		if err := drawBand(svg, job, band); err != nil {
			return err
		}
	}
	if c.json {
		c.origin.Outdated = "" // it is learned again
		return c.writeJSON(record.OfLearn(job.Vehicle.Name, c.origin, fit, l.Targets, l.Before, l.After, out))
	}
	page := c.page()
	page.Learn(head(job), fit, l.Before, l.After, l.Targets, out)
	return page.Close()
}

// writeLearned writes the vehicle file.
func writeLearned(c *console, m *metered, job *metering.Job, fit *learning.Fit, out string) error {
	if out == "" {
		return nil
	}
	text, err := m.request.Inputs.VehicleText(job.Vehicle)
	if err != nil {
		return err
	}
	v := job.Vehicle
	v.Body.Learned = fit.Learned()
	var remarks []string
	for _, p := range fit.Parameters() {
		if !p.Build && p.Verdict != learning.Stayed {
			remarks = append(remarks, strings.TrimSpace(fmt.Sprintf("%s: %.3g +/- %.2g %s (%.3g +/- %.2g before)", p.Name, p.After, p.SpreadAfter, p.Unit, p.Before, p.SpreadBefore)))
		}
	}
	learned, err := catalog.LearnedVehicle(text, v, job.Provenance(), remarks)
	if err != nil {
		return err
	}
	if out == "-" {
		_, err := c.out.Write(learned)
		return err
	}
	return replace(out, learned)
}
