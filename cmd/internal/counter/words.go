package counter

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"net/url"
	"slices"

	"loudfor/optimizer"
)

// Small words that several views share.

func sortedNames(values url.Values) []string { return slices.Sorted(maps.Keys(values)) }

// meterStep is the smallest step that a sound-level meter shows, dB (IEC
// 61672-1 asks for a resolution of 0.1 dB): below it a certain difference is
// none to the customer either.
const meterStep = 0.1

// mostTies keeps the list of cheaper equals short.
const mostTies = 3

// ties says which cheaper builds are as loud as the first as far as anyone can
// tell: nobody should pay for a difference that no meter could find.
func (v voice) ties(q *question, builds []optimizer.Build) (lines []string) {
	if len(builds) == 0 {
		return nil
	}
	first := builds[0]
	var cheaper []optimizer.Build
	for _, b := range builds[1:] {
		if b.Cost.Minor < first.Cost.Minor && (b.Tie || math.Abs(b.Difference.DB) < meterStep) {
			cheaper = append(cheaper, b)
		}
	}
	slices.SortStableFunc(cheaper, func(a, b optimizer.Build) int { return cmp.Compare(a.Cost.Minor, b.Cost.Minor) })
	for _, b := range cheaper[:min(len(cheaper), mostTies)] {
		lines = append(lines, fmt.Sprintf("Build %d costs %s less and is within %s dB ± %s of build 1",
			b.Rank, v.Money(less(first.Cost, b.Cost)), v.DB(math.Abs(b.Difference.DB)), v.DB(b.Difference.Band)))
	}
	return lines
}
