package main

import (
	"context"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/readings"
	"loudfor/cmd/internal/answer"
	"loudfor/cmd/internal/inputs"
	"loudfor/cmd/internal/metering"
	"loudfor/cmd/internal/record"
)

// metered are the flags of the commands that work on readings.
type metered struct {
	request metering.Request
	book    string
}

const demoReadings = "demo:small-sedan"

func meterCommand(c *console) *cobra.Command {
	cmd := &cobra.Command{
		Use:   "meter",
		Short: "Readings in the car: compare them, learn the car, plan the next ones",
		Long: `Readings are what the meters showed: level, frequency, place, openings, and what a
clamp meter showed at the amplifier. They stand in files (YAML or CSV, see
"loudfor help formats") or in the job book.

meter compare holds them against the prediction and says what the difference
means; meter learn learns the car from them, so that every later prediction in it
is better; meter plan says which few readings would teach most.`,
		Example: `  loudfor meter compare
  loudfor meter learn monday.yaml --catalog parts/ --out learned.yaml
  loudfor pick brief.yaml --catalog parts/ --vehicles learned.yaml
  loudfor meter add monday.yaml --catalog parts/ --book shop.db`,
		Args: cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			return unknownCommand(cmd, args[0])
		},
	}
	cmd.SuggestionsMinimumDistance = 2
	cmd.AddCommand(meterCompareCommand(c), meterLearnCommand(c), meterPlanCommand(c), meterAddCommand(c), meterListCommand(c), meterRemoveCommand(c))
	return cmd
}

// flags adds those that all commands on readings share.
func (m *metered) flags(cmd *cobra.Command) {
	f, r := cmd.Flags(), &m.request.Inputs
	shelfFlags(cmd, r)
	skipFlag(cmd, r)
	f.StringVar(&r.Vehicles, "vehicles", "", "`file` or folder of vehicles (default: those beside the parts, then the body styles)")
	f.StringVar(&r.Vehicle, "vehicle", "", "only the readings of the vehicle of this `name`")
	f.StringVar(&m.book, "book", "", "readings of this job `book`, beside those of the files")
	completeWith(cmd, "vehicle", completeVehicle(r))
}

// load gathers readings, car and builds.
func (m *metered) load(ctx context.Context, c *console, files []string) (*metering.Job, error) {
	r := m.request
	r.Inputs.Stdin, r.Files = c.in, files
	if m.book != "" {
		err := openBook(m.book, book.Options{ReadOnly: true}, func(b *book.Book, _ string) (err error) {
			r.Booked, err = metering.Booked(ctx, b, r.Inputs.Vehicle)
			return err
		})
		if err != nil {
			return nil, err
		}
	} else if len(files) == 0 && r.Build == "" {
		if r.Inputs = r.Inputs.Settled(); len(r.Inputs.Catalog) > 0 {
			return nil, inputs.UsageError{Text: "name a file of readings, or a job book with --book"}
		}
		r.Files = []string{demoReadings}
	}
	r.Inputs.Demo = r.Inputs.Demo || slices.ContainsFunc(r.Files, fromDemo) || fromDemo(r.Build)
	job, err := heard(ctx, func() (*metering.Job, error) { return metering.Load(ctx, r) })
	if err == nil {
		c.origin = record.Origin{Demo: job.Invented, From: job.From, Outdated: job.Vehicle.Outdated}
	}
	if err == nil && job.Remarks.Count(catalog.Warning) > 0 && !c.quiet {
		c.writeReport(job.Remarks)
	}
	return job, err
}

// fromDemo tells a name of the demo: what is metered there is built of its parts.
func fromDemo(name string) bool { return strings.HasPrefix(name, "demo:") }

// head is the job as the head of an answer tells it.
func head(j *metering.Job) answer.Metered {
	m := answer.Metered{Vehicle: j.Vehicle, Invented: j.Invented, Readings: j.Readings, Study: j.Study}
	for _, b := range j.Cases {
		m.Builds = append(m.Builds, b.Words)
	}
	return m
}

func meterListCommand(c *console) *cobra.Command {
	var m metered
	cmd := &cobra.Command{
		Use:   "list [READINGS...]",
		Short: "List readings of files or of the job book",
		Long: `list shows readings: those of files, or those of the job book, which lies in the
user's data folder unless --book names another file.`,
		Example: `  loudfor meter list --vehicle "small sedan"
  loudfor meter list monday.yaml`,
		RunE: func(cmd *cobra.Command, args []string) error {
			m.request.Inputs.Stdin = c.in
			list, err := heard(cmd.Context(), func() (list []readings.Reading, err error) {
				all := &catalog.Report{}
				for _, name := range args {
					read, report, err := m.request.Inputs.Readings(name)
					if err != nil {
						return nil, err
					}
					all.Merge(report)
					list = append(list, read...)
				}
				all.Sort(0)
				return list, all.Err()
			})
			if err != nil {
				return err
			}
			if len(args) == 0 {
				err := openBook(m.book, book.Options{ReadOnly: true}, func(b *book.Book, _ string) (err error) {
					list, err = readings.FromBook(cmd.Context(), b, m.request.Inputs.Vehicle)
					return err
				})
				if err != nil {
					return err
				}
			}
			if c.json {
				return c.writeJSON(record.OfReadings(list))
			}
			page := c.page()
			page.Readings(list)
			return page.Close()
		},
	}
	cmd.Flags().StringVar(&m.book, "book", "", "`file` of the job book (default: loudfor/book.db in the user's data folder)")
	cmd.Flags().StringVar(&m.request.Inputs.Vehicle, "vehicle", "", "only the readings of the vehicle of this `name`")
	return cmd
}
