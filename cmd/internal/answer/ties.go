package answer

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"loudfor/optimizer"
)

// meterStep is the smallest step that a sound-level meter shows, dB (IEC
// 61672-1 asks for a resolution of 0.1 dB). A difference below it may be
// certain, as between two cables, and still is none to the customer.
const meterStep = 0.1

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
		case !b.Tie && math.Abs(b.Difference.DB) >= meterStep:
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
		p.item("%d %s; it costs %s less", b.Rank, tieWords(b.Difference, b.Tie), less(first.Cost, b.Cost))
	}
	switch len(dearer) {
	case 0:
	case 1:
		p.item("%s ties with 1 and costs no less", dearer[0])
	default:
		p.item("%s tie with 1 and cost no less", list(dearer))
	}
}

func tieWords(d optimizer.Difference, tie bool) string {
	db := math.Abs(d.DB)
	if tie {
		return fmt.Sprintf("is within %s dB +/- %s of 1: a tie", fixed(db, 1), fixed(d.Band, 1))
	}
	return fmt.Sprintf("is %s dB below 1, less than a meter shows", fixed(max(db, 0.01), 2))
}
