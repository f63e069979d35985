package counter

import (
	"slices"

	"loudfor/catalog"
	"loudfor/cmd/internal/answer"
	"loudfor/optimizer"
)

// Why not this part: the best build that has it in, against the best of all.

// keyPart is the SKU that is asked about.
const keyPart = "part"

type whyBody struct {
	Words      []string // what else is to be said
	SKU, Name  string
	Found      bool
	In         bool // it is in the best build already
	Best, With *headline
	Behind     string
	Dearer     string
	Tie        bool
	Blocks     []conflictWords
	Near       []choice
	Kept       []kept
	Action     string
	Swap       string
	Versus     string
	Unpriced   bool
}

func (c *Counter) showWhy(v *visit) error {
	q, err := c.question(v)
	if err != nil {
		return err
	}
	sku := one(v.URL.Query(), keyPart)
	if len(sku) > mostText {
		sku = ""
	}
	body := &whyBody{SKU: sku, Kept: hidden(q), Action: pathWhy}
	if part := q.Catalogue.Part(sku); part != nil {
		body.Found, body.Name = true, nameOf(part)
		if err := c.fillWhy(v, q, body, part); err != nil {
			return err
		}
	} else if sku != "" {
		for _, p := range q.find(catalog.KindCount, sku, false) {
			if len(body.Near) < top {
				body.Near = append(body.Near, choice{q.link(pathWhy, keyPart, p.SKU), p.SKU + " " + p.Name, false})
			}
		}
	}
	p := c.page(v, q, "why", "Why not this part?")
	p.Asked = v.voice.asked(q)
	p.Body = body
	return c.show(v, p, "why")
}

func (c *Counter) fillWhy(v *visit, q *question, body *whyBody, part *catalog.Part) error {
	best, err := c.ranking(v.context(), q)
	if err != nil {
		return err
	}
	if len(best.Builds) > 0 {
		first := &best.Builds[0]
		body.Best = v.voice.headline(q, *first)
		body.In = slices.ContainsFunc(first.Lines, func(l optimizer.Line) bool { return l.Part == part })
		if body.In {
			return nil
		}
	}
	with, err := c.demanding(q, part)
	if err != nil {
		body.Unpriced = true
		return nil
	}
	r, err := c.ranking(v.context(), with)
	if err != nil {
		return err
	}
	if len(r.Builds) == 0 {
		body.Blocks = v.voice.none(q, optimizer.LadderResult{}, r).Conflicts
		return nil
	}
	b := &r.Builds[0]
	body.With = v.voice.headline(q, *b)
	if body.Best != nil {
		first := &best.Builds[0]
		body.Behind = v.voice.DB(first.Objective - b.Objective)
		if dearer := less(b.Cost, first.Cost); dearer.Minor > 0 {
			body.Dearer = v.voice.Money(dearer)
		}
		body.Swap = answer.Change(first.Lines, b.Lines)
		body.Versus = q.versusLinkOf(codeOf(first.Lines), codeOf(b.Lines))
	}
	return nil
}

// demanding is the same question with a part that must be in.
func (c *Counter) demanding(q *question, part *catalog.Part) (*question, error) {
	values := map[string][]string{}
	for name, list := range q.values {
		values[name] = list
	}
	demand := skus(q.job.Brief.Must)
	if demand != "" {
		demand += ","
	}
	values[keyMust] = []string{demand + part.SKU}
	with, err := q.ask(q.base, q.jobID, values)
	if err != nil {
		return nil, err
	}
	if len(with.complaints) > 0 {
		return nil, unknownError{with.complaints[0].Text}
	}
	return with, nil
}
