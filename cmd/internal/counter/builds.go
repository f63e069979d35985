package counter

import (
	"context"
	"fmt"
	"time"

	"loudfor/catalog"
	"loudfor/cmd/internal/answer"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/record"
	"loudfor/optimizer"
)

// The first view: what this budget buys, in one figure; what a little more or
// less would; and the ranked builds to choose from. The figure and its
// neighbours come from the ladder, once that is climbed, so that they follow a
// slider at once; the ranking of alternatives is searched for when it rests.

type buildsBody struct {
	Sum      string // the budget
	Best     *headline
	Up, Down *neighbour
	Chart    *drawn
	Small    *drawn // the same for a narrow screen
	Rows     []row
	Ladder   bool // the rows are the ladder's: the ranking is still on its way
	Climbing bool // the ladder is on its way
	None     *noneWords
	Pending  bool   // nothing was found yet, which is no answer
	Gap      string // a search that was cut short
	Ties     []string
	Proof    string
	Choices  []choiceCard // the builds that are answered first
	Idle     []leftCard
	Today    string
	Built    []string // of the boxes that the shop would build
	Room     *plan    // of the first build
	Goal     string
	Versus   string
	Kept     []kept
}

// headline is the one build that everything else is measured against.
type headline struct {
	Level, Band, Where, Hz, Price, Left, Limit, Goal string
	Parts                                            []string
	Build, Quote                                     string // addresses
	Summary                                          string // for a screen reader, and for "was ... is now"
}

// neighbour is the next step of the ladder, up or down.
type neighbour struct {
	Money, Level string
	Mark         string
	Href, Words  string
}

// row is one build of a table.
type row struct {
	Rank               string
	Price, Level, Band string
	Hz, Limit          string
	Music, MusicBand   string // of the other goal
	Parts              []string
	Href, Code         string
	Behind, Mark       string // the first
}

// noneWords say why there is no build.
type noneWords struct {
	Cheapest, Href string // where the cap is the only reason
	Conflicts      []conflictWords
}

type conflictWords struct{ Rules, Remedies []string }

// shortly is how long an answer waits for the ranking when the ladder's is
// there already. A small catalogue is ranked within it.
var shortly = 60 * time.Millisecond

func (c *Counter) showBuilds(v *visit) error {
	q, err := c.question(v)
	if err != nil {
		return err
	}
	if v.wantsJSON() {
		r, err := c.ranking(v.context(), q)
		if err != nil {
			return err
		}
		shop, err := c.shop(v.context(), q)
		if err != nil {
			return err
		}
		doc := record.OfAnswers(q.job.Brief, q.job.Vehicle, record.Origin{Demo: q.Invented, Outdated: q.job.Vehicle.Outdated}, optimizer.Noticed, r)
		doc.BuiltBoxes, doc.BoxSearch = record.OfBuilt(shop, r.Builds, q.job.Brief.Celsius)
		return v.reply(doc)
	}
	var ladder optimizer.LadderResult
	var key string
	var climbed bool
	if !v.moving() || !q.job.Brief.BuildBoxes { // where boxes are built each budget has a ladder of its own
		if ladder, key, climbed, err = c.ladder(q); err != nil {
			return err
		}
	}
	body := buildsBody{Sum: v.voice.Money(q.job.Brief.Cap), Climbing: !climbed, Versus: pathVersus, Goal: q.job.Brief.Goal.String()}
	waits := ""
	if !climbed {
		waits = key
	}
	ranking, ranked, err := c.rankingFor(v, q, climbed)
	if err != nil {
		return err
	}
	if !climbed && key != "" {
		// A small catalogue is climbed at once; a move has waited for its answer already.
		if v.moving() {
			ladder, _, climbed, err = c.ladder(q)
		} else {
			ladder, climbed, err = c.shortly(v, q)
		}
		if err != nil {
			return err
		}
		if body.Climbing = !climbed; climbed {
			waits = ""
		}
	}
	if !ranked {
		body.Ladder, waits = true, q.key()
	}
	v.voice.fillBuilds(&body, q, ladder, climbed, ranking, ranked)
	if body.Built, err = c.builtWords(v, q, ranking.Builds); err != nil {
		return err
	}
	p := c.page(v, q, "builds", "What "+body.Sum+" buys")
	p.Form = c.form(v, q, pathBuilds)
	if body.Best != nil {
		p.Form.Says += ": " + body.Best.Level + " dB"
	}
	body.Kept = hidden(q)
	p.Waits, p.Refresh, p.Body = waits, waits != "", body
	return c.show(v, p, "builds")
}

