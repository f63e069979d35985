package main

import (
	"context"
	"fmt"
	"os"
	"time"

	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"

	"loudfor/optimizer"
)

// A long search: it can be limited in time, interrupted, and watched. What it
// has found when it is stopped is the answer, with the gap that is left; so a
// stopped search exits with 0 if it found a build, and with 1 if it did not.

// timeLimit adds the flag.
func timeLimit(cmd *cobra.Command, limit *time.Duration) {
	cmd.Flags().DurationVar(limit, "time-limit", 0, "stop the search after this `time`, such as 2s, with the best so far and the gap that is left")
}

// search runs find under a time limit (0: none), and shows its progress.
func (c *console) search(ctx context.Context, limit time.Duration, p *optimizer.Problem, find func(context.Context) error) error {
	if limit > 0 {
		var stop context.CancelFunc
		ctx, stop = context.WithTimeout(ctx, limit)
		defer stop()
	}
	if c.terminal != nil && !c.quiet {
		m := meter{file: c.terminal, start: time.Now()}
		p.Progress = m.show
		defer m.clear()
	}
	return find(ctx)
}

// patience is how long a search may take before its progress is shown: what
// is over before one could read it needs none.
const patience = time.Second

// meter shows the progress of a search on a terminal.
type meter struct {
	file  *os.File
	start time.Time
	bar   *progressbar.ProgressBar
}

// show is called by the search, never twice at once. What goes wrong on
// standard error has nowhere to be told.
func (m *meter) show(p optimizer.Progress) {
	if m.bar == nil {
		if time.Since(m.start) < patience || p.Blocks == 0 {
			return
		}
		m.bar = progressbar.NewOptions(p.Blocks, progressbar.OptionSetWriter(m.file), progressbar.OptionClearOnFinish(),
			progressbar.OptionSetWidth(40), progressbar.OptionThrottle(100*time.Millisecond), progressbar.OptionSetPredictTime(false))
	}
	if p.Best > 0 {
		m.bar.Describe(fmt.Sprintf("best so far %.1f dB", p.Best))
	}
	_ = m.bar.Set(p.Done)
}

// clear leaves the terminal as it was.
func (m *meter) clear() {
	if m.bar != nil {
		_ = m.bar.Clear()
	}
}
