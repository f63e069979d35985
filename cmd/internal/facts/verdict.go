package facts

import (
	"fmt"
	"math"

	"loudfor/catalog"
	"loudfor/optimizer"
	"loudfor/optimizer/advice"
)

// Finer is how many decimals a difference of levels needs.
func Finer(db float64) int {
	switch {
	case db < 0.01:
		return 3
	case db < 0.1:
		return 2
	}
	return 1
}

// Apart is a difference to the best build.
func Apart(s Speaker, d optimizer.Difference, tie bool) string {
	sign := ""
	if d.DB > 0 {
		sign = "+"
	}
	text := sign + s.Figure(d.DB, Finer(math.Abs(d.DB)))
	if d.DB == 0 {
		text = s.Figure(0, 1)
	}
	if d.Band > 0 {
		text = s.Join(text, s.Figure(d.Band, Finer(d.Band)))
	}
	return text + " dB" + Mark(d, tie)
}

// Dearer is a difference in price.
func Dearer(s Speaker, m catalog.Money) string {
	switch {
	case m.Minor < 0:
		return s.Money(catalog.Money{Minor: -m.Minor, Currency: m.Currency}) + " less"
	case m.Minor > 0:
		return s.Money(m) + " more"
	}
	return "the same price"
}

// Verdict says whether a part is in the best build, could be, or why not: a
// heading and sentences. The rules that forbid it are left to the caller.
func Verdict(s Speaker, best *optimizer.Build, v *advice.Verdict) (head string, lines []string) {
	say := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	switch v.Answer {
	case advice.InBest:
		head = "It is in the best build"
		r := v.Role
		if r.Without == nil {
			say("Without it nothing can be built.")
		} else {
			say("The best build without it: %s, %s: %s.", Apart(s, r.Without.Difference, r.Without.Tie), Dearer(s, r.Without.Cost), Change(best.Lines, r.Without.Build.Lines))
		}
		if r.Cheaper != nil {
			say("With the next cheaper one of its kind, %s, and nothing else changed: %s, %s.", Name(r.Instead), Apart(s, r.Cheaper.Difference, r.Cheaper.Tie), Dearer(s, r.Cheaper.Cost))
		}
	case advice.Possible:
		head = "It would do, and another build is better"
		w := v.With
		if w == nil { // the search for it was stopped
			break
		}
		say("The best build with it: %s for %s; against the best %s, %s.", Level(s, w.Build.Objective, w.Build.Band()), s.Money(w.Build.Cost), Apart(s, w.Difference, w.Tie), Dearer(s, w.Cost))
		say("What changes: %s.", Change(best.Lines, w.Build.Lines))
		switch {
		case w.Tie:
			say("That is a tie: who likes it better loses nothing that anyone could be sure to hear.")
		case w.Difference.Uncertain():
			say("It is %s.", Probably(w.Difference, "the best"))
		}
	case advice.AboveCap:
		head = "It costs too much"
		say("No build with it is within the cap. The cheapest costs %s, which is %s more than the cap.", s.Money(v.Cheapest), s.Money(v.Over))
	case advice.Forbidden:
		head = "No build can hold it, whatever it costs"
	}
	return head, lines
}

// ChosenHead stands above, or before, what Chosen says.
const ChosenHead = "At which price it would be chosen"

// Chosen says at which price of one piece the part is, or would be, in the best
// build; empty where nobody looked.
func Chosen(s Speaker, v *advice.Verdict) string {
	r := v.Range
	switch {
	case r == nil:
		return ""
	case v.Answer == advice.InBest && r.In:
		between := "at any price of it"
		switch {
		case !r.Free && !r.Open:
			between = fmt.Sprintf("from %s to %s for one piece, before tax", s.Money(r.Least), s.Money(r.Most))
		case !r.Free:
			between = fmt.Sprintf("from %s for one piece, before tax, with no upper end", s.Money(r.Least))
		case !r.Open:
			between = fmt.Sprintf("up to %s for one piece, before tax", s.Money(r.Most))
		}
		return fmt.Sprintf("It is; and this build stays the best %s. It costs %s now.", between, s.Money(r.Price))
	case r.Free:
		return "Not even as a gift: the best build would still do without it."
	}
	most := r.Least
	most.Minor--
	return fmt.Sprintf("At %s or less for one piece, before tax, all other prices kept; it costs %s now.", s.Money(most), s.Money(r.Price))
}
