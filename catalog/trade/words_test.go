package trade

import (
	"strings"
	"testing"

	"loudfor/catalog"
)

// No phrase stands twice, nor for two things: which of them is meant would be chance.
func TestPhrasesAreUnique(t *testing.T) {
	lists := map[string]map[string]string{"headings": headings, "units": unitNames, "boxes": boxTypes, "kinds": {"others": others, "beside": beside}}
	for kind := range catalog.KindCount {
		lists["kinds"][kind.String()] = kindWords[kind]
	}
	for name, list := range lists {
		seen := map[string]string{}
		for english, phrases := range list {
			for phrase := range strings.SplitSeq(phrases, ",") {
				key := Fold(phrase)
				if other, again := seen[key]; again {
					t.Errorf("%s: %q is %s and %s", name, key, english, other)
				}
				seen[key] = english
			}
		}
	}
}
