package counter

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"log"
	"net"
	"net/http"
	"net/netip"
	"slices"
	"strings"
	"time"

	"loudfor/cmd/internal/wiring"
	"loudfor/model/amplifier"
	"loudfor/model/hookup"
	"loudfor/model/parallel"
)

// Who may ask, and how much. The page runs on a machine on which a browser
// also visits strangers' pages, and any of them can make that browser send
// requests here. Against this:
//
//   - The Host of a request must be an address of this machine (or a name that
//     was allowed): a stranger's name that suddenly points to 127.0.0.1 (DNS
//     rebinding) is refused.
//   - What changes anything is a POST from our own pages: the browser says
//     where it comes from (Sec-Fetch-Site, Origin), and another site is refused.
//   - No page of ours can be framed, and none runs a script, style, font or
//     picture that does not come from here (Content-Security-Policy).
//   - Beyond this machine a token is asked for; see gate.go.
//
// Against too much: sizes and times of requests are limited, and how many are
// answered at once.

const (
	mostBody      = 64 << 10       // bytes of a form
	mostDoor      = 4 << 10        // of one from who has not entered
	mostQuery     = 8 << 10        // bytes of an address
	mostArriving  = 2 * mostUpload // bytes of large forms held at once; further ones wait
	mostAsked     = 48             // requests answered at once; further ones wait
	mostStrangers = 16             // of those who have not entered, who wait for each other only
)

// largeBodies are the forms that may be larger than others, by path, in bytes.
var largeBodies = map[string]int64{pathUpload: mostUpload, pathMeter: mostUpload}

// Limits of time, which tests set higher.
var (
	waitTime  = 20 * time.Second
	replyTime = 40 * time.Second // for one answer, its searches included
	writeTime = 10 * time.Second // for one piece of the news
	readTime  = 10 * time.Second // of a request; half of it for its head
	formTime  = 10 * time.Second // of a form that comes with one
	largeTime = 60 * time.Second // of one of largeBodies, over a slow network in the shop
)

// policy allows what comes from here, and nothing else; of styles in a page,
// the one that the hookup's drawing carries, by its hash.
var policy = "default-src 'none'; script-src 'self'; style-src 'self' '" + drawingStyle() + "'; img-src 'self'; connect-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// drawingStyle is the hash of the style in a drawing of package wiring, which
// is the same in all of them (Content Security Policy Level 3, section 2.3.1).
func drawingStyle() string {
	plan := hookup.Enumerate(1, 1, 4, amplifier.Mono, 1, 4)[0]
	d := wiring.Coils(plan, wiring.Amplifier{Title: "one", Outputs: []string{"output"}})
	_, style, _ := strings.Cut(d.SVG(), "<style>")
	style, _, _ = strings.Cut(style, "</style>")
	sum := sha256.Sum256([]byte(style))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

// quiet swallows what net/http says of broken connections.
var quiet = log.New(io.Discard, "", 0)

// guarded puts the guards before a handler, the cheapest first.
func (c *Counter) guarded(next http.Handler) http.Handler {
	own := http.NewCrossOriginProtection()
	inside := bounded(make(chan struct{}, mostAsked), next)
	outside := bounded(make(chan struct{}, mostStrangers), c.login.guard(next))
	return c.headers(c.recovered(c.hosts(own.Handler(c.sized(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if c.login.entered(r) {
			inside.ServeHTTP(w, r)
		} else {
			outside.ServeHTTP(w, r)
		}
	}))))))
}

func (c *Counter) headers(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=()")
		h.Set("Cache-Control", "no-store")
		next.ServeHTTP(w, r)
	})
}

// recovered turns a fault of the program into a plain answer; its place goes
// to the log and not to the visitor.
func (c *Counter) recovered(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			fault := recover()
			if fault == nil || fault == http.ErrAbortHandler {
				return
			}
			known := parallel.FaultOf(fault)
			fmt.Fprintf(c.options.Log, "at %s: %v\n%s", r.URL.Path, known, known.Stack)
			http.Error(w, "this is a fault of the program", http.StatusInternalServerError)
		}()
		next.ServeHTTP(w, r)
	})
}

