package catalog

import (
	"fmt"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
)

// The keys of briefs and builds. A build file holds a brief's keys and three
// more, so that a build can be predicted under the rules of its customer.

// Defaults of a brief, as the reference states them too.
const (
	defaultPlace      = "dash"
	defaultOpenings   = "shut"
	defaultBoxes      = 2
	defaultDrivers    = 4
	defaultAmplifiers = 2
	defaultBassLift   = 6
	defaultFrontWatts = 10
	defaultCelsius    = 20
	defaultBurst      = 3
	defaultOverdrive  = 1.3
)

// DefaultBrief is a brief in which nothing is stated yet.
func DefaultBrief() Brief {
	return Brief{
		Place: defaultPlace, Openings: defaultOpenings,
		Boxes: defaultBoxes, Drivers: defaultDrivers, Amplifiers: defaultAmplifiers,
		BassLift: defaultBassLift, FrontWatts: defaultFrontWatts, Celsius: defaultCelsius,
		Burst: defaultBurst, Overdrive: defaultOverdrive,
	}
}

var (
	goalWords  = []string{GoalReading: "reading", GoalMusic: "music"}
	frontWords = []string{FrontKeep: "keep", FrontReplace: "replace", FrontEither: "either"}
)

func (g Goal) String() string {
	if g < 0 || int(g) >= len(goalWords) {
		return "goal"
	}
	return goalWords[g]
}

func (f FrontRule) String() string {
	if f < 0 || int(f) >= len(frontWords) {
		return "front"
	}
	return frontWords[f]
}

// ParseGoal finds a goal by its word.
func ParseGoal(text string) (Goal, bool) {
	var v value
	ok := (&spec{Key: "goal", Words: goalWords}).Has(text, &v)
	return Goal(v.Word), ok
}

type (
	briefField = document.Field[BuildFile]
)

