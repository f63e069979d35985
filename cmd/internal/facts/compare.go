package facts

import (
	"fmt"
	"math"
	"strings"

	"loudfor/catalog"
	"loudfor/cmd/internal/versus"
	"loudfor/optimizer"
)

// Letter names a build that stands beside others: A, B, C.
func Letter(i int) string { return string(rune('A' + i)) }

// Tied tells whether a difference is none to the customer.
func Tied(b optimizer.Build) bool { return b.Tie || math.Abs(b.Difference.DB) < MeterStep }

// Standing says how a build stands to the first, A.
func Standing(s Speaker, letter string, a, b optimizer.Build) string {
	diff := within(s, math.Abs(b.Difference.DB), b.Difference.Band)
	price := priced(s, b.Cost, a.Cost)
	switch {
	case Tied(b):
		return fmt.Sprintf("%s and A are a tie: %s dB apart; %s %s", letter, diff, letter, price)
	case b.Difference.Uncertain():
		return fmt.Sprintf("%s is %s: %s dB apart; %s %s", letter, Probably(b.Difference, "A"), diff, letter, price)
	case b.Difference.DB > 0:
		return fmt.Sprintf("%s is %s dB louder than A, and %s", letter, diff, price)
	}
	return fmt.Sprintf("%s is %s dB quieter than A, and %s", letter, diff, price)
}

// Probably says a difference that may not be there: "probably louder than A,
// not certain (8 in 10)".
func Probably(d optimizer.Difference, than string) string {
	how, sign := "probably", "louder"
	if d.Chance < 0.5 {
		how = "perhaps" // the draws are not of the prediction's opinion
	}
	if d.DB < 0 {
		sign = "quieter"
	}
	return fmt.Sprintf("%s %s than %s, not certain (%s)", how, sign, than, Chance(d))
}

// Chance is how often the sign of a difference is right, as well as so many
// draws know it.
func Chance(d optimizer.Difference) string {
	return fmt.Sprintf("%.0f in 10", min(max(math.Round(d.Chance*10), 1), 9))
}

// Mark stands behind a difference that is none, or may be.
func Mark(d optimizer.Difference, tie bool) string {
	switch {
	case tie:
		return " tie"
	case d.Uncertain():
		return " (" + Chance(d) + ")"
	}
	return ""
}

// Marks explains them.
const Marks = "tie: inside its own band and not above 1 dB, so that nobody is sure to hear it. (8 in 10): above that and still inside its band, so probably and not certainly there; so likely is the sign."

// Difference is that of Against with its mark.
func Difference(s Speaker, b optimizer.Build) string {
	return Against(s, b) + Mark(b.Difference, Tied(b))
}

// Against is how far a build is above another one: "+1.2 +/- 0.4".
func Against(s Speaker, b optimizer.Build) string {
	return s.Join(Signed(s, b.Difference.DB), s.Figure(b.Difference.Band, 1))
}

// Signed is a difference of levels with its sign, which nothing has none of.
func Signed(s Speaker, db float64) string {
	text := s.Figure(db, 1)
	if db > 0 && strings.Trim(text, "0.,") != "" {
		text = "+" + text
	}
	return text
}

// Row is one line of a comparison, a cell for each build.
type Row struct {
	Name  string
	Cells []string
}

// SideBySide is what a customer chooses by, beside the parts.
func SideBySide(s Speaker, brief catalog.Brief, builds []optimizer.Build) (rows []Row) {
	row := func(name string, cell func(b optimizer.Build) string) {
		r := Row{Name: name}
		for _, b := range builds {
			r.Cells = append(r.Cells, cell(b))
		}
		rows = append(rows, r)
	}
	row("price", func(b optimizer.Build) string { return s.Money(b.Cost) + overCap(s, brief, b) })
	row("reading", func(b optimizer.Build) string { return Reading(s, b) })
	row("limit", Limit)
	row("music", func(b optimizer.Build) string {
		text := Level(s, b.Music.DB, b.Music.Band)
		if brief.Goal == catalog.GoalMusic && b.Difference != (optimizer.Difference{}) {
			text += "; " + Difference(s, b) + " dB to A"
		}
		return text
	})
	row("front", func(b optimizer.Build) string {
		if b.Front.Power == optimizer.FromNothing {
			return "nothing drives it"
		}
		return Level(s, b.Front.DB, b.Front.Band) + " at the seat, " + b.Front.Power.String()
	})
	row("at the clamp", func(b optimizer.Build) string {
		c := ClampOf(b)
		return fmt.Sprintf("%s W real; %s V, %s A, %s %s", c.Watts, c.Volts, c.Amps, c.Load, s.Ohm())
	})
	row("hookup", func(b optimizer.Build) string {
		return fmt.Sprintf("%s, %s %s", b.Plan.Mode, Plain(b.Plan.Load), s.Ohm())
	})
	row("current draw", func(b optimizer.Build) string { return Three(b.Demand) + " A at most" })
	for _, c := range versus.Controls {
		row(c.Name, func(b optimizer.Build) string { return c.Has(b) })
	}
	row("hearing", func(b optimizer.Build) string { return Hearing(b).Words(s) })
	return rows
}

// Reading is the level with its band and where its peak lies.
func Reading(s Speaker, b optimizer.Build) string {
	return Level(s, b.Reading.DB, b.Reading.Band) + " at " + s.Figure(b.Reading.Hz, 0) + " Hz"
}

func overCap(s Speaker, brief catalog.Brief, b optimizer.Build) string {
	if brief.Cap.Currency != b.Cost.Currency || brief.Cap.Minor <= 0 || b.Cost.Minor <= brief.Cap.Minor {
		return ""
	}
	return ", " + s.Money(Less(b.Cost, brief.Cap)) + " above the cap"
}
