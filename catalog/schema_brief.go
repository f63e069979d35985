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
	defaultLowestNote = 35 // Hz
)

// DefaultBrief is a brief in which nothing is stated yet.
func DefaultBrief() Brief {
	return Brief{
		Place: defaultPlace, Openings: defaultOpenings,
		Boxes: defaultBoxes, Drivers: defaultDrivers, Amplifiers: defaultAmplifiers,
		BassLift: defaultBassLift, FrontWatts: defaultFrontWatts, Celsius: defaultCelsius,
		Burst: defaultBurst, Overdrive: defaultOverdrive, LowestNote: defaultLowestNote,
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
		document.String(spec{Key: "name", Shape: document.Text, Example: "first system", Help: "what the job is called"},
			func(f *BuildFile) *string { return &f.Brief.Name }),
		money(spec{Key: "cap", Shape: document.Price, Range: ">0..1000000000000", Required: capRequired, Example: "250 USD", Help: "the most that everything may cost, tax included"},
			func(f *BuildFile) *Money { return &f.Brief.Cap }),
		{Spec: stepsSpec, Nested: readSteps,
			Write: writeSteps},
		{Spec: spec{Key: "resale", Shape: document.Percent, Range: "0 %..100 %", Default: "0 %", Example: "40 %", Help: "for what share of its price a part bought at an earlier step is sold when it is not used any more"},
			Set: func(f *BuildFile, v *value) { f.Brief.Resale = v.Millionths },
			Get: func(f *BuildFile, v *value) bool { v.Millionths = f.Brief.Resale; return true }},
		document.Enum(spec{Key: "order", Shape: document.Word, Words: planWords, Default: "last", Help: "which plan in steps is the best: the loudest at the end, the loudest first, or within 1 dB of the best at every step with the least thrown away"},
			func(f *BuildFile) *PlanOrder { return &f.Brief.Order }),
		{Spec: taxSpec, Nested: func(r *document.Reader, f *BuildFile, n *yaml.Node) { readTax(r, &f.Brief, n) },
			Write: func(w *document.Writer, f *BuildFile) { writeTax(w, &f.Brief) }},
		{Spec: labourSpec, Nested: func(r *document.Reader, f *BuildFile, n *yaml.Node) { readLabour(r, n, &f.Brief.Labour) },
			Write: func(w *document.Writer, f *BuildFile) {
				labourSchema.WriteList(w, labourSpec.Key, f.Brief.Labour, &Labour{Per: KindCount})
			}},
		document.String(spec{Key: "vehicle", Shape: document.Text, Required: true, Example: "small sedan", Help: "a car of the vehicle file, a body style, or open field"},
			func(f *BuildFile) *string { return &f.Brief.Vehicle }),
		document.Enum(spec{Key: "goal", Shape: document.Word, Words: goalWords, Default: "reading", Help: "what shall be loudest"},
			func(f *BuildFile) *Goal { return &f.Brief.Goal }),
		document.String(spec{Key: "place", Shape: document.Text, Default: defaultPlace, Example: "headrest", Help: "where the meter or the head is: a place of the vehicle, or a point such as 120 40 90 cm from the front, the left and the floor"},
			func(f *BuildFile) *string { return &f.Brief.Place }),
		document.String(spec{Key: "openings", Shape: document.Text, Default: defaultOpenings, Example: "doors open", Help: "what stands open"},
			func(f *BuildFile) *string { return &f.Brief.Openings }),
		document.Enum(spec{Key: "front", Shape: document.Word, Words: frontWords, Default: "keep", Help: "what happens to the front speakers"},
			func(f *BuildFile) *FrontRule { return &f.Brief.Front }),
		mentions("owned", "parts in the customer's hands: they cost nothing", func(f *BuildFile) *[]Mention { return &f.Brief.Owned }),
		mentions("must", "parts that have to be in the build", func(f *BuildFile) *[]Mention { return &f.Brief.Must }),
		mentions("never", "parts that must not be in the build", func(f *BuildFile) *[]Mention { return &f.Brief.Never }),
		{Spec: storesSpec, Nested: readStores,
			Get: func(f *BuildFile, v *value) bool { v.Items = f.Brief.Stores; return true }},
		document.Int(spec{Key: "most_stores", Shape: document.Whole, Range: "1..20", Example: "1", Help: "the most shops to buy from; not stated: as many as it takes; parts without a store count for none"},
			func(f *BuildFile) *int { return &f.Brief.MostStores }),
		size(spec{Key: "space", Shape: document.Size, Range: "5 cm..10 m", Example: "95 x 45 x 50 cm", Help: "width x depth x height that is free for boxes"},
			func(f *BuildFile) *Size3 { return &f.Brief.Space }),
		document.Int(spec{Key: "boxes", Shape: document.Whole, Range: "1..8", Default: "2", Example: "1", Help: "most boxes"},
			func(f *BuildFile) *int { return &f.Brief.Boxes }),
		document.Int(spec{Key: "drivers", Shape: document.Whole, Range: "1..16", Default: "4", Example: "2", Help: "most bass drivers"},
			func(f *BuildFile) *int { return &f.Brief.Drivers }),
		document.Int(spec{Key: "amplifiers", Shape: document.Whole, Range: "1..8", Default: "2", Example: "1", Help: "most amplifiers for the bass"},
			func(f *BuildFile) *int { return &f.Brief.Amplifiers }),
		document.Bool(spec{Key: "build_boxes", Shape: document.Flag, Default: "no", Help: "yes: the search also considers boxes that a workshop of the catalogue builds of its sheet material"},
			func(f *BuildFile) *bool { return &f.Brief.BuildBoxes }),
		document.Float(spec{Key: "box_weight", Shape: document.Quantity, Dim: units.Mass, Range: ">0 kg..1000 kg", Example: "25 kg", Help: "the most that the wood of one built box may weigh; the sheet then has to state its density"},
			func(f *BuildFile) *float64 { return &f.Brief.BoxWeight }),
		document.Float(spec{Key: "lowest_note", Shape: document.Quantity, Dim: units.Frequency, Range: "15 Hz..120 Hz", None: AnyNote, Free: "any", Default: "35 Hz", Example: "35 Hz", Help: "the lowest note that a built box shall play: its port is tuned to that or lower; any: whatever is loudest"},
			func(f *BuildFile) *float64 { return &f.Brief.LowestNote }),
		document.Float(spec{Key: "alternator", Shape: document.Quantity, Dim: units.Current, Range: ">0 A..1000 A", Example: "70 A", Help: "its rated current; not stated: the vehicle's"},
			func(f *BuildFile) *float64 { return &f.Brief.Alternator }),
		document.Float(spec{Key: "bass_lift", Shape: document.Quantity, Dim: units.Level, Range: "-20 dB..40 dB", Default: "6 dB", Example: "6 dB", Help: "how far the bass shall stand above the front"},
			func(f *BuildFile) *float64 { return &f.Brief.BassLift }),
		document.Float(spec{Key: "front_watts", Shape: document.Named, Dim: units.Power, Range: "0 W..1000 W", Default: "10 W", Example: "10 W", Help: "power a side that a front pair needs at least"},
			func(f *BuildFile) *float64 { return &f.Brief.FrontWatts }),
		document.Float(spec{Key: "temperature", Shape: document.Quantity, Dim: units.Temperature, Range: "-40 C..60 C", Default: "20 C", Help: "of the air"},
			func(f *BuildFile) *float64 { return &f.Brief.Celsius }),
		document.Float(spec{Key: "burst", Shape: document.Quantity, Dim: units.Time, Range: "50 ms..1 h", Default: "3 s", Help: "how long a reading's tone lasts"},
			func(f *BuildFile) *float64 { return &f.Brief.Burst }),
		document.Float(spec{Key: "overdrive", Shape: document.Quantity, Dim: units.Number, Range: "0.1..2", Default: "1.3", Example: "1.3", Help: "travel allowed for a reading, in units of xmax"},
			func(f *BuildFile) *float64 { return &f.Brief.Overdrive }),
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
	document.Float(spec{Key: "load", Shape: document.Quantity, Dim: units.Resistance, Range: "0.1 ohm..200 ohm", Help: "load of each amplifier output; not stated: the loudest valid one"},
		func(f *BuildFile) *float64 { return &f.Load }),
	builtBoxField,
))

func mentions(key, help string, to func(*BuildFile) *[]Mention) briefField {
	s := spec{Key: key, Shape: document.Texts, Example: "[TM-12V, \"OR-M3 x 2\"]", Help: help}
	return briefField{Spec: s, Nested: func(r *document.Reader, f *BuildFile, n *yaml.Node) { readMentions(r, &s, n, to(f)) },
		Get: func(f *BuildFile, v *value) bool { v.Items = mentionTexts(*to(f)); return true }}
}

var storesSpec = spec{Key: "stores", Shape: document.Texts, Example: "[Dock Street]", Help: "the only shops to buy from; parts without a store are then not bought"}

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

// mentionTexts are mentions as readMentions reads them. A SKU that itself ends
// like a number of pieces needs one behind it.
func mentionTexts(list []Mention) (texts []string) {
	for _, m := range list {
		text := m.SKU
		if m.Count != 1 || strings.Contains(strings.ToLower(m.SKU), " x ") {
			text += fmt.Sprintf(" x %d", m.Count)
		}
		texts = append(texts, text)
	}
	return texts
}

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