// briefFields are the keys of a brief; a build has them as well.
func briefFields(capRequired bool) []briefField {
	return []briefField{
		{Spec: spec{Key: "name", Shape: document.Text, Example: "first system", Help: "what the job is called"},
			Set: func(f *BuildFile, v *value) { f.Brief.Name = v.Text }},
		{Spec: spec{Key: "cap", Shape: document.Price, Range: ">0..1000000000000", Required: capRequired, Example: "250 USD", Help: "the most that everything may cost, tax included"},
			Set: func(f *BuildFile, v *value) { f.Brief.Cap = Money(v.Price) }},
		{Spec: taxSpec, Nested: func(r *document.Reader, f *BuildFile, n *yaml.Node) { readTax(r, &f.Brief, n) }},
		{Spec: labourSpec, Nested: func(r *document.Reader, f *BuildFile, n *yaml.Node) { readLabour(r, n, &f.Brief.Labour) }},
		{Spec: spec{Key: "vehicle", Shape: document.Text, Required: true, Example: "small sedan", Help: "a car of the vehicle file, a body style, or open field"},
			Set: func(f *BuildFile, v *value) { f.Brief.Vehicle = v.Text }},
		{Spec: spec{Key: "goal", Shape: document.Word, Words: goalWords, Default: "reading", Help: "what shall be loudest"},
			Set: func(f *BuildFile, v *value) { f.Brief.Goal = Goal(v.Word) }},
		{Spec: spec{Key: "place", Shape: document.Text, Default: defaultPlace, Example: "headrest", Help: "where the meter or the head is: a place of the vehicle, or a point such as 120 40 90 cm from the front, the left and the floor"},
			Set: func(f *BuildFile, v *value) { f.Brief.Place = v.Text }},
		{Spec: spec{Key: "openings", Shape: document.Text, Default: defaultOpenings, Example: "doors open", Help: "what stands open"},
			Set: func(f *BuildFile, v *value) { f.Brief.Openings = v.Text }},
		{Spec: spec{Key: "front", Shape: document.Word, Words: frontWords, Default: "keep", Help: "what happens to the front speakers"},
			Set: func(f *BuildFile, v *value) { f.Brief.Front = FrontRule(v.Word) }},
		mentions("owned", "parts in the customer's hands: they cost nothing", func(f *BuildFile) *[]Mention { return &f.Brief.Owned }),
		mentions("must", "parts that have to be in the build", func(f *BuildFile) *[]Mention { return &f.Brief.Must }),
		mentions("never", "parts that must not be in the build", func(f *BuildFile) *[]Mention { return &f.Brief.Never }),
		{Spec: storesSpec, Nested: readStores},
		{Spec: spec{Key: "most_stores", Shape: document.Whole, Range: "1..20", Example: "1", Help: "the most shops to buy from; not stated: as many as it takes"},
			Set: func(f *BuildFile, v *value) { f.Brief.MostStores = v.Count }},
		{Spec: spec{Key: "space", Shape: document.Size, Range: "5 cm..10 m", Example: "95 x 45 x 50 cm", Help: "width x depth x height that is free for boxes"},
			Set: func(f *BuildFile, v *value) { f.Brief.Space = Size3{v.Three[0], v.Three[1], v.Three[2]} }},
		{Spec: spec{Key: "boxes", Shape: document.Whole, Range: "1..8", Default: "2", Example: "1", Help: "most boxes"},
			Set: func(f *BuildFile, v *value) { f.Brief.Boxes = v.Count }},
		{Spec: spec{Key: "drivers", Shape: document.Whole, Range: "1..16", Default: "4", Example: "2", Help: "most bass drivers"},
			Set: func(f *BuildFile, v *value) { f.Brief.Drivers = v.Count }},
		{Spec: spec{Key: "amplifiers", Shape: document.Whole, Range: "1..8", Default: "2", Example: "1", Help: "most amplifiers for the bass"},
			Set: func(f *BuildFile, v *value) { f.Brief.Amplifiers = v.Count }},
		{Spec: spec{Key: "build_boxes", Shape: document.Flag, Default: "no", Help: "yes: the search also considers boxes that a workshop of the catalogue builds of its sheet material"},
			Set: func(f *BuildFile, v *value) { f.Brief.BuildBoxes = v.Flag }},
		{Spec: spec{Key: "box_weight", Shape: document.Quantity, Dim: units.Mass, Range: ">0 kg..1000 kg", Example: "25 kg", Help: "the most that the wood of one built box may weigh; the sheet then has to state its density"},
			Set: func(f *BuildFile, v *value) { f.Brief.BoxWeight = v.SI }},
		{Spec: spec{Key: "alternator", Shape: document.Quantity, Dim: units.Current, Range: ">0 A..1000 A", Example: "70 A", Help: "its rated current; not stated: the vehicle's"},
			Set: func(f *BuildFile, v *value) { f.Brief.Alternator = v.SI }},
		{Spec: spec{Key: "bass_lift", Shape: document.Quantity, Dim: units.Level, Range: "-20 dB..40 dB", Default: "6 dB", Example: "6 dB", Help: "how far the bass shall stand above the front"},
			Set: func(f *BuildFile, v *value) { f.Brief.BassLift = v.SI }},
		{Spec: spec{Key: "front_watts", Shape: document.Named, Dim: units.Power, Range: "0 W..1000 W", Default: "10 W", Example: "10 W", Help: "power a side that a front pair needs at least"},
			Set: func(f *BuildFile, v *value) { f.Brief.FrontWatts = v.SI }},
		{Spec: spec{Key: "temperature", Shape: document.Quantity, Dim: units.Temperature, Range: "-40 C..60 C", Default: "20 C", Help: "of the air"},
			Set: func(f *BuildFile, v *value) { f.Brief.Celsius = v.SI }},
		{Spec: spec{Key: "burst", Shape: document.Quantity, Dim: units.Time, Range: "50 ms..1 h", Default: "3 s", Help: "how long a reading's tone lasts"},
			Set: func(f *BuildFile, v *value) { f.Brief.Burst = v.SI }},
		{Spec: spec{Key: "overdrive", Shape: document.Quantity, Dim: units.Number, Range: "0.1..2", Default: "1.3", Example: "1.3", Help: "travel allowed for a reading, in units of xmax"},
			Set: func(f *BuildFile, v *value) { f.Brief.Overdrive = v.SI }},
	}
}

