package record

import (
	"math"
	"math/big"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
	"loudfor/optimizer/build"
)

// From the search's structs to the shapes that scripts read.

// OfPick is the document of a pick.
func OfPick(b catalog.Brief, v catalog.Vehicle, from Origin, r optimizer.Result) Pick {
	doc := Pick{Head: head(PickSchema, b, v, from), Proof: ofProof(r.Proof, r.Outcome), Rough: r.Rough, Builds: []Build{}, Conflicts: ofConflicts(r.Conflicts)}
	doc.Cap, doc.Outcome, doc.Stop = amount(b.Cap), r.Outcome.String(), r.Stop.String()
	for _, build := range r.Builds {
		doc.Builds = append(doc.Builds, ofBuild(build))
	}
	return doc
}

// head begins the answer about a brief.
func head(schema string, b catalog.Brief, v catalog.Vehicle, from Origin) Head {
	doc := Head{Schema: schema, Currency: b.Cap.Currency, Goal: goal(b.Goal), Vehicle: v.Name, Origin: from}
	if b.Cap.Minor > 0 {
		doc.Cap = amount(b.Cap)
	}
	return doc
}

// OfAnswers is the document of a pick with the builds that are answered first.
func OfAnswers(b catalog.Brief, v catalog.Vehicle, from Origin, within float64, a optimizer.Answers) Pick {
	doc := OfPick(b, v, from, a.Result)
	if len(a.Builds) == 0 {
		return doc
	}
	doc.Answers = &Answers{WithinDB: Level(within), Whole: a.Whole, Value: ofAnswer(a.Value), Other: ofAnswer(a.Other)}
	doc.Answers.Before = before(a.Before)
	for _, k := range a.Idle {
		doc.Answers.Idle = append(doc.Answers.Idle, Kept{k.Part.SKU, k.Idle, k.None, ofAnswer(k.Best)})
	}
	return doc
}

func ofAnswer(a *optimizer.Answer) *Answer {
	if a == nil {
		return nil
	}
	build := ofBuild(a.Build)
	build.Rank = 1 // of its own question
	return &Answer{Reading: difference(a.Reading), Music: difference(a.Music), Build: build}
}

func ofConflicts(sets [][]optimizer.Requirement) (all []Conflict) {
	for _, conflict := range sets {
		var c Conflict
		for _, requirement := range conflict {
			c.Requirements = append(c.Requirements, requirement.Kind.String()+": "+requirement.Words)
			c.Unblock = append(c.Unblock, requirement.Remedy)
		}
		all = append(all, c)
	}
	return all
}

// OfPredict is the document of a prediction; asked may be nil.
func OfPredict(v catalog.Vehicle, b optimizer.Build, asked *advice.Asked) Predict {
	return Predict{Schema: PredictSchema, Currency: b.Cost.Currency, Vehicle: v.Name, Build: ofBuild(b), Asked: OfAsked(asked), Curve: OfCurve(b.Curve)}
}

func ofBuild(b optimizer.Build) Build {
	o := b.Operation
	doc := Build{
		Rank: b.Rank, Cost: money(b.Cost),
		Reading: Reading{DB: Level(b.Reading.DB), BandDB: band(b.Reading.Band), Hz: Number(b.Reading.Hz),
			Place: b.Reading.Place, Openings: b.Reading.Openings},
		Music:   music(&b),
		Limit:   o.Limit.String(),
		Clamp:   Clamp{Volts: Number(o.Volts), Amps: Number(o.Amps), Ohms: Number(o.Load), Watts: Number(o.Watts)},
		Hookup:  b.Plan.Words,
		LoadOhm: Number(b.Plan.Load),
		Parts:   []Part{},
		Tie:     b.Tie, Assumed: orEmpty(b.Assumed), Warnings: orEmpty(b.Warnings), Refused: b.Fault,
	}
	if b.Rank > 1 {
		doc.Difference = difference(b.Difference)
	}
	for _, line := range b.Lines {
		// What is bought and what is there already are two lines: they differ
		// in what they cost.
		for _, f := range line.Purchases() {
			part := Part{SKU: line.Part.SKU, Count: f.Count, Price: money(f.Each)}
			if len(line.From) > 0 {
				part.Store = f.Store
			}
			doc.Parts = append(doc.Parts, part)
		}
		if line.Owned > 0 {
			doc.Parts = append(doc.Parts, Part{SKU: line.Part.SKU, Count: line.Owned, Owned: true})
		}
	}
	for _, d := range b.Deals {
		doc.Deals = append(doc.Deals, Deal{Name: d.Name, Times: d.Times, Saving: money(d.Saving)})
	}
	for _, l := range b.Labour {
		doc.Labour = append(doc.Labour, Labour{Name: l.Name, Count: l.Count, Price: money(l.Each)})
	}
	for _, t := range b.Taxes {
		doc.Taxes = append(doc.Taxes, Tax{RatePercent: Number(float64(t.PPM) / ppmPerPercent), Sum: money(t.Sum), Tax: money(t.Tax)})
	}
	return doc
}

