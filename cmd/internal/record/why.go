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
	Schema   string  `json:"schema"`
	Currency string  `json:"currency"`
	Cap      *Amount `json:"cap,omitempty"`
	Outcome  string  `json:"outcome"`
	Stop     string  `json:"stop"`
	Goal     string  `json:"goal"`
	Vehicle  string  `json:"vehicle"`
	Origin
	Best *Build `json:"best,omitempty"`

	Limits  *Limits  `json:"limits,omitempty"`
	Asked   *Asked   `json:"asked,omitempty"`
	Changes []Change `json:"changes,omitempty"`
	Next    *Change  `json:"next,omitempty"`
	Roles   []Role   `json:"roles,omitempty"`
	Wastes  []Waste  `json:"wastes,omitempty"`
	Prices  []Prices `json:"prices,omitempty"`
	Stopped bool     `json:"stopped,omitempty"`

	Part *Verdict `json:"part,omitempty"`

	Conflicts []Conflict `json:"conflicts,omitempty"`
}

// Limits is what holds a build back.
type Limits struct {
	Hz      Figure `json:"hz"`
	Binding string `json:"binding"`
	Left    []Left `json:"left"`
	Lifted  struct {
		DB    Figure `json:"db"`
		Gain  Figure `json:"gain_db"`
		Limit string `json:"limit"`
	} `json:"lifted"`
	Lifts []Left `json:"lifts"`
}

// Left is a limit with decibels.
type Left struct {
	Limit string `json:"limit"`
	DB    Figure `json:"db"`
	More  bool   `json:"or_more,omitempty"`
}

// Other is another build, held against the best.
type Other struct {
	Cost   Amount `json:"cost"`
	Extra  Amount `json:"extra"` // over the best build's
	DB     Figure `json:"db"`
	Rise   Figure `json:"difference_db"`
	Band   Figure `json:"difference_band_db,omitempty"`
	Chance Figure `json:"chance,omitempty"`
	Tie    bool   `json:"tie"`
	Parts  []Part `json:"parts"`
}

// Change is what so much more in the cap buys.
type Change struct {
	More    Amount `json:"more_in_the_cap"`
	Nothing bool   `json:"nothing,omitempty"`
	PerDB   Figure `json:"per_db,omitempty"`
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
	doc := Why{Schema: WhySchema, Currency: b.Cap.Currency, Outcome: r.Outcome.String(), Stop: r.Stop.String(),
		Goal: goal(b.Goal), Vehicle: v.Name, Origin: from, Conflicts: ofConflicts(r.Conflicts)}
	if b.Cap != (catalog.Money{}) {
		doc.Cap = amount(b.Cap)
	}
	best := d.Best()
	if best == nil {
		return doc
	}
	doc.Currency = best.Cost.Currency
	build := ofBuild(*best)
	doc.Best = &build
	if about != nil {
		part := ofVerdict(about)
		doc.Part = &part
		return doc
	}
	limits := ofLimits(talk.Limits)
	doc.Limits, doc.Stopped, doc.Asked = &limits, talk.Stopped, OfAsked(talk.Asked)
	for i := range talk.Changes {
		doc.Changes = append(doc.Changes, ofChange(&talk.Changes[i]))
	}
	if talk.Next != nil {
		next := ofChange(talk.Next)
		doc.Next = &next
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

func amount(m catalog.Money) *Amount {
	a := money(m)
	return &a
}

func ofLimits(l advice.Limits) Limits {
	doc := Limits{Hz: Number(l.Hz), Binding: l.Binding.String(), Left: []Left{}, Lifts: []Left{}}
	for _, m := range l.Margins {
		doc.Left = append(doc.Left, Left{m.Limit.String(), Level(m.DB), m.More})
	}
	for _, x := range l.Lifts {
		doc.Lifts = append(doc.Lifts, Left{Limit: x.Limit.String(), DB: Level(x.DB)})
	}
	doc.Lifted.DB, doc.Lifted.Gain, doc.Lifted.Limit = Level(l.Lifted.Level), Level(l.Gain), l.Lifted.Limit.String()
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
		role := ofRole(v.Role)
		doc.Role = &role
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

// WhyHelp is the part of Help about why.
const WhyHelp = `
loudfor why --json
  schema        "loudfor/why/1"
  currency, cap, outcome, stop, goal, vehicle, demo, conflicts
                as for pick
  best          the best build, keys as above; its curve, assumed and warnings
                are not filled in: pick gives them
  limits        {hz, binding, left: [{limit, db, or_more}], lifted: {db, gain_db,
                limit}, lifts: [{limit, db}]}: what binds at the peak; how much
                each other limit has left there, were it the only one; the
                reading without the binding one, and what binds then; what the
                goal gains by lifting each alone
  asked         what every customer asks; what is not known is left out
    lights        {idle_volts, full_note, music, quieter_db, alternator_amps, mend}:
                  the battery's voltage with the engine idling; on a sustained note
                  at full level and on the heaviest note of balanced music {volts,
                  amps, dip_volts, dip_band_volts, dims}, dims from 0.5 V on; where
                  the note dims: how much quieter it does not, the rating of an
                  alternator with which it does not, and mend: {extra, dip_volts,
                  parts}, the build with the cheapest other amplifier or cable with
                  which it does not, left out where there is none
    room          {taken_m, free_m, where}: width, depth and height that the boxes
                  take and of the largest block beside, in front of or above them
    how_low       {hz, hz_band, or_below, place, tuning_hz}: the lowest frequency
                  within 6 dB of the middle of the bass, 50 Hz, everything shut,
                  at low volume; tuning_hz: of a port, below which it is not loud
    windows       [{openings, db, band_db, hz}]: the reading with other openings
    before        as in answers of pick
  changes       [{more_in_the_cap, nothing, per_db, ANOTHER}]: the best build for
                so much more; next: the next better one of all
  ANOTHER       cost; extra: over the best build's cost; db: level by the goal;
                difference_db, difference_band_db, chance: to the best; tie; parts
  roles         [{sku, without: ANOTHER, next_cheaper, with_next_cheaper:
                ANOTHER}]: no "without" where nothing can be built then
  wastes        [{sku, ANOTHER}]: cheaper builds below the best by less than 0.1
                dB; no sku where several parts change
  prices        [{sku, bought, now, least, most, below, above, nothing_above}]:
                between which prices of one piece, before tax, the best build
                stays the same; no least or most where there is no such end;
                below, above: the parts of the best build one unit beyond
  stopped       true where a time limit or an interrupt left something out
  part          with --part: {sku, answer, role, with: ANOTHER, cheapest,
                over_the_cap, rules, conflicts, chosen_up_to, prices}; answer: "in
                the best build", "possible", "above the cap" or "forbidden"
`
