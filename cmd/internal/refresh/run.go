package refresh

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"time"

	"github.com/nats-io/nats-server/v2/server"
	"github.com/nats-io/nats.go/jetstream"

	"loudfor/catalog/plan"
	"loudfor/catalog/writing"
	"loudfor/cmd/library"
	"loudfor/model/parallel"
)

// Options say how a refresh is run. None of them changes its results.
type Options struct {
	Workers  int           // in this process; 0: one for each processor; negative: none
	Queue    string        // address of a server; empty: one inside this process
	Silence  time.Duration // after which a worker is taken for dead; 0: the usual
	Progress func(Status)  // called now and then, never twice at once
	Say      func(string)  // is told what somebody should know who waits
}

// DefaultSilence is after how long without a word a worker is taken for dead.
const DefaultSilence = 30 * time.Second

// Status says how far a refresh has come.
type Status struct {
	Jobs     int       `json:"jobs" doc:"of the plan"`
	Kept     int       `json:"kept" doc:"answered before it began"`
	Done     int       `json:"done" doc:"answered by it"`
	Failed   int       `json:"failed" doc:"of those done, set aside with an error"`
	Began    time.Time `json:"began" doc:"when it began"`
	Updated  time.Time `json:"updated" doc:"when it was last heard of"`
	Finished bool      `json:"finished" doc:"whether it is over"`
}

// statusName is the file in which a refresh says to others how far it has come.
const statusName = "status.json"

// StatusOf reads how far the refresh of a plan has come; ok is false when it never ran.
func StatusOf(p plan.Plan) (s Status, ok bool, err error) {
	text, err := os.ReadFile(filepath.Join(p.Kept, statusName))
	if errors.Is(err, os.ErrNotExist) {
		return s, false, nil
	}
	if err == nil {
		err = json.Unmarshal(text, &s)
	}
	return s, true, err
}

// Refresh is a plan that was opened, with what is kept of the last time.
type Refresh struct {
	plan  plan.Plan
	jobs  *jobs
	store *store
}

// Open hashes what a plan names, and opens what is kept.
func Open(p plan.Plan) (*Refresh, error) {
	j, err := expand(p)
	if err != nil {
		return nil, err
	}
	s, err := openStore(p.Kept)
	if err != nil {
		return nil, err
	}
	return &Refresh{p, j, s}, nil
}

// Close lets another process open it.
func (r *Refresh) Close() error { return r.store.close() }

// source gives bundles from where they lie, or as they were the last time, and rankings.
func (r *Refresh) source(ctx context.Context, hash string) ([]byte, error) {
	if root, ok := r.jobs.roots[hash]; ok {
		return pack(root, hash)
	}
	return r.store.bundle(ctx, hash)
}

// mostQuestions is how many a group has at most: what a death repeats at worst.
const mostQuestions = 100

// missing makes the groups of what is not kept, each key once, and counts the jobs that
// are.
func (r *Refresh) missing(give func(*Group) error) (keys map[string]bool, kept int, err error) {
	keys = map[string]bool{}
	for n := range r.jobs.groups() {
		g := r.jobs.group(n)
		var places []int
		for i, key := range g.Keys {
			has, err := r.store.has(key)
			switch {
			case err != nil:
				return nil, 0, err
			case has:
				kept++
			case !keys[key]:
				keys[key] = true
				places = append(places, i)
			}
		}
		if len(places) > 0 {
			if err := r.remember(g); err != nil {
				return nil, 0, err
			}
		}
		for len(places) > 0 {
			most := min(len(places), mostQuestions)
			if err := give(g.only(places[:most])); err != nil {
				return nil, 0, err
			}
			places = places[most:]
		}
	}
	return keys, kept, nil
}

// remember adds what was answered the last time, from one catalogue.
func (r *Refresh) remember(g *Group) error {
	for i, q := range g.Questions {
		a, catalogue, err := r.store.last(g.slot(q))
		if err != nil {
			return err
		}
		if a == nil || g.Before.Hash != none && g.Before.Hash != catalogue {
			continue
		}
		if g.Before.Hash == none {
			g.Before, g.Known = Bundle{Name: g.Shop.Name, Hash: catalogue}, make([]*library.Answer, len(g.Questions))
		}
		g.Known[i] = a
	}
	return nil
}

