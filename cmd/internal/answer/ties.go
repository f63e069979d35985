package answer

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"loudfor/cmd/internal/facts"
	"loudfor/optimizer"
)

// mostTies keeps the list of cheaper equals shorter than the ranking.
const mostTies = 5

// ties says where the order of the ranking means nothing, the cheapest first:
// a customer should not pay for a difference that no meter could find.
func (p *Page) ties(builds []optimizer.Build) {
	first := builds[0]
	var cheaper []optimizer.Build
	var dearer []string
	for _, b := range builds[1:] {
		switch {
		case !b.Tie && math.Abs(b.Difference.DB) >= facts.MeterStep:
		case b.Cost.Minor < first.Cost.Minor:
			cheaper = append(cheaper, b)
		case b.Tie:
			dearer = append(dearer, fmt.Sprint(b.Rank))
		}
	}
	if len(cheaper)+len(dearer) == 0 {
		return
	}
	slices.SortStableFunc(cheaper, func(a, b optimizer.Build) int { return cmp.Compare(a.Cost.Minor, b.Cost.Minor) })
	p.head("Ties: as loud as 1, as far as anyone can tell; the cheapest first")
	for i, b := range cheaper {
		if i == mostTies {
			p.item("%d more cost less than 1 as well", len(cheaper)-mostTies)
			break
		}
		p.item("%d %s; it costs %s less", b.Rank, tieWords(b.Difference, b.Tie), facts.Less(first.Cost, b.Cost))
	}
	switch len(dearer) {
	case 0:
	case 1:
		p.item("%s ties with 1 and costs no less", dearer[0])
	default:
		p.item("%s tie with 1 and cost no less", facts.List(dearer))
	}
}

func tieWords(d optimizer.Difference, tie bool) string {
	db := math.Abs(d.DB)
	if tie {
		return fmt.Sprintf("is within %s dB +/- %s of 1: a tie", facts.Fixed(db, 1), facts.Fixed(d.Band, 1))
	}
	return fmt.Sprintf("is %s dB below 1, less than a meter shows", facts.Fixed(max(db, 0.01), 2))
}