// rankingFor waits for the ranking as long as there is nothing else to show,
// and shortly where the ladder answers already. While a slider moves it is not
// even begun then.
func (c *Counter) rankingFor(v *visit, q *question, climbed bool) (r optimizer.Answers, done bool, err error) {
	if !climbed && v.moving() && !q.job.Brief.BuildBoxes {
		r, err = c.soon(v.context(), q)
		return r, err == nil, err
	}
	if !climbed {
		r, err = c.ranking(v.context(), q)
		return r, err == nil, err
	}
	if r, done = c.rankings.look(q.key()); done || v.moving() {
		return r, done, nil
	}
	compute := c.answers(q)
	if r, done, err = c.rankings.begin(q.key(), compute); done || err != nil {
		return r, done, err
	}
	ctx, stop := context.WithTimeout(v.context(), shortly)
	defer stop()
	r, err = c.rankings.get(ctx, q.key(), compute)
	if gone(err) {
		return r, false, nil
	}
	return r, err == nil, err
}

func (v voice) fillBuilds(body *buildsBody, q *question, ladder optimizer.LadderResult, climbed bool, ranking optimizer.Answers, ranked bool) {
	at := -1
	if climbed {
		at = stepOf(ladder.Steps, q.job.Brief.Cap)
		marked := noticed(ladder.Steps, at)
		body.Chart, body.Small = v.staircase(q, ladder.Steps, marked, false), v.staircase(q, ladder.Steps, marked, true)
	}
	switch {
	case at >= 0:
		body.Best, body.Room = v.headline(q, ladder.Steps[at].Build), v.room(q, ladder.Steps[at].Build)
		v.neighbours(body, q, ladder.Steps, at)
	case ranked && len(ranking.Builds) > 0:
		body.Best, body.Room = v.headline(q, ranking.Builds[0]), v.room(q, ranking.Builds[0])
	case ranked && ranking.Outcome != optimizer.Infeasible && len(ladder.Steps) == 0:
		body.Pending = true
	default:
		body.None = v.none(q, ladder, ranking.Result)
		body.Ladder = false
	}
	switch {
	case ranked:
		for i := range ranking.Builds {
			body.Rows = append(body.Rows, v.row(q, &ranking.Builds[i], &ranking.Builds[0]))
		}
		body.Proof = facts.Proof(v, ranking.Result)
		body.Choices, body.Today = v.choices(q, &ranking), facts.Today(v, ranking.Before)
		body.Ties, body.Idle = facts.Ties(v, ranking.Builds), v.idle(q, &ranking)
		if ranking.Outcome == optimizer.Feasible {
			body.Gap = v.DB(ranking.Proof.GapDB)
		}
	case at >= 0:
		for i := at; i >= 0 && i > at-top; i-- {
			r := v.row(q, &ladder.Steps[i].Build, &ladder.Steps[at].Build)
			r.Rank, r.Mark = fmt.Sprint(at-i+1), ""
			body.Rows = append(body.Rows, r)
		}
	}
}

func (v voice) headline(q *question, b optimizer.Build) *headline {
	h := &headline{
		Level: v.DB(b.Objective), Price: v.Money(b.Cost), Left: v.Money(facts.Less(q.job.Brief.Cap, b.Cost)),
		Where: facts.Where(b.Reading.Place, b.Reading.Openings), Hz: v.Figure(b.Reading.Hz, 0), Limit: facts.Limit(b),
		Parts: boughtOf(b.Lines), Build: q.buildLink(pathBuild, b.Lines), Quote: q.buildLink(pathQuote, b.Lines), Goal: q.job.Brief.Goal.String(),
	}
	h.Band = v.band(b.Band())
	h.Summary = fmt.Sprintf("%s dB for %s", h.Level, h.Price)
	return h
}

// builtWords say what the boxes are that builds have built.
func (c *Counter) builtWords(v *visit, q *question, builds []optimizer.Build) ([]string, error) {
	shop, err := c.shop(v.context(), q)
	if shop == nil || err != nil || len(builds) == 0 {
		return nil, err
	}
	return answer.BuiltWords(q.job.Question(), shop, builds), nil
}

// choiceCard is one of them with its address.
type choiceCard struct {
	facts.Card
	Href string
}

// choices are the builds that are answered first.
func (v voice) choices(q *question, a *optimizer.Answers) (all []choiceCard) {
	for _, c := range facts.Cards(v, q.job.Brief, a) {
		all = append(all, choiceCard{c, q.buildLink(pathBuild, c.Build.Lines)})
	}
	return all
}

