package record

import (
	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
)

// WhySchema names the shape of the answer of "why".
const WhySchema = "loudfor/why/1"

// Why is the answer of "why".
type Why struct {
	Head
	Best *Build `json:"best,omitempty" doc:"the best build, keys as above; its curve, assumed and warnings are not filled in: pick gives them"`

	Limits  *Limits  `json:"limits,omitempty" doc:"what holds it back"`
	Asked   *Asked   `json:"asked,omitempty" doc:"what every customer asks; what is not known is left out"`
	Changes []Change `json:"changes,omitempty" doc:"the best build for so much more in the cap"`
	Next    *Change  `json:"next,omitempty" doc:"the next better one of all"`
	Roles   []Role   `json:"roles,omitempty" doc:"what each part is there for: the best builds without it and with the next cheaper; without is left out where nothing can be built then"`
	Wastes  []Waste  `json:"wastes,omitempty" doc:"cheaper builds below the best by less than 0.1 dB; no sku where several parts change"`
	Prices  []Prices `json:"prices,omitempty" doc:"between which prices of one piece, before tax, the best build stays the same; no least or most where there is no such end; below, above: the parts of the best build one unit beyond"`
	Stopped bool     `json:"stopped,omitempty" doc:"true where a time limit or an interrupt left something out"`

	Part *Verdict `json:"part,omitempty" doc:"with --part; answer: in the best build, possible, above the cap or forbidden"`

	Conflicts []Conflict `json:"conflicts,omitempty"`
}

// Limits is what holds a build back.
type Limits struct {
	Hz      Figure `json:"hz" doc:"of the peak"`
	Binding string `json:"binding" doc:"what binds there"`
	Left    []Left `json:"left" doc:"how much each other limit has left there, were it the only one"`
	Lifted  Lifted `json:"lifted" doc:"without the binding one"`
	Lifts   []Left `json:"lifts" doc:"what the goal gains by lifting each alone"`
}

// Lifted is the reading without the limit that binds.
type Lifted struct {
	DB       Figure `json:"db" doc:"the reading"`
	Band     Figure `json:"band_db,omitempty" doc:"half the width of its band"`
	Gain     Figure `json:"gain_db" doc:"how much louder that is"`
	GainBand Figure `json:"gain_band_db,omitempty" doc:"half the width of the band of gain_db"`
	Limit    string `json:"limit" doc:"what binds then"`
}

// Left is a limit with decibels.
type Left struct {
	Limit string `json:"limit" doc:"which"`
	DB    Figure `json:"db" doc:"how much"`
	Band  Figure `json:"band_db,omitempty" doc:"half the width of its band"`
	More  bool   `json:"or_more,omitempty" doc:"that it is at least so much"`
}

// Other is another build, held against the best.
type Other struct {
	Cost   Amount `json:"cost" doc:"all in"`
	Extra  Amount `json:"extra" doc:"over the best build's cost"`
	DB     Figure `json:"db" doc:"level by the goal"`
	Rise   Figure `json:"difference_db" doc:"to the best"`
	Band   Figure `json:"difference_band_db,omitempty" doc:"half the width of its band"`
	Chance Figure `json:"chance,omitempty" doc:"that its sign is right"`
	Tie    bool   `json:"tie" doc:"with the best"`
	Parts  []Part `json:"parts" doc:"as for pick"`
}

// Change is what so much more in the cap buys.
type Change struct {
	More    Amount `json:"more_in_the_cap" doc:"so much more"`
	Nothing bool   `json:"nothing,omitempty" doc:"true where it buys nothing"`
	PerDB   Figure `json:"per_db,omitempty" doc:"what a decibel of it costs"`
	Other
}

// Role is what a part is there for.
type Role struct {
	SKU     string `json:"sku"`
	Without *Other `json:"without,omitempty"`
	Instead string `json:"next_cheaper,omitempty"`
	Cheaper *Other `json:"with_next_cheaper,omitempty"`
}

// Waste is money that buys less than a meter shows.
type Waste struct {
	SKU string `json:"sku,omitempty"`
	Other
}

// Prices is between which prices of a part the best build stays the same.
type Prices struct {
	SKU    string  `json:"sku"`
	Bought bool    `json:"bought"`
	Now    Amount  `json:"now"`
	Least  *Amount `json:"least,omitempty"`
	Most   *Amount `json:"most,omitempty"`
	Below  []Part  `json:"below,omitempty"`
	Above  []Part  `json:"above,omitempty"`
	Dead   bool    `json:"nothing_above,omitempty"`
}

// Verdict is what can be said of one part.
type Verdict struct {
	SKU       string     `json:"sku"`
	Answer    string     `json:"answer"`
	Role      *Role      `json:"role,omitempty"`
	With      *Other     `json:"with,omitempty"`
	Cheapest  *Amount    `json:"cheapest,omitempty"`
	Over      *Amount    `json:"over_the_cap,omitempty"`
	Rules     []string   `json:"rules,omitempty"`
	Conflicts []Conflict `json:"conflicts,omitempty"`
	Chosen    *Amount    `json:"chosen_up_to,omitempty"`
	Prices    *Prices    `json:"prices,omitempty"`
}

