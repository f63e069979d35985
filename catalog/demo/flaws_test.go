package demo

import (
	"slices"
	"strings"
	"testing"

	"loudfor/catalog"
)

// planted are the flaws that a check has to find: which part, which value, and
// a word that the message cannot do without.
var planted = []struct {
	sku, path string
	severity  catalog.Severity
	word      string
}{
	// Powers that no fuse could feed, and that no 14.4 V could make.
	{"TM-2K", "ratings[1].watts", catalog.Warning, "fuse"},
	{"TM-2K", "ratings[2].watts", catalog.Warning, "fuse"},
	{"KE-1K", "ratings[1].watts", catalog.Warning, "fuse"},
	{"KE-1K", "ratings[2].watts", catalog.Warning, "fuse"},
	{"TM-H1", "power", catalog.Warning, "14.4 V"},
	// A kit with more fuse than copper: it looks like the bargain of the
	// shelf, and must never be sold with any amplifier.
	{"TM-K10", "fuse", catalog.Warning, "does not protect"},
	// A Vas that does not follow from the rest of the card.
	{"KE-12C", "sensitivity", catalog.Warning, "eta0"},

	// No error, but to be known: what is missing, and what the words mean.
	{"KE-M3", "ratings[1]", catalog.Info, "one rating"},
	{"TM-10V", "", catalog.Info, "Sd"},
	{"TM-L10", "driver", catalog.Info, "Fs"},
	{"KE-K8A", "material", catalog.Info, "copper-clad"},
	{"TM-K10", "basis", catalog.Info, "claim"},
	{"HU-STOCK", "", catalog.Info, "owned"},
	// Opened boxes, sold under numbers of their own.
	{"TM-15V-B", "sku", catalog.Info, "every figure is that of TM-15V"},
	{"KE-S210-B", "sku", catalog.Info, "every figure is that of KE-S210"},
}

// TestFlaws holds that a check finds every planted flaw at its place, and that
// beyond them it has nothing to warn of.
func TestFlaws(t *testing.T) {
	c := shelves(t)
	found := catalog.Check(c)
	expected := make([]bool, len(found))
	for _, flaw := range planted {
		part := c.Part(flaw.sku)
		if part == nil {
			t.Errorf("no part %s", flaw.sku)
			continue
		}
		place := part.At(flaw.path)
		i := slices.IndexFunc(found, func(p catalog.Problem) bool {
			return strings.HasPrefix(p.Summary, flaw.sku+": ") && p.Severity == flaw.severity &&
				p.Where.Line == place.Line && strings.Contains(p.Summary+p.Detail, flaw.word)
		})
		if i < 0 {
			t.Errorf("%s %s: no %s about %q at line %d", flaw.sku, flaw.path, flaw.severity, flaw.word, place.Line)
			continue
		}
		expected[i] = true
	}
	for i, problem := range found {
		if problem.Severity != catalog.Info && !expected[i] {
			t.Errorf("not planted: %s %v", problem.Severity, problem)
		}
	}
}
