package facts

import (
	"fmt"
	"slices"

	"loudfor/catalog"
	"loudfor/catalog/document"
	"loudfor/model/hearing"
	"loudfor/optimizer"
)

// Hookup says how the bass is wired, a sentence each.
func Hookup(b optimizer.Build) (lines []string) {
	add := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	if b.Plan.Words != "" {
		add("%s", Sentence(b.Plan.Words))
	}
	if b.Bass.Amplifier != nil {
		each := ""
		if b.Bass.Amplifiers > 1 {
			each = fmt.Sprintf("; %d of them, each wired so", b.Bass.Amplifiers)
		}
		add("Amplifier: %s, %s%s.", Name(b.Bass.Amplifier), b.Plan.Mode, each)
	}
	if b.Plan.Caution != "" {
		add("%s", Sentence(b.Plan.Caution))
	}
	if b.Signal != "" {
		add("Signal: %s.", b.Signal)
	}
	if b.Demand > 0 {
		add("Supply: the amplifiers together can draw %s A.", Three(b.Demand))
	}
	return lines
}

// Warnings leaves out what the level does to ears, which stands beside the level,
// and what to take care of in the wiring, which stands beside the wiring.
func Warnings(b optimizer.Build) []string {
	hear := Hearing(b).Caution
	return slices.DeleteFunc(slices.Clone(b.Warnings), func(text string) bool { return text == hear || text == b.Plan.Caution })
}

// Heard is what a reading does to ears.
type Heard struct {
	DBA       float64
	Permitted string // how long a day
	Caution   string // empty: none
}

// Hearing weighs the reading of a build as the ear does.
func Hearing(b optimizer.Build) Heard {
	dba := hearing.Weighted(b.Reading.DB, b.Reading.Hz)
	h := Heard{dba, Permitted(dba), hearing.Caution(b.Reading.DB, dba)}
	if max(b.Reading.DB, dba) >= hearing.ImmediateLevel {
		h.Permitted = "no time without protection" // a dose says nothing of a level that harms at once
	}
	return h
}

// Permitted is how long a day a level may be listened to.
func Permitted(dba float64) string { return hearing.Words(hearing.PermittedTime(dba)) }

// Words are the level and the time.
func (h Heard) Words(s Speaker) string {
	return fmt.Sprintf("%s dBA; permitted: %s", s.Figure(h.DBA, 1), h.Permitted)
}

// HearingWords say the same of a reading in full, without the caution.
func HearingWords(b optimizer.Build) string {
	return fmt.Sprintf("%s at %s is %s (NIOSH 98-126)", Decibels(b.Reading.DB), Hertz(b.Reading.Hz), Hearing(b).Words(Terminal{}))
}

// Clamp is what an installer's meters show at the peak, without the units.
type Clamp struct {
	Output                     string // at which
	Volts, Amps, Load, Nominal string
	Watts, Apparent            string // of all outputs together
	SupplyVolts, SupplyAmps    string
}

// ClampOf is the check on the whole chain.
func ClampOf(b optimizer.Build) Clamp {
	o := b.Operation
	return Clamp{
		Output: Output(b), Volts: Three(o.Volts), Amps: Three(o.Amps), Load: Three(o.Load), Nominal: Plain(b.Plan.Load),
		Watts: Three(o.Watts), Apparent: Three(o.Apparent), SupplyVolts: Three(o.SupplyVolts), SupplyAmps: Three(o.SupplyAmps),
	}
}

// Output is where the clamp is put.
func Output(b optimizer.Build) string {
	if b.Plan.Outputs*max(b.Bass.Amplifiers, 1) > 1 {
		return "each output"
	}
	return "the output"
}

// Charge is a line of the bill that is no part.
type Charge struct {
	What  string // "deal", "labour", "tax"
	Name  string // of a tax its rate
	Count int
	Each  catalog.Money // of labour
	On    catalog.Money // what a tax is laid on
	Sum   catalog.Money
}

// Bill is what deals take off, labour, and the taxes of each rate; a tax of
// nothing is none.
func Bill(b optimizer.Build) (all []Charge) {
	for _, d := range b.Deals {
		all = append(all, Charge{What: "deal", Name: d.Name, Count: d.Times, Sum: Less(catalog.Money{Currency: d.Saving.Currency}, d.Saving)})
	}
	for _, l := range b.Labour {
		all = append(all, Charge{What: "labour", Name: l.Name, Count: l.Count, Each: l.Each, Sum: l.Cost})
	}
	if len(b.Taxes) == 1 && b.Taxes[0].PPM == 0 {
		return all
	}
	for _, t := range b.Taxes {
		all = append(all, Charge{What: "tax", Name: document.Rate(t.PPM), On: t.Sum, Sum: t.Tax})
	}
	return all
}
