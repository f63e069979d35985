package book

import (
	"context"
	"os"
	"path/filepath"
	"testing"
)

// A book whose tables cannot be made leaves no file behind, nor half of one.
func TestNoBookIsHalfMade(t *testing.T) {
	folder := t.TempDir()
	if _, err := Open(filepath.Join(folder, "book"), Options{Create: true, steps: []string{"CREATE TABLE half (id) STRICT; no such words"}}); err == nil {
		t.Error("made")
	}
	if left, err := os.ReadDir(folder); err != nil || len(left) > 0 {
		t.Errorf("%v, left behind: %v", err, left)
	}
}

// What was not read is never taken for nothing.
func TestQuestionsThatCannotBeAsked(t *testing.T) {
	stopped, stop := context.WithCancel(ctx)
	stop()
	running := opened(t, filled(t))
	closed := opened(t, filled(t))
	if err := closed.Close(); err != nil {
		t.Fatal(err)
	}
	for name, ask := range map[string]func(context.Context, *Book) error{
		"Check":        func(c context.Context, b *Book) error { return b.Check(c) },
		"Jobs":         func(c context.Context, b *Book) error { _, err := b.Jobs(c); return err },
		"AllJobs":      func(c context.Context, b *Book) error { _, err := b.AllJobs(c); return err },
		"Job":          func(c context.Context, b *Book) error { _, err := b.Job(c, 1); return err },
		"Quotes":       func(c context.Context, b *Book) error { _, err := b.Quotes(c, 1); return err },
		"LatestQuotes": func(c context.Context, b *Book) error { _, err := b.LatestQuotes(c); return err },
		"LatestQuote":  func(c context.Context, b *Book) error { _, err := b.LatestQuote(c, 1); return err },
		"PriceHistory": func(c context.Context, b *Book) error { _, err := b.PriceHistory(c, "A"); return err },
		"PriceList":    func(c context.Context, b *Book) error { _, err := b.PriceList(c); return err },
		"Readings":     func(c context.Context, b *Book) error { _, err := b.Readings(c, ""); return err },
		"RemoveJob":    func(c context.Context, b *Book) error { return b.RemoveJob(c, 1) },
	} {
		if ask(stopped, running) == nil {
			t.Errorf("%s: an answer after an interrupt", name)
		}
		if ask(ctx, closed) == nil {
			t.Errorf("%s: an answer from a closed book", name)
		}
	}
}
