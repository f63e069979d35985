package catalog

import (
	"bufio"
	"fmt"
	"strconv"
	"strings"

	"loudfor/catalog/document"
)

// writeDeals writes the deals after the parts, in the same canonical form.
func writeDeals(b *bufio.Writer, deals []*Deal) error {
	if len(deals) > 0 {
		b.WriteString("deals:\n")
	}
	for _, d := range deals {
		w := partWriter{lead: "  - ", after: "    "}
		w.deal(d)
		if w.err != nil {
			return fmt.Errorf("the deal %q cannot be written: %w", d.Name, w.err)
		}
		b.WriteString(w.text.String())
	}
	return nil
}

func (w *partWriter) deal(d *Deal) {
	w.words("name", d.Name)
	if d.Form == DealSet {
		var list []string
		for _, m := range d.Parts {
			text := m.SKU
			if m.Count > 1 {
				text += " x " + strconv.Itoa(m.Count)
			}
			text, err := document.Quoted(text)
			if err != nil {
				w.fail(fmt.Errorf("parts: %w", err))
			}
			list = append(list, text)
		}
		w.plain("parts", "["+strings.Join(list, ", ")+"]")
	} else if len(d.Parts) == 1 {
		w.words("sku", d.Parts[0].SKU)
	}
	if d.Form != DealEvery {
		w.plain("price", d.Price.String())
	}
	w.count("from", d.From, 0)
	if d.All {
		w.plain("applies", appliesWords[1])
	}
	w.count("every", d.Every, 0)
	if d.Form == DealEvery {
		w.plain("off", strconv.FormatFloat(float64(d.OffPPM)/(millionths/100), 'f', -1, 64)+" %")
	}
	w.count("limit", d.Limit, Unlimited)
	w.words("store", d.Store)
	w.words("note", d.Note)
}

// offers writes one line for each shop.
func (w *partWriter) offers(offers []Offer) {
	if len(offers) == 0 {
		return
	}
	w.group("offers", func() {
		for _, o := range offers {
			store, err := document.Quoted(o.Store)
			if err != nil {
				w.fail(fmt.Errorf("offers: %w", err))
			}
			text := "- {store: " + store + ", price: " + o.Price.String()
			if o.Stock != Unlimited {
				text += ", stock: " + strconv.Itoa(o.Stock)
			}
			w.text.WriteString(w.lead + text + "}\n")
		}
	})
}

// writeStores writes the shops that are described.
func writeStores(b *bufio.Writer, stores []*Store) error {
	if len(stores) > 0 {
		b.WriteString("stores:\n")
	}
	for _, s := range stores {
		w := partWriter{lead: "  - ", after: "    "}
		w.words("name", s.Name)
		if s.Trip != (Money{}) {
			w.plain("trip", s.Trip.String())
		}
		if w.err != nil {
			return fmt.Errorf("the store %q cannot be written: %w", s.Name, w.err)
		}
		b.WriteString(w.text.String())
	}
	return nil
}
