package catalog

import (
	"strings"

	"loudfor/catalog/units"
)

// kindWords are the kinds as files and messages write them.
var kindWords = [KindCount]string{
	"subwoofer", "amplifier", "enclosure", "loaded enclosure", "front speakers",
	"source", "line converter", "bass blocker", "wiring kit", "sheet material", "workshop",
}

// articles go before the words of the kinds in messages.
var articles = [KindCount]string{"a ", "an ", "an ", "a ", "a pair of ", "a ", "a ", "a ", "a ", "", "a "}

func (k Kind) String() string {
	if k < 0 || k >= KindCount {
		return "part"
	}
	return kindWords[k]
}

// otherWords are names that people use for a kind.
var otherWords = map[string]Kind{
	"sub": KindSubwoofer, "woofer": KindSubwoofer, "driver": KindSubwoofer,
	"amp": KindAmplifier, "box": KindEnclosure, "cabinet": KindEnclosure,
	"loaded box": KindLoaded, "loaded": KindLoaded, "bass box": KindLoaded,
	"speakers": KindFront, "speaker": KindFront, "coaxial": KindFront, "coaxials": KindFront, "components": KindFront, "front": KindFront,
	"head unit": KindSource, "radio": KindSource, "receiver": KindSource, "deck": KindSource,
	"high/low converter": KindConverter, "high low converter": KindConverter, "hi/lo converter": KindConverter, "hi lo converter": KindConverter, "hi-lo converter": KindConverter, "high-low converter": KindConverter,
	"high level converter": KindConverter, "line out converter": KindConverter, "loc": KindConverter, "line output converter": KindConverter, "converter": KindConverter,
	"capacitor": KindBlocker, "blocker": KindBlocker, "high-pass": KindBlocker,
	"kit": KindKit, "amp kit": KindKit, "cable": KindKit, "wiring": KindKit,
	"sheet": KindSheet, "mdf": KindSheet, "plywood": KindSheet, "board": KindSheet, "wood": KindSheet, "material": KindSheet,
	"bench": KindWorkshop, "labour": KindWorkshop, "labor": KindWorkshop, "hour": KindWorkshop, "hourly rate": KindWorkshop,
}

// NearestKind is the kind that a wrong word may mean, or nothing.
func NearestKind(word string) string { return nearestKind(tidyWord(word)) }

// nearestKind is the kind that a wrong word probably means, or nothing.
func nearestKind(word string) string {
	if k, ok := otherWords[word]; ok {
		return kindWords[k]
	}
	return units.Nearest(word, kindWords[:])
}

// tidyWord is a word without the differences that mean nothing.
func tidyWord(word string) string {
	return strings.Join(strings.Fields(strings.ToLower(strings.ReplaceAll(word, "_", " "))), " ")
}

// singular takes the ending of a plural off.
func singular(word string) string {
	word = strings.TrimSpace(word)
	low := strings.ToLower(word)
	switch {
	case strings.HasSuffix(low, "xes"):
		return word[:len(word)-2]
	case strings.HasSuffix(low, "s"):
		return word[:len(word)-1]
	}
	return word
}
