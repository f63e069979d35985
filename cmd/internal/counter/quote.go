package counter

import (
	"fmt"
	"strconv"
	"time"

	"loudfor/catalog"
	"loudfor/catalog/book"
	"loudfor/catalog/letterhead"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/record"
	"loudfor/model/hearing"
	"loudfor/optimizer"
)

// The customer's quote: one printed page that can be read from a step away, in
// words of someone who has never bought a loudspeaker. It says what a meter
// would show, what that is like, how long ears may stand it, what the next step
// up would cost, and what is in the price.

type quoteBody struct {
	Customer, Name string
	Shop           *letterhead.Shop
	Number         string // of the quote in the book; empty: it is not booked
	Date, Until    string
	Head           *headline
	Car            string
	Scale          *soundScale
	Music, Bass    *soundWords
	Caution        string
	Up             *upWords
	Asked          []figureLine
	Choices        []facts.Card
	Parts          []partLine
	Work           []sumLine // what is done, and paid for
	Extras         []sumLine
	Total          string
	Cautions       []string
	Figure, Band   string // the large figure
	About          string // what it is
	Many           bool   // so many lines that they have to be set closer
	Book           bool
	BookPath       string
	Kept           []kept
	Build          string
	Booked         string // job
	Stale          string // it changed under the page that should have been booked
	Given          string // address of the quote as it was given
	Invented       bool
}

// soundWords say of one kind of playing how loud it is and for how long.
type soundWords struct {
	Level, Like, Permitted string
	Meter                  string // what a meter shows, where that is not what ears hear
}

// upWords are what a louder system would cost.
type upWords struct {
	More, Sum, Level string
	Href             string
	Beyond           string // nothing louder up to this sum
	Waiting          bool
}

// keyCustomer is the name on the page.
const keyCustomer = "customer"

func (c *Counter) showQuote(v *visit) error {
	q, err := c.question(v)
	if err != nil {
		return err
	}
	query := v.URL.Query()
	code := query.Get(keyParts)
	if code == "" {
		r, err := c.ranking(v.context(), q)
		if err != nil {
			return err
		}
		if len(r.Builds) == 0 {
			return unknownError{"no build satisfies the brief, so there is nothing to quote; see the ranked builds for what blocks"}
		}
		code = codeOf(r.Builds[0].Lines)
	}
	if v.wantsJSON() {
		b, err := c.build(v.context(), q, code)
		if err != nil {
			return err
		}
		asked, err := c.askedOf(v.context(), q, code, b)
		if err != nil {
			return err
		}
		return v.reply(record.OfPredict(q.job.Vehicle, b, asked))
	}
	customer := q.customer
	if query.Has(keyCustomer) {
		customer = clipped(one(query, keyCustomer))
	}
	p, b, err := c.quotePage(v, q, code, customer)
	if err != nil {
		return err
	}
	body := p.Body.(*quoteBody)
	body.Book, body.BookPath = c.book != nil, pathBook
	body.Kept = append(hidden(q), kept{keyParts, code}, kept{keyWas, figures(b)})
	if was := clipped(one(query, keyWas)); was != "" && was != figures(b) {
		body.Stale = facts.Capital(staleError{was, figures(b)}.Error())
	}
	if booked := c.bookedAs(v, one(query, keyBooked), b); booked != nil {
		body.Booked, body.Given = strconv.FormatInt(booked.Job, 10), givenLink(booked.ID)
		v.voice.date(body, v.stock.shop, booked.ID, booked.Quoted)
	}
	return c.show(v, p, "quote")
}

// quotePage is the quote for parts, with what is still worked out left open.
func (c *Counter) quotePage(v *visit, q *question, code, customer string) (*page, optimizer.Build, error) {
	b, err := c.build(v.context(), q, code)
	if err != nil {
		return nil, b, err
	}
	r, err := c.ranking(v.context(), q)
	if err != nil {
		return nil, b, err
	}
	asked, err := c.askedOf(v.context(), q, code, b)
	if err != nil {
		return nil, b, err
	}
	body := v.voice.quoteBody(q, b)
	body.Asked, body.Choices = v.voice.answered(b, asked, true), facts.Cards(v.voice, q.job.Brief, &r)
	body.Customer = customer
	v.voice.date(body, v.stock.shop, 0, c.options.Now())
	p := c.page(v, q, "quote", "Quote: "+body.Head.Summary)
	ladder, key, done, err := c.ladder(q)
	if err == nil && !done {
		ladder, done, err = c.shortly(v, q)
	}
	if err != nil {
		return nil, b, err
	}
	if body.Up = v.voice.up(q, ladder.Steps, b); !done {
		body.Up, p.Waits, p.Refresh = &upWords{Waiting: true}, key, true
	}
	p.Body = body
	return p, b, nil
}

