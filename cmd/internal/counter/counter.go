// Package counter is the page that builder and customer look at together: the
// program's answers as HTML, on an address of this machine.
//
//	c, err := counter.Open(counter.Options{Request: inputs.Request{}, Now: time.Now})
//	if err != nil {
//		return err
//	}
//	defer c.Close()
//	return c.Serve(ctx, listener)
//
// Every view works as a plain form without scripts; a small script makes it
// live. One ladder, climbed once in the background, answers every budget up to
// its end, so that a slider moves without a search. When a watched file
// changes, the files are read again and every open page is told.
//
// Nothing that comes from outside is trusted: a request can only choose among
// what the catalogue holds, and templates escape everything. Only an upload whose
// report was accepted is written, over a file of the catalogue or beside it under
// a name of letters and digits (upload.go). See guard.go for who may ask at all.
//
// Limits: one shop, one catalogue at a time; the words are English, sums and
// decimals follow the visitor's locale. A page shows what was true when it was
// made; without scripts it has to be asked for again.
package counter

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"github.com/fsnotify/fsnotify"
	"golang.org/x/sync/semaphore"

	"loudfor/catalog/book"
	"loudfor/cmd/internal/inputs"
	"loudfor/model/parallel"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
	"loudfor/optimizer/growth"
	"loudfor/optimizer/workshop"
)

// Options say what is shown, and to whom.
type Options struct {
	Request inputs.Request   // the files
	Lists   PriceLists       // laid over the catalogue; nil: none
	Strict  bool             // lists with rows about unknown parts are refused
	Watch   []string         // files and folders that Lists reads
	Book    string           // file of the job book; empty: none
	Shop    string           // file of the shop's own settings; empty: none
	Now     func() time.Time // the clock
	Log     io.Writer        // where one line a remark goes; nil: nowhere
	// Token, if not empty, is asked for before anything is shown.
	Token string
	// Hosts are names under which the page may be asked for besides the
	// addresses of this machine.
	Hosts   []string
	Workers int    // of one search; 0: all cores
	Seed    uint64 // of the draws behind the bands
	Keep    int64  // bytes of answers that are kept; 0: UsualKeep
}

// UsualKeep is how many bytes of answers are kept. A program that collects what
// nobody holds when as much again has gathered takes about twice that.
const UsualKeep = 150e6

// What is kept at most, whatever room Keep leaves, and let in. A ranking of eight
// builds with curves takes about 100 kB, a ladder of three hundred steps about
// 1 MB; a desk holds a whole search.
const (
	mostRankings = 96
	mostLadders  = 12
	mostBuilds   = 192
	mostDesks    = 4
	mostVerdicts = 96
	mostCompared = 48
	mostShops    = 24
	mostSince    = 10_000 // a few words each
	mostMetered  = 16

	rankingsAtOnce = 2
	laddersAtOnce  = 1
	buildsAtOnce   = 2
	desksAtOnce    = 1
	shopsAtOnce    = 1

	top = 8 // builds ranked
)

// How long is searched, and answered after an interrupt. Tests, which must not
// fail because the machine has other work, set more.
var (
	ladderTime  = 5 * time.Minute        // then it is shown as far as it came, with its gap
	rankingTime = 20 * time.Second       // likewise
	soonTime    = 250 * time.Millisecond // while a budget moves and no ladder is there
	patience    = 5 * time.Second        // of running answers, after an interrupt
)

// Counter is the page with all that it remembers. Its methods may be used from
// several goroutines.
type Counter struct {
	options  Options
	stock    atomic.Pointer[stock]
	book     *book.Book
	kept     *hoard // of all memories
	shops    *memory[*workshop.Shop]
	ladders  *memory[optimizer.LadderResult]
	rankings *memory[optimizer.Answers]
	builds   *memory[optimizer.Build]
	desks    *memory[*advice.Desk] // for what is asked about the best build
	plans    *memory[*growth.Answer]
	verdicts *memory[*advice.Verdict]
	asked    *memory[*advice.Asked] // under the keys of builds
	compared *memory[[]optimizer.Build]
	since    *memory[today]
	metered  *memory[*meterAnswer]
	booking  sync.Mutex // what is booked is looked for and then written
	pending  pendingUploads
	// uploading lets one list be read or written at a time: a workbook takes room.
	uploading sync.Mutex
	written   sync.Map            // fingerprints of the files that uploads wrote, by name
	arriving  *semaphore.Weighted // bytes of all large forms that are held at once
	news      newsDesk
	login     *gate
	watcher   *fsnotify.Watcher // nil: nothing is watched
	reload    sync.Mutex
}

