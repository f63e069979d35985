package counter

import (
	"strings"

	"cmp"
	"fmt"
	"maps"
	"math"
	"net/url"
	"slices"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"

	"loudfor/optimizer"
)

// Small words that several views share.

func sortedNames(values url.Values) []string { return slices.Sorted(maps.Keys(values)) }

// The kinds of part that one line of a comparison shows.
var (
	bassKinds  = []catalog.Kind{catalog.KindSubwoofer, catalog.KindEnclosure, catalog.KindLoaded}
	powerKinds = []catalog.Kind{catalog.KindAmplifier}
	restKinds  = []catalog.Kind{catalog.KindSource, catalog.KindConverter, catalog.KindBlocker, catalog.KindKit}
)

// kindWords names the parts of some kinds.
func (v voice) kindWords(b *optimizer.Build, kinds []catalog.Kind) string {
	var words []string
	for _, line := range b.Lines {
		if slices.Contains(kinds, line.Part.Kind) {
			word := times(line.Count, facts.Name(line.Part))
			if line.Owned == line.Count {
				word += " (owned)"
			}
			words = append(words, word)
		}
	}
	if len(words) == 0 {
		return "none"
	}
	return strings.Join(words, ", ")
}

// versusLink is the comparison without one of its builds.
func (q *question) versusLink(codes []string, without int) string {
	return q.versusLinkOf(slices.Delete(slices.Clone(codes), without, without+1)...)
}

// versusLinkOf is the comparison of builds.
func (q *question) versusLinkOf(codes ...string) string {
	values := maps.Clone(q.values)
	values[keyVersus] = codes
	return pathVersus + "?" + values.Encode()
}

// mark is what stands behind a difference, in a mark of its own.
func mark(d optimizer.Difference, tie bool) string { return strings.TrimSpace(facts.Mark(d, tie)) }

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
		if b.Cost.Minor < first.Cost.Minor && facts.Tied(b) {
			cheaper = append(cheaper, b)
		}
	}
	slices.SortStableFunc(cheaper, func(a, b optimizer.Build) int { return cmp.Compare(a.Cost.Minor, b.Cost.Minor) })
	for _, b := range cheaper[:min(len(cheaper), mostTies)] {
		lines = append(lines, fmt.Sprintf("Build %d costs %s less and is within %s dB ± %s of build 1",
			b.Rank, v.Money(facts.Less(first.Cost, b.Cost)), v.DB(math.Abs(b.Difference.DB)), v.DB(b.Difference.Band)))
	}
	return lines
}
