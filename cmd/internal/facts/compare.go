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
	case b.Difference.DB > 0:
		return fmt.Sprintf("%s is %s dB louder than A, and %s", letter, diff, price)
	}
	return fmt.Sprintf("%s is %s dB quieter than A, and %s", letter, diff, price)
}

// Difference is that of Against, and tie where it is one.
func Difference(s Speaker, b optimizer.Build) string {
	if Tied(b) {
		return "tie " + Against(s, b)
	}
	return Against(s, b)
}

// Against is how far a build is above another one: "+1.2 +/- 0.4".
func Against(s Speaker, b optimizer.Build) string {
	text := within(s, b.Difference.DB, b.Difference.Band)
	if b.Difference.DB > 0 && strings.Trim(s.Figure(b.Difference.DB, 1), "0.,") != "" {
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