// date puts the shop at the head of a quote, with its number and its days.
func (v voice) date(body *quoteBody, shop *letterhead.Shop, number int64, on time.Time) {
	const long = "2 January 2006"
	body.Shop, body.Date = shop, on.Format(long)
	if number != 0 {
		body.Number = strconv.FormatInt(number, 10)
	}
	if shop.ValidFor > 0 {
		body.Until = on.AddDate(0, 0, shop.ValidFor).Format(long)
	}
}

// givenLink is the address of a quote as it was given.
func givenLink(quote int64) string { return pathGiven + "?quote=" + strconv.FormatInt(quote, 10) }

// bookedAs is the latest quote of a job in the book, if it is this one: whoever
// reads an address may have typed it.
func (c *Counter) bookedAs(v *visit, job string, b optimizer.Build) *book.QuoteSummary {
	id, err := strconv.ParseInt(job, 10, 64)
	if err != nil || c.book == nil {
		return nil
	}
	quotes, err := c.book.Quotes(v.context(), id)
	if err != nil || len(quotes) == 0 {
		return nil
	}
	if q := &quotes[len(quotes)-1]; q.Price == b.Cost && sameParts(q.Lines, b.Lines) {
		return q
	}
	return nil
}

func (v voice) quoteBody(q *question, b optimizer.Build) *quoteBody {
	body := &quoteBody{
		Name: q.job.Brief.Name, Head: v.headline(q, b), Car: carWords(q), Total: v.Money(b.Cost), Invented: q.Invented, Build: q.buildLink(pathBuild, b.Lines),
		Cautions: []string{
			"Fuse the power cable within about 45 cm of the battery, and disconnect the battery's negative terminal before any work.",
			"Cable and fuse are minimums; local codes and licensed practice decide. Noise rules apply on public roads.",
		},
	}
	for _, c := range facts.Bill(b) {
		if line := v.charge(c); c.What == "labour" {
			body.Work = append(body.Work, sumLine{facts.Capital(times(c.Count, c.Name)), line.Sum})
		} else {
			body.Extras = append(body.Extras, line)
		}
	}
	for _, doubt := range b.Doubts {
		body.Cautions = append(body.Cautions, "To be looked at before anything is bought: "+doubt+".")
	}
	for _, what := range facts.ToAdd(q.job.Question(), b) {
		body.Cautions = append(body.Cautions, "Not in the price: "+what+".")
	}
	for _, line := range b.Lines {
		p := v.partLine(line)
		p.Why = plainKinds[line.Part.Kind]
		body.Parts = append(body.Parts, p)
	}
	heard := facts.Hearing(b)
	dba := heard.DBA
	body.Bass = &soundWords{Level: v.Figure(dba, 0), Like: like(dba), Permitted: heard.Permitted, Meter: v.Figure(b.Reading.DB, 0)}
	loudest := dba
	if b.Music.DB > 0 {
		// Balanced playback reaches this level where the front speakers play,
		// and there the A scale takes almost nothing off (IEC 61672-1).
		body.Music = &soundWords{Level: v.Figure(b.Music.DB, 0), Like: like(b.Music.DB), Permitted: facts.Permitted(b.Music.DB)}
		loudest = max(loudest, b.Music.DB)
	}
	body.Caution = facts.Capital(hearing.Caution(b.Reading.DB, loudest))
	body.Scale = v.soundScale(b.Music.DB, dba)
	body.Figure, body.About = v.Figure(b.Reading.DB, 0), "is what a sound meter shows "+facts.Where(b.Reading.Place, b.Reading.Openings)
	if q.job.Brief.Goal == catalog.GoalMusic {
		body.Figure, body.About = v.Figure(b.Music.DB, 0), "is how loud it plays music, with bass and voices in balance"
	}
	if band := b.Band(); band > 0 {
		body.Band = v.Figure(band, 0)
	}
	body.Many = len(body.Parts)+len(body.Work)+len(body.Extras) > mostLoose
	return body
}

// mostLoose is how many lines of the bill leave room for all else on one page.
const mostLoose = 7

// plainKinds say what a part is for, to someone who never saw one.
var plainKinds = [catalog.KindCount]string{
	catalog.KindSubwoofer: "the speaker that makes the bass",
	catalog.KindAmplifier: "the power behind the speakers",
	catalog.KindEnclosure: "the box that the bass speaker works in",
	catalog.KindLoaded:    "a bass speaker, ready in its box",
	catalog.KindFront:     "the pair in the doors: voices and instruments",
	catalog.KindSource:    "the radio that everything starts from",
	catalog.KindConverter: "lets the radio talk to the amplifier",
	catalog.KindBlocker:   "keeps deep bass off small speakers",
	catalog.KindKit:       "cable and fuse that carry the power",
}

