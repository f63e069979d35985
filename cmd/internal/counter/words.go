package counter

import (
	"maps"
	"math"
	"net/url"
	"slices"
	"strings"

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

// mark is what stands behind a difference, in a mark of its own. What no meter
// shows is a tie, however certain it is.
func mark(d optimizer.Difference, tie bool, db float64) string {
	return strings.TrimSpace(facts.Mark(d, tie || math.Abs(db) < facts.MeterStep))
}