// Run answers what is missing, writes the results and says what is new.
func (r *Refresh) Run(ctx context.Context, o Options) (*Summary, error) {
	if o.Silence <= 0 {
		o.Silence = DefaultSilence
	}
	if o.Say == nil {
		o.Say = func(string) {}
	}
	var inside *server.Server
	if o.Queue == "" {
		var err error
		if inside, err = embedded(queueFolder(r.plan.Kept)); err != nil {
			return nil, err
		}
		defer func() { inside.Shutdown(); inside.WaitForShutdown() }()
	}
	q, err := connect(ctx, o.Queue, inside, o.Silence, o.Say)
	if err != nil {
		return nil, err
	}
	defer q.close()
	c := &course{r: r, q: q, o: o, status: Status{Jobs: r.jobs.count(), Began: time.Now()}}
	if err := c.run(ctx); err != nil {
		_ = c.tell(false) // what has gone wrong is said already
		return nil, err
	}
	sum, err := r.finish()
	if err != nil {
		return nil, err
	}
	sum.Computed = c.status.Done
	return sum, c.tell(true)
}

// course is one run.
type course struct {
	r       *Refresh
	q       *queue
	o       Options
	status  Status
	told    time.Time
	waiting map[string]bool // keys
	since   uint64          // of the stream of answers: what was taken in
}

// run gives what is missing into the queue, works, and takes answers in.
func (c *course) run(ctx context.Context) error {
	if err := c.takeIn(ctx); err != nil { // of a run that was killed
		return err
	}
	if c.q.server != nil { // nobody else is at it: what is in it is from a run that was killed
		if err := errors.Join(c.q.groups.Purge(ctx), c.q.groups.DeleteConsumer(ctx, consumer), c.q.prepare(ctx, c.o.Silence)); err != nil {
			return err
		}
	}
	if err := c.q.insist(ctx, func(ctx context.Context) error {
		return c.q.answers.Purge(ctx, jetstream.WithPurgeSubject(tryingSubject+">"))
	}); err != nil {
		return err
	}
	if err := c.give(ctx); err != nil {
		return err
	}
	c.status.Kept = c.status.Jobs - len(c.waiting)
	if len(c.waiting) == 0 {
		return nil
	}
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	wait := workers(ctx, stop, c.q, newReader(c.r.source, c.q.keep), c.r.jobs.program, c.o)
	err := c.follow(ctx)
	if cause := context.Cause(ctx); cause != nil {
		err = cause
	}
	stop(nil)
	wait()
	if err != nil { // what is answered is kept
		within, end := context.WithTimeout(context.WithoutCancel(ctx), reach)
		defer end()
		_ = c.takeIn(within) // else the next refresh answers it again
	}
	return err
}

// give puts the groups of what is missing into the queue, and lends what they are about.
func (c *course) give(ctx context.Context) (err error) {
	lent := map[string]bool{}
	lend := func(b Bundle) error {
		if lent[b.Hash] {
			return nil
		}
		lent[b.Hash] = true
		return c.q.lend(ctx, b.Hash, func() ([]byte, error) { return c.r.source(ctx, b.Hash) })
	}
	c.waiting, _, err = c.r.missing(func(g *Group) error {
		for _, q := range g.Questions {
			if key := g.rankingKey(q); g.Centre.Hash != none && c.q.bundles != nil && !lent[key] {
				has, err := c.r.store.has(key)
				if err == nil && has {
					err = lend(Bundle{Hash: key})
				}
				if err != nil {
					return err
				}
			}
		}
		for _, b := range append(append([]Bundle{g.Shop, g.Centre, g.Before}, g.Cars...), g.Briefs...) {
			if err := lend(b); err != nil {
				return err
			}
		}
		return c.q.give(ctx, g)
	})
	return err
}

// workers starts so many, which end with the context; the first error ends it.
func workers(ctx context.Context, stop context.CancelCauseFunc, q *queue, l *reader, program string, o Options) (wait func()) {
	n := o.Workers
	if n == 0 {
		n = runtime.GOMAXPROCS(0)
	}
	var all sync.WaitGroup
	for range max(n, 0) {
		w := &worker{queue: q, library: l, program: program, ask: l.answer, silence: o.Silence}
		all.Go(func() {
			var err error
			if fault := parallel.Caught(func() { err = w.run(ctx) }); fault != nil {
				err = fault
			}
			if err != nil {
				stop(err)
			}
		})
	}
	return all.Wait
}