func difference(d optimizer.Difference) *Difference {
	return &Difference{DB: Level(d.DB), BandDB: Level(d.Band), Chance: chance(d)}
}

// chance is left out where none was drawn.
func chance(d optimizer.Difference) Figure {
	if d.Chance == 0 && d.Band == 0 {
		return ""
	}
	return Number(d.Chance)
}

// ppmPerPercent is how many of the millionths of a tax rate make a percent.
const ppmPerPercent = 1e4

// OfCurve is a curve as JSON and CSV have it.
func OfCurve(points []bass.Operation) []Point {
	out := make([]Point, len(points))
	for i, p := range points {
		out[i] = Point{
			FrequencyHz: Number(p.Hz), ImpedanceOhm: Number(p.Load),
			ImpedancePhaseDeg: Number(p.Phase * 180 / math.Pi),
			ExcursionMM:       Number(p.Travel * 1e3), PortSpeed: Number(p.PortSpeed),
			LevelDB: Level(p.Level), Limit: p.Limit.String(),
		}
	}
	return out
}

// ofProof leaves the gap out where nothing was found that it could be a gap to.
func ofProof(p optimizer.Proof, outcome optimizer.Outcome) Proof {
	doc := Proof{Combinations: whole(p.Combinations), Evaluated: whole(p.Evaluated), Dropped: map[string]Figure{}, GapDB: Level(p.GapDB)}
	for _, drop := range p.Dropped {
		doc.Dropped[reasonKeys[drop.Reason]] = whole(drop.Count)
	}
	if outcome == optimizer.Unknown {
		doc.GapDB = ""
	}
	return doc
}

// reasonKeys are the keys of the reasons. The words stand here, so that a better word
// in the search does not break a script.
var reasonKeys = [build.ReasonCount]string{
	optimizer.DropNotOffered: "not_offered",
	optimizer.DropFit:        "does_not_fit",
	optimizer.DropHookup:     "no_valid_hookup",
	optimizer.DropCap:        "over_the_cap",
	optimizer.DropMust:       "required_part_missing",
	optimizer.DropKit:        "cable_current",
	optimizer.DropRest:       "incomplete_or_outranked",
	optimizer.DropBound:      "bound",
	optimizer.DropOrder:      "dominated",
	optimizer.DropTime:       "not_reached",
}

// whole writes a count in full: it may exceed any machine word.
func whole(n *big.Int) Figure {
	if n == nil {
		return "0"
	}
	return Figure(n.String())
}

func money(m catalog.Money) Amount { return Amount(m.Decimal()) }

// amount is a sum of a key that may be left out.
func amount(m catalog.Money) *Amount { return new(money(m)) }

func goal(g catalog.Goal) string {
	if g == catalog.GoalMusic {
		return "music"
	}
	return "reading"
}

// orEmpty makes an empty list of a missing one: scripts need not tell them apart.
func orEmpty(words []string) []string {
	if words == nil {
		return []string{}
	}
	return words
}

// music is the balanced playback with its two parts.
func music(b *optimizer.Build) Music {
	m := Music{DB: Level(b.Music.DB), BandDB: band(b.Music.Band), BassDB: Level(b.Music.Bass), BassBandDB: band(b.Music.BassBand)}
	if b.Front.DB > 0 {
		m.FrontDB, m.FrontBandDB = Level(b.Front.DB), band(b.Front.Band)
	}
	return m
}

// band is the half-width of a band, left out where none was drawn: a search
// that was interrupted, or a ladder.
func band(db float64) Figure {
	if db == 0 {
		return ""
	}
	return Level(db)
}