// leftCard is an owned part without a use, with the address of the best build that has one.
type leftCard struct {
	facts.Left
	Href string
}

func (v voice) idle(q *question, a *optimizer.Answers) (all []leftCard) {
	for _, l := range facts.Idle(v, q.job.Brief, a) {
		card := leftCard{Left: l}
		if l.Best != nil {
			card.Href = q.buildLink(pathBuild, l.Best.Lines)
		}
		all = append(all, card)
	}
	return all
}

// neighbours are the next steps above and below that would be noticed.
func (v voice) neighbours(body *buildsBody, q *question, steps []optimizer.Step, at int) {
	here := &steps[at]
	louder := func(a, b *optimizer.Step) bool { return b.Build.Objective-a.Build.Objective >= optimizer.Noticed }
	between := func(a, b *optimizer.Step) *optimizer.Step { return &optimizer.Thin([]optimizer.Step{*a, *b}, 0)[1] }
	up, down := at+1, at-1
	for up < len(steps) && !louder(here, &steps[up]) {
		up++
	}
	for down >= 0 && !louder(&steps[down], here) {
		down--
	}
	if up < len(steps) {
		s := between(here, &steps[up])
		body.Up = &neighbour{v.Money(facts.Less(s.Build.Cost, here.Build.Cost)), v.Signed(s.Rise), mark(s.Over(), s.Tie, s.Rise),
			q.link(pathBuilds, keyCap, s.Build.Cost.Decimal()), facts.Change(here.Build.Lines, s.Build.Lines)}
	}
	if down >= 0 {
		s, less := &steps[down], between(&steps[down], here)
		body.Down = &neighbour{v.Money(less.Extra), v.Signed(-less.Rise), mark(less.Over(), less.Tie, less.Rise),
			q.link(pathBuilds, keyCap, s.Build.Cost.Decimal()), facts.Change(here.Build.Lines, s.Build.Lines)}
	}
}

func (v voice) row(q *question, b, first *optimizer.Build) row {
	r := row{
		Rank: fmt.Sprint(b.Rank), Price: v.Money(b.Cost), Level: v.DB(b.Objective),
		Hz: v.Figure(b.Reading.Hz, 0), Music: v.DB(b.Music.DB), MusicBand: v.band(b.Music.Band), Limit: b.Operation.Limit.String(),
		Parts: boughtOf(b.Lines), Href: q.buildLink(pathBuild, b.Lines), Code: codeOf(b.Lines),
	}
	if q.job.Brief.Goal == catalog.GoalMusic {
		r.Music, r.MusicBand = v.DB(b.Reading.DB), v.band(b.Reading.Band)
	}
	r.Band = v.band(b.Band())
	if b != first {
		r.Behind, r.Mark = v.Signed(b.Objective-first.Objective), mark(b.Difference, b.Tie, b.Objective-first.Objective)
	}
	return r
}

// none says why nothing can be built: for too little money, or for what the
// search found to block.
func (v voice) none(q *question, ladder optimizer.LadderResult, ranking optimizer.Result) *noneWords {
	n := &noneWords{}
	if len(ladder.Steps) > 0 {
		first := ladder.Steps[0].Build.Cost
		n.Cheapest, n.Href = v.Money(first), q.link(pathBuilds, keyCap, first.Decimal())
		return n
	}
	conflicts := ranking.Conflicts
	if len(conflicts) == 0 {
		conflicts = ladder.Conflicts
	}
	for _, conflict := range conflicts {
		var words conflictWords
		for _, r := range conflict {
			words.Rules = append(words.Rules, facts.Requirement(r))
			words.Remedies = append(words.Remedies, r.Remedy)
		}
		n.Conflicts = append(n.Conflicts, words)
	}
	return n
}

// buildLink is the address of a view of one build.
func (q *question) buildLink(path string, lines []optimizer.Line) string {
	return q.link(path, keyParts, codeOf(lines))
}

// keyParts holds the code of one build; see codeOf.
const keyParts = "parts"

// hidden are the question's values as fields of a form.
func hidden(q *question) (all []kept) {
	for _, name := range sortedNames(q.values) {
		for _, value := range q.values[name] {
			all = append(all, kept{name, value})
		}
	}
	return all
}

// boughtOf names each part that has to be bought.
func boughtOf(lines []optimizer.Line) (names []string) {
	for _, line := range lines {
		if n := line.Count - line.Owned; n > 0 {
			names = append(names, times(n, facts.Name(line.Part)))
		}
	}
	if len(names) == 0 {
		return []string{"nothing to buy"}
	}
	return names
}