// hosts refuses names that are not ours.
func (c *Counter) hosts(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if !c.options.ours(r.Host) {
			http.Error(w, "this page is not served under that name", http.StatusMisdirectedRequest)
			return
		}
		next.ServeHTTP(w, r)
	})
}

// ours tells whether a Host header names this page. An address in digits
// cannot be rebound; beyond loopback any of them may be this machine's.
func (o *Options) ours(host string) bool {
	name := host
	if bare, _, err := net.SplitHostPort(host); err == nil {
		name = bare
	}
	name = strings.TrimSuffix(strings.ToLower(strings.Trim(name, "[]")), ".")
	if addr, err := netip.ParseAddr(name); err == nil {
		return o.Token != "" || addr.Unmap().IsLoopback()
	}
	return name == "localhost" || slices.ContainsFunc(o.Hosts, func(h string) bool { return strings.EqualFold(h, name) })
}

// sized refuses what is too long, and methods that nothing here answers. A form
// is read here, before its request takes anybody's place: one that comes byte by
// byte holds up nobody, ends with its time, and leaves its answer all of its own.
func (c *Counter) sized(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		switch {
		case len(r.URL.RawQuery) > mostQuery:
			http.Error(w, "the address is too long", http.StatusRequestURITooLong)
			return
		case r.Method != http.MethodGet && r.Method != http.MethodHead && r.Method != http.MethodPost:
			w.Header().Set("Allow", "GET, HEAD, POST")
			http.Error(w, "only GET and POST are answered", http.StatusMethodNotAllowed)
			return
		}
		if r.Method == http.MethodPost {
			most, within := int64(mostBody), formTime
			if large, ok := largeBodies[r.URL.Path]; ok {
				most, within = large, largeTime
			}
			if !c.login.entered(r) {
				most, within = mostDoor, formTime
			}
			if most > mostBody {
				size := r.ContentLength
				if size < 0 || size > most {
					size = most
				}
				ctx, stop := context.WithTimeout(r.Context(), waitTime)
				err := c.arriving.Acquire(ctx, size)
				if stop(); err != nil {
					busy(w)
					return
				}
				defer c.arriving.Release(size)
			}
			// A recorder of a test has no deadline, and needs none.
			control := http.NewResponseController(w)
			_ = control.SetReadDeadline(time.Now().Add(within))
			form, err := io.ReadAll(http.MaxBytesReader(w, r.Body, most))
			if err != nil {
				if big := (*http.MaxBytesError)(nil); !errors.As(err, &big) {
					http.Error(w, "the form did not come in time", http.StatusRequestTimeout)
					return
				}
				r.Body = io.NopCloser(failing{err})
			} else {
				r.Body = io.NopCloser(bytes.NewReader(form))
			}
			_ = control.SetReadDeadline(time.Time{})
		}
		next.ServeHTTP(w, r)
	})
}

// busy sends a visitor away for a moment.
func busy(w http.ResponseWriter) {
	w.Header().Set("Retry-After", "2")
	http.Error(w, errBusy.Error(), http.StatusServiceUnavailable)
}

// failing is a form that cannot be read.
type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }

// bounded answers so many requests at once, and lets others wait for a while.
// The news stay open and do not count.
func bounded(places chan struct{}, next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == pathEvents {
			next.ServeHTTP(w, r)
			return
		}
		ctx, stop := context.WithTimeout(r.Context(), replyTime)
		defer stop()
		// A recorder of a test has no deadline, and needs none.
		_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(replyTime + writeTime))
		late := time.NewTimer(waitTime)
		defer late.Stop()
		select {
		case places <- struct{}{}:
			defer func() { <-places }()
		case <-late.C:
			busy(w)
			return
		case <-ctx.Done():
			return
		}
		next.ServeHTTP(w, r.WithContext(ctx))
	})
}
