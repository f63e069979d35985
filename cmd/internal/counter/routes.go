package counter

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/report"
	"loudfor/model/parallel"
)

// The addresses of the views.
const (
	pathBuilds    = "/"
	pathLadder    = "/ladder"
	pathGrow      = "/grow"
	pathBuild     = "/build"
	pathVersus    = "/versus"
	pathWhy       = "/why"
	pathQuote     = "/quote"
	pathCatalogue = "/catalogue"
	pathBook      = "/book"
	pathJob       = "/job"
	pathGiven     = "/given"
	pathUpload    = "/upload"
	pathMeter     = "/meter"
	pathShare     = "/share"
	pathLogo      = "/logo"
	pathHelp      = "/help"
	pathEvents    = "/events"
	pathEnter     = "/enter"
	pathAssets    = "/assets/"
)

// Handler answers every request, with all guards before it.
func (c *Counter) Handler() http.Handler {
	mux := http.NewServeMux()
	for path, view := range map[string]func(*visit) error{
		pathBuilds + "{$}":    c.showBuilds,
		pathLadder:            c.showLadder,
		pathGrow:              c.showGrow,
		pathBuild:             c.showBuild,
		pathVersus:            c.showVersus,
		pathWhy:               c.showWhy,
		pathQuote:             c.showQuote,
		pathCatalogue:         c.showCatalogue,
		pathBook:              c.showBook,
		pathJob:               c.showJob,
		pathGiven:             c.showGiven,
		pathUpload:            c.showUpload,
		pathMeter:             c.showMeter,
		pathShare:             c.showShare,
		pathLogo:              c.showLogo,
		pathEnter:             c.showEnter,
		pathHelp:              c.showHelp,
		pathHelp + "/{topic}": c.showHelp,
		pathBriefFile:         c.saveBrief,
		"/parts":              c.suggest,
	} {
		mux.HandleFunc("GET "+path, c.view(view))
	}
	mux.HandleFunc("POST "+pathBook, c.view(c.bookQuote))
	mux.HandleFunc("POST "+pathBrief, c.view(c.keepBrief))
	mux.HandleFunc("POST "+pathJob, c.view(c.changeJob))
	mux.HandleFunc("POST "+pathUpload, c.view(c.upload))
	mux.HandleFunc("POST "+pathMeter, c.view(c.addReadings))
	mux.HandleFunc("POST "+pathEnter, c.view(c.enter))
	mux.HandleFunc("GET "+pathEvents, c.events)
	mux.HandleFunc("GET "+pathAssets+"{name}", asset)
	mux.HandleFunc("/", c.view(func(*visit) error { return notFound{} }))
	return c.guarded(mux)
}

// visit is one request with what every view needs of it.
type visit struct {
	*http.Request
	w     http.ResponseWriter
	voice voice
	stock *stock
}

type notFound struct{}

func (notFound) Error() string { return "there is no such page" }

// view makes a handler of a view; an error of it becomes a page.
func (c *Counter) view(show func(*visit) error) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		v := &visit{Request: r, w: w, voice: voiceOf(r, r.URL.Query()), stock: c.stock.Load()}
		err := show(v)
		if now := c.stock.Load(); gone(err) && now != v.stock && r.Context().Err() == nil {
			v.stock = now // the files changed under the answer, and took its searches with them
			err = show(v)
		}
		if err != nil {
			c.trouble(v, err)
		}
	}
}

// wantsJSON: a script may ask any view for its figures.
func (v *visit) wantsJSON() bool {
	return strings.HasPrefix(v.Header.Get("Accept"), "application/json")
}

// moving: the page's own script says that a slider is still being moved, and
// that an answer without the search for alternatives will do.
func (v *visit) moving() bool { return v.Header.Get("X-Moving") != "" }

// context is the request's.
func (v *visit) context() context.Context { return v.Request.Context() }

// question reads the address.
func (c *Counter) question(v *visit) (*question, error) { return c.questionOf(v, v.URL.Query()) }

