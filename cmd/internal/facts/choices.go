package facts

import (
	"fmt"
	"slices"
	"unicode"
	"unicode/utf8"

	"loudfor/catalog"
	"loudfor/model/bass"
	"loudfor/optimizer"
)

// What a builder says across the counter: two or three builds, what each does,
// and what the one gives for the other.

// Choice is one of the builds that are answered first.
type Choice struct {
	Names []string // "loudest", "best value", "best for music"
	optimizer.Answer
}

// Name is all that it is.
func (c Choice) Name() string { return List(c.Names) }

// GoalName is what the best by a goal is called.
func GoalName(g catalog.Goal) string {
	if g == catalog.GoalMusic {
		return "best for music"
	}
	return "loudest"
}

// otherGoal is the one that a brief does not rank by.
func otherGoal(g catalog.Goal) catalog.Goal {
	if g == catalog.GoalMusic {
		return catalog.GoalReading
	}
	return catalog.GoalMusic
}

// Choices are the answers, the brief's own first, each build once.
func Choices(brief catalog.Brief, a *optimizer.Answers) (all []Choice) {
	if len(a.Builds) == 0 {
		return nil
	}
	all = append(all, Choice{[]string{GoalName(brief.Goal)}, optimizer.Answer{Build: a.Builds[0]}})
	for _, c := range []struct {
		name   string
		answer *optimizer.Answer
	}{{"best value", a.Value}, {GoalName(otherGoal(brief.Goal)), a.Other}} {
		if c.answer == nil {
			continue
		}
		known := false
		for i := range all {
			if known = all[i].Build.Same(&c.answer.Build); known {
				all[i].Names = append(all[i].Names, c.name)
				break
			}
		}
		if !known {
			all = append(all, Choice{[]string{c.name}, *c.answer})
		}
	}
	return all
}

// Card is what a choice says, in words.
type Card struct {
	Name          string // "Loudest"
	Cost          string
	Reading       string
	Music         string
	Held          string // what holds it back
	Parts, Hookup string
	Trade         string // against the first; empty of the first itself
	Build         optimizer.Build
}

// Cards are the choices as terminal, page and quote show them.
func Cards(s Speaker, brief catalog.Brief, a *optimizer.Answers) (all []Card) {
	choices := Choices(brief, a)
	for i, c := range choices {
		card := Card{Name: Capital(c.Name()), Cost: s.Money(c.Build.Cost), Reading: Level(s, c.Build.Reading.DB, c.Build.Reading.Band), Music: Level(s, c.Build.Music.DB, c.Build.Music.Band),
			Held: c.HeldBack(brief), Parts: Bought(c.Build.Lines), Hookup: Sentence(c.Build.Plan.Words), Build: c.Build}
		if i > 0 {
			card.Trade = Trade(s, brief, choices[0].Build, c)
		}
		all = append(all, card)
	}
	return all
}

// Left is an owned part that the first build leaves idle, in words.
type Left struct {
	Part  string // "1 of 2 x Tamsel 12-inch value"
	Words string // what keeping it would be like
	SKU   string
	Best  *optimizer.Build // that keeps it; nil: none is known
}

// Idle says of everything owned that the first build does not use what keeping it
// costs or saves.
func Idle(s Speaker, brief catalog.Brief, a *optimizer.Answers) (all []Left) {
	for _, k := range a.Idle {
		l := Left{Part: Times(k.Idle, Name(k.Part)), SKU: k.Part.SKU}
		held, uses := a.Builds[0].Holds(k.Part.SKU), "that uses it"
		if held > 0 {
			l.Part, uses = fmt.Sprintf("%d of %d x %s", k.Idle, k.Idle+held, Name(k.Part)), "that uses all"
		}
		switch {
		case k.Best != nil:
			l.Best = &k.Best.Build
			l.Words = "The best build " + uses + ": " + Trade(s, brief, a.Builds[0], Choice{[]string{"kept"}, *k.Best})
		case k.None:
			l.Words = "No build of this brief has a use for it."
		case !a.Whole:
			l.Words = "The search was stopped before it was known what keeping it costs."
		}
		all = append(all, l)
	}
	return all
}

