package answer

import (
	"fmt"
	"slices"

	"loudfor/optimizer"
)

// proof says in words why the ranking can be trusted: what was covered, what
// was computed, why the rest need not be.
func (p *Page) proof(r optimizer.Result) {
	p.counts(r.Proof)
	p.outcome(r)
}

// counts is what was covered and why the most of it need not be computed.
func (p *Page) counts(proof optimizer.Proof) {
	if proof.Combinations == nil || proof.Evaluated == nil {
		return
	}
	p.say("%s combinations of parts were covered: %s of them computed, the others dropped because", thousands(proof.Combinations), thousands(proof.Evaluated))
	for _, drop := range proof.Dropped {
		p.item("%s: %s", reasonWords(drop.Reason), thousands(drop.Count))
	}
}

// outcome is what follows.
func (p *Page) outcome(r optimizer.Result) {
	switch r.Outcome {
	case optimizer.Optimal:
		p.say("Proven best: no build of this catalogue that satisfies the brief ranks above these.")
	case optimizer.Feasible:
		p.say("The search stopped early (%s): no build is louder than 1 by more than %s.", r.Stop, decibels(r.Proof.GapDB))
	case optimizer.Infeasible:
		p.say("Proven: no build of this catalogue satisfies the brief.")
		if r.Stop != optimizer.StopComplete {
			p.say("What blocks it is not known: the search for that was stopped (%s).", r.Stop)
		}
	default:
		p.say("The search stopped before it found anything (%s); a build may exist.", r.Stop)
	}
}

func reasonWords(r optimizer.Reason) string {
	switch r {
	case optimizer.DropNotOffered:
		return "a part is not on offer (never, another store, out of stock, no price)"
	case optimizer.DropFit:
		return "parts do not fit each other or the car"
	case optimizer.DropHookup:
		return "no wiring keeps the load at or above what the amplifier is rated for"
	case optimizer.DropCap:
		return "over the cap, even with the cheapest rest"
	case optimizer.DropMust:
		return "a part that must be in is left out"
	case optimizer.DropKit:
		return "the wiring kit does not carry the current"
	case optimizer.DropRest:
		return "signal path or front stage incomplete, a part without a use, or a better rest for the same bass"
	case optimizer.DropBound:
		return "provably below the last build ranked"
	case optimizer.DropOrder:
		return "as loud at best, and behind by price"
	case optimizer.DropTime:
		return "not reached before the search was stopped"
	}
	return r.String()
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
			p.item("%s: %s", requirement.Kind, requirement.Words)
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

// cautions are shown with every build, whatever it is.
var cautions = []string{
	"Fuse the power cable within about 45 cm of the battery.",
	"Disconnect the battery's negative terminal before any work.",
	"Never load an amplifier below what it is rated for.",
	"Cable and fuse as calculated are minimums; local codes and licensed practice decide.",
	"Levels above 85 dBA harm hearing with time, and the levels here can harm it at once.",
	"Noise rules apply on public roads.",
}

func (p *Page) cautions() {
	p.head("Cautions")
	for _, caution := range cautions {
		p.item("%s", caution)
	}
}
