package record

import (
	"loudfor/catalog"
	"loudfor/optimizer"
)

// LadderSchema names the shape of the answer of "ladder".
const LadderSchema = "loudfor/ladder/1"

// Ladder is the answer of "ladder".
type Ladder struct {
	Head
	Proof     Proof      `json:"proof" doc:"as for pick; proof.gap_db is the widest gap of any step"`
	Worth     *Amount    `json:"worth,omitempty" doc:"what 2 dB are worth, with --worth"`
	WorthUpTo *int       `json:"worth_up_to,omitempty" doc:"number of the first step from which 2 dB more cost more than that"`
	Below     *Amount    `json:"cheaper_from,omitempty" doc:"only after a stop: the price from which on builds cheaper than the first step may exist"`
	Rough     bool       `json:"rough_bands,omitempty" doc:"true where it was stopped, and so the bands and differences come from fewer draws than usual; else left out"`
	Steps     []Step     `json:"steps" doc:"cheapest first; there is no better build between two prices"`
	Complete  *Build     `json:"complete,omitempty" doc:"the cheapest build with a new front stage, whatever the cap, also where nothing is within it; left out where there is none"`
	Conflicts []Conflict `json:"conflicts,omitempty"`

	BuiltBoxes []Box `json:"built_boxes,omitempty"`
	BoxSearch  *Shop `json:"box_search,omitempty"`
}

// Step is one step of the ladder.
type Step struct {
	Price   Amount  `json:"price" doc:"all in; the step is the best build from here to the next price"`
	DB      Figure  `json:"db" doc:"level by the goal"`
	Band    Figure  `json:"band_db,omitempty" doc:"half the width of its band"`
	Rise    Figure  `json:"rise_db" doc:"level over the step before; 0 for the first"`
	RiseBy  Figure  `json:"rise_band_db,omitempty" doc:"half the width of the band of rise_db"`
	Chance  Figure  `json:"chance,omitempty" doc:"of rise_db, as for pick"`
	Tie     bool    `json:"tie,omitempty" doc:"of rise_db, as for pick"`
	Extra   Amount  `json:"extra" doc:"price over the step before; 0 for the first"`
	Next    *Amount `json:"next_2_db,omitempty" doc:"what 2 dB more cost"`
	Beyond  *Amount `json:"next_2_db_beyond,omitempty" doc:"where the cap ends before, in its place what the cap leaves: 2 dB more cost more"`
	Steep   bool    `json:"steep,omitempty" doc:"true where 2 dB more cost more than --worth"`
	GapDB   Figure  `json:"gap_db" doc:"by how much an unseen build below the next price could be louder; 0: none can"`
	Changes string  `json:"changes" doc:"what is bought anew and what is left out, in words"`
	Build   Build   `json:"build" doc:"keys as above; its own tie, assumed and warnings are not filled in: pick gives them for a price"`
}

// OfLadder is the document of a ladder; worth is nil where none was stated, and
// changes says in words what each step changes.
func OfLadder(b catalog.Brief, v catalog.Vehicle, from Origin, worth *catalog.Money, changes []string, r optimizer.LadderResult) Ladder {
	doc := Ladder{Head: head(LadderSchema, b, v, from), Proof: ofProof(r.Proof, r.Outcome), Rough: r.Rough, Steps: []Step{}, Conflicts: ofConflicts(r.Conflicts)}
	doc.Outcome, doc.Stop = r.Outcome.String(), r.Stop.String()
	if worth != nil {
		doc.Worth = amount(*worth)
		if at := r.WorthUpTo(*worth); at >= 0 {
			doc.WorthUpTo = new(at + 1)
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
		doc.Complete = new(ofBuild(*r.Complete))
	}
	return doc
}
