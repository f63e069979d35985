package catalog

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"loudfor/model/air"
	"loudfor/model/amplifier"
	"loudfor/model/driver"
	"loudfor/model/enclosure"
	"loudfor/model/front"
	"loudfor/model/parallel"
	"loudfor/model/supply"
)

// A part can be readable and still not quite right: a card that contradicts
// itself, a power that the fuse cannot pass, a box larger inside than outside.
// The build can go on, with what the model makes of it; the builder should
// know.

// Check gives warnings about parts that cannot be quite right, and remarks
// about what will be assumed for them, in the order of their places.
func Check(c *Catalogue) []Problem {
	found := make([][]Problem, len(c.Parts))
	var known cards
	parallel.Each(parallel.Workers(0), len(c.Parts), func(i int) {
		e := examiner{c: c, p: c.Parts[i], cards: &known}
		e.examine()
		found[i] = e.found
	})
	report := Report{Problems: slices.Concat(slices.Concat(found...), c.checkDeals(), c.checkPrices(), c.checkTwins())}
	report.Sort(0)
	return report.Problems
}

// examiner looks at one part.
type examiner struct {
	c     *Catalogue
	p     *Part
	cards *cards
	found []Problem
}

func (e *examiner) say(s Severity, path, detail, summary string, args ...any) {
	e.found = append(e.found, e.c.problem(s, e.p, path, e.p.SKU+": "+fmt.Sprintf(summary, args...), detail))
}

// hazard says what can hurt.
func (e *examiner) hazard(s Severity, path, detail, summary string, args ...any) {
	e.say(s, path, detail, summary, args...)
	e.found[len(e.found)-1].Hazard = true
}

func (e *examiner) examine() {
	p := e.p
	if !p.Priced {
		e.say(Info, "", "give it a price to offer it", "it has no price, so it can only be owned")
	}
	if card, prefix := p.card(); card != nil {
		e.card(*card, prefix)
	}
	switch p.Kind {
	case KindSubwoofer:
		if s := p.Subwoofer; s.Cutout > s.Card.Size*widestCutout {
			e.say(Warning, "cutout", fmt.Sprintf("the driver is nominally %s", centimetres(s.Card.Size)), "the cutout of %s is wider than the driver", centimetres(s.Cutout))
		}
	case KindAmplifier:
		e.amplifier()
	case KindEnclosure:
		b := p.Enclosure
		e.box(&b.Box)
		e.holes(b)
	case KindLoaded:
		e.box(&p.Loaded.Box)
		if s := p.Loaded; s.Outside != (Size3{}) && s.Card.Size > largestFace(s.Outside) {
			e.say(Warning, "driver.size", "mend the size or the outside of the box", "a driver of %s does not fit a box of %s", centimetres(s.Card.Size), s.Outside)
		}
	case KindSource:
		e.source()
	case KindKit:
		e.kit()
	case KindSheet:
		if p.Sheet.Density == 0 {
			e.say(Info, "", "add density: 740 kg/m3", "its density is not stated, so the weight of a box of it is not known")
		}
	}
}

// widestCutout allows for frames that are a little larger than their nominal
// size (common practice, no source).
const widestCutout = 1.02

func centimetres(m float64) string { return fmt.Sprintf("%.4g cm", 100*m) }

// String writes the size in centimetres, such as "38 x 36 x 33 cm".
func (s Size3) String() string {
	return fmt.Sprintf("%.4g x %.4g x %.4g cm", 100*s.Width, 100*s.Depth, 100*s.Height)
}

// Volume is that of the cuboid, m3.
func (s Size3) Volume() float64 { return s.Width * s.Depth * s.Height }

// largestFace is the largest driver that a face of the box has room for, m:
// the middle one of the three edges.
func largestFace(s Size3) float64 {
	edges := []float64{s.Width, s.Depth, s.Height}
	slices.Sort(edges)
	return edges[1]
}

// cards remembers completions: a catalogue often has the same driver several
// times, and in several loaded boxes.
type cards struct{ known sync.Map } // driver.Card -> completion

type completion struct {
	notes []driver.Note
	err   error
}

func (m *cards) complete(c driver.Card) ([]driver.Note, error) {
	if k, ok := m.known.Load(c); ok {
		return k.(completion).notes, k.(completion).err
	}
	_, notes, err := driver.Complete(c, air.At(roomCelsius))
	m.known.Store(c, completion{notes, err})
	return notes, err
}

func (e *examiner) card(c driver.Card, prefix string) {
	notes, err := e.cards.complete(c)
	if err != nil { // Load refuses such a part; a catalogue made by hand may hold it
		e.say(Warning, strings.TrimSuffix(prefix, "."), "check the spec card", "%v", err)
		return
	}
	var assumed []string
	for _, n := range notes {
		switch n.Kind {
		case driver.Inconsistent:
			path := ""
			if len(n.Fields) > 0 {
				path = prefix + cardKeys[n.Fields[0]]
			}
			e.say(Warning, path, n.Source, "%s is off by %.0f %%", n.Quantity, 100*n.Spread)
			e.against(prefix, n.Fields)
		case driver.Unlikely:
			path := ""
			if len(n.Fields) > 0 {
				path = prefix + cardKeys[n.Fields[0]]
			}
			e.say(Warning, path, n.Source, "%s: hardly any driver of that size has it", n.Quantity)
			e.against(prefix, n.Fields)
		case driver.Assumed:
			if _, onCards := cardKeys[n.Quantity]; onCards {
				assumed = append(assumed, n.Quantity)
			}
		}
	}
	if len(assumed) > 0 {
		e.say(Info, strings.TrimSuffix(prefix, "."), "state them to narrow the band of the prediction",
			"not on the card, so assumed as typical of the size: %s", strings.Join(assumed, ", "))
	}
}

