package counter

import (
	"context"
	"maps"
	"slices"

	"loudfor/catalog"
	"loudfor/catalog/letterhead"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/record"
	"loudfor/optimizer/growth"
)

// What to buy first, when more money comes later: asked for in a line, and printed as a
// quote for the customer, each step with its bill. A step's own quote is that of its
// money, with what the steps before have bought as owned; so the job book keeps a plan
// as a brief with steps, and its next step is quoted when the money is there.

// keyLive asks which amplifier to live with.
const keyLive = "live"

type growBody struct {
	Customer, Date, Until string
	Shop                  *letterhead.Shop
	Name, Car, Total      string
	Cap, Resale, Order    string
	Then                  []string // as many fields as there may be
	Complaints            []string
	Orders                []string
	Action                string
	Kept                  []kept
	Looked                string // for which plan
	Steps                 []growStep
	Costs                 []string
	Ways                  []facts.WayRow
	WayNames              [growth.WayCount]string
	Sentence              string
	Amplifiers            []string
	AskWays               string // address
	None, Waiting, Empty  bool
	Builds                string
	Cautions              []string
}

type growStep struct {
	facts.Grown
	Level, Nothing, Behind string
	Parts                  []partLine
	Extras                 []sumLine
	Total, Cash, Left      string
	Build, Quote           string
}

func (c *Counter) showGrow(v *visit) error {
	q, err := c.question(v)
	if err != nil {
		return err
	}
	b := &q.job.Brief
	ways := one(v.URL.Query(), keyLive) != ""
	body := &growBody{Name: b.Name, Car: carWords(q), Cap: b.Cap.Decimal(), Order: b.Order.String(), Then: append(laterSums(b), make([]string, catalog.MostSteps)...)[:catalog.MostSteps-1],
		Action: pathGrow, Looked: facts.OrderWords(b.Order), WayNames: facts.WayNames, Customer: q.customer, Builds: q.link(pathBuilds), Empty: len(b.Steps) == 0}
	if said := b.Said("resale"); len(said) > 0 {
		body.Resale = said[0]
	}
	for _, o := range []catalog.PlanOrder{catalog.PlanLast, catalog.PlanFirst, catalog.PlanFair} {
		body.Orders = append(body.Orders, o.String())
	}
	for _, k := range hidden(q) {
		if !slices.Contains([]string{keyCap, keyThen, "order", "resale"}, k.Name) {
			body.Kept = append(body.Kept, k)
		}
	}
	for _, complaint := range q.complaints {
		body.Complaints = append(body.Complaints, complaint.Field+": "+complaint.Text)
	}
	var paper quoteBody
	v.voice.date(&paper, v.stock.shop, 0, c.options.Now())
	body.Shop, body.Date, body.Until = paper.Shop, paper.Date, paper.Until
	p := c.page(v, q, "grow", "What to buy first")
	p.Body = body
	if ways {
		p.Address, p.Queried = q.link(pathGrow, keyLive, "yes"), true
	}
	if body.Empty {
		return c.show(v, p, "grow")
	}
	key := "plan " + q.key() // of no ranking
	if ways {
		key += " " + keyLive
	}
	solve := func(ctx context.Context) (*growth.Answer, error) {
		problem, err := c.problem(ctx, q, q.job.Brief)
		if err != nil {
			return nil, err
		}
		ctx, stop := context.WithTimeout(ctx, ladderTime)
		defer stop()
		a, err := growth.Ask(ctx, problem, ways)
		return &a, err
	}
	if v.wantsJSON() {
		a, err := c.plans.get(v.context(), key, solve)
		if err != nil {
			return err
		}
		return v.reply(record.OfGrow(*b, q.job.Vehicle, record.Origin{Demo: q.Invented, Outdated: q.job.Vehicle.Outdated}, a))
	}
	a, done, err := c.plans.begin(key, solve)
	if err == nil && !done {
		ctx, stop := context.WithTimeout(v.context(), quickly)
		defer stop()
		if a, err = c.plans.get(ctx, key, solve); gone(err) {
			body.Waiting, p.Waits, p.Refresh, err = true, key, true, nil
		}
	}
	if err != nil {
		return err
	}
	if !body.Waiting {
		if body.None = len(a.Steps) == 0; !body.None {
			v.fillGrow(body, q, a)
			if !ways {
				body.AskWays = q.link(pathGrow, keyLive, "yes")
			}
		}
	}
	return c.show(v, p, "grow")
}

func (v *visit) fillGrow(body *growBody, q *question, a *growth.Answer) {
	body.Total = v.voice.Money(a.Spent)
	owned := map[string]int{}
	for _, m := range q.job.Brief.Owned {
		owned[m.SKU] += max(m.Count, 1)
	}
	for i, words := range facts.GrownSteps(v.voice, &a.Plan) {
		step := &a.Steps[i]
		b := step.Build
		s := growStep{Grown: words, Level: facts.Level(v.voice, b.Objective, b.Band()), Total: v.voice.Money(b.Cost), Cash: v.voice.Money(step.Cash), Left: v.voice.Money(step.Left)}
		if step.Best != nil {
			s.Nothing = facts.Level(v.voice, step.Best.Objective, step.Best.Band())
			if s.Behind = v.voice.Signed(step.Behind.DB) + " dB" + facts.Mark(step.Behind, false); step.Tie {
				s.Behind = "a tie (" + v.voice.Signed(step.Behind.DB) + " dB)"
			}
		}
		for _, line := range b.Lines {
			if line.Count > line.Owned {
				part := v.voice.partLine(line)
				part.Count, part.Why = line.Count-line.Owned, plainKinds[line.Part.Kind]
				s.Parts = append(s.Parts, part)
			}
		}
		s.Extras = v.voice.extras(b)
		for _, m := range step.Sold {
			owned[m.SKU] -= m.Count
		}
		s.Build, s.Quote = q.stepLink(pathBuild, step, i, owned), q.stepLink(pathQuote, step, i, owned)
		for _, m := range step.Bought() {
			owned[m.SKU] += m.Count
		}
		body.Steps = append(body.Steps, s)
	}
	order := q.job.Brief.Order
	for _, words := range []string{facts.Regret(v.voice, &a.Plan), facts.Instead(v.voice, &a.Plan, a.Naive, order), facts.GrowthProof(v.voice, &a.Plan, order)} {
		if words != "" {
			body.Costs = append(body.Costs, words)
		}
	}
	body.Costs, body.Cautions = append(body.Costs, facts.Sentence(facts.Caution(a.Last().Build))), facts.Cautions
	if len(a.Ways) > 0 {
		body.Ways, body.Sentence, body.Amplifiers = facts.Ways(v.voice, a.Ways)
	}
}

// stepLink is the address of a view of one step by itself: its money is the cap, what is
// left of earlier steps is owned, and later money still comes.
func (q *question) stepLink(path string, step *growth.Step, at int, owned map[string]int) string {
	values := maps.Clone(q.values)
	values.Set(keyCap, step.Cash.Decimal())
	values.Set(keyParts, codeOf(step.Build.Lines))
	if values[keyThen] = laterSums(&q.job.Brief)[at:]; len(values[keyThen]) == 0 {
		values.Set(keyThen, "")
	}
	var hands catalog.Brief
	for _, sku := range slices.Sorted(maps.Keys(owned)) {
		if n := owned[sku]; n > 0 {
			hands.Owned = append(hands.Owned, catalog.Mention{SKU: sku, Count: n})
		}
	}
	values[keyOwned] = hands.Said(keyOwned)
	return path + "?" + values.Encode()
}
