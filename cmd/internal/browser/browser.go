// Package browser shows pages and drawings to a real browser inside a test,
// and measures where their parts came to lie.
//
//	b := browser.Open(t)                       // closed when the test ends
//	b.ShowText("sheet.html", page)             // or b.Show("http://127.0.0.1:...")
//	labels := b.Boxes("svg text")
//	for _, pair := range browser.Overlaps(labels, 1) {
//		t.Errorf("%q lies on %q", pair[0].Text, pair[1].Text)
//	}
//
// What else a test wants to do (click, type, wait) it does with chromedp on the
// browser's Context; that package's documentation is the longer text.
//
// The browser is Chromium without a window. It reaches nothing but this
// machine: every other name is refused, and Requests lists what was asked for,
// so that a test can hold that a page needs no network. Where Chromium is
// missing, Open skips the test and says so; with LOUDFOR_REQUIRE_TOOLS=1 the
// test fails.
//
// Limits: one page at a time, one browser for each call of Open, which takes
// about a second to start: open one for a group of cases. For tests only.
package browser

import (
	"context"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// Programs are the names under which Chromium is installed, Debian's first.
var programs = []string{"chromium", "chromium-browser"}

const (
	// patience is how long all of one test may take in the browser. It guards
	// against a browser that hangs, and is far above what a busy machine needs.
	patience = 10 * time.Minute

	// starting is how long Chromium may take to answer at first.
	starting = 5 * time.Minute
)

// Browser is one browser with one page, in the hands of one test.
type Browser struct {
	t testing.TB
	*page
}

type page struct {
	ctx context.Context

	mutex    sync.Mutex // of what follows: the browser reports on its own time
	requests []string
	faults   []string
}

// Open starts a browser for a test and closes it when the test has ended.
func Open(t testing.TB) *Browser {
	t.Helper()
	program, ok := find()
	if !ok {
		if os.Getenv("LOUDFOR_REQUIRE_TOOLS") == "1" {
			t.Fatal("chromium is required and not installed")
		}
		t.Skip("chromium is not installed: nothing is looked at in a browser (Debian: apt install chromium fonts-dejavu-core)")
	}
	options := append(slices.Clone(chromedp.DefaultExecAllocatorOptions[:]),
		chromedp.ExecPath(program),
		chromedp.WSURLReadTimeout(starting),
		// What is shown is made by the tests, and root may not have a sandbox.
		chromedp.NoSandbox,
		chromedp.DisableGPU,
		chromedp.WindowSize(1200, 900),
		chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND , EXCLUDE 127.0.0.1 , EXCLUDE localhost"),
		// A container's shared memory may be too small for it.
		chromedp.Flag("disable-dev-shm-usage", true),
	)
	ctx, stopWaiting := context.WithTimeout(context.Background(), patience)
	t.Cleanup(stopWaiting)
	ctx, stopProcess := chromedp.NewExecAllocator(ctx, options...)
	t.Cleanup(stopProcess) // waits until the process is gone and its folder removed
	ctx, stopPage := chromedp.NewContext(ctx)
	t.Cleanup(stopPage)
	b := &Browser{t, &page{ctx: ctx}}
	if err := chromedp.Listen(ctx, b.hear); err != nil {
		t.Fatalf("chromium does not start: %v", err)
	}
	if _, err := chromedp.Call(ctx, network.Enable, network.EnableParams{}); err != nil {
		t.Fatalf("chromium does not tell what it asks for: %v", err)
	}
	t.Cleanup(func() {
		// A fault in closing is none of the page's.
		_ = chromedp.Cancel(ctx)
	})
	return b
}

// For hands the browser to another test, such as a case within the one that
// opened it: what fails from there on is that case's.
func (b *Browser) For(t testing.TB) *Browser { return &Browser{t, b.page} }

func find() (program string, ok bool) {
	for _, name := range programs {
		if path, err := exec.LookPath(name); err == nil {
			return path, true
		}
	}
	return "", false
}

// hear keeps what the browser reports of the page.
func (b *page) hear(event any) {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		b.requests = append(b.requests, e.Request.URL)
	case *runtime.EventExceptionThrown:
		b.faults = append(b.faults, describe(e.ExceptionDetails))
	}
}

func describe(d *runtime.ExceptionDetails) string {
	if d.Exception != nil && d.Exception.Description != "" {
		return d.Exception.Description
	}
	return d.Text
}

// Context is for chromedp's own actions.
func (b *Browser) Context() context.Context { return b.ctx }

// Do runs actions on the page; one that fails ends the test.
func (b *Browser) Do(actions ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, actions...); err != nil {
		b.t.Fatalf("in the browser: %v", err)
	}
}

// Ask runs an action that gives a value, such as chromedp.Evaluate; one that
// fails ends the test.
func Ask[T any](b *Browser, action chromedp.Action[T]) T {
	b.t.Helper()
	value, err := chromedp.Run(b.ctx, action)
	if err != nil {
		b.t.Fatalf("in the browser: %v", err)
	}
	return value
}

// Show loads an address and forgets what earlier pages asked for.
func (b *Browser) Show(address string) {
	b.t.Helper()
	b.mutex.Lock()
	b.requests, b.faults = nil, nil
	b.mutex.Unlock()
	b.Do(chromedp.Navigate(address))
}

// ShowText shows a page or a drawing as a file: the ending of its name, .html
// or .svg, says what it is.
func (b *Browser) ShowText(name, text string) {
	b.t.Helper()
	file := filepath.Join(b.t.TempDir(), filepath.Base(name))
	if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
		b.t.Fatal(err)
	}
	b.Show((&url.URL{Scheme: "file", Path: file}).String())
}

// Requests lists what the page asked for beyond itself and what stands in it,
// in order.
func (b *Browser) Requests() []string {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	var outside []string
	for i, address := range b.requests {
		if i > 0 && !strings.HasPrefix(address, "data:") {
			outside = append(outside, address)
		}
	}
	return outside
}

// Faults lists the errors of the page's scripts.
func (b *Browser) Faults() []string {
	b.mutex.Lock()
	defer b.mutex.Unlock()
	return slices.Clone(b.faults)
}
