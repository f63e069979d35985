package record

import (
	"loudfor/catalog"
	"loudfor/optimizer"
)

// LadderSchema names the shape of the answer of "ladder".
const LadderSchema = "loudfor/ladder/1"

// Ladder is the answer of "ladder".
type Ladder struct {
	Schema   string  `json:"schema"`
	Currency string  `json:"currency"`
	Cap      *Amount `json:"cap,omitempty"`
	Outcome  string  `json:"outcome"`
	Stop     string  `json:"stop"`
	Goal     string  `json:"goal"`
	Vehicle  string  `json:"vehicle"`
	Origin
	Proof     Proof      `json:"proof"`
	Worth     *Amount    `json:"worth,omitempty"`       // of 2 dB
	WorthUpTo *int       `json:"worth_up_to,omitempty"` // step, from 1
	Below     *Amount    `json:"cheaper_from,omitempty"`
	Steps     []Step     `json:"steps"`
	Complete  *Build     `json:"complete,omitempty"`
	Conflicts []Conflict `json:"conflicts,omitempty"`

	BuiltBoxes []Box `json:"built_boxes,omitempty"`
	BoxSearch  *Shop `json:"box_search,omitempty"`
}

// Step is one step of the ladder.
type Step struct {
	Price   Amount  `json:"price"`
	DB      Figure  `json:"db"`
	Band    Figure  `json:"band_db,omitempty"`
	Rise    Figure  `json:"rise_db"`
	RiseBy  Figure  `json:"rise_band_db,omitempty"`
	Chance  Figure  `json:"chance,omitempty"`
	Tie     bool    `json:"tie,omitempty"`
	Extra   Amount  `json:"extra"`
	Next    *Amount `json:"next_2_db,omitempty"`
	Beyond  *Amount `json:"next_2_db_beyond,omitempty"`
	Steep   bool    `json:"steep,omitempty"`
	GapDB   Figure  `json:"gap_db"`
	Changes string  `json:"changes"`
	Build   Build   `json:"build"`
}

// OfLadder is the document of a ladder; worth is nil where none was stated, and
// changes says in words what each step changes.
func OfLadder(b catalog.Brief, v catalog.Vehicle, from Origin, worth *catalog.Money, changes []string, r optimizer.LadderResult) Ladder {
	doc := Ladder{
		Schema: LadderSchema, Currency: b.Cap.Currency, Outcome: r.Outcome.String(), Stop: r.Stop.String(),
		Goal: goal(b.Goal), Vehicle: v.Name, Origin: from, Proof: ofProof(r.Proof), Steps: []Step{},
		Conflicts: ofConflicts(r.Conflicts),
	}
	amount := func(m catalog.Money) *Amount {
		a := money(m)
		return &a
	}
	if b.Cap != (catalog.Money{}) {
		doc.Cap = amount(b.Cap)
	}
	if worth != nil {
		doc.Worth = amount(*worth)
		if at := r.WorthUpTo(*worth); at >= 0 {
			at++
			doc.WorthUpTo = &at
		}
	}
	if r.Below != (catalog.Money{}) {
		doc.Below = amount(r.Below)
	}
	for i := range r.Steps {
		s := &r.Steps[i]
		if doc.Currency == "" {
			doc.Currency = s.Build.Cost.Currency
		}
		step := Step{Price: money(s.Build.Cost), DB: Level(s.Build.Objective), Band: band(s.Build.Band()),
			Rise: Level(s.Rise), RiseBy: band(s.Band), Chance: chance(s.Over()), Tie: s.Tie, Extra: money(s.Extra),
			GapDB: Level(s.Gap), Changes: changes[i], Build: ofBuild(s.Build)}
		switch {
		case !s.Open:
			step.Next = amount(s.Next)
		case doc.Cap != nil:
			step.Beyond = amount(s.Next)
		}
		step.Steep = worth != nil && s.Steep(*worth)
		step.Build.Difference = nil // of a ranking
		doc.Steps = append(doc.Steps, step)
	}
	if r.Complete != nil {
		build := ofBuild(*r.Complete)
		doc.Complete = &build
	}
	return doc
}

// LadderHelp is the part of Help about ladders.
const LadderHelp = `
loudfor ladder --json
  schema        "loudfor/ladder/1"
  currency, cap, outcome, stop, goal, vehicle, demo, proof, conflicts
                as for pick; proof.gap_db is the widest gap of any step
  worth         what 2 dB are worth, with --worth
  worth_up_to   number of the first step from which 2 dB more cost more than that
  cheaper_from  only after a stop: the price from which on builds cheaper than
                the first step may exist
  steps         cheapest first; there is no better build between two prices
    price         all in; the step is the best build from here to the next price
    db, band_db   level by the goal, and half the width of its band
    rise_db, extra  level and price over the step before; 0 for the first
    rise_band_db  half the width of the band of rise_db
    chance, tie   of rise_db, as for pick
    next_2_db     what 2 dB more cost; where the cap ends before, it is left out
                  and next_2_db_beyond says what the cap leaves: it costs more
    steep         true where 2 dB more cost more than --worth
    gap_db        by how much an unseen build below the next price could be
                  louder; 0: none can
    changes       what is bought anew and what is left out, in words
    build         keys as above; its own tie, assumed and warnings are not
                  filled in: pick gives them for a price
  complete      the cheapest build with a new front stage, whatever the cap
`
