package catalog

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"loudfor/catalog/document"
)

// WriteBrief writes a brief as YAML from which LoadBrief makes an equal one:
// what a customer settled on at the counter is kept as the brief that it
// became. What equals its default is left out, as a person would.
func WriteBrief(w io.Writer, b Brief) error {
	d := DefaultBrief()
	out := &briefWriter{}
	if b.Name != "" {
		out.text("name", b.Name)
	}
	if b.Cap != (Money{}) {
		out.line("cap", b.Cap.String())
	}
	out.tax(&b)
	out.labour(b.Labour)
	out.text("vehicle", b.Vehicle)
	out.line("goal", b.Goal.String())
	out.text("place", b.Place)
	out.text("openings", b.Openings)
	out.line("front", b.Front.String())
	out.mentions("owned", b.Owned)
	out.mentions("must", b.Must)
	out.mentions("never", b.Never)
	out.texts("stores", b.Stores)
	if b.MostStores > 0 {
		out.line("most_stores", strconv.Itoa(b.MostStores))
	}
	if b.Space != (Size3{}) {
		out.line("space", fmt.Sprintf("%s x %s x %s m", shortest(b.Space.Width), shortest(b.Space.Depth), shortest(b.Space.Height)))
	}
	whole := func(key string, value, usual int) {
		if value != usual {
			out.line(key, strconv.Itoa(value))
		}
	}
	whole("boxes", b.Boxes, d.Boxes)
	whole("drivers", b.Drivers, d.Drivers)
	whole("amplifiers", b.Amplifiers, d.Amplifiers)
	quantity := func(key string, value, usual float64, unit string) {
		if value != usual {
			out.line(key, strings.TrimSpace(shortest(value)+" "+unit))
		}
	}
	if b.BuildBoxes {
		out.line("build_boxes", "yes")
	}
	quantity("box_weight", b.BoxWeight, 0, "kg")
	quantity("alternator", b.Alternator, 0, "A")
	quantity("bass_lift", b.BassLift, d.BassLift, "dB")
	quantity("front_watts", b.FrontWatts, d.FrontWatts, "W")
	quantity("temperature", b.Celsius, d.Celsius, "C")
	quantity("burst", b.Burst, d.Burst, "s")
	quantity("overdrive", b.Overdrive, d.Overdrive, "")
	if out.err != nil {
		return out.err
	}
	_, err := io.WriteString(w, out.b.String())
	return err
}

// shortest is the shortest decimal that is read as the same number.
func shortest(value float64) string { return strconv.FormatFloat(value, 'f', -1, 64) }

// briefWriter keeps the first thing that no file can hold.
type briefWriter struct {
	b   strings.Builder
	err error
}

func (o *briefWriter) line(key, value string) { fmt.Fprintf(&o.b, "%s: %s\n", key, value) }

func (o *briefWriter) quoted(value string) string {
	text, err := document.Quoted(value)
	if err != nil && o.err == nil {
		o.err = err
	}
	return text
}

func (o *briefWriter) text(key, value string) {
	if value != "" {
		o.line(key, o.quoted(value))
	}
}

func (o *briefWriter) texts(key string, values []string) {
	var words []string
	for _, value := range values {
		words = append(words, o.quoted(value))
	}
	if len(words) > 0 {
		o.line(key, "["+strings.Join(words, ", ")+"]")
	}
}

func (o *briefWriter) mentions(key string, list []Mention) {
	var texts []string
	for _, m := range list {
		text := m.SKU
		// A SKU that itself ends like a number of pieces needs one behind it.
		if m.Count != 1 || strings.Contains(strings.ToLower(m.SKU), " x ") {
			text += fmt.Sprintf(" x %d", m.Count)
		}
		texts = append(texts, text)
	}
	o.texts(key, texts)
}

func rate(ppm int64) string {
	return strconv.FormatFloat(math.Round(float64(ppm))/1e4, 'f', -1, 64) + " %"
}

func (o *briefWriter) tax(b *Brief) {
	if len(b.TaxByKind) == 0 && b.LabourTax == nil {
		if b.TaxPPM != 0 {
			o.line("tax", rate(b.TaxPPM))
		}
		return
	}
	words := []string{"default: " + rate(b.TaxPPM)}
	for kind := range KindCount {
		if ppm, ok := b.TaxByKind[kind]; ok {
			words = append(words, kind.String()+": "+rate(ppm))
		}
	}
	if b.LabourTax != nil {
		words = append(words, "labour: "+rate(*b.LabourTax))
	}
	o.line("tax", "{"+strings.Join(words, ", ")+"}")
}

func (o *briefWriter) labour(lines []Labour) {
	if len(lines) == 0 {
		return
	}
	o.b.WriteString("labour:\n")
	for _, l := range slices.Clone(lines) {
		words := []string{"name: " + o.quoted(l.Name), "price: " + l.Price.String()}
		if l.Per != KindCount {
			words = append(words, "per: "+l.Per.String())
		}
		if l.Installed {
			words = append(words, "pieces: installed")
		}
		if l.Taxed {
			words = append(words, "tax: "+rate(l.TaxPPM))
		}
		fmt.Fprintf(&o.b, "  - {%s}\n", strings.Join(words, ", "))
	}
}
