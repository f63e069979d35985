package answer

import (
	"fmt"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/cmd/internal/table"
	"loudfor/model/hearing"
	"loudfor/optimizer"
)

// build writes one build in full: what to buy, how to wire it, what the meters
// will show, what it rests on.
func (p *Page) build(q Question, b optimizer.Build, title string) {
	figure := fmt.Sprintf("%s at %s %s", banded(b.Reading.DB, b.Reading.Band), hertz(b.Reading.Hz), where(b.Reading.Place, b.Reading.Openings))
	if q.Brief.Goal == catalog.GoalMusic {
		figure = "music " + banded(b.Music.DB, b.Music.Band) + "; reading " + figure
	}
	p.head(title + ": " + figure)
	p.parts(q.Brief, b)
	p.hookup(b)
}

func (p *Page) parts(brief catalog.Brief, b optimizer.Build) {
	columns := []table.Column{
		{Title: "count", Right: true}, {Title: "part", Fill: true}, {Title: "SKU"}, {Title: "store"},
		{Title: "each", Right: true}, {Title: "sum", Right: true},
	}
	var rows [][]string
	for _, line := range b.Lines {
		part := line.Part
		stores, each, cost := part.Store, "owned", "-"
		if line.Owned < line.Count {
			stores, each = boughtAt(line)
			cost = line.Cost.String()
			if line.Owned > 0 {
				each += fmt.Sprintf("\n(%d owned)", line.Owned)
			}
		}
		name := part.Name
		if name == "" {
			name = part.Kind.String()
		}
		rows = append(rows, []string{fmt.Sprint(line.Count), name, part.SKU, stores, each, cost})
	}
	rows = append(rows, extras(b)...)
	rows = append(rows, []string{"", "", "", "", "total", b.Cost.String()})
	if brief.Cap.Currency == b.Cost.Currency && brief.Cap.Minor > 0 {
		rows = append(rows, []string{"", "", "", "", "left of the cap", less(brief.Cap, b.Cost).String()})
	}
	p.table(margin, columns, rows)
}

// boughtAt names the shops of a line with the price at each; how many come from
// where is said where there are several.
func boughtAt(line optimizer.Line) (stores, each string) {
	from := line.Purchases()
	for i, f := range from {
		if i > 0 {
			stores += "\n"
			each += "\n"
		}
		if len(from) > 1 {
			stores += fmt.Sprintf("%d at ", f.Count)
		}
		stores += f.Store
		each += f.Each.String()
	}
	return stores, each
}

func (p *Page) hookup(b optimizer.Build) {
	p.head("Hookup")
	if b.Plan.Words != "" {
		p.say("%s", sentence(b.Plan.Words))
	}
	if b.Bass.Amplifier != nil {
		each := ""
		if b.Bass.Amplifiers > 1 {
			each = fmt.Sprintf("; %d of them, each wired so", b.Bass.Amplifiers)
		}
		p.say("Amplifier: %s, %s%s.", b.Bass.Amplifier.SKU, b.Plan.Mode, each)
	}
	if b.Plan.Caution != "" {
		p.say("%s", sentence(b.Plan.Caution))
	}
	if b.Signal != "" {
		p.say("Signal: %s.", b.Signal)
	}
	if b.Demand > 0 {
		p.say("Supply: the amplifiers together can draw %s A.", three(b.Demand))
	}
}

// clamp is what an installer's meters will show: the check on the whole chain.
func (p *Page) clamp(b optimizer.Build) {
	o := b.Operation
	p.head(fmt.Sprintf("Expected clamp reading at the peak, %s", hertz(b.Reading.Hz)))
	output := "at the output"
	if b.Plan.Outputs*max(b.Bass.Amplifiers, 1) > 1 {
		output = "at each output"
	}
	p.say("%s V and %s A %s: %s ohm, nominally %s ohm.",
		three(o.Volts), three(o.Amps), output, three(o.Load), plain(b.Plan.Load))
	p.say("%s W real, %s VA apparent, all outputs together.", three(o.Watts), three(o.Apparent))
	p.say("Limit: %s.", limitWords(b))
}

