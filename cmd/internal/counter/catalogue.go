package counter

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/cmd/internal/facts"
)

// The catalogue with what is odd about it, a page at a time: ten thousand parts
// in one page would help nobody.

const partsPerPage = 100

type catalogueBody struct {
	Kinds         []choice
	Kind, Word    string
	Doubtful      bool
	Parts         []shelfLine
	Total, Shown  string
	Warnings      string
	From, To      int
	Before, After string
	Other         []string
	Kept          []kept
	Deals         []sumLine
	Action        string
	Read          string
}

type shelfLine struct {
	SKU, Name, Kind, Maker, Store, Price, Stock, Where string
	Warnings, Remarks                                  []string
	Why                                                string
}

const (
	keyKind  = "kind"
	keyWord  = "word"
	keyDoubt = "doubtful"
	keyPage  = "page"
)

func (c *Counter) showCatalogue(v *visit) error {
	q, err := c.question(v)
	if err != nil {
		return err
	}
	query := v.URL.Query()
	body := &catalogueBody{Word: one(query, keyWord), Doubtful: one(query, keyDoubt) != "", Action: pathCatalogue, Read: v.stock.read.Format("15:04:05")}
	if len(body.Word) > mostText {
		body.Word = ""
	}
	kind := catalog.KindCount
	body.Kinds = []choice{{"", "All kinds", true}}
	for k := range catalog.KindCount {
		chosen := one(query, keyKind) == k.String()
		if chosen {
			kind, body.Kind, body.Kinds[0].Chosen = k, k.String(), false
		}
		body.Kinds = append(body.Kinds, choice{k.String(), facts.Capital(k.String()), chosen})
	}
	found := q.find(kind, body.Word, body.Doubtful)
	at := pageOf(one(query, keyPage), len(found))
	from := at * partsPerPage
	for _, p := range found[from:min(from+partsPerPage, len(found))] {
		body.Parts = append(body.Parts, v.voice.shelfLine(q, p))
	}
	body.From, body.To = from+1, from+len(body.Parts)
	body.Total, body.Shown, body.Warnings = v.voice.Count(len(q.Catalogue.Parts)), v.voice.Count(len(found)), v.voice.Count(q.doubts)
	turn := func(to int) string {
		more := url.Values{}
		for name, value := range map[string]string{keyKind: body.Kind, keyWord: body.Word, keyDoubt: one(query, keyDoubt), keyPage: strconv.Itoa(to + 1)} {
			if value != "" {
				more.Set(name, value)
			}
		}
		for name, list := range q.values {
			more[name] = list
		}
		return pathCatalogue + "?" + more.Encode()
	}
	if at > 0 {
		body.Before = turn(at - 1)
	}
	if body.To < len(found) {
		body.After = turn(at + 1)
	}
	for _, problem := range q.other {
		body.Other = append(body.Other, problemWords(problem))
	}
	for _, d := range q.Catalogue.Deals {
		body.Deals = append(body.Deals, sumLine{d.Name, v.voice.dealWords(d)})
	}
	body.Kept = hidden(q)
	p := c.page(v, q, "catalogue", "Catalogue")
	p.Body = body
	return c.show(v, p, "catalogue")
}

// find lists the parts of a kind (KindCount: all) that hold a word.
func (s *stock) find(kind catalog.Kind, word string, doubtful bool) (found []*catalog.Part) {
	word = strings.ToLower(word)
	for _, p := range s.Catalogue.Parts {
		switch {
		case kind != catalog.KindCount && p.Kind != kind:
		case doubtful && !s.warned(p.SKU):
		case word != "" && !strings.Contains(strings.ToLower(p.SKU+"\n"+p.Name+"\n"+p.Maker+"\n"+p.Store), word):
		default:
			found = append(found, p)
		}
	}
	return found
}

func (s *stock) warned(sku string) bool {
	for _, p := range s.remarks[sku] {
		if p.Severity == catalog.Warning {
			return true
		}
	}
	return false
}

// pageOf is the number of a page, from 0, whatever the address says.
func pageOf(text string, parts int) int {
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		return 0
	}
	return min(n-1, max(0, parts-1)/partsPerPage)
}

func (v voice) shelfLine(q *question, p *catalog.Part) shelfLine {
	line := shelfLine{SKU: p.SKU, Name: p.Name, Kind: p.Kind.String(), Maker: p.Maker, Store: p.Store, Price: "no price",
		Stock: pieces(p.Stock), Why: q.link(pathWhy, keyPart, p.SKU)}
	if p.Priced {
		line.Price = v.Money(p.Price)
	}
	if p.Where.File != "" {
		line.Where = p.Where.String()
	}
	for _, problem := range q.remarks[p.SKU] {
		if problem.Severity == catalog.Warning {
			line.Warnings = append(line.Warnings, problemWords(problem))
		} else {
			line.Remarks = append(line.Remarks, problemWords(problem))
		}
	}
	return line
}

func problemWords(p catalog.Problem) string {
	text := p.Summary
	if p.Detail != "" {
		text += "; " + p.Detail
	}
	return text
}

func (v voice) dealWords(d *catalog.Deal) string {
	switch d.Form {
	case catalog.DealFrom:
		return fmt.Sprintf("%s: from %d pieces on %s each", skus(d.Parts), d.From, v.Money(d.Price))
	case catalog.DealEvery:
		return fmt.Sprintf("%s: one in every %d pieces %s off", skus(d.Parts), d.Every, document.Rate(d.OffPPM))
	}
	return fmt.Sprintf("%s together for %s", strings.ReplaceAll(skus(d.Parts), ",", " and "), v.Money(d.Price))
}

func skus(list []catalog.Mention) string {
	var words []string
	for _, m := range list {
		words = append(words, m.SKU)
	}
	return strings.Join(words, ",")
}