// Open reads the files, and the job book if one is named.
func Open(o Options) (*Counter, error) {
	if o.Log == nil {
		o.Log = io.Discard
	}
	h := newHoard(cmp.Or(o.Keep, UsualKeep))
	o.Request.SkipBad = true // one bad part must not close the shop; it is named beside the catalogue
	c := &Counter{
		options:  o,
		kept:     h,
		shops:    newMemory[*workshop.Shop](mostShops, shopsAtOnce, h),
		ladders:  newMemory[optimizer.LadderResult](mostLadders, laddersAtOnce, h),
		rankings: newMemory[optimizer.Answers](mostRankings, rankingsAtOnce, h),
		builds:   newMemory[optimizer.Build](mostBuilds, buildsAtOnce, h),
		desks:    newMemory[*advice.Desk](mostDesks, desksAtOnce, h),
		plans:    newMemory[*growth.Answer](mostDesks, desksAtOnce, h),
		verdicts: newMemory[*advice.Verdict](mostVerdicts, desksAtOnce, h),
		asked:    newMemory[*advice.Asked](mostBuilds, buildsAtOnce, h),
		compared: newMemory[[]optimizer.Build](mostCompared, buildsAtOnce, h),
		since:    newMemory[today](mostSince, rankingsAtOnce, h),
		metered:  newMemory[*meterAnswer](mostMetered, desksAtOnce, h),
		login:    newGate(o.Token),
		arriving: semaphore.NewWeighted(mostArriving),
	}
	c.ladders.tell = c.news.ready
	c.rankings.tell = c.news.ready
	c.plans.tell = c.news.ready
	c.since.tell = c.news.ready
	c.metered.tell = c.news.ready
	var err error
	if o.Book != "" {
		if c.book, err = book.Open(o.Book, book.Options{Now: o.Now, Create: true}); err != nil {
			return nil, err
		}
	}
	c.watcher = c.watch()
	s, err := c.read(1)
	if err != nil {
		return nil, errors.Join(err, c.Close())
	}
	c.stock.Store(s)
	for _, line := range leftOut(s.Remarks) {
		fmt.Fprintln(o.Log, line)
	}
	return c, nil
}

// Close stops what is being computed and closes the book.
func (c *Counter) Close() error {
	c.news.close()
	c.forget()
	var err error
	if c.watcher != nil {
		err = c.watcher.Close()
	}
	if c.book != nil {
		err = errors.Join(err, c.book.Close())
	}
	return err
}

// forget drops every answer and stops what is under way.
func (c *Counter) forget() {
	c.shops.clear()
	c.ladders.clear()
	c.rankings.clear()
	c.builds.clear()
	c.desks.clear()
	c.plans.clear()
	c.verdicts.clear()
	c.asked.clear()
	c.compared.clear()
	c.since.clear()
	c.metered.clear()
}

// Problems is what the files' check found, for a line at the start.
func (c *Counter) Problems() (parts, warnings int) {
	s := c.stock.Load()
	return len(s.Catalogue.Parts), s.doubts
}

// Reload reads the files again. When they cannot be read the page goes on with
// what it has, and says so.
func (c *Counter) Reload() {
	c.reload.Lock()
	defer c.reload.Unlock()
	before := c.stock.Load()
	after, err := c.read(before.generation + 1)
	if err != nil {
		c.publish(news{At: c.options.Now(), Generation: before.generation, Lines: errorLines(err), Trouble: true})
		return
	}
	left, lines := leftOut(after.Remarks), changes(before, after)
	if len(lines) == 0 {
		// Nothing that an answer depends on: only places of remarks may differ.
		after.generation = before.generation
		c.stock.Store(after)
		switch told := c.news.latest(); {
		case len(left) > 0 && !slices.Equal(left, told.Lines):
			c.publish(news{At: after.read, Generation: after.generation, Lines: left, Trouble: true})
		case len(left) == 0 && told.Trouble:
			c.publish(news{At: after.read, Generation: after.generation, Lines: []string{"the mistake is mended; nothing else differs"}})
		}
		return
	}
	c.stock.Store(after)
	// Answers to the old stock carry its number in their keys; they would only
	// take up room, and their searches time.
	c.forget()
	c.publish(news{At: after.read, Generation: after.generation, Lines: append(left, lines...), Trouble: len(left) > 0})
}

func (c *Counter) publish(n news) {
	for _, line := range n.Lines {
		fmt.Fprintf(c.options.Log, "%s %s\n", n.At.Format(time.TimeOnly), line)
	}
	c.news.publish(n)
}

// Serve answers until the context ends, then lets running answers finish. The
// ladder of the brief is climbed from the start.
func (c *Counter) Serve(ctx context.Context, l net.Listener) error {
	server := &http.Server{
		Handler:           c.Handler(),
		ReadHeaderTimeout: readTime / 2,
		ReadTimeout:       readTime,
		WriteTimeout:      0, // the news stay open; every other answer has its own limit
		IdleTimeout:       60 * time.Second,
		MaxHeaderBytes:    16 << 10,
		ErrorLog:          quiet,
	}
	if c.watcher != nil {
		watching, stop := context.WithCancel(ctx)
		var follower sync.WaitGroup
		follower.Go(func() {
			// Without news the page still answers, from the files as they were.
			if fault := parallel.Caught(func() { c.follow(watching, c.watcher) }); fault != nil {
				fmt.Fprintf(c.options.Log, "changes of the files are not followed any more: %v\n%s", fault, fault.Stack)
			}
		})
		defer follower.Wait()
		defer stop()
	}
	c.Warm()
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(l) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	c.news.close() // pages that wait for news would wait for ever
	last, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	if err := server.Shutdown(last); err != nil {
		return server.Close()
	}
	return nil
}
