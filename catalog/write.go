package catalog

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"io"

	"loudfor/catalog/document"
)

// Parts are written as the file of parts that would give them. The form is
// canonical: equal catalogues give equal bytes, whatever files they came from,
// so that the bytes can stand for the catalogue (the job book stores each
// state once, under the hash of its bytes). Parts stand in SKU order; the rest
// is the affair of document.Writer and of the tables that files are read with.

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
	item := func(what, name string, write func(*document.Writer) error) error {
		w := document.NewWriter("  - ", "    ")
		err := write(w)
		text, unheld := w.Text()
		if err = cmp.Or(err, unheld); err != nil {
			return fmt.Errorf("the %s %q cannot be written: %w", what, name, err)
		}
		_, err = b.WriteString(text)
		return err
	}
	for _, p := range c.Parts {
		if err := item("part", p.SKU, func(w *document.Writer) error { return writePart(w, p) }); err != nil {
			return err
		}
	}
	if len(c.Deals) > 0 {
		b.WriteString("deals:\n")
	}
	for _, d := range c.Deals {
		err := item("deal", d.Name, func(w *document.Writer) error {
			dealSchema.Write(w, d, &Deal{Form: -1, Limit: Unlimited})
			return nil
		})
		if err != nil {
			return err
		}
	}
	if len(c.Shops) > 0 {
		b.WriteString("stores:\n")
	}
	for _, s := range c.Shops {
		if err := item("store", s.Name, func(w *document.Writer) error { storeSchema.Write(w, s, &Store{}); return nil }); err != nil {
			return err
		}
	}
	return b.Flush()
}

func writePart(w *document.Writer, p *Part) error {
	if p.Kind < 0 || p.Kind >= KindCount || !p.described() {
		return fmt.Errorf("it has no description of its kind, %s", p.Kind)
	}
	schemas[p.Kind].Write(w, p, newPart(p.Kind))
	return nil
}

// WriteBrief writes a brief as YAML from which LoadBrief makes an equal one:
// what a customer settled on at the counter is kept as the brief that it
// became. What equals its default is left out, as a person would, but for
// what is wanted and where; numbers are in SI units.
func WriteBrief(w io.Writer, b Brief) error {
	usual := BuildFile{Brief: DefaultBrief()}
	usual.Brief.Goal, usual.Brief.Front, usual.Brief.Place, usual.Brief.Openings = -1, -1, "", ""
	out := document.NewWriter("", "")
	out.SI = true
	briefSchema.Write(out, &BuildFile{Brief: b}, &usual)
	text, err := out.Text()
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, text)
	return err
}
