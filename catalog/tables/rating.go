package tables

import (
	"cmp"
	"fmt"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/expression"
	"loudfor/catalog/grid"
	"loudfor/catalog/trade"
)

// The powers of an amplifier stand in a table of their own, for which a
// spreadsheet has no room. Shops give each a column: "watts 4 ohm bridged",
// "RMS @ 2 ohm stereo". A catalogue is exported with all of them in one cell:
//
//	stereo 4 ohm 50 W standard; bridged 4 ohm 150 W standard 14.4 V

// rating is what the name of a column says of the powers below it.
type rating struct {
	mode, load, basis string
	count             string // "4x4 ohm": of so many outputs; how, the amplifier's channels tell
}

func (r rating) String() string {
	return strings.Join(strings.Fields("ratings "+r.times()+r.mode+" "+r.load+" "+r.basis), " ")
}

func (r rating) times() string {
	if r.count == "" {
		return ""
	}
	return r.count + " x "
}

var (
	countIn = expression.Late(`(^|[\s(])([1-8])\s*[x×]\s*`)
	loadIn  = expression.Late(`(?i)(\d+(?:[.,]\d+)?)\s*(?:ohms?|Ω|\x{2126})`)
	modeIn  = expression.Late(`(?i)\b(mono|stereo|bridged?|paralleled|parallel)\b`)
	basisIn = expression.Late(`(?i)\b(measured|standard|claimed)\b`)
	powerIn = expression.Late(`(?i)\b(watts?|w|rms|power|rated|output|rating|ratings)\b`)
	fillers = expression.Late(`(?i)\b(at|into|per|channel|ch|a|each|continuous|x|load)\b|[@(),:/_-]|\[|\]`)
)

// ratingColumn reads the name of a column of powers, in English or not. The power
// of a moment is no rating.
func ratingColumn(name string) (rating, bool) {
	r, ok := ratingNamed(name)
	if !ok {
		r, ok = ratingNamed(trade.Heading(name))
	}
	return r, ok
}

// ratingNamed reads the name of a column of powers. Every word of it has to
// be understood, or it may be the price of a 4 ohm cable.
func ratingNamed(name string) (r rating, ok bool) {
	load := loadIn().FindStringSubmatch(name)
	if load == nil {
		return r, false
	}
	r.load = strings.Replace(load[1], ",", ".", 1) + " ohm"
	rest := strings.Replace(name, load[0], " ", 1)
	if mode := modeIn().FindString(rest); mode != "" {
		rest = strings.Replace(rest, mode, " ", 1)
		switch m := strings.ToLower(mode); m {
		case "bridge":
			r.mode = "bridged"
		case "parallel":
			r.mode = "paralleled"
		default:
			r.mode = m
		}
	}
	if basis := basisIn().FindString(rest); basis != "" {
		rest = strings.Replace(rest, basis, " ", 1)
		r.basis = strings.ToLower(basis)
	}
	if count := countIn().FindStringSubmatch(rest); count != nil {
		r.count = count[2]
		rest = strings.Replace(rest, count[0], " ", 1)
	}
	power := powerIn().MatchString(rest)
	rest = fillers().ReplaceAllString(powerIn().ReplaceAllString(rest, " "), " ")
	return r, strings.TrimSpace(rest) == "" && (power || r.mode != "" || r.count != "")
}

// node is the rating with its power; alone is the mode of one whose column
// names none.
func (r rating) node(watts string, c grid.Cell, alone string) *yaml.Node {
	mode := r.mode
	if mode == "" {
		mode = alone
	}
	n := mapping(c)
	n.Style = yaml.FlowStyle
	put(n, "mode", scalar(mode, c))
	put(n, "load", scalar(r.load, c))
	put(n, "watts", scalar(watts, c))
	if r.basis != "" {
		put(n, "basis", scalar(r.basis, c))
	}
	return n
}

// ratingList is the cell with all of them.
var ratingList = itemList{
	form:   "mode, load and power, and ; between them: stereo 4 ohm 50 W; bridged 4 ohm 150 W",
	item:   ratingIn,
	write:  ratingText,
	same:   sameRating,
	values: []string{"watts", "volts"},
}

// ratingText is one rating as it is exported.
func ratingText(n *yaml.Node) string {
	var words []string
	for i := 1; i < len(n.Content); i += 2 {
		words = append(words, n.Content[i].Value)
	}
	return strings.Join(words, " ")
}

// exported is such a rating.
var exported = expression.Late(`^(\S+)\s+(\S+(?:\s*(?:ohms?|mohm|Ω)))\s+(\S+\s*[kKmM]?[wW])(?:\s+(claimed|standard|measured))?(?:\s+(\S+\s*[vV]))?$`)

// ratingIn reads it.
func ratingIn(item string, c grid.Cell, _ func(string) string) (*yaml.Node, error) {
	m := exported().FindStringSubmatch(item)
	if m == nil {
		return nil, fmt.Errorf("%q is not a rating", item)
	}
	n := rating{mode: m[1], load: m[2], basis: m[4]}.node(m[3], c, "")
	if m[5] != "" {
		put(n, "volts", scalar(m[5], c))
	}
	return n, nil
}

// sameRating tells whether two ratings are for the same mode, load and basis;
// one that states no basis is for any.
func sameRating(a, b *yaml.Node) bool {
	spec := itemSpecs()["ratings"]
	basis, other := lookup(a, "basis").Value, lookup(b, "basis").Value
	return same(spec["mode"], lookup(a, "mode").Value, lookup(b, "mode").Value) &&
		same(spec["load"], lookup(a, "load").Value, lookup(b, "load").Value) &&
		(basis == "" || same(spec["basis"], basis, cmp.Or(other, spec["basis"].Default)))
}