// OfWhy is the document of an answer of "why"; talk is nil where a part was
// asked about, and about nil where none was.
func OfWhy(b catalog.Brief, v catalog.Vehicle, from Origin, d *advice.Desk, talk *advice.Talk, about *advice.Verdict) Why {
	r := d.Result
	doc := Why{Head: head(WhySchema, b, v, from), Conflicts: ofConflicts(r.Conflicts)}
	doc.Outcome, doc.Stop = r.Outcome.String(), r.Stop.String()
	best := d.Best()
	if best == nil {
		return doc
	}
	doc.Currency = best.Cost.Currency
	doc.Best = new(ofBuild(*best))
	if about != nil {
		doc.Part = new(ofVerdict(about))
		return doc
	}
	doc.Limits, doc.Stopped, doc.Asked = new(ofLimits(talk.Limits)), talk.Stopped, OfAsked(talk.Asked)
	for i := range talk.Changes {
		doc.Changes = append(doc.Changes, ofChange(&talk.Changes[i]))
	}
	if talk.Next != nil {
		doc.Next = new(ofChange(talk.Next))
	}
	for i := range talk.Roles {
		doc.Roles = append(doc.Roles, ofRole(&talk.Roles[i]))
	}
	for _, w := range talk.Wastes {
		waste := Waste{Other: *ofOther(&w.Step)}
		if w.Part != nil {
			waste.SKU = w.Part.SKU
		}
		doc.Wastes = append(doc.Wastes, waste)
	}
	for i := range talk.Ranges {
		doc.Prices = append(doc.Prices, *ofRange(&talk.Ranges[i]))
	}
	return doc
}

func ofLimits(l advice.Limits) Limits {
	doc := Limits{Hz: Number(l.Hz), Binding: l.Binding.String(), Left: []Left{}, Lifts: []Left{},
		Lifted: Lifted{Level(l.Lifted.Level), band(l.LiftedBand), Level(l.Gain), band(l.GainBand), l.Lifted.Limit.String()}}
	for _, m := range l.Margins {
		doc.Left = append(doc.Left, Left{Limit: m.Limit.String(), DB: Level(m.DB), More: m.More})
	}
	for _, x := range l.Lifts {
		doc.Lifts = append(doc.Lifts, Left{Limit: x.Limit.String(), DB: Level(x.DB), Band: band(x.Band)})
	}
	return doc
}

func ofOther(s *advice.Step) *Other {
	if s == nil {
		return nil
	}
	return &Other{Cost: money(s.Build.Cost), Extra: money(s.Cost), DB: Level(s.Build.Objective), Rise: Level(s.Difference.DB),
		Band: band(s.Difference.Band), Chance: chance(s.Difference), Tie: s.Tie, Parts: ofBuild(s.Build).Parts}
}

func ofChange(c *advice.Change) Change {
	doc := Change{More: money(c.Extra), Nothing: c.Nothing, Other: *ofOther(&c.Step)}
	if c.PerDB > 0 {
		doc.PerDB = money(catalog.Money{Minor: int64(c.PerDB + 0.5), Currency: c.Cost.Currency})
	}
	return doc
}

func ofRole(r *advice.Role) Role {
	doc := Role{SKU: r.Part.SKU, Without: ofOther(r.Without), Cheaper: ofOther(r.Cheaper)}
	if r.Instead != nil {
		doc.Instead = r.Instead.SKU
	}
	return doc
}

func ofRange(r *advice.Range) *Prices {
	doc := &Prices{SKU: r.Part.SKU, Bought: r.In, Now: money(r.Price), Dead: r.Dead}
	parts := func(b *optimizer.Build) []Part {
		if b == nil {
			return nil
		}
		return ofBuild(*b).Parts
	}
	if !r.Free {
		doc.Least, doc.Below = amount(r.Least), parts(r.Below)
	}
	if !r.Open {
		doc.Most, doc.Above = amount(r.Most), parts(r.Above)
	}
	return doc
}

func ofVerdict(v *advice.Verdict) Verdict {
	doc := Verdict{SKU: v.Part.SKU, Answer: v.Answer.String(), With: ofOther(v.With), Rules: v.Rules, Conflicts: ofConflicts(v.Conflicts)}
	if v.Role != nil {
		doc.Role = new(ofRole(v.Role))
	}
	if v.Answer == advice.AboveCap {
		doc.Cheapest, doc.Over = amount(v.Cheapest), amount(v.Over)
	}
	if v.Range != nil {
		doc.Prices = ofRange(v.Range)
		if !v.Range.In && !v.Range.Free {
			least := v.Range.Least
			least.Minor--
			doc.Chosen = amount(least)
		}
	}
	return doc
}