var briefSchema = document.NewSchema("a brief", briefFields(true))

var buildSchema = document.NewSchema("a build", append(briefFields(false),
	func() briefField {
		f := mentions("parts", "the parts of the build", func(f *BuildFile) *[]Mention { return &f.Parts })
		f.Required, f.Example = true, "[OR-M3, \"TM-12V x 2\", KE-D12]"
		return f
	}(),
	briefField{Spec: spec{Key: "mode", Shape: document.Word, Words: modeWords, Help: "how the bass amplifier is used; not stated: the loudest way"},
		Set: func(f *BuildFile, v *value) { f.Mode = modeWords[v.Word] }},
	briefField{Spec: spec{Key: "load", Shape: document.Quantity, Dim: units.Resistance, Range: "0.1 ohm..200 ohm", Help: "load of each amplifier output; not stated: the loudest valid one"},
		Set: func(f *BuildFile, v *value) { f.Load = v.SI }},
	builtBoxField,
))

func mentions(key, help string, to func(*BuildFile) *[]Mention) briefField {
	s := spec{Key: key, Shape: document.Texts, Example: "[TM-12V, \"OR-M3 x 2\"]", Help: help}
	return briefField{Spec: s, Nested: func(r *document.Reader, f *BuildFile, n *yaml.Node) { readMentions(r, &s, n, to(f)) }}
}

var storesSpec = spec{Key: "stores", Shape: document.Texts, Example: "[Dock Street]", Help: "the only shops to buy from"}

func readStores(r *document.Reader, f *BuildFile, n *yaml.Node) {
	var v value
	if !r.Read(n, &storesSpec, &v) {
		return
	}
	for i, n := range v.Texts {
		f.Brief.Stores = append(f.Brief.Stores, strings.TrimSpace(document.Resolve(n).Value))
		f.Brief.Keys[storeKey(i)] = r.Where(n)
	}
}

// storeKey is where the position of one of the stores is kept.
func storeKey(i int) string { return fmt.Sprintf("stores[%d]", i+1) }

// mostPieces is the most pieces of one part that a brief can name.
const mostPieces = 99

// readMentions reads a list of "SKU" and "SKU x 2".
func readMentions(r *document.Reader, s *spec, n *yaml.Node, to *[]Mention) {
	var v value
	if !r.Read(n, s, &v) {
		return
	}
	for _, n := range v.Texts {
		m := Mention{SKU: strings.TrimSpace(document.Resolve(n).Value), Count: 1, Where: r.Where(n)}
		if k := max(strings.LastIndex(m.SKU, " x "), strings.LastIndex(m.SKU, " X ")); k > 0 {
			if count, err := strconv.Atoi(strings.TrimSpace(m.SKU[k+3:])); err == nil {
				if count < 1 || count > mostPieces {
					r.Complain(n, fmt.Sprintf("%d pieces of %s", count, strings.TrimSpace(m.SKU[:k])), fmt.Sprintf("name between 1 and %d pieces", mostPieces))
					continue
				}
				m.SKU, m.Count = strings.TrimSpace(m.SKU[:k]), count
			}
		}
		for _, other := range *to {
			if other.SKU == m.SKU {
				r.Twice(n, fmt.Sprintf("%s is named twice under %s", m.SKU, s.Key), fmt.Sprintf("write it once, with the number of pieces: %s x %d", m.SKU, min(mostPieces, other.Count+m.Count)), other.Where)
			}
		}
		*to = append(*to, m)
	}
}