// up is what 2 dB more cost, which is what most people notice; where the next
// step is louder than that it is the next step.
func (v voice) up(q *question, steps []optimizer.Step, b optimizer.Build) *upWords {
	if len(steps) == 0 {
		return &upWords{Beyond: v.Money(q.reach())}
	}
	for i := range steps {
		s := &steps[i]
		if s.Build.Cost.Minor <= b.Cost.Minor || s.Build.Objective < b.Objective+optimizer.LadderRise {
			continue
		}
		return &upWords{More: v.Money(facts.Less(s.Build.Cost, b.Cost)), Sum: v.Money(s.Build.Cost), Level: v.Figure(s.Build.Objective-b.Objective, 0),
			Href: q.buildLink(pathQuote, s.Build.Lines)}
	}
	return &upWords{Beyond: v.Money(q.reach())}
}

// everyday are sounds that people know, dBA where one stands when hearing them:
// CDC, "What noises cause hearing loss?" (from memory); the last one is common
// practice, no source.
var everyday = []struct {
	dba  float64
	name string
}{
	{60, "a conversation"},
	{70, "a washing machine"},
	{82, "city traffic from inside a car"},
	{90, "a petrol lawn mower"},
	{95, "a motorcycle riding past"},
	{100, "an underground train coming in"},
	{105, "earphones turned right up"},
	{110, "someone shouting into your ear"},
	{120, "standing beside a siren"},
	{130, "a jet taking off near by"},
}

// like names the everyday sound that a level comes nearest to.
func like(dba float64) string {
	if dba >= 135 {
		return "louder than a jet taking off near by"
	}
	best := everyday[0]
	for _, sound := range everyday {
		if abs(sound.dba-dba) <= abs(best.dba-dba) {
			best = sound
		}
	}
	return best.name
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

// soundScale is a rule with everyday sounds on one side and this system on the
// other.
type soundScale struct {
	Width, Height int
	Line          float64 // where the rule lies
	Left, Right   float64
	Sounds        []soundTick
	Marks         []soundTick
	Safe          float64 // where 85 dBA lie
	SafeEnd       string  // which end of its words stands there, so that no pin goes through them; empty: there is no room
	Words         string
}

type soundTick struct {
	X     float64
	Words []string
	Level string
	End   string // where the words end at the pin: start or end
	Row   float64
	Shift float64 // of the words against the pin
}

// scaleFrom and scaleTo are the ends of the rule, dBA.
const scaleFrom, scaleTo = 55.0, 135.0

// safeWords is how long the words at 85 dBA are at most, and pinRadius a pin's,
// with some air.
const safeWords, pinRadius = 200.0, 14.0

func (v voice) soundScale(music, bass float64) *soundScale {
	d := &soundScale{Width: 1000, Height: 284, Line: 136, Left: 20, Right: 980}
	x := func(dba float64) float64 {
		return tenth(d.Left + (min(max(dba, scaleFrom), scaleTo)-scaleFrom)/(scaleTo-scaleFrom)*(d.Right-d.Left))
	}
	for i, s := range everyday {
		// Three rows: neighbours are as little as 4 dB apart.
		d.Sounds = append(d.Sounds, soundTick{X: x(s.dba), Words: halves(s.name), Level: v.Figure(s.dba, 0), Row: d.Line + 40 + 44*float64(i%3)})
	}
	d.Safe = x(hearing.CriterionLevel)
	bassAt := soundTick{X: x(bass), Words: []string{"one bass note: " + v.Figure(bass, 0)}, Row: 92}
	musicAt := soundTick{X: x(music), Words: []string{"music flat out: " + v.Figure(music, 0)}, Row: 40}
	clear := func(from, to float64) bool {
		return (bassAt.X < from || bassAt.X > to) && (music <= 0 || musicAt.X < from || musicAt.X > to)
	}
	switch {
	case clear(d.Safe-safeWords, d.Safe+pinRadius):
		d.SafeEnd = "end"
	case clear(d.Safe-pinRadius, d.Safe+safeWords):
		d.SafeEnd = "start"
	}
	// Each runs away from the other, so that no pin crosses words, but never
	// off the paper.
	bassAt.End, musicAt.End = "end", "start"
	if music > 0 && musicAt.X < bassAt.X {
		bassAt.End, musicAt.End = "start", "end"
	}
	d.Words = fmt.Sprintf("To the ear one bass note counts %s dB, like %s", v.Figure(bass, 0), like(bass))
	d.Marks = []soundTick{bassAt}
	if music > 0 {
		d.Marks = append(d.Marks, musicAt)
		d.Words += fmt.Sprintf("; music flat out %s dB, like %s", v.Figure(music, 0), like(music))
	}
	for i := range d.Marks {
		switch m := &d.Marks[i]; {
		case m.X < 260:
			m.End = "start"
		case m.X > 740:
			m.End = "end"
		}
		d.Marks[i].Shift = map[string]float64{"start": -11, "end": 11}[d.Marks[i].End]
	}
	return d
}

// halves breaks words into two lines of about the same length.
func halves(text string) []string {
	best := -1
	for i, r := range text {
		if r == ' ' && (best < 0 || abs(float64(2*i-len(text))) < abs(float64(2*best-len(text)))) {
			best = i
		}
	}
	if best < 0 || len(text) < 12 {
		return []string{text}
	}
	return []string{text[:best], text[best+1:]}
}
