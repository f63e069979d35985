package facts

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"loudfor/optimizer"
)

// mostTies keeps the list of cheaper equals shorter than the ranking.
const mostTies = 5

// Ties says where the order of a ranking means nothing, the cheapest first: a
// customer should not pay for a difference that no meter could find.
func Ties(s Speaker, builds []optimizer.Build) (lines []string) {
	say := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	if len(builds) == 0 {
		return nil
	}
	first := builds[0]
	var cheaper []optimizer.Build
	var dearer []string
	for _, b := range builds[1:] {
		switch {
		case !Tied(b):
		case b.Cost.Minor < first.Cost.Minor:
			cheaper = append(cheaper, b)
		case b.Tie:
			dearer = append(dearer, fmt.Sprint(b.Rank))
		}
	}
	slices.SortStableFunc(cheaper, func(a, b optimizer.Build) int { return cmp.Compare(a.Cost.Minor, b.Cost.Minor) })
	for i, b := range cheaper {
		if i == mostTies {
			say("%d more cost less than 1 as well", len(cheaper)-mostTies)
			break
		}
		say("%d %s; it costs %s less", b.Rank, tied(s, b), s.Money(Less(first.Cost, b.Cost)))
	}
	switch len(dearer) {
	case 0:
	case 1:
		say("%s ties with 1 and costs no less", dearer[0])
	default:
		say("%s tie with 1 and cost no less", List(dearer))
	}
	return lines
}

func tied(s Speaker, b optimizer.Build) string {
	db := math.Abs(b.Difference.DB)
	if b.Tie {
		return fmt.Sprintf("is within %s of 1: a tie", s.Join(s.Figure(db, 1)+" dB", s.Figure(b.Difference.Band, 1)))
	}
	return fmt.Sprintf("is %s dB below 1, less than a meter shows", s.Figure(max(db, 0.01), 2))
}
