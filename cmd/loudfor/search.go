package main

import (
	"context"
	"fmt"
	"math"
	"os"
	"time"

	"github.com/dustin/go-humanize"
	"github.com/schollz/progressbar/v3"
	"github.com/spf13/cobra"

	"loudfor/optimizer"
)

// A long search: it can be limited in time, interrupted, and watched. What it
// has found when it is stopped is the answer, with the gap that is left; so a
// stopped search exits with 0 if it found a build, and with 1 if it did not.

// limits are those of a long search.
type limits struct {
	time   time.Duration // 0: none
	memory string
	bytes  int64 // of memory; 0: the usual
}

// timeLimit adds the flag.
func timeLimit(cmd *cobra.Command, limit *time.Duration) {
	cmd.Flags().DurationVar(limit, "time-limit", 0, "stop the search after this `time`, such as 2s, with the best so far and the gap that is left")
}

// flags adds theirs.
func (l *limits) flags(cmd *cobra.Command) {
	timeLimit(cmd, &l.time)
	cmd.Flags().StringVar(&l.memory, "memory", "1 GB", "stop the search, as a time limit would, before it takes more than this `much`")
}

// leastMemory is what any search may take, bytes.
const leastMemory = 64e6

// check holds what the flags say against what can be.
func (l *limits) check(cmd *cobra.Command) error {
	if l.time < 0 {
		return usageError{text: "--time-limit is above zero, such as 2s", command: cmd.CommandPath()}
	}
	n, err := humanize.ParseBytes(l.memory)
	if err != nil || n < leastMemory || n > math.MaxInt64 {
		return usageError{text: fmt.Sprintf("--memory is %q; it is %s at least, such as 500 MB or 1 GB", l.memory, humanize.Bytes(leastMemory)), command: cmd.CommandPath()}
	}
	l.bytes = int64(n)
	return nil
}

// search runs find under limits, and shows its progress.
func (c *console) search(ctx context.Context, l limits, p *optimizer.Problem, find func(context.Context) error) error {
	p.Memory = l.bytes
	if l.time > 0 {
		var stop context.CancelFunc
		ctx, stop = context.WithTimeout(ctx, l.time)
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
