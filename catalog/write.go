package catalog

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	"loudfor/catalog/document"
	"loudfor/catalog/units"
)

// Parts are written as the file of parts that would give them. The form is
// canonical: equal catalogues give equal bytes, whatever files they came from,
// so that the bytes can stand for the catalogue (the job book stores each
// state once, under the hash of its bytes).
//
// Canonical means: parts in SKU order; keys in the order of Reference; a key
// whose value is the default, or not stated, is left out; numbers as exact
// writes them.

// WriteParts writes the parts and deals of a catalogue as YAML from which Load makes an
// equal one: every value the same to the last bit, only the positions differ.
// It fails for what no file can hold, such as a catalogue without parts or a
// text that is not UTF-8, and when w does.
func WriteParts(w io.Writer, c *Catalogue) error {
	if len(c.Parts) == 0 {
		return errors.New("a catalogue without parts cannot be written: no file holds an empty one")
	}
	b := bufio.NewWriter(w)
	b.WriteString("parts:\n")
	var out partWriter
	for _, p := range c.Parts {
		out.text.Reset()
		out.part(p)
		if out.err != nil {
			return fmt.Errorf("the part %q cannot be written: %w", p.SKU, out.err)
		}
		b.WriteString(out.text.String())
	}
	if err := writeDeals(b, c.Deals); err != nil {
		return err
	}
	if err := writeStores(b, c.Shops); err != nil {
		return err
	}
	return b.Flush()
}

// partWriter writes one part; the first error stays.
type partWriter struct {
	text  strings.Builder
	lead  string // what stands before the next key
	after string // before the ones that follow
	err   error
}

func (w *partWriter) part(p *Part) {
	w.lead, w.after = "  - ", "    "
	w.words("sku", p.SKU)
	w.plain("kind", p.Kind.String())
	w.words("name", p.Name)
	w.words("maker", p.Maker)
	w.words("store", p.Store)
	if p.Priced {
		w.plain("price", p.Price.String())
	}
	w.count("stock", p.Stock, Unlimited)
	w.count("limit", p.Limit, Unlimited)
	w.words("note", p.Note)
	w.offers(p.Offers)
	switch {
	case p.Subwoofer != nil && p.Kind == KindSubwoofer:
		w.subwoofer(p.Subwoofer)
	case p.Amplifier != nil && p.Kind == KindAmplifier:
		w.amplifier(p.Amplifier)
	case p.Enclosure != nil && p.Kind == KindEnclosure:
		w.enclosure(p.Enclosure)
	case p.Loaded != nil && p.Kind == KindLoaded:
		w.loaded(p.Loaded)
	case p.Front != nil && p.Kind == KindFront:
		w.front(p.Front)
	case p.Source != nil && p.Kind == KindSource:
		w.source(p.Source)
	case p.Converter != nil && p.Kind == KindConverter:
		w.count("channels", p.Converter.Channels, 0)
	case p.Blocker != nil && p.Kind == KindBlocker:
		w.quantity("capacitance", p.Blocker.Capacitance, units.Capacitance)
	case p.Kit != nil && p.Kind == KindKit:
		w.kit(p.Kit)
	case p.Sheet != nil && p.Kind == KindSheet:
		w.sheet(p.Sheet)
	case p.Workshop != nil && p.Kind == KindWorkshop:
		w.workshop(p.Workshop)
	default:
		w.fail(fmt.Errorf("it has no description of its kind, %s", p.Kind))
	}
}

func (w *partWriter) fail(err error) {
	if w.err == nil {
		w.err = err
	}
}

// plain writes a key with a value that needs no quotes.
func (w *partWriter) plain(key, value string) {
	w.text.WriteString(w.lead)
	w.text.WriteString(key)
	w.text.WriteString(": ")
	w.text.WriteString(value)
	w.text.WriteByte('\n')
	w.lead = w.after
}

// words writes a text of the user's; an empty one is not stated.
func (w *partWriter) words(key, value string) {
	if value == "" {
		return
	}
	text, err := document.Quoted(value)
	if err != nil {
		w.fail(fmt.Errorf("%s: %w", key, err))
		return
	}
	w.plain(key, text)
}

func (w *partWriter) count(key string, n, unstated int) {
	if n != unstated {
		w.plain(key, fmt.Sprint(n))
	}
}

// quantity writes a value with its unit; zero is not stated.
func (w *partWriter) quantity(key string, si float64, d units.Dimension) {
	if si != 0 {
		w.plain(key, units.Exact(si, d))
	}
}

// times writes a count and the quantity of each.
func (w *partWriter) times(key string, count int, si float64, d units.Dimension) {
	switch {
	case count == 1:
		w.plain(key, units.Exact(si, d))
	case count > 1:
		w.plain(key, fmt.Sprintf("%d x %s", count, units.Exact(si, d)))
	}
}

func (w *partWriter) size(key string, s Size3) {
	if s != (Size3{}) {
		w.plain(key, units.ExactLengths(s.Width, s.Depth, s.Height))
	}
}

func (w *partWriter) flag(key string, on bool) {
	if on {
		w.plain(key, "true")
	}
}

// group writes the keys of a nested mapping further in.
func (w *partWriter) group(key string, inside func()) {
	w.text.WriteString(w.lead + key + ":\n")
	before := w.after
	w.after += "  "
	w.lead = w.after
	inside()
	w.lead, w.after = before, before
}
