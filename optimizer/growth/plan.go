package growth

import (
	"loudfor/catalog"
	"loudfor/optimizer"
)

// Plan is the answer: what to buy at each step.
type Plan struct {
	Outcome optimizer.Outcome
	Stop    optimizer.Stop
	Steps   []Step        // none: no plan was found
	Spent   catalog.Money // at all steps, less what sales brought
	Thrown  catalog.Money // what was bought and the last step does not use, less what sales brought; before tax

	// GapDB, of a search that was stopped, is how much louder than this plan's a
	// plan not yet seen could be, at the step that the order looks at first.
	GapDB float64

	Asked int // how many searches for a build of one step it took

	// Short is by how many dB the plan misses the 1 dB of the order fair, at the
	// step where it misses it most; zero otherwise.
	Short float64
}

// Step is one step of a plan.
type Step struct {
	Budget catalog.Money // all that may have been spent by then, sales apart
	Cash   catalog.Money // what there is to spend: what is left over, what is new, what sales bring
	Left   catalog.Money // of it, after this step

	Build optimizer.Build // Line.Owned counts what was there before
	Sold  []catalog.Mention
	Idle  []catalog.Mention // bought at an earlier step, kept, and not used now

	// Best is the loudest that all the money so far would buy from nothing; nil
	// if that was not found out before the search was stopped. Behind is how far the
	// step is from it, with the band of that, and Tie whether it is at all.
	Best   *optimizer.Build
	Behind optimizer.Difference
	Tie    bool
}

// Bought is what is bought at the step.
func (s *Step) Bought() []catalog.Mention { return bought(&s.Build).mentions() }

// Part is a part that the plan buys at some step; nil for others.
func (p *Plan) Part(sku string) *catalog.Part {
	for i := range p.Steps {
		for _, l := range p.Steps[i].Build.Lines {
			if l.Part.SKU == sku {
				return l.Part
			}
		}
	}
	return nil
}

// Last is the end of the plan.
func (p *Plan) Last() *Step { return &p.Steps[len(p.Steps)-1] }

// counts are pieces by SKU; none are zero.
type counts map[string]int

func (c counts) clone() counts {
	out := make(counts, len(c)+1)
	for sku, n := range c {
		out[sku] = n
	}
	return out
}

// with is c with n more pieces, or fewer.
func (c counts) with(sku string, n int) counts {
	out := c.clone()
	if out[sku] += n; out[sku] <= 0 {
		delete(out, sku)
	}
	return out
}

func (c counts) mentions() (list []catalog.Mention) {
	for _, sku := range sorted(c) {
		list = append(list, catalog.Mention{SKU: sku, Count: c[sku]})
	}
	return list
}

func countsOf(list []catalog.Mention) counts {
	out := counts{}
	for _, m := range list {
		out[m.SKU] += m.Count
	}
	return out
}

// bought are the pieces that a build has bought.
func bought(b *optimizer.Build) counts {
	out := counts{}
	for _, l := range b.Lines {
		if n := l.Count - l.Owned; n > 0 {
			out[l.Part.SKU] = n
		}
	}
	return out
}
