package answer

import (
	"fmt"
	"slices"

	"loudfor/cmd/internal/facts"
	"loudfor/optimizer"
)

// proof says in words why the ranking can be trusted: what was covered, what
// was computed, why the rest need not be.
func (p *Page) proof(r optimizer.Result) {
	p.counts(r.Proof)
	p.say("%s", facts.Proof(facts.Terminal{}, r))
}

// counts is what was covered and why the most of it need not be computed.
func (p *Page) counts(proof optimizer.Proof) {
	if proof.Combinations == nil || proof.Evaluated == nil {
		return
	}
	p.say("%s combinations of parts were covered: %s of them computed, the others dropped because", facts.Thousands(proof.Combinations), facts.Thousands(proof.Evaluated))
	for _, drop := range proof.Dropped {
		p.item("%s: %s", facts.Reason(drop.Reason), facts.Thousands(drop.Count))
	}
}

// none says why there is no build, and what would free one.
func (p *Page) none(r optimizer.Result) {
	if r.Outcome != optimizer.Infeasible {
		return
	}
	p.printf("\n%s\n", p.style.Error("No build satisfies the brief."))
	for i, conflict := range r.Conflicts {
		title := "These requirements cannot hold together"
		if len(conflict) == 1 {
			title = "This requirement alone blocks every build"
		}
		if i > 0 {
			title += " either"
		}
		p.head(title)
		for _, requirement := range conflict {
			p.item("%s", facts.Requirement(requirement))
		}
		p.say("%s", unblocks(conflict))
		for _, requirement := range conflict {
			p.item("%s", requirement.Remedy)
		}
	}
}

func unblocks(conflict []optimizer.Requirement) string {
	alone := !slices.ContainsFunc(conflict, func(q optimizer.Requirement) bool { return !q.Alone })
	switch {
	case len(conflict) == 1 && alone:
		return "A build exists as soon as this changes:"
	case len(conflict) == 1:
		return "This has to change, and one of every other group:"
	case !alone:
		return fmt.Sprintf("One of these %d has to change, and one of every other group:", len(conflict))
	}
	return fmt.Sprintf("A build exists as soon as one of these %d changes, the others kept:", len(conflict))
}

func (p *Page) cautions() {
	p.head("Cautions")
	for _, caution := range facts.Cautions {
		p.item("%s", caution)
	}
}