func (c *Counter) questionOf(v *visit, query map[string][]string) (*question, error) {
	text := one(query, keyJob)
	if text == "" {
		base, begun := v.stock.Brief, one(query, keyNew) != ""
		if begun {
			base = fresh(base)
		}
		q, err := withLanguage(v, v.stock, base, 0, query)
		if err == nil && begun {
			q.values.Set(keyNew, "yes")
		}
		return q, err
	}
	id, err := strconv.ParseInt(text, 10, 64)
	if err != nil || c.book == nil {
		return nil, unknownError{"there is no such job in the book"}
	}
	job, err := c.book.Job(v.context(), id)
	if errors.Is(err, book.ErrNone) {
		return nil, unknownError{"there is no such job in the book"}
	}
	if err != nil {
		return nil, err
	}
	brief, problems := job.Load()
	if err := problems.Err(); err != nil {
		return nil, err
	}
	q, err := withLanguage(v, v.stock.beside(job), brief, id, query)
	if err == nil {
		q.customer, q.note = job.Customer, job.Note
	}
	return q, err
}

func withLanguage(v *visit, s *stock, base catalog.Brief, id int64, query map[string][]string) (*question, error) {
	q, err := s.ask(base, id, query)
	if err == nil && v.voice.stated != "" {
		q.values.Set(keyLanguage, v.voice.stated)
	}
	return q, err
}

// seeOther follows a form: reading the page after it again sends nothing twice.
func (v *visit) seeOther(to string) error {
	http.Redirect(v.w, v.Request, to, http.StatusSeeOther)
	return nil
}

// reply writes JSON.
func (v *visit) reply(document any) error {
	var text bytes.Buffer
	e := json.NewEncoder(&text)
	e.SetIndent("", "  ")
	if err := e.Encode(document); err != nil {
		return err
	}
	v.w.Header().Set("Content-Type", "application/json; charset=utf-8")
	_, _ = v.w.Write(text.Bytes()) // a visitor who left has nothing to be told
	return nil
}

// formError is of a form that cannot be read.
type formError struct{ error }

func (e formError) Unwrap() error { return e.error }

// emptyForm is one that holds nothing to work on, with what it should.
type emptyForm struct{ words string }

func (e emptyForm) Error() string { return e.words }

// unread is the status for a form that cannot be read, with its words.
func unread(err error) (status int, words []string) {
	if big := (*http.MaxBytesError)(nil); errors.As(err, &big) {
		return http.StatusRequestEntityTooLarge, []string{fmt.Sprintf("the form holds more than %d kB", big.Limit>>10)}
	}
	return http.StatusBadRequest, []string{"the form cannot be read"}
}

// trouble shows an error in the words that it has for the visitor.
func (c *Counter) trouble(v *visit, err error) {
	status, lines := http.StatusInternalServerError, []string{err.Error()}
	var failure *report.Failure
	if fault := (*parallel.Fault)(nil); errors.As(err, &fault) {
		panic(fault) // of an answer: told as any other, by recovered
	}
	switch {
	case errors.As(err, &unknownError{}):
		status = http.StatusNotFound
	case errors.As(err, &formError{}):
		status, lines = unread(err)
	case errors.As(err, &staleError{}):
		status = http.StatusConflict
	case errors.As(err, &emptyForm{}):
		status = http.StatusBadRequest
	case errors.As(err, &notFound{}):
		status = http.StatusNotFound
	case errors.Is(err, errBusy):
		status = http.StatusServiceUnavailable
		v.w.Header().Set("Retry-After", "2")
	case gone(err):
		status, lines = http.StatusServiceUnavailable, []string{"the search took too long, or its files changed meanwhile; ask again"}
	case errors.As(err, &failure):
		status, lines = http.StatusConflict, errorLines(err)[1:]
	default:
		fmt.Fprintf(c.options.Log, "%s: %v\n", v.URL.Path, err)
	}
	if v.wantsJSON() {
		v.w.Header().Set("Content-Type", "application/json; charset=utf-8")
		v.w.WriteHeader(status)
		_ = json.NewEncoder(v.w).Encode(map[string]any{"schema": "loudfor/error/1", "status": status, "error": strings.Join(lines, "; ")})
		return
	}
	p := c.page(v, nil, "", "That did not work")
	p.status = status
	p.Body = lines
	if shown := c.show(v, p, "trouble"); shown != nil {
		http.Error(v.w, shown.Error(), http.StatusInternalServerError)
	}
}