// Today says what the car does now; empty where nobody said what is owned.
func Today(s Speaker, f *optimizer.Front) string {
	if f == nil {
		return ""
	}
	return fmt.Sprintf("No bass, music %s.", Level(s, f.DB, f.Band))
}

// HeldBack says what keeps a choice from being louder, in plain words: on the
// meter, with music, or both, as what it is the best by.
func (c Choice) HeldBack(brief catalog.Brief) string {
	side := "the bass is the weaker side"
	if c.Build.Music.FrontLimits {
		side = "the front is the weaker side"
	}
	limit := RunsOut(c.Build.Operation.Limit)
	meter, music := slices.Contains(c.Names, GoalName(catalog.GoalReading)), slices.Contains(c.Names, GoalName(catalog.GoalMusic))
	switch {
	case meter && music:
		return limit + "; with music " + side
	case music || !meter && brief.Goal == catalog.GoalMusic:
		return side
	}
	return limit
}

// RunsOut says in words that a limit binds.
func RunsOut(l bass.Limit) string {
	switch l {
	case bass.LimitVoltage:
		return "the amplifier runs out of voltage"
	case bass.LimitCurrent:
		return "the amplifier runs out of current"
	case bass.LimitSupply:
		return "the car's supply gives way"
	case bass.LimitTravel:
		return "the cone runs out of travel"
	case bass.LimitHeat:
		return "the coil is as hot as it may get"
	case bass.LimitPort:
		return "the air in the port is as fast as it may get"
	}
	return l.String()
}

// Trade says what the first build would be given up for: money and sound.
func Trade(s Speaker, brief catalog.Brief, first optimizer.Build, c Choice) string {
	saved := Less(first.Cost, c.Build.Cost)
	own, another := c.Reading, c.Music
	if brief.Goal == catalog.GoalMusic {
		own, another = c.Music, c.Reading
	}
	if c.Names[0] == "best value" && none(own) {
		return fmt.Sprintf("%s less buys the same, as far as anyone can tell (%s dB apart).", s.Money(saved), s.Figure(abs(own.DB), 1))
	}
	money := "for the same money"
	switch {
	case saved.Minor > 0:
		money = "for " + s.Money(saved) + " less"
	case saved.Minor < 0:
		money = "for " + s.Money(Less(c.Build.Cost, first.Cost)) + " more"
	}
	onMeter, withMusic := gives(s, c.Reading, "on the meter"), gives(s, c.Music, "at the seat with music")
	words := onMeter + ", " + withMusic
	if another.DB > own.DB && brief.Goal == catalog.GoalReading {
		words = withMusic + ", " + onMeter
	}
	return fmt.Sprintf("%s, %s.", words, money)
}

// none tells whether nobody would be sure to hear a difference.
func none(d optimizer.Difference) bool { return d.Tie() || abs(d.DB) < MeterStep }

func abs(db float64) float64 { return max(db, -db) }

// gives is a difference of levels in words.
func gives(s Speaker, d optimizer.Difference, where string) string {
	if none(d) {
		return "as loud " + where
	}
	how := "louder"
	if d.DB < 0 {
		how = "quieter"
	}
	text := fmt.Sprintf("%s dB %s %s", s.Figure(abs(d.DB), 1), how, where)
	if d.Uncertain() {
		return fmt.Sprintf("probably %s (%s)", text, Chance(d))
	}
	return text
}

// Capital begins a text with a capital letter, in any script.
func Capital(text string) string {
	first, n := utf8.DecodeRuneInString(text)
	if first == utf8.RuneError {
		return text
	}
	return string(unicode.ToUpper(first)) + text[n:]
}

// Caution is the one that matters most with a build: what its level does to
// ears, then what the wiring asks, then what always holds.
func Caution(b optimizer.Build) string {
	if hear := Hearing(b).Caution; hear != "" {
		return hear
	}
	if b.Plan.Caution != "" {
		return b.Plan.Caution
	}
	return Cautions[0]
}
