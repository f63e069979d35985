package counter

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
)

// Why not this part: the best build that has it in, against the best of all;
// or the rules and numbers that keep it out. The answer is package advice's.

// keyPart is the SKU that is asked about.
const keyPart = "part"

type whyBody struct {
	SKU, Name  string
	Found      bool
	Words      []string // the answer, the shortest first
	Rules      []string // what forbids it
	Blocks     []conflictWords
	With       string // address of the best build with it
	Versus     string
	Near       []choice
	Kept       []kept
	Action     string
	NoBest     bool
	BuildsHref string
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
	body := &whyBody{SKU: sku, Kept: hidden(q), Action: pathWhy, BuildsHref: q.link(pathBuilds)}
	if part := q.Catalogue.Part(sku); part != nil {
		body.Found, body.Name = true, facts.Name(part)
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

// desk is the best build of a question, ready to be asked about.
func (c *Counter) desk(ctx context.Context, q *question) (*advice.Desk, error) {
	return c.desks.get(ctx, q.key(), func(ctx context.Context) (*advice.Desk, error) {
		problem, err := c.problem(ctx, q, q.job.Brief)
		if err != nil {
			return nil, err
		}
		ctx, stop := context.WithTimeout(ctx, rankingTime)
		defer stop()
		return advice.Ask(ctx, problem)
	})
}

func (c *Counter) fillWhy(v *visit, q *question, body *whyBody, part *catalog.Part) error {
	desk, err := c.desk(v.context(), q)
	if err != nil {
		return err
	}
	best := desk.Best()
	if best == nil {
		body.NoBest = true
		return nil
	}
	verdict, err := c.verdicts.get(v.context(), q.key()+"\x00"+part.SKU, func(ctx context.Context) (*advice.Verdict, error) {
		return desk.Part(ctx, part.SKU)
	})
	if errors.Is(err, advice.ErrStopped) {
		return context.DeadlineExceeded
	}
	if err != nil {
		return err
	}
	v.voice.verdict(q, body, best, verdict)
	return nil
}

// verdict puts it into words.
func (v voice) verdict(q *question, body *whyBody, best *optimizer.Build, verdict *advice.Verdict) {
	head, lines := facts.Verdict(v, best, verdict)
	if verdict.Answer == advice.InBest {
		head += fmt.Sprintf(": %s for %s", facts.Level(v, best.Objective, best.Band()), v.Money(best.Cost))
	}
	body.Words = append([]string{head + "."}, lines...)
	if chosen := facts.Chosen(v, verdict); chosen != "" {
		body.Words = append(body.Words, facts.ChosenHead+": "+strings.ToLower(chosen[:1])+chosen[1:])
	}
	switch {
	case verdict.Answer == advice.InBest:
		body.With = q.buildLink(pathBuild, best.Lines)
	case verdict.With != nil:
		with := verdict.With.Build
		body.With = q.buildLink(pathBuild, with.Lines)
		body.Versus = q.versusLinkOf(codeOf(best.Lines), codeOf(with.Lines))
	}
	body.Rules = slices.Clone(verdict.Rules)
	for _, conflict := range verdict.Conflicts {
		var words conflictWords
		for _, r := range conflict {
			words.Rules = append(words.Rules, facts.Requirement(r))
			words.Remedies = append(words.Remedies, r.Remedy)
		}
		body.Blocks = append(body.Blocks, words)
	}
}
