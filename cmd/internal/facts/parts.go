package facts

import (
	"slices"
	"strings"

	"loudfor/catalog"
	"loudfor/optimizer"
)

// Where is the place and what is open.
func Where(place, openings string) string {
	switch {
	case place == "":
		return openings
	case place[0] >= '0' && place[0] <= '9' && strings.Count(place, " ") > 1: // a point in the car
		return "at the point " + place + ", " + openings
	case place[0] >= '0' && place[0] <= '9': // a distance, not a place of a car
		return place + " away, " + openings
	case openings == "":
		return "at the " + place
	}
	return "at the " + place + ", " + openings
}

// FrontRule is what happens to the front speakers, and what the customer has.
func FrontRule(b catalog.Brief) string {
	text := [...]string{"stays as it is", "is replaced", "stays or is replaced, whichever wins"}[b.Front]
	var owned []string
	for _, mention := range b.Owned {
		owned = append(owned, mention.SKU)
	}
	if len(owned) > 0 {
		text += "; owned: " + List(owned)
	}
	return text
}

// Bought names what has to be bought.
func Bought(lines []optimizer.Line) string {
	var words []string
	for _, line := range lines {
		if bought := line.Count - line.Owned; bought > 0 {
			words = append(words, Times(bought, Name(line.Part)))
		}
	}
	if len(words) == 0 {
		return "nothing"
	}
	return strings.Join(words, "; ")
}

// Changes names what each step has that the one before has not.
func Changes(steps []optimizer.Step) []string {
	words := make([]string, len(steps))
	var before []optimizer.Line
	for i := range steps {
		if lines := steps[i].Build.Lines; i == 0 {
			words[i] = Bought(lines)
		} else {
			words[i] = Fresh(before, lines)
		}
		before = steps[i].Build.Lines
	}
	return words
}

// Fresh names what comes, and of what only goes that it does.
func Fresh(before, after []optimizer.Line) string {
	var words []string
	other := slices.ContainsFunc(blockKinds, func(k catalog.Kind) bool { return len(surplus(after, before, k)) > 0 })
	for kind := range catalog.KindCount {
		in, out := surplus(after, before, kind), surplus(before, after, kind)
		words = append(words, in...)
		if len(in) == 0 && len(out) > 0 && !(other && slices.Contains(blockKinds, kind)) {
			words = append(words, "no "+List(out))
		}
	}
	return strings.Join(words, "; ")
}

// blockKinds are the parts of a bass block, which can stand in for each other:
// a loaded enclosure for a driver and its box.
var blockKinds = []catalog.Kind{catalog.KindSubwoofer, catalog.KindEnclosure, catalog.KindLoaded}

// Change compares kind by kind: what comes for what, as well, or goes. Where
// the block is made of other kinds than before, it is compared as a whole.
func Change(before, after []optimizer.Line) string {
	var in, out [catalog.KindCount][]string
	for kind := range catalog.KindCount {
		in[kind], out[kind] = surplus(after, before, kind), surplus(before, after, kind)
	}
	other := false
	for _, kind := range blockKinds {
		other = other || (len(in[kind]) > 0) != (len(out[kind]) > 0)
	}
	if first := blockKinds[0]; other {
		for _, kind := range blockKinds[1:] {
			in[first], out[first] = append(in[first], in[kind]...), append(out[first], out[kind]...)
			in[kind], out[kind] = nil, nil
		}
	}
	var words []string
	for kind := range catalog.KindCount {
		in, out := in[kind], out[kind]
		switch {
		case len(in) > 0 && len(out) > 0:
			words = append(words, List(in)+" for "+List(out))
		case len(in) > 0:
			words = append(words, List(in)+" as well")
		case len(out) > 0:
			words = append(words, "no "+List(out))
		}
	}
	return strings.Join(words, "; ")
}

// surplus names what a has of a kind beyond b.
func surplus(a, b []optimizer.Line, kind catalog.Kind) (words []string) {
	for _, line := range a {
		n := line.Count
		for _, other := range b {
			if other.Part.SKU == line.Part.SKU {
				n -= other.Count
			}
		}
		if line.Part.Kind == kind && n > 0 {
			words = append(words, Times(n, Name(line.Part)))
		}
	}
	return words
}
