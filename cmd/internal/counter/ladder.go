package counter

import (
	"fmt"
	"strings"

	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/record"
	"loudfor/optimizer"
)

// The ladder: what every price buys, up to well above the cap.

type ladderBody struct {
	Sum          string
	Climbing     bool
	Chart        *drawn
	Small        *drawn
	Steps        []stepRow
	None         *noneWords
	Worth        string
	WorthAt      string
	Steep        bool
	Complete     string
	CompleteHref string
	Proof        string
	Reach        string
	Here         string
	Summary      string
	All          string // how many steps there are
	Every        bool   // all of them are listed
	EveryHref    string // the other way
}

// keyEvery asks for every step, and not only for those that people notice.
const keyEvery = "every"

type stepRow struct {
	Number            int
	Price, Level      string
	Band, Gain, Extra string
	Next              string
	Change            string
	Href, Builds      string
	Here, Over, Steep bool
	Mark              string
}

func (c *Counter) showLadder(v *visit) error {
	q, err := c.question(v)
	if err != nil {
		return err
	}
	if v.wantsJSON() {
		r, err := c.climbed(v.context(), q)
		if err != nil {
			return err
		}
		brief, _ := q.ladderQuestion()
		return v.reply(record.OfLadder(brief, q.job.Vehicle, record.Origin{Demo: q.Invented, Outdated: q.job.Vehicle.Outdated}, q.worth, facts.Changes(r.Steps), r))
	}
	r, key, done, err := c.ladder(q)
	if err != nil {
		return err
	}
	if !done {
		// A small catalogue is climbed at once.
		if r, done, err = c.shortly(v, q); err != nil {
			return err
		}
	}
	body := &ladderBody{Sum: v.voice.Money(q.job.Brief.Cap), Climbing: !done, Reach: v.voice.Money(q.reach())}
	p := c.page(v, q, "ladder", "What every price buys")
	if done {
		v.voice.fillLadder(body, q, r, one(v.URL.Query(), keyEvery) != "")
	} else {
		p.Waits, p.Refresh = key, true
	}
	p.Form = c.form(v, q, pathLadder)
	if body.Every {
		p.Form.Kept = append(p.Form.Kept, kept{keyEvery, "yes"})
	}
	p.Body = body
	return c.show(v, p, "ladder")
}

func (v voice) fillLadder(body *ladderBody, q *question, r optimizer.LadderResult, every bool) {
	if r.Complete != nil {
		body.Complete = fmt.Sprintf("%s, at %s dB", v.Money(r.Complete.Cost), v.DB(r.Complete.Objective))
		body.CompleteHref = q.link(pathBuild, keyParts, codeOf(r.Complete.Lines), keyFront, "replace", keyCap, r.Complete.Cost.Decimal())
	}
	if len(r.Steps) == 0 {
		body.None = v.none(q, r, optimizer.Result{})
		return
	}
	here := stepOf(r.Steps, q.job.Brief.Cap)
	listed := r.Steps
	if !every {
		listed = noticed(r.Steps, here)
	}
	body.All, body.Every, body.EveryHref = v.Count(len(r.Steps)), every, q.link(pathLadder, keyEvery, map[bool]string{false: "yes"}[every])
	body.Chart, body.Small = v.staircase(q, r.Steps, listed, false), v.staircase(q, r.Steps, listed, true)
	changes := facts.Changes(listed)
	for i := range listed {
		number := stepOf(r.Steps, listed[i].Build.Cost)
		row := v.stepRow(q, listed, i, number == here, number > here, changes[i])
		row.Number = number + 1
		body.Steps = append(body.Steps, row)
	}
	if here >= 0 {
		b := r.Steps[here].Build
		body.Summary = fmt.Sprintf("%s dB for %s", v.DB(b.Objective), v.Money(b.Cost))
	}
	if q.worth != nil {
		body.Worth, body.Steep = v.Money(*q.worth), true
		if at := r.WorthUpTo(*q.worth); at >= 0 {
			s := &r.Steps[at]
			body.WorthAt = fmt.Sprintf("From step %d on (%s, %s dB) 2 dB more cost more than that.", at+1, v.Money(s.Build.Cost), v.DB(s.Build.Objective))
		} else {
			body.WorthAt = "Nowhere up to the end of the ladder."
		}
	}
	body.Proof = strings.Join(facts.LadderProof(v, r), " ")
}

func (v voice) stepRow(q *question, steps []optimizer.Step, i int, here, over bool, change string) stepRow {
	s := &steps[i]
	row := stepRow{Price: v.Money(s.Build.Cost), Level: v.DB(s.Build.Objective), Change: change,
		Href: q.buildLink(pathBuild, s.Build.Lines), Builds: q.link(pathBuilds, keyCap, s.Build.Cost.Decimal()),
		Here: here, Over: over, Steep: q.worth != nil && s.Steep(*q.worth)}
	row.Band = v.band(s.Build.Band())
	if i > 0 {
		row.Gain, row.Extra, row.Mark = v.Signed(s.Rise), v.Money(s.Extra), mark(s.Over(), s.Tie, s.Rise)
	}
	switch {
	case !s.Open:
		row.Next = v.Money(s.Next)
	case s.Next.Minor > 0:
		row.Next = "> " + v.Money(s.Next)
	default:
		row.Next = "–"
	}
	return row
}
