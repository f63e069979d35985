package counter

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"sync"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/prices"
	"loudfor/catalog/report"
	"loudfor/catalog/tables"
)

// Lists that the shop uploads: of parts, which go into a file of the catalogue, or
// of prices, which the job book records. First comes the report of how a list was
// understood and what it would change; only when that is accepted is anything
// written, and the latest upload can be taken back.

const (
	mostUpload  = 8 << 20 // bytes of an uploaded list with its form
	mostPending = 4       // lists whose reports wait to be accepted; the oldest goes
	mostTyped   = 60      // characters of a name
)

// arrived is a list that somebody sent.
type arrived struct {
	Name    string
	Content []byte
}

// received reads a form with one list in it: a file, or rows that were typed.
func (v *visit) received() (list arrived, err error) {
	if kind := v.Header.Get("Content-Type"); !strings.HasPrefix(kind, "multipart/form-data") {
		err = v.ParseForm()
	} else if err = v.ParseMultipartForm(mostUpload); err == nil {
		defer func() { err = errors.Join(err, v.MultipartForm.RemoveAll()) }()
		list, err = firstFile(v.MultipartForm)
	}
	if err != nil {
		return list, formError{err}
	}
	if typed := v.PostForm.Get("typed"); list.Name == "" && strings.TrimSpace(typed) != "" {
		list = arrived{"typed.csv", []byte(typed)}
	}
	return list, nil
}

// firstFile is the file of a form, if one was chosen.
func firstFile(form *multipart.Form) (list arrived, err error) {
	for _, head := range form.File["file"] {
		if head.Filename == "" && head.Size == 0 {
			continue
		}
		f, err := head.Open()
		if err != nil {
			return list, err
		}
		defer f.Close()
		content, err := io.ReadAll(f)
		return arrived{baseName(head.Filename), content}, err
	}
	return list, nil
}

