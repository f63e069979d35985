package counter

import (
	"bytes"
	"embed"
	"encoding/hex"
	"fmt"
	"hash/fnv"
	"html/template"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"golang.org/x/text/unicode/bidi"
)

// Pages are templates filled with words: every figure is put into words here,
// in Go, where it can be tested; a template only says where they stand. All
// escaping is html/template's: no text of a catalogue is ever marked as safe.

//go:embed pages/*.html
var pageFiles embed.FS

//go:embed assets/style.css assets/page.js assets/icon.svg
var assetFiles embed.FS

// views are the pages, each with the layout around it. They are read when the
// first page is shown: a quarter of the time in which the program starts is
// too much for the commands that show none.
var views = sync.OnceValue(func() map[string]*template.Template {
	shared := template.Must(template.New("layout").Funcs(template.FuncMap{"list": joined, "wrong": wrongAt}).
		ParseFS(pageFiles, "pages/layout.html", "pages/parts.html"))
	all := map[string]*template.Template{}
	for _, name := range []string{"builds", "ladder", "grow", "build", "versus", "why", "quote", "catalogue", "book", "job", "upload", "meter", "share", "enter", "trouble", "help"} {
		all[name] = template.Must(template.Must(shared.Clone()).ParseFS(pageFiles, "pages/"+name+".html"))
	}
	return all
})

// wrongAt is what is wrong with a field, as its template takes it.
func wrongAt(name string, texts []string) struct {
	Name  string
	Texts []string
} {
	return struct {
		Name  string
		Texts []string
	}{name, texts}
}

// joined lists names, each with a direction of its own (Unicode UAX 9: first
// strong isolate, pop directional isolate).
func joined(words []string) string {
	if !slices.ContainsFunc(words, turned) {
		return strings.Join(words, ", ")
	}
	return "\u2068" + strings.Join(words, "\u2069, \u2068") + "\u2069"
}

// turned tells whether a name holds letters that are written from the right.
func turned(name string) bool {
	return strings.ContainsFunc(name, func(r rune) bool { p, _ := bidi.LookupRune(r); return p.Class() == bidi.R || p.Class() == bidi.AL })
}

// page is what the layout needs, with the view's own Body.
type page struct {
	Voice      voice
	Title      string
	View       string
	Tabs       []tab
	Form       *form  // nil where a view does not change the question
	Asked      string // the question in one line, where there is no form
	Job        int64  // of the book, whose question this is; 0: none
	Customer   string
	Waits      string // what the script shall wait for
	Refresh    bool   // without scripts, ask again after a moment
	Address    string // of this very question, short
	Queried    bool   // it has a query
	Generation int
	Read       string
	Invented   bool
	News       []string
	Trouble    bool
	NewsAt     string
	Style      string
	Script     string
	Icon       string
	Bare       bool // the door: nothing is shown yet
	Body       any

	status int
}

// tab is one view in the head of the page.
type tab struct {
	Name, Href string
	Here       bool
}

// page starts one; q may be nil.
func (c *Counter) page(v *visit, q *question, view, title string) *page {
	p := &page{Voice: v.voice, Title: title, View: view, Generation: v.stock.generation, Read: v.stock.read.Format("15:04:05"),
		Invented: v.stock.Invented, Style: assetPath("style.css"), Script: assetPath("page.js"), Icon: assetPath("icon.svg"), status: http.StatusOK}
	link := func(path string) string {
		if q == nil {
			return path
		}
		return q.link(path)
	}
	p.Tabs = []tab{
		{"Builds", link(pathBuilds), view == "builds"},
		{"Ladder", link(pathLadder), view == "ladder"},
		{"Buy in steps", link(pathGrow), view == "grow"},
		{"Side by side", link(pathVersus), view == "versus"},
		{"Why not?", link(pathWhy), view == "why"},
		{"Catalogue", link(pathCatalogue), view == "catalogue"},
		{"Job book", link(pathBook), view == "book" || view == "job"},
		{"Meter", link(pathMeter), view == "meter"},
		{"Upload", pathUpload, view == "upload"},
	}
	if q != nil {
		p.Job, p.Customer = q.jobID, q.customer
		p.Address = q.link(v.URL.Path)
		if parts := v.URL.Query().Get(keyParts); parts != "" && len(parts) <= mostQuery {
			p.Address = q.link(v.URL.Path, keyParts, parts)
		}
		p.Queried = strings.Contains(p.Address, "?")
	}
	if latest := c.news.latest(); latest.Trouble || time.Duration(c.options.Now().Sub(latest.At)) < newsTime {
		p.News, p.Trouble, p.NewsAt = latest.Lines, latest.Trouble, latest.At.Format(time.TimeOnly)
	}
	return p
}

// newsTime is how long a change of the files is told on pages made after it.
const newsTime = 10 * time.Minute

// show writes a page in one piece, or nothing of it.
func (c *Counter) show(v *visit, p *page, view string) error {
	text, err := p.text(view)
	if err != nil {
		return err
	}
	if v.wantsFile() && p.status == http.StatusOK {
		return c.sendFile(v, view, text)
	}
	v.w.Header().Set("Content-Type", "text/html; charset=utf-8")
	v.w.Header().Set("Content-Language", p.Voice.Language)
	v.w.WriteHeader(p.status)
	_, _ = v.w.Write(text) // a visitor who left has nothing to be told
	return nil
}

func (p *page) text(view string) ([]byte, error) {
	var out bytes.Buffer
	err := views()[view].ExecuteTemplate(&out, "layout.html", p)
	return out.Bytes(), err
}

// The assets are known by name, with a stamp of their content in the address:
// browsers may keep them as long as they like. No name of a request is ever
// looked up anywhere but here.
var assets = func() map[string]assetFile {
	all := map[string]assetFile{}
	for name, kind := range map[string]string{"style.css": "text/css", "page.js": "text/javascript", "icon.svg": "image/svg+xml"} {
		content, err := assetFiles.ReadFile("assets/" + name)
		if err != nil {
			panic(err) // embedded above
		}
		sum := fnv.New64a()
		sum.Write(content)
		all[name] = assetFile{content, kind + "; charset=utf-8", hex.EncodeToString(sum.Sum(nil))}
	}
	return all
}()

type assetFile struct {
	content     []byte
	kind, stamp string
}

func assetPath(name string) string {
	return fmt.Sprintf("%s%s?%s", pathAssets, name, assets[name].stamp)
}

func asset(w http.ResponseWriter, r *http.Request) {
	a, ok := assets[r.PathValue("name")]
	if !ok {
		http.Error(w, "there is no such file", http.StatusNotFound)
		return
	}
	w.Header().Set("Content-Type", a.kind)
	if r.URL.RawQuery == a.stamp {
		w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	}
	_, _ = w.Write(a.content)
}