// against cites the second place of the contradiction that was said last: the
// number can be right and another wrong, most likely the last of the fields,
// which stand in the order of belief after the one that is blamed.
func (e *examiner) against(prefix string, fields []string) {
	for i := len(fields) - 1; i > 0; i-- {
		if key := prefix + cardKeys[fields[i]]; cardKeys[fields[i]] != "" && e.p.States(key) {
			said := &e.found[len(e.found)-1]
			*said = said.Citing(e.p.At(key), "it contradicts this, which may be the wrong one")
			return
		}
	}
}

func (e *examiner) amplifier() {
	s := &e.p.Amplifier.Spec
	if s.Class == amplifier.ClassUnknown {
		e.say(Info, "", "add class: AB or class: D", "the class is not stated, so its efficiency is assumed")
	}
	e.powers()
	e.loads()
	for _, m := range s.Modes() {
		_, _, notes, ok := s.Source(m)
		if !ok {
			continue
		}
		for _, n := range notes {
			if n.CutTo < n.Claimed {
				e.say(Warning, ratingPath(s, n.Rating, "watts"), n.Reason, "%.0f W %s into %g ohm is more than the fuse can feed: %.0f W is used", n.Claimed, n.Rating.Mode, n.Rating.Load, n.CutTo)
			} else {
				e.say(Info, ratingPath(s, n.Rating, "watts"), "state the fuse, or the basis of the rating", "%s: %s", n.Rating.Mode, n.Reason)
			}
		}
		if loads := differentLoads(s, m); loads == 1 {
			e.say(Info, ratingPath(s, firstOf(s, m), "load"), "state the power into the lightest load too: a box shows two or three times its nominal load",
				"one rating for %s: its voltage into lighter loads is taken to rise by 3 %% at most", m)
		}
	}
}

func firstOf(s *amplifier.Spec, m amplifier.Mode) amplifier.Rating {
	for _, r := range s.Ratings {
		if r.Mode == m {
			return r
		}
	}
	return amplifier.Rating{}
}

func differentLoads(s *amplifier.Spec, m amplifier.Mode) int {
	var loads []float64
	for _, r := range s.Ratings {
		if r.Mode == m && !slices.Contains(loads, r.Load) {
			loads = append(loads, r.Load)
		}
	}
	return len(loads)
}

// tuningTolerance is how far a stated tuning may be from that of the port's
// stated size: makers tune with the driver in the box, which takes a few
// percent of its volume.
const tuningTolerance = 0.08

func (e *examiner) box(b *enclosure.Box) {
	for _, d := range e.p.BoxDoubts() {
		e.say(Warning, d.Path, d.Detail, "%s", d.Summary)
	}
	if b.Kind == enclosure.Sealed {
		for _, key := range [...]string{"port", "tuning"} {
			if e.p.States(key) {
				e.say(Warning, key, "make it a vented box, or remove the key", "a sealed box has no %s", key)
			}
		}
	}
	if b.Kind != enclosure.BandPass && e.p.States("front_volume") {
		e.say(Warning, "front_volume", "make it a band-pass box, or remove the key", "only a band-pass box has a front volume")
	}
	if b.Kind == enclosure.Sealed || !b.Port.Stated() || b.Tuning == 0 {
		return
	}
	if fb := b.Port.Tuning(portedVolume(b), air.At(roomCelsius)); fb < b.Tuning/(1+tuningTolerance) || fb > b.Tuning*(1+tuningTolerance) {
		e.say(Warning, "tuning", "the size of the port is used; mend one of the two", "the port's size gives %.1f Hz, not %.4g Hz", fb, b.Tuning)
	}
}

func (e *examiner) holes(b *Enclosure) {
	if b.Outside == (Size3{}) {
		return
	}
	if face := largestFace(b.Outside); b.Hole > face {
		e.say(Warning, "holes", fmt.Sprintf("the box is %s", b.Outside), "a hole for %s does not fit", centimetres(b.Hole))
	}
	if longest := max(b.Outside.Width, b.Outside.Depth, b.Outside.Height); b.Depth > longest {
		e.say(Warning, "depth", fmt.Sprintf("the box is %s", b.Outside), "%s of depth inside do not fit", centimetres(b.Depth))
	}
}

func (e *examiner) source() {
	s := e.p.Source
	if s.Channels == 0 {
		return
	}
	volts := s.SupplyVolts
	if volts == 0 {
		volts = supply.RunningVolts
	}
	if most := front.HeadUnitCeiling(volts, s.Load, s.Channels); s.Power > most {
		e.say(Warning, "power", "state the continuous power, usually 15 to 22 W; a converter inside would be said on the box",
			"%g W a channel cannot come from %g V into %g ohm: at most %.0f W is used", s.Power, volts, s.Load, most)
	}
}

func (e *examiner) kit() {
	k := e.p.Kit
	ampacity := supply.Ampacity(k.Area, k.CopperClad)
	if k.Fuse > ampacity*(1+supply.FuseTolerance) {
		e.hazard(Warning, "fuse", fmt.Sprintf("put in %g A at most", supply.LargestFuse(ampacity)), "a fuse of %g A does not protect a cable for %.0f A", k.Fuse, ampacity)
	}
	if k.CopperClad {
		same := supply.Resistance(k.Area, 1, false) / supply.Resistance(k.Area, 1, true)
		e.say(Info, "material", "compare it with a copper kit of the same gauge", "copper-clad aluminium carries as copper of %.0f %% of its area would", 100*same)
	}
	if k.GaugeClaimed {
		e.hazard(Info, "basis", "measure the conductor before relying on it", "the gauge is the maker's claim")
	}
	if k.Fuse == 0 {
		e.hazard(Info, "", "add one within 45 cm of the battery", "the kit has no fuse")
	}
}
