package audit

import (
	"loudfor/catalog"
	"loudfor/optimizer/build"
)

// What an audit says.

// Verdict is what an audit comes to.
type Verdict int

const (
	NotSettled Verdict = iota
	Confirmed
	Refuted
)

func (v Verdict) String() string { return [...]string{"not settled", "confirmed", "refuted"}[v] }

// Step is what settles a block.
type Step int

const (
	Money     Step = iota // with the cheapest that it still needs it is above the cap
	Unwired               // no amplifier may drive its coils
	Itself                // its cones, coils or ports do not stand the level, whatever feeds them
	Envelope              // nor does the best of everything that the money left over buys
	OneByOne              // nor does any of these by itself, with any kit
	Outranked             // as loud, but no complete build of it comes before the claim
	Better                // a build of it does
	Open                  // not settled
	stepCount
)

func (s Step) String() string {
	return [...]string{"over the cap", "no wiring", "itself", "envelope", "one by one", "as loud", "better", "not settled"}[s]
}

// Words says the step as a reason.
func (s Step) Words() string {
	return [...]string{
		"over the cap with the cheapest that they need, or lack what must be in",
		"no amplifier may drive the coils",
		"cone, coil or port does not stand the level, whatever drives it",
		"the best of everything that the money left over buys does not allow it",
		"no single wiring with any kit allows it",
		"as loud, but no complete build of it comes before the claimed one",
		"a complete build of it comes before the claimed one",
		"not settled",
	}[s]
}

// Trusted is what a confirmation still rests on.
func Trusted() []string {
	return []string{
		"cards, ratings, prices and stock are as the files say; what they leave out is filled in as elsewhere, and marked as assumed there",
		"the car's response is the model's, or was learned or measured",
		"the laws of box, motor, heat and supply are the model's",
		"of boxes to be built those of the stated grid",
	}
}

// Report is what was found.
type Report struct {
	Verdict Verdict
	Blocks  int            // that fit: a driver, so many times, in so many of one box
	Settled [stepCount]int // of the blocks, by each step
	Equal   int            // complete builds as loud as the claim that were met, itself included
	Better  *Found         // that refutes
	Fault   string         // of the claim itself, that refutes
	Left    []string       // why it is not settled
}

// Found is a build that comes before the claimed one.
type Found struct {
	Parts []catalog.Mention // in the order of SKUs
	Level build.Level
	Cost  catalog.Money
	due   int64
}