// pause is how often answers are asked for, and patience after how many times without
// any the queue is looked at: whether it still has what is missing.
const (
	pause    = 200 * time.Millisecond
	patience = 25
)

// follow takes answers in until none is missing.
func (c *course) follow(ctx context.Context) error {
	for idle := 0; len(c.waiting) > 0; {
		before := len(c.waiting)
		if err := c.takeIn(ctx); err != nil {
			return err
		}
		if err := c.tell(false); err != nil {
			return err
		}
		if idle++; len(c.waiting) < before {
			idle = 0
			continue
		}
		if idle%patience == 0 {
			info, err := c.q.groups.Info(ctx)
			if err == nil && info.State.Msgs == 0 && len(c.waiting) > 0 { // the queue has lost some, or somebody else's store
				if err := c.takeIn(ctx); err != nil {
					return err
				}
				if err := c.give(ctx); err != nil {
					return err
				}
			}
		}
		select {
		case <-ctx.Done():
			return ctx.Err()
		case <-time.After(pause):
		}
	}
	return nil
}

// atOnce is how many answers are stored together.
const atOnce = 500

// takeIn moves what the queue has of answers into the store.
func (c *course) takeIn(ctx context.Context) error {
	for {
		answers := map[string]json.RawMessage{}
		last := c.since
		err := c.q.insist(ctx, func(ctx context.Context) error {
			info, err := c.q.answers.Info(ctx)
			if err != nil {
				return err
			}
			if info.State.LastSeq < c.since { // another server, or one without its files
				c.since = 0
			}
			for last = c.since; last < info.State.LastSeq && len(answers) < atOnce; {
				m, err := c.q.answers.GetMsg(ctx, last+1, jetstream.WithGetMsgSubject(answerSubject+">"))
				if errors.Is(err, jetstream.ErrMsgNotFound) {
					last = info.State.LastSeq
					break
				}
				if err != nil {
					return err
				}
				last = m.Sequence
				answers[m.Subject[len(answerSubject):]] = m.Data
			}
			return nil
		})
		if err != nil || len(answers) == 0 {
			return err
		}
		if err := c.r.store.keep(answers); err != nil {
			return err
		}
		for key, text := range answers {
			if c.waiting[key] {
				delete(c.waiting, key)
				c.status.Done++
				if a := new(library.Answer); json.Unmarshal(text, a) == nil && a.Outcome == failed {
					c.status.Failed++
				}
			}
		}
		c.since = last
	}
}

// tell says how far it is, at most once a second unless it is over.
func (c *course) tell(over bool) error {
	if !over && time.Since(c.told) < time.Second {
		return nil
	}
	c.told = time.Now()
	c.status.Updated, c.status.Finished = c.told, over
	if c.o.Progress != nil {
		c.o.Progress(c.status)
	}
	text, err := json.Marshal(c.status)
	if err != nil {
		return err
	}
	if over && c.q.server != nil { // all is kept; a folder of the queue only takes room
		_ = c.q.answers.Purge(context.Background())
	}
	err = writing.Replace(filepath.Join(c.r.plan.Kept, statusName), func(w io.Writer) error {
		_, err := w.Write(text)
		return err
	})
	if err != nil {
		return fmt.Errorf("how far it is cannot be written: %w; make room on its disk, and run it again to go on", err)
	}
	return nil
}

// Work answers what others put into a queue, until the context ends.
func Work(ctx context.Context, o Options) error {
	this, err := program()
	if err != nil {
		return err
	}
	q, err := connect(ctx, o.Queue, nil, o.Silence, o.Say)
	if err != nil {
		return err
	}
	defer q.close()
	if o.Silence <= 0 { // as whoever gave the plan has it
		o.Silence = DefaultSilence
		if c, err := q.groups.Consumer(ctx, consumer); err == nil {
			o.Silence = c.CachedInfo().Config.AckWait
		}
	}
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	workers(ctx, stop, q, newReader(q.borrow, q.keep), this, o)()
	if cause := context.Cause(ctx); cause != nil && !errors.Is(cause, context.Canceled) {
		return cause
	}
	return nil
}
