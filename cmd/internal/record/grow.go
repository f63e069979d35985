package record

import (
	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/growth"
)

// GrowSchema names the shape of the answer of "grow".
const GrowSchema = "loudfor/grow/1"

// Grow is the answer of "grow".
type Grow struct {
	Head
	Order    string      `json:"order" doc:"which plan is the best: last, first or fair"`
	Resale   Figure      `json:"resale_percent,omitempty" doc:"share of its price for which a part is sold; left out where nothing is"`
	GapDB    Figure      `json:"gap_db" doc:"by how much a plan not yet seen could be louder, at the step that the order looks at first; 0: none can"`
	Steps    []GrownStep `json:"steps" doc:"the first is now; [] where none was found"`
	Spent    Amount      `json:"spent" doc:"at all steps, less sales"`
	Thrown   Amount      `json:"thrown_away" doc:"price before tax of what was bought and the last step does not use, less sales"`
	ShortDB  Figure      `json:"short_db,omitempty" doc:"order fair: by how much the worst step misses the 1 dB; left out where none does"`
	Loudest  *Loudest    `json:"loudest_first,omitempty" doc:"what becomes of the loudest first buy; left out where that is the order, or was not found out"`
	Stopped  bool        `json:"stopped,omitempty" doc:"true where a time limit or an interrupt left loudest_first out"`
	Ways     []Ways      `json:"amplifiers,omitempty" doc:"where asked for: which amplifier to live with, by each goal, the brief's first"`
	Searches int         `json:"searches" doc:"how many searches for the build of one step it took"`
}

// GrownStep is one step of a plan.
type GrownStep struct {
	Budget  Amount      `json:"budget" doc:"all that may have been spent by then, sales apart"`
	Cash    Amount      `json:"cash" doc:"what there is to spend: left over, new, and from sales"`
	Left    Amount      `json:"left" doc:"of it afterwards"`
	Buys    []Piece     `json:"buys" doc:"what is bought at this step"`
	Sold    []Piece     `json:"sold,omitempty" doc:"of what was bought before"`
	Idle    []Piece     `json:"idle,omitempty" doc:"of what was bought before, kept without a use"`
	Build   Build       `json:"build" doc:"what plays then; owned marks what was there"`
	Nothing *Nothing    `json:"from_nothing,omitempty" doc:"the loudest that all the money so far buys at once"`
	Behind  *Difference `json:"difference,omitempty" doc:"this step's level less that"`
	Tie     bool        `json:"tie,omitempty" doc:"of difference"`
}

// Nothing is a build in short.
type Nothing struct {
	Cost  Amount  `json:"cost"`
	DB    Figure  `json:"db"`
	Parts []Piece `json:"parts"`
}

// Loudest is the plan that begins with the loudest first buy.
type Loudest struct {
	DB     []Figure `json:"db" doc:"level by the goal, by step"`
	Spent  Amount   `json:"spent"`
	Thrown Amount   `json:"thrown_away"`
	First  []Piece  `json:"buys" doc:"at the first step"`
}

// Ways are the best plans of the two ways to power bass and doors, by one goal.
type Ways struct {
	Goal  string    `json:"goal"`
	Steps []WayStep `json:"steps" doc:"[] where neither way has a plan"`
}

// WayStep is one step of them.
type WayStep struct {
	Apart    *Nothing    `json:"bass_then_doors,omitempty" doc:"the build then, with amplifiers of fewer than four channels, one for the bass; left out where there is no plan"`
	Together *Nothing    `json:"one_for_both,omitempty" doc:"the same with one amplifier of four channels or more"`
	Behind   *Difference `json:"difference,omitempty" doc:"level of one_for_both less that of the other"`
	Tie      bool        `json:"tie,omitempty"`
}

func ofWays(all []growth.Plans) (docs []Ways) {
	for _, p := range all {
		doc := Ways{Goal: goal(p.Goal), Steps: []WayStep{}}
		a, b := p.Of[growth.Apart].Steps, p.Of[growth.Together].Steps
		for i := range max(len(a), len(b)) {
			var step WayStep
			if i < len(a) {
				step.Apart = nothing(&a[i].Build)
			}
			if i < len(b) {
				step.Together = nothing(&b[i].Build)
			}
			if i < min(len(a), len(b)) {
				d := b[i].Build.Difference
				step.Behind, step.Tie = difference(d), b[i].Build.Tie
			}
			doc.Steps = append(doc.Steps, step)
		}
		docs = append(docs, doc)
	}
	return docs
}

// nothing is a build by its cost, level and parts.
func nothing(b *optimizer.Build) *Nothing {
	doc := &Nothing{Cost: money(b.Cost), DB: Level(b.Objective)}
	for _, l := range b.Lines {
		doc.Parts = append(doc.Parts, Piece{l.Part.SKU, l.Count})
	}
	return doc
}

// OfGrow is the document of a plan.
func OfGrow(b catalog.Brief, v catalog.Vehicle, from Origin, a *growth.Answer) Grow {
	p, naive := &a.Plan, a.Naive
	doc := Grow{Head: head(GrowSchema, b, v, from), Order: b.Order.String(), GapDB: Level(p.GapDB), Steps: []GrownStep{}, Ways: ofWays(a.Ways), Searches: p.Asked}
	doc.Outcome, doc.Stop = p.Outcome.String(), p.Stop.String()
	if b.Resale > 0 {
		doc.Resale = Number(float64(b.Resale) / 1e4)
	}
	if p.Short > 0 {
		doc.ShortDB = Level(p.Short)
	}
	for i := range p.Steps {
		s := &p.Steps[i]
		if doc.Currency == "" {
			doc.Currency = s.Build.Cost.Currency
		}
		step := GrownStep{Budget: money(s.Budget), Cash: money(s.Cash), Left: money(s.Left), Buys: pieces(s.Bought()), Sold: pieces(s.Sold), Idle: pieces(s.Idle), Build: ofBuild(s.Build)}
		step.Build.Rank, step.Build.Difference = 1, nil
		if step.Buys == nil {
			step.Buys = []Piece{}
		}
		if n := s.Best; n != nil {
			step.Nothing = nothing(n)
			step.Behind, step.Tie = difference(s.Behind), s.Tie
		}
		doc.Steps = append(doc.Steps, step)
	}
	if len(p.Steps) > 0 {
		doc.Spent, doc.Thrown = money(p.Spent), money(p.Thrown)
	}
	doc.Stopped = naive == nil && b.Order != catalog.PlanFirst
	if naive != nil && len(naive.Steps) > 0 {
		doc.Loudest = &Loudest{Spent: money(naive.Spent), Thrown: money(naive.Thrown), First: pieces(naive.Steps[0].Bought())}
		for i := range naive.Steps {
			doc.Loudest.DB = append(doc.Loudest.DB, Level(naive.Steps[i].Build.Objective))
		}
	}
	return doc
}
