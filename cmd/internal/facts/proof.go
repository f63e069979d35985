package facts

import (
	"fmt"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// NotConfirmed says which of the builds that are shown a second look by the rules
// refuses, and what to report; empty where there is none.
func NotConfirmed(builds ...optimizer.Build) string {
	for _, b := range builds {
		if b.Fault != "" {
			return fmt.Sprintf("NOT CONFIRMED: a second look by the rules refuses %s (%s). The answer stands above all the same. Please report it with the files.", Bought(b.Lines), b.Fault)
		}
	}
	return ""
}

// rough says why bands are less exact than others.
const rough = "Since it was stopped, the bands come from fewer draws than usual."

// Proof says in a sentence why a ranking can be trusted, or how far.
func Proof(s Speaker, r optimizer.Result) string {
	text := proof(s, r)
	if r.Rough {
		text += " " + rough
	}
	return text
}

func proof(s Speaker, r optimizer.Result) string {
	if words := NotConfirmed(r.Builds...); words != "" {
		return words
	}
	switch r.Outcome {
	case optimizer.Optimal:
		return "Proven best: no build of this catalogue that satisfies the brief ranks above these."
	case optimizer.Feasible:
		return fmt.Sprintf("The search stopped early (%s): no build is louder than 1 by more than %s dB.", r.Stop, s.Figure(r.Proof.GapDB, 1))
	case optimizer.Infeasible:
		text := "Proven: no build of this catalogue satisfies the brief."
		if r.Stop != optimizer.StopComplete && len(r.Conflicts) == 0 {
			text += fmt.Sprintf(" What blocks it is not known: the search for that was stopped (%s).", r.Stop)
		}
		return text
	}
	return fmt.Sprintf("The search stopped before it found anything (%s); a build may exist.", r.Stop)
}

// LadderProof says the same of a ladder, and what may lie below it.
func LadderProof(s Speaker, r optimizer.LadderResult) []string {
	lines := ladderProof(s, r)
	if r.Rough {
		lines = append(lines, rough)
	}
	return lines
}

func ladderProof(s Speaker, r optimizer.LadderResult) (lines []string) {
	for i := range r.Steps {
		if words := NotConfirmed(r.Steps[i].Build); words != "" {
			return []string{words}
		}
	}
	if r.Outcome == optimizer.Optimal {
		return []string{"Proven at every price: from one step's price to the next, no build of this catalogue that satisfies the brief is better than the lower step; below the first there is none."}
	}
	lines = append(lines, fmt.Sprintf("The search stopped early (%s): at no price from the first step's on is there a build louder than the step by more than %s dB.", r.Stop, s.Figure(r.Proof.GapDB, 1)))
	if r.Below != (catalog.Money{}) {
		lines = append(lines, fmt.Sprintf("Below the first step, from %s on, there may be builds as well.", s.Money(r.Below)))
	}
	return lines
}

// Requirement is a rule that stands in the way.
func Requirement(r optimizer.Requirement) string { return fmt.Sprintf("%s: %s", r.Kind, r.Words) }
