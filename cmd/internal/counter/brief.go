package counter

import (
	"bytes"
	"net/url"
	"strconv"
	"strings"

	"loudfor/catalog"
)

// The brief that a visitor has put together, as a file and as a job of the book;
// and one from nothing.

const (
	pathBriefFile = "/brief.yaml"
	pathBrief     = "/brief"
)

// fresh is a brief in which nothing is wished for. The car and the sum are where
// a question has to begin; taxes and work are the shop's, not the customer's.
func fresh(of catalog.Brief) catalog.Brief {
	b := catalog.DefaultBrief()
	b.Cap, b.Vehicle, b.Place, b.Openings = of.Cap, of.Vehicle, of.Place, of.Openings
	b.TaxPPM, b.TaxByKind, b.LabourTax, b.Labour = of.TaxPPM, of.TaxByKind, of.LabourTax, of.Labour
	return b
}

// saveBrief hands the question out as the file of a brief.
func (c *Counter) saveBrief(v *visit) error {
	q, err := c.question(v)
	if err != nil {
		return err
	}
	var text bytes.Buffer
	if err := catalog.WriteBrief(&text, q.job.Brief); err != nil {
		return err
	}
	v.w.Header().Set("Content-Type", "application/yaml; charset=utf-8")
	v.w.Header().Set("Content-Disposition", `attachment; filename="brief.yaml"`)
	_, _ = v.w.Write(text.Bytes()) // a visitor who left has nothing to be told
	return nil
}

// keepBrief makes a job of the question, without a quote.
func (c *Counter) keepBrief(v *visit) error {
	if c.book == nil {
		return unknownError{noBook}
	}
	if err := v.ParseForm(); err != nil {
		return formError{err}
	}
	q, err := c.questionOf(v, v.PostForm)
	if err != nil {
		return err
	}
	var text bytes.Buffer
	if err := catalog.WriteBrief(&text, q.job.Brief); err != nil {
		return err
	}
	job, err := c.keepOnce(v, q, clipped(strings.TrimSpace(v.PostForm.Get(keyCustomer))), text.String())
	if err != nil {
		return err
	}
	return v.seeOther(pathBuilds + "?" + url.Values{keyJob: {strconv.FormatInt(job, 10)}}.Encode())
}

// keepOnce makes a job of a brief, unless the book has it without a quote yet.
func (c *Counter) keepOnce(v *visit, q *question, customer, brief string) (int64, error) {
	c.booking.Lock()
	defer c.booking.Unlock()
	jobs, err := c.book.Jobs(v.context())
	if err != nil {
		return 0, err
	}
	for _, j := range jobs {
		if j.Customer != customer || j.Latest != nil {
			continue
		}
		if full, err := c.book.Job(v.context(), j.ID); err == nil && full.Brief == brief {
			return j.ID, nil
		}
	}
	return c.addJob(v, q, customer, brief)
}

// suggestion is a part that a word may mean.
type suggestion struct {
	SKU  string `json:"sku"`
	Name string `json:"name"`
}

// mostSuggested is how many are listed: more than anybody reads.
const mostSuggested = 12

// suggest lists parts that hold a word, for whoever is typing one.
func (c *Counter) suggest(v *visit) error {
	list := []suggestion{}
	if word := one(v.URL.Query(), keyWord); word != "" && len(word) <= mostText {
		for _, p := range v.stock.find(catalog.KindCount, word, false) {
			if len(list) < mostSuggested {
				list = append(list, suggestion{p.SKU, p.Name})
			}
		}
	}
	return v.reply(map[string]any{"schema": "loudfor/page-parts/1", "parts": list})
}