// limitWords says what keeps the reading from being higher, with its figure.
func limitWords(b optimizer.Build) string {
	o := b.Operation
	text := o.Limit.String()
	switch text {
	case "cone travel":
		text += fmt.Sprintf(" (%s mm one way, rated %s mm)", three(o.Travel*1e3), three(b.Bass.Driver.Xmax*1e3))
	case "coil heat":
		text += fmt.Sprintf(" (%s K above the air)", three(o.CoilRise))
	case "port speed":
		text += fmt.Sprintf(" (%s m/s)", three(o.PortSpeed))
	case "amplifier voltage":
		text += fmt.Sprintf(" (%s V)", three(o.Volts))
	case "amplifier current":
		text += fmt.Sprintf(" (%s A)", three(o.Amps))
	case "supply":
		text += fmt.Sprintf(" (%s V at %s A)", three(o.SupplyVolts), three(o.SupplyAmps))
	}
	return text
}

// sound is music, front stage and what the level does to ears.
func (p *Page) sound(b optimizer.Build) {
	p.head("How it plays")
	p.pair("music", "%s balanced%s", banded(b.Music.DB, b.Music.Band), musicWords(b))
	p.pair("front", "%s", frontWords(b.Front))
	dba := hearing.Weighted(b.Reading.DB, b.Reading.Hz)
	hear := fmt.Sprintf("%s at %s is %s dBA; permitted: %s (NIOSH 98-126)",
		decibels(b.Reading.DB), hertz(b.Reading.Hz), fixed(dba, 1), hearing.Words(hearing.PermittedTime(dba)))
	if caution := hearing.Caution(b.Reading.DB, dba); caution != "" {
		hear += "; " + caution
	}
	p.pair("hearing", "%s", hear)
}

func musicWords(b optimizer.Build) string {
	if b.Music.Bass == 0 {
		return ""
	}
	side := "the bass is the weaker side"
	if b.Music.FrontLimits {
		side = "the front is the weaker side"
	}
	return fmt.Sprintf("; bass %s over the bands from 31.5 to 80 Hz; %s", banded(b.Music.Bass, b.Music.BassBand), side)
}

func frontWords(f optimizer.Front) string {
	name := "the speakers that the car came with"
	if f.Part != nil {
		name = f.Part.Name
		if name == "" {
			name = f.Part.SKU
		}
	}
	if f.Power == optimizer.FromNothing {
		return name + "; nothing drives them"
	}
	text := fmt.Sprintf("%s, driven by %s", name, f.Power)
	if f.Amplifier != nil {
		text += " (" + f.Amplifier.SKU + ")"
	}
	if f.Given > 0 {
		text += fmt.Sprintf(": %s W a side", three(f.Given))
		if f.Usable > 0 && f.Usable < f.Given*(1-usableStep) {
			text += fmt.Sprintf(", of which %s W are usable (%s)", three(f.Usable), f.Limit)
		}
	}
	switch {
	case f.HighPass > 0 && f.HighPassBy != "":
		text += fmt.Sprintf("; high-pass at %s by %s", hertz(f.HighPass), f.HighPassBy)
	case f.HighPass > 0:
		text += "; high-pass at " + hertz(f.HighPass)
	default:
		text += "; no high-pass"
	}
	if f.DB > 0 {
		text += "; " + banded(f.DB, f.Band) + " at the seat"
	}
	return text
}

// usableStep is the part of the power below which a loss is not worth a word.
const usableStep = 0.01

// remarks are the warnings and the assumptions behind the figures.
func (p *Page) remarks(b optimizer.Build) {
	// What the level does to ears stands beside the level already, and what
	// to take care of in the wiring beside the wiring.
	hear := hearing.Caution(b.Reading.DB, hearing.Weighted(b.Reading.DB, b.Reading.Hz))
	warnings := slices.DeleteFunc(slices.Clone(b.Warnings), func(text string) bool { return text == hear || text == b.Plan.Caution })
	if len(warnings) > 0 {
		p.head("Warnings")
		for _, warning := range warnings {
			p.item("%s", warning)
		}
	}
	p.head("Assumed")
	if len(b.Assumed) == 0 {
		p.say("Nothing: every figure was stated.")
	}
	for _, assumption := range grouped(b.Assumed) {
		p.item("%s", assumption)
	}
	if b.Reading.Band > 0 {
		p.item("the band of the reading holds nine meters out of ten, were the parts and the car drawn again; "+
			"it is %s dB each way", fixed(math.Abs(b.Reading.Band), 1))
	}
}

// sentence makes a remark start and end as a sentence does.
func sentence(text string) string {
	if text == "" {
		return text
	}
	if c := text[0]; c >= 'a' && c <= 'z' {
		text = string(c-'a'+'A') + text[1:]
	}
	if last := text[len(text)-1]; last != '.' && last != '!' && last != '?' {
		text += "."
	}
	return text
}
