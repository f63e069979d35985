package main

import (
	"context"
	"errors"
	"fmt"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"

	"loudfor/catalog/plan"
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/refresh"
)

func refreshCommand(c *console) *cobra.Command {
	var o refresh.Options
	dry := false
	cmd := &cobra.Command{
		Use:   "refresh PLAN",
		Short: "The best build for every brief, car and shop of a chain, kept from day to day",
		Long: `refresh answers all that a plan asks: for every catalogue, a shop each, every car,
brief, cap, goal, place and openings the best build, proven, one row each. What a
plan looks like: "loudfor help formats".

Answers are kept beside the results under the hash of all that they depend on, so
that nothing is computed twice: not tomorrow, not for a shop with the same shelf,
not after an interrupt, which is gone on with by the same command. Of a shop whose
prices and stock alone differ, for the worse, from the chain's centre or from the
last time, most answers are proven without a search.

The work is handed out by a queue, NATS JetStream, inside this process; nothing has
to be installed. With --queue it is that of a server, from which "refresh work"
takes it on other machines, with the same build of this program and no files.
A worker that dies loses nothing; a job that fails three times is set aside with
its error, and everything else goes on.

It exits with 0 when every job has an answer, "no build exists" included, and with 1
when some were set aside.`,
		Example: `  loudfor refresh chain.yaml --dry-run
  loudfor refresh chain.yaml
  loudfor refresh chain.yaml --queue nats://queue.example:4222 --workers -1
  loudfor refresh work --queue nats://queue.example:4222
  loudfor refresh status chain.yaml`,
		Args: atMost(1, "one plan"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usageError{text: "refresh needs a plan, such as chain.yaml", command: cmd.CommandPath()}
			}
			if o.Silence < time.Second {
				return usageError{text: "--silence is at least 1s", command: cmd.CommandPath()}
			}
			p, err := chainPlan(args[0])
			if err != nil {
				return err
			}
			thrifty(refreshGC)
			return c.refresh(cmd.Context(), p, o, dry)
		},
	}
	f := cmd.Flags()
	f.BoolVar(&dry, "dry-run", false, "only say how many jobs there are, and guess from a sample what they take")
	f.DurationVar(&o.Silence, "silence", refresh.DefaultSilence, "take a worker for dead after this `time` without a word")
	queueFlags(cmd, &o)
	var away refresh.Options
	work := &cobra.Command{
		Use:     "work --queue ADDRESS",
		Short:   "Answer what refresh has put into a queue elsewhere, until interrupted",
		Example: "  loudfor refresh work --queue nats://queue.example:4222 --workers 4",
		Args:    atMost(0, "no argument"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if away.Queue == "" {
				return usageError{text: "refresh work needs --queue, the address of the queue, such as nats://queue.example:4222", command: cmd.CommandPath()}
			}
			thrifty(refreshGC)
			away.Say = c.aside
			return refresh.Work(cmd.Context(), away)
		},
	}
	queueFlags(work, &away)
	status := &cobra.Command{
		Use:   "status PLAN",
		Short: "Say how far the refresh of a plan has come, from another terminal",
		Args:  cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			p, err := chainPlan(args[0])
			if err != nil {
				return err
			}
			s, ok, err := refresh.StatusOf(p)
			if err != nil {
				return err
			}
			if !ok {
				return errors.New("this plan was never refreshed")
			}
			if c.json {
				return c.writeJSON(record.RefreshStatus{Schema: record.RefreshStatusSchema, Status: s})
			}
			_, err = fmt.Fprintf(c.out, "%s\n", statusWords(s))
			return err
		},
	}
	cmd.AddCommand(work, status)
	return cmd
}

// refreshGC is for what runs for hours: most of what a shop takes is waste when the next
// one comes, and memory is to be that of a few shops, however many there are.
const refreshGC = 100

func queueFlags(cmd *cobra.Command, o *refresh.Options) {
	cmd.Flags().IntVar(&o.Workers, "workers", 0, "jobs at a time in this process; 0: one for each `core`; -1: none")
	cmd.Flags().StringVar(&o.Queue, "queue", "", "`address` of a NATS server with JetStream, in place of the queue inside this process")
}

func chainPlan(name string) (plan.Plan, error) {
	p, report := plan.Load(name)
	return p, report.Err()
}

// aside says on standard error what somebody should know who waits.
func (c *console) aside(text string) {
	if !c.quiet {
		fmt.Fprintf(c.err, "%s %s\n", c.errStyle.Error("loudfor:"), text)
	}
}

func (c *console) refresh(ctx context.Context, p plan.Plan, o refresh.Options, dry bool) error {
	r, err := refresh.Open(p)
	if err != nil {
		return err
	}
	defer r.Close()
	if dry {
		e, err := r.Estimate(ctx)
		if err != nil {
			return err
		}
		if c.json {
			return c.writeJSON(record.OfEstimate(e))
		}
		page := c.page()
		page.Estimate(e)
		return page.Close()
	}
	o.Say = c.aside
	if c.terminal != nil && !c.quiet {
		var bar *progressbar.ProgressBar
		o.Progress = func(s refresh.Status) {
			if bar == nil {
				bar = progressbar.NewOptions(s.Jobs, progressbar.OptionSetWriter(c.terminal), progressbar.OptionClearOnFinish(), progressbar.OptionSetWidth(40), progressbar.OptionSetDescription("jobs"))
			}
			_ = bar.Set(s.Kept + s.Done)
		}
		defer func() {
			if bar != nil {
				_ = bar.Clear()
			}
		}()
	}
	sum, err := r.Run(ctx, o)
	if errors.Is(err, context.Canceled) {
		s, _, _ := refresh.StatusOf(p)
		return answeredError{statusBadInput, "interrupted: " + statusWords(s) + "; the same command goes on from there"}
	}
	if err != nil {
		return err
	}
	if c.json {
		err = c.writeJSON(record.OfRefresh(sum))
	} else {
		page := c.page()
		page.Refresh(sum)
		err = page.Close()
	}
	if err == nil && sum.Failed > 0 {
		err = answeredError{statusBadInput, fmt.Sprintf("%s set aside: see the column error of %s", jobsWord(sum.Failed), sum.Results)}
	}
	return err
}

func statusWords(s refresh.Status) string {
	text := fmt.Sprintf("%d of %d jobs answered, %d of them before", s.Kept+s.Done, s.Jobs, s.Kept)
	if s.Failed > 0 {
		text += fmt.Sprintf(", %d set aside", s.Failed)
	}
	switch {
	case s.Finished:
		text += "; finished " + s.Updated.Format(time.DateTime)
	default:
		text += "; last heard of " + s.Updated.Format(time.DateTime)
	}
	return text
}
