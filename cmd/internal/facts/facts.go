// Package facts words what an answer says, once, for all that lay it out: the
// terminal and Markdown (answer), the page (counter), the sheet (install).
//
//	for _, line := range facts.Hookup(build) {
//		fmt.Println(line)
//	}
//
// A figure is said by a Speaker: plainly on a terminal, as a visitor is used to
// on the page. Limit: nothing is computed here that is not in the build.
package facts

import (
	"fmt"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// Question is what was asked, for the head of the answer.
type Question struct {
	Brief   catalog.Brief
	Vehicle catalog.Vehicle
	// Invented says that the parts come from the built-in demo, whose
	// makers, shops and prices do not exist.
	Invented bool
	Parts    int             // how many the catalogue holds
	Shelf    []*catalog.Part // of the catalogue; nil: not known
	Built    int             // boxes beside them that could be built
}

// Reason is why combinations need not be computed.
func Reason(r optimizer.Reason) string {
	switch r {
	case optimizer.DropNotOffered:
		return "a part is not on offer (never, another store, out of stock, no price)"
	case optimizer.DropFit:
		return "parts do not fit each other or the car"
	case optimizer.DropHookup:
		return "no wiring keeps the load at or above what the amplifier is rated for"
	case optimizer.DropCap:
		return "over the cap, even with the cheapest rest"
	case optimizer.DropMust:
		return "a part that must be in is left out"
	case optimizer.DropKit:
		return "the wiring kit does not carry the current"
	case optimizer.DropRest:
		return "signal path or front stage incomplete, a part without a use, or a better rest for the same bass"
	case optimizer.DropBound:
		return "provably below the last build ranked"
	case optimizer.DropOrder:
		return "as loud at best, and behind by price"
	case optimizer.DropTime:
		return "not reached before the search was stopped"
	}
	return r.String()
}

// Cautions are shown with every build, whatever it is.
var Cautions = []string{
	"Fuse the power cable within about 45 cm of the battery.",
	"Disconnect the battery's negative terminal before any work.",
	"Never load an amplifier below what it is rated for.",
	"Cable and fuse as calculated are minimums; local codes and licensed practice decide.",
	"Levels above 85 dBA harm hearing with time, and the levels here can harm it at once.",
	"Noise rules apply on public roads.",
}

// List joins words as a sentence does: "a, b and c".
func List(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// Plural puts a count before a word: "1 part", "2 parts".
func Plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// MeterStep is the smallest step that a sound-level meter shows, dB (IEC
// 61672-1 asks for a resolution of 0.1 dB). A difference below it may be
// certain, as between two cables, and still is none to the customer.
const MeterStep = 0.1
