package refresh

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"github.com/nats-io/nats.go/jetstream"

	"loudfor/cmd/library"
	"loudfor/model/parallel"
)

// attempts is how often a job is tried that fails, or whose worker dies, before it is
// set aside with what went wrong.
const attempts = 3

// worker takes groups from the queue until its context ends.
type worker struct {
	queue   *queue
	library *reader
	program string
	ask     func(ctx context.Context, g *Group, i int) (*library.Answer, error) // reader.answer
	silence time.Duration                                                       // after which the queue takes it for dead
}

// run takes one group after another.
func (w *worker) run(ctx context.Context) error {
	for ctx.Err() == nil {
		var batch jetstream.MessageBatch
		err := w.queue.insist(ctx, func(ctx context.Context) error {
			c, err := w.queue.groups.Consumer(ctx, consumer)
			if err != nil {
				return err
			}
			batch, err = c.Fetch(1, jetstream.FetchMaxWait(time.Second))
			return err
		})
		if errors.Is(err, jetstream.ErrConsumerNotFound) || errors.Is(err, jetstream.ErrStreamNotFound) {
			if err = w.queue.prepare(ctx, w.silence); err == nil { // the server came back without its files
				continue
			}
		}
		if err != nil {
			return quiet(ctx, err)
		}
		for m := range batch.Messages() {
			if err := w.take(ctx, m); err != nil {
				return quiet(ctx, err)
			}
		}
	}
	return nil
}

// quiet leaves out an error that the end of the context made.
func quiet(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return nil
	}
	return err
}

// take answers one group. The message is acknowledged when every answer is stored;
// until then the queue is told again and again that somebody is at it.
func (w *worker) take(ctx context.Context, m jetstream.Msg) error {
	var g Group
	if err := json.Unmarshal(m.Data(), &g); err != nil {
		return m.Term() // of no program that this one knows
	}
	if g.Program != w.program {
		_ = m.NakWithDelay(w.silence)
		return errors.New("the plan was given to another build of this program; its workers have to be the same, or results would depend on them")
	}
	ctx, stop := context.WithCancel(ctx)
	wait := parallel.Beside(func() {
		for {
			select {
			case <-ctx.Done():
				return
			case <-time.After(w.silence / 3):
				_ = m.InProgress() // else it is delivered again, which does no harm
			}
		}
	})
	defer func() { stop(); wait() }()
	delivered := uint64(1)
	if meta, err := m.Metadata(); err == nil {
		delivered = meta.NumDelivered
	}
	failures := false
	for i, key := range g.Keys {
		done, err := w.job(ctx, &g, i, key, delivered > 1)
		if err != nil {
			_ = m.NakWithDelay(again)
			return err
		}
		failures = failures || !done
	}
	if failures {
		return w.queue.insist(ctx, func(context.Context) error { return m.Nak() })
	}
	return w.queue.insist(ctx, m.DoubleAck)
}

// job answers one question, unless that is done already; done is false where it failed
// and is worth another try. The error is of the queue.
func (w *worker) job(ctx context.Context, g *Group, i int, key string, again bool) (done bool, err error) {
	known, err := w.queue.last(ctx, answerSubject+key)
	if err != nil || known != nil {
		return known != nil, err
	}
	n := 0
	if again { // somebody may have died of it
		if n, err = w.queue.tried(ctx, key); err != nil {
			return false, err
		}
		if n >= attempts {
			return true, w.queue.keep(ctx, key, &library.Answer{Outcome: failed, Error: fmt.Sprintf("%d workers ended while they were at it", n)})
		}
		if err := w.queue.trying(ctx, key, n+1); err != nil {
			return false, err
		}
	}
	var a *library.Answer
	var wrong error
	if fault := parallel.Caught(func() { a, wrong = w.ask(ctx, g, i) }); fault != nil {
		wrong = fault
	}
	if err := ctx.Err(); err != nil {
		if again { // it was interrupted, which is no death
			within, stop := context.WithTimeout(context.WithoutCancel(ctx), reach)
			defer stop()
			_ = w.queue.trying(within, key, n)
		}
		return false, err
	}
	if wrong == nil {
		return true, w.queue.keep(ctx, key, a)
	}
	if !again {
		err = w.queue.trying(ctx, key, n+1)
	}
	if n+1 < attempts {
		return false, err
	}
	a = &library.Answer{Outcome: failed, Error: wrong.Error()}
	var fault *parallel.Fault
	if errors.As(wrong, &fault) {
		a.Stack = string(fault.Stack)
	}
	return true, w.queue.keep(ctx, key, a)
}
