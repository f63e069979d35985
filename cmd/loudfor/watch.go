package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"time"

	"github.com/fsnotify/fsnotify"

	"loudfor/catalog/prices"
	"loudfor/catalog/report"
	"loudfor/cmd/internal/answer"
	"loudfor/cmd/internal/record"
	"loudfor/cmd/internal/reprice"
)

// Watching a folder of price lists. The folder is watched, not its files: an
// editor that writes a new file and gives it the old name leaves no file to
// watch. A burst of news is waited out, so that a file is read when it is
// whole; one that cannot be read then is told and waited for. What is printed
// is what has changed since the last time, a line for each answer.

// settling is how long nothing must happen before the lists are read.
const settling = 300 * time.Millisecond

// watch runs settle now and whenever a list in the folder changes, until it is
// interrupted: that is how it ends, so it is no failure.
func (c *console) watch(ctx context.Context, folder string, settle func(context.Context) ([]reprice.Result, error)) error {
	info, err := os.Stat(folder)
	if err != nil || !info.IsDir() {
		return fmt.Errorf("%s: not a folder that can be read; --watch needs the folder of the price lists", folder)
	}
	watcher, err := fsnotify.NewWatcher()
	if err != nil {
		return fmt.Errorf("the system does not tell of changes: %w", err)
	}
	defer watcher.Close()
	if err := watcher.Add(folder); err != nil {
		return fmt.Errorf("%s cannot be watched: %w", folder, err)
	}
	if !c.quiet {
		fmt.Fprintf(c.err, "watching %s; an interrupt (Ctrl-C) ends it\n", folder)
	}
	seen := map[int64]string{}
	timer := time.NewTimer(0)
	defer timer.Stop()
	for {
		select {
		case <-ctx.Done():
			return nil
		case event, open := <-watcher.Events:
			if !open {
				return errors.New("the system no longer tells of changes")
			}
			if gone(folder) {
				return fmt.Errorf("%s: the folder is gone", folder)
			}
			if prices.IsList(event.Name) {
				timer.Reset(settling)
			}
		case err := <-watcher.Errors:
			// News may have been lost: reading the lists again makes up for it.
			fmt.Fprintf(c.err, "loudfor: %v\n", err)
			timer.Reset(settling)
		case <-timer.C:
			results, err := settle(ctx)
			if ctx.Err() != nil {
				return nil
			}
			if err != nil {
				if !c.bearable(err) {
					return err
				}
				continue
			}
			if err := c.tell(results, seen); err != nil {
				return err
			}
		}
	}
}

func gone(folder string) bool {
	_, err := os.Stat(folder)
	return errors.Is(err, os.ErrNotExist)
}

// bearable tells what is wrong with the lists, which somebody may be writing
// just now; anything else ends the watch.
func (c *console) bearable(err error) bool {
	failure, ofFiles := errorIs[*report.Failure](err)
	if ofFiles {
		c.writeReport(failure.Report)
	}
	return ofFiles
}

// tell prints a line for each answer that is not what it was when it was told
// last.
func (c *console) tell(results []reprice.Result, seen map[int64]string) error {
	var news []reprice.Result
	for _, r := range results {
		line := ""
		switch {
		case r.Err != nil:
			line = fmt.Sprintf("job %d: %v", r.Job, r.Err)
		case r.Changed || r.Otherwise:
			line = answer.RepriceLine(r)
		}
		before, known := seen[r.Job]
		seen[r.Job] = line
		if line == before || line == "" && !known {
			continue
		}
		news = append(news, r)
		if c.json {
			continue
		}
		if line == "" {
			line = answer.RepriceBack(r)
		}
		if _, err := fmt.Fprintln(c.out, line); err != nil {
			return err
		}
	}
	if !c.json || len(news) == 0 {
		return nil
	}
	text, err := json.Marshal(record.OfReprice(record.Origin{}, news))
	if err == nil {
		_, err = c.out.Write(append(escaped(text), '\n'))
	}
	c.out.begun = false // each line is an answer, and the next may be an error
	return err
}