// baseName is the name of an uploaded file for messages.
func baseName(name string) string {
	name = visible(name[strings.LastIndexAny(name, `/\`)+1:])
	if r := []rune(name); len(r) > mostTyped {
		name = string(r[len(r)-mostTyped:])
	}
	if name == "" {
		return "list"
	}
	return name
}

// reading is how a list shall be read; all of it can be changed in its report.
type reading struct {
	Prices   bool
	Kind     string // of parts that say none
	Currency string
	Units    string // "RMS=W, Size=in"
	Skip     bool   // leave out rows with mistakes
	Target   string // a file of the catalogue, or newFile
	Date     string // of prices that state none
	Correct  bool   // these prices take the place of others of the same day
}

const newFile = "new"

func readingOf(form url.Values) reading {
	return reading{Prices: form.Get("what") == "prices", Kind: form.Get("kind"), Currency: strings.ToUpper(clipped(one(form, "currency"))), Units: clipped(one(form, "units")),
		Skip: form.Get("skip") != "", Target: form.Get("target"), Date: clipped(one(form, "date")), Correct: form.Get("correct") != ""}
}

// proposal is a list with what it would do.
type proposal struct {
	arrived
	reading
	id       string
	list     *tables.List    // of parts
	updated  *tables.Updated // laid over a file
	target   string          // the file that is written
	after    []byte          // what will stand in it
	prices   *prices.List
	changes  []prices.Change
	problems []catalog.Problem
	wrong    bool // it cannot be accepted
}

// pendingUploads are the proposals that wait.
type pendingUploads struct {
	mu       sync.Mutex
	list     []*proposal
	accepted []string // those that wait no more, whose button may be pressed twice
}

func (p *pendingUploads) add(one *proposal) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if one.id == "" {
		one.id = strings.ToLower(rand.Text())
	}
	p.list = slices.DeleteFunc(p.list, func(old *proposal) bool { return old.id == one.id })
	if p.list = append(p.list, one); len(p.list) > mostPending {
		p.list = slices.Delete(p.list, 0, 1)
	}
}

func (p *pendingUploads) find(id string) (*proposal, error) {
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, one := range p.list {
		if one.id == id {
			return one, nil
		}
	}
	return nil, unknownError{"this upload does not wait any more: upload the list again"}
}

// took puts a proposal among the accepted ones.
func (p *pendingUploads) took(id string) {
	p.drop(id)
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.accepted = append(p.accepted, id); len(p.accepted) > mostPending {
		p.accepted = p.accepted[1:]
	}
}

func (p *pendingUploads) tookBefore(id string) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return slices.Contains(p.accepted, id)
}

func (p *pendingUploads) drop(id string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.list = slices.DeleteFunc(p.list, func(old *proposal) bool { return old.id == id })
}

// upload is the form: do says what is to be done.
func (c *Counter) upload(v *visit) error {
	if c.book == nil {
		return unknownError{"uploads can be taken back, and what they changed is kept in the job book: start with --book FILE"}
	}
	list, err := v.received()
	if err != nil {
		return err
	}
	c.uploading.Lock()
	defer c.uploading.Unlock()
	switch do := v.PostForm.Get("do"); do {
	case "read":
		if list.Name == "" {
			return emptyForm{"no list was chosen, and none was typed"}
		}
		p := c.propose(v, list, readingOf(v.PostForm))
		c.pending.add(p)
		return v.seeOther(pendingLink(p.id))
	case "again":
		old, err := c.pending.find(v.PostForm.Get("pending"))
		if err != nil {
			return err
		}
		p := c.propose(v, old.arrived, readingOf(v.PostForm))
		p.id = old.id
		c.pending.add(p)
		return v.seeOther(pendingLink(p.id))
	case "drop":
		c.pending.drop(v.PostForm.Get("pending"))
		return v.seeOther(pathUpload)
	case "accept":
		return c.accept(v)
	case "back":
		return c.takeBack(v)
	default:
		return unknownError{fmt.Sprintf("nothing is called %q here", clipped(do))}
	}
}

func pendingLink(id string) string { return pathUpload + "?pending=" + url.QueryEscape(id) }

// propose reads a list, and works out what it would do; nothing is written.
func (c *Counter) propose(v *visit, list arrived, how reading) *proposal {
	p := &proposal{arrived: list, reading: how}
	var all *catalog.Report
	if how.Prices {
		all = c.proposePrices(v, p)
	} else {
		all = c.proposeParts(v, p)
	}
	all.Sort(0)
	p.problems, p.wrong = all.Problems, all.Err() != nil
	return p
}

// accept writes what was proposed, and reads everything again.
func (c *Counter) accept(v *visit) error {
	id := v.PostForm.Get("pending")
	p, err := c.pending.find(id)
	switch {
	case c.pending.tookBefore(id):
		return v.seeOther(pathUpload)
	case err != nil:
		return err
	case p.wrong:
		return unknownError{"this list has mistakes and cannot be accepted"}
	case p.Prices:
		_, _, err = c.book.UploadPrices(v.context(), p.Name, p.prices.Entries, p.Correct)
	default:
		err = c.writeParts(v, p)
	}
	if refused := (*report.Failure)(nil); errors.As(err, &refused) {
		again := *p
		again.problems, again.wrong = refused.Report.Problems, true
		c.pending.add(&again)
		return v.seeOther(pendingLink(p.id))
	}
	if err != nil {
		return err
	}
	c.pending.took(p.id)
	c.Reload()
	return v.seeOther(pathUpload)
}

// takeBack undoes the latest upload.
func (c *Counter) takeBack(v *visit) error {
	id, err := strconv.ParseInt(v.PostForm.Get("upload"), 10, 64)
	if err != nil {
		return unknownError{"there is no such upload"}
	}
	err = c.book.TakeBack(v.context(), id, func(u book.Upload) error { return c.restoreParts(v.stock, u) })
	if errors.Is(err, book.ErrNone) {
		return v.seeOther(pathUpload) // taken back already: the button was pressed twice
	}
	if err != nil {
		if fault := (*book.Error)(nil); errors.As(err, &fault) || gone(err) {
			return err
		}
		return unknownError{err.Error()} // what it says is for the visitor
	}
	c.Reload()
	return v.seeOther(pathUpload)
}

type uploadBody struct {
	NoBook   bool
	NoFolder bool // the parts are the demo's
	Pending  *pendingBody
	Form     uploadForm
	Done     []uploadLine
}

// uploadForm is how a list shall be read, with the choices there are.
type uploadForm struct {
	reading
	Kinds, Targets []choice
}

// uploadLine is one upload that can be taken back.
type uploadLine struct {
	ID         int64
	Name, What string
	On         string
	Last       bool
}

func (c *Counter) showUpload(v *visit) error {
	body := &uploadBody{NoBook: c.book == nil, Form: c.uploadForm(v, reading{Prices: one(v.URL.Query(), "what") == "prices"})}
	body.NoFolder = len(c.options.Request.Catalog) == 0
	title := "Upload"
	if id := one(v.URL.Query(), "pending"); id != "" {
		p, err := c.pending.find(id)
		if err != nil {
			return err
		}
		body.Pending, body.Form = v.voice.pending(p), c.uploadForm(v, p.reading)
		title = "What the list would do"
	}
	if c.book != nil {
		done, err := c.book.Uploads(v.context())
		if err != nil {
			return err
		}
		for i := len(done) - 1; i >= 0; i-- {
			body.Done = append(body.Done, uploadLineOf(&done[i], i == len(done)-1))
		}
	}
	p := c.page(v, nil, "upload", title)
	p.Body = body
	return c.show(v, p, "upload")
}

func uploadLineOf(u *book.Upload, last bool) uploadLine {
	line := uploadLine{ID: u.ID, Name: u.Name, What: "prices, recorded in the job book", On: u.Taken.Format("2006-01-02 15:04"), Last: last}
	if !u.Prices() {
		line.What = "parts, into " + baseName(u.Target)
		if u.Before == nil {
			line.What += ", a new file"
		}
	}
	return line
}

func (c *Counter) uploadForm(v *visit, how reading) uploadForm {
	f := uploadForm{reading: how, Kinds: []choice{{"", "as the list says", how.Kind == ""}}}
	for k := range catalog.KindCount {
		f.Kinds = append(f.Kinds, choice{k.String(), k.String(), how.Kind == k.String()})
	}
	for _, target := range c.targets(v.stock) {
		words := "into " + target
		if target == newFile {
			words = "a file of its own"
		}
		f.Targets = append(f.Targets, choice{target, words, target == how.Target})
	}
	if f.Date == "" {
		f.Date = c.options.Now().Format("2006-01-02")
	}
	return f
}
