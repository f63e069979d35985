package install

import (
	"fmt"
	"math"

	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/sheet"
	"loudfor/cmd/internal/table"
	"loudfor/model/amplifier"
	"loudfor/model/bass"
	"loudfor/model/supply"
	"loudfor/optimizer"
)

func (p *Plan) powerSection() sheet.Section {
	w := &p.Power
	cable := w.Cable.Name + " " + material(w.Cable.CopperClad)
	t := sheet.Table{Columns: []table.Column{{Title: "run", Fill: true}, {Title: "carries", Right: true}, {Title: "cable", Width: 26}, {Title: "may carry", Right: true}, {Title: "loses", Right: true}, {Title: "fuse", Right: true}}}
	t.Rows = append(t.Rows,
		[]string{"battery to amplifier, " + facts.Plain(w.Run) + " m", amps(w.Demand), cable, amps(w.Cable.Ampacity), facts.Fixed(w.Cable.Drop, 2) + " V", facts.Plain(w.Fuse) + " A"},
		[]string{"amplifier to the car's body, as short as can be", amps(w.Demand), cable, amps(w.Cable.Ampacity), "in the above", "none"})
	for _, b := range w.Branches {
		t.Rows = append(t.Rows, []string{"distribution block to " + b.Amplifier + ", at most 1 m", amps(b.Amps), supply.GaugeName(b.Choice.Gauge) + " copper",
			amps(b.Choice.Ampacity), facts.Fixed(b.Choice.Drop, 2) + " V", facts.Plain(b.Fuse) + " A"})
	}
	s := sheet.Section{Title: "Power", Blocks: []sheet.Block{t}}
	say := func(format string, args ...any) {
		s.Blocks = append(s.Blocks, sheet.Paragraph(fmt.Sprintf(format, args...)))
	}
	s.Blocks = append(s.Blocks, p.kitWords()...)
	say("Carries: what the amplifiers can draw in a steady tone. May carry: single copper conductors at 75 C below 50 V in free air, ABYC E-11 (from memory), copper-clad aluminium the share that heats it as much. "+
		"Gauges: ASTM B258. Loses: there and back at %s ohm m (copper-clad about %s). Fuses: standard sizes of ISO 8820 (from memory), never above what the cable may carry.", "1.724e-8", "2.7e-8")
	p.alternatorWords(say)
	s.Blocks = append(s.Blocks, sheet.Steps{
		"Take off the battery's negative terminal, and leave it off until the last step.",
		"Bring the power cable through a grommet, away from heat, edges and moving parts.",
		"Put the fuse holder within about 45 cm of the battery's plus, and leave the fuse out.",
		"Scrape the ground point to bare metal, bolt the lug, seal it against rust; from it to the battery's minus an ohmmeter shows no more than its own leads.",
		"Connect the amplifier, then the negative terminal, then put the fuse in.",
		fmt.Sprintf("At the loudest tone of the readings below measure from the battery's plus to the amplifier's plus: about %s V, and half as much again is too much.", facts.Fixed(w.Cable.Drop/2*share(p.Build.Operation.SupplyAmps, w.Demand), 2)),
	})
	return s
}

// share of a whole, at most all of it.
func share(part, whole float64) float64 {
	if whole <= 0 {
		return 0
	}
	return math.Min(part/whole, 1)
}

func amps(a float64) string { return facts.Three(a) + " A" }

// kitWords says how the cable of the kit stands beside the thinnest that would
// do.
func (p *Plan) kitWords() (all []sheet.Block) {
	w := &p.Power
	least := "no single cable keeps the loss under " + facts.Plain(p.Wishes.Drop) + " V"
	if w.LeastOK {
		why := "what it may carry"
		if w.Least.ByDrop {
			why = "what it may lose"
		}
		least = fmt.Sprintf("the thinnest that keeps the loss under %s V is %s (decided by %s)", facts.Plain(p.Wishes.Drop), supply.GaugeName(w.Least.Gauge), why)
	}
	if w.Kit == nil {
		return []sheet.Block{sheet.Warning("The build has no wiring kit: the cable above is the thinnest copper that would do, and is still to be bought.")}
	}
	all = append(all, sheet.Paragraph(fmt.Sprintf("The cable is that of %s, %s m long; %s.", w.Kit.SKU, facts.Plain(w.Kit.Kit.Length), least)))
	k := w.Kit.Kit
	if k.Length < w.Run {
		all = append(all, sheet.Warning(fmt.Sprintf("The cable of %s, %s m, does not reach over %s m.", w.Kit.SKU, facts.Plain(k.Length), facts.Plain(w.Run))))
	}
	switch {
	case k.Fuse == 0:
		all = append(all, sheet.Warning(fmt.Sprintf("%s has no fuse: buy one of %s A.", w.Kit.SKU, facts.Plain(w.Fuse))))
	case k.Fuse != w.Fuse:
		all = append(all, sheet.Warning(fmt.Sprintf("The %s A fuse of %s is not the one to put in: %s A is.", facts.Plain(k.Fuse), w.Kit.SKU, facts.Plain(w.Fuse))))
	}
	if k.GaugeClaimed {
		all = append(all, sheet.Warning(w.Kit.SKU+": its gauge is a claim; count and measure the strands before you trust the fuse."))
	}
	return all
}

func (p *Plan) alternatorWords(say func(string, ...any)) {
	w := &p.Power
	if w.Alternator <= 0 {
		say("Alternator: its rating is not known. Read its label: at idle it gives about %.0f %% of that (common practice, no source), and the car itself takes a part.", 100*supply.IdleShare)
		return
	}
	say("Alternator: %s A rated give about %s A at idle (common practice, no source); the car takes %s A, so %s A are to spare. The loudest tone draws %s A, all amplifiers at their ratings %s A.",
		facts.Plain(w.Alternator), facts.Three(w.Alternator*supply.IdleShare), facts.Plain(w.Standby), facts.Three(w.Reserve), facts.Three(p.Build.Operation.SupplyAmps), facts.Three(w.Demand))
	tone, music := p.Build.Operation.SupplyAmps, w.Music()
	switch {
	case !w.Short():
		say("That is enough for all of it: the battery stays charged even at idle.")
	case music > w.Reserve:
		say("Music takes about a third of the ratings on average (common practice, no source), %s A: %s A more than there are to spare, which empty the battery. Keep the engine at 1,500 turns or more, turn the gain down, "+
			"or fit an alternator of %s A or more, with its own cable and the body's ground strap to match. A second battery or a capacitor gives nothing for long that the alternator does not.",
			facts.Three(music), facts.Three(music-w.Reserve), facts.Plain(math.Ceil(supply.AlternatorFor(music, w.Standby)/5)*5))
	case tone > w.Reserve:
		say("That is enough for music, which takes about a third of the ratings on average (common practice, no source), %s A. Of the loudest tone the battery gives %s A: play it in bursts of seconds.", facts.Three(music), facts.Three(tone-w.Reserve))
	default:
		say("That is enough for the loudest tone, and for music, which takes about a third of the ratings on average (common practice, no source), %s A.", facts.Three(music))
	}
}

func (p *Plan) gainSection() sheet.Section {
	g := &p.Gain
	t := sheet.Table{Columns: []table.Column{{Title: "load at one output", Fill: true}, {Title: "ohm", Right: true}, {Title: "clean limit", Right: true}, {Title: "power", Right: true}}}
	for _, r := range g.Rows {
		t.Rows = append(t.Rows, []string{r.Load, facts.Three(r.Ohms), facts.Three(r.Volts) + " V", facts.Three(r.Watts) + " W"})
	}
	s := sheet.Section{Title: "Gain", Blocks: []sheet.Block{t}}
	held := ""
	if g.Held {
		held = fmt.Sprintf(" The amplifier could do more; at this tone the drivers cannot (%s).", g.By)
	}
	s.Blocks = append(s.Blocks, sheet.Paragraph(fmt.Sprintf("Set the bass to %s V rms at each output, with the drivers disconnected: what is clean without a load is clean with it, up to the lowest of these.%s", facts.Three(g.Target), held)))
	steps := sheet.Steps{
		"Bass boost, loudness and equalizers off, all filters as above; gain at its lowest; engine running.",
		"Disconnect the drivers at the amplifier.",
		fmt.Sprintf("Play a sine of %s at %s dB full scale, the source at the highest setting that it plays without distortion (three quarters of its range: common practice, no source).", facts.Hertz(g.Tone), facts.Plain(g.Level)),
		fmt.Sprintf("Turn the gain up until a true-rms meter across plus and minus of one output shows %s V.", facts.Three(g.Target)),
	}
	if facts.Output(p.Build) == "each output" {
		steps[len(steps)-1] += " Bring every other bass output to the same figure."
	}
	if g.FrontTarget > 0 {
		steps = append(steps, fmt.Sprintf("Front: the same with %s, to %s V at each channel.", facts.Hertz(g.FrontTone), facts.Three(g.FrontTarget)))
	}
	steps = append(steps,
		"Stop the tone, connect the drivers, start again quietly, and listen for what should not be there.",
		"Mark the knobs. Nobody gains by turning them further: beyond it is clipping, which burns coils.")
	s.Blocks = append(s.Blocks, steps)
	if p.Build.Front.Power == optimizer.FromSource {
		s.Blocks = append(s.Blocks, sheet.Paragraph("The front runs on the source and has no gain of its own: its loudest clean setting is that of the source above."))
	}
	return s
}

func (p *Plan) filterSection() sheet.Section {
	f := &p.Filters
	t := sheet.Table{Columns: []table.Column{{Title: "filter"}, {Title: "setting", Right: true}, {Title: "made by", Width: 24}, {Title: "why", Fill: true}}}
	by := f.LowPassBy
	if by == "" {
		by = "nothing in the build"
	}
	why := "where the front begins"
	if f.FrontCut == 0 {
		why = "usual, as the front has no high-pass (common practice, no source)"
	}
	t.Rows = append(t.Rows, []string{"bass, low-pass", facts.Hertz(f.LowPass), by, why})
	if p.Build.Front.Power != optimizer.FromNothing {
		t.Rows = append(t.Rows, p.frontFilterRows()...)
	}
	t.Rows = append(t.Rows, p.subsonicRow())
	return sheet.Section{Title: "Filters", Blocks: []sheet.Block{t}}
}

func (p *Plan) frontFilterRows() (rows [][]string) {
	f := &p.Filters
	stated := p.Build.Front.HighPass
	wish, wanted := facts.BlockerWish(p.Question, p.Build)
	least := fmt.Sprintf("cones stand %s W a side from %s on", facts.Three(f.Front.Watts), facts.Hertz(f.HighPass))
	switch {
	case !f.Enough:
		least = fmt.Sprintf("no setting up to 250 Hz lets the cones stand %s W a side: turn it down", facts.Three(f.Front.Watts))
	case f.HighPass == 0:
		least = fmt.Sprintf("cones stand %s W a side without", facts.Three(f.Front.Watts))
	}
	switch {
	case f.BlockerSKU != "":
		rows = append(rows, []string{"front, high-pass", facts.Hertz(f.Corner), fmt.Sprintf("%s: %s uF in series, one a side", f.BlockerSKU, facts.Three(f.Blocker*1e6)),
			fmt.Sprintf("6 dB an octave into %s ohm; %s", facts.Plain(f.Front.Load), least)})
	case stated > 0:
		rows = append(rows, []string{"front, high-pass", facts.Hertz(f.FrontCut), p.Build.Front.HighPassBy, "12 dB an octave; " + least})
	case wanted:
		rows = append(rows, []string{"front, high-pass", "none", "nothing in the build",
			fmt.Sprintf("without one the cones stand %s of %s W a side, and so it is predicted. They would stand it all from %s on. Among the parts as a wish, not predicted: %s",
				facts.Three(p.Build.Front.Usable), facts.Three(f.Front.Watts), facts.Hertz(wish.Least), wish)})
	default:
		rows = append(rows, []string{"front, high-pass", "none", "-", least})
	}
	return rows
}

// heard, Hz, is where hearing begins (common practice, no source).
const heard = 20.0

func (p *Plan) subsonicRow() []string {
	s := p.Filters.Subsonic
	at := facts.Three(p.Gain.Target) + " V"
	where := "sealed box"
	if s.Tuning > 0 {
		where = fmt.Sprintf("below the tuning of %s the box no longer holds the cone", facts.Hertz(s.Tuning))
	}
	switch {
	case s.Tuning == 0 && s.Corner > 0 && s.Exceeds < heard:
		return []string{"bass, subsonic", "none needed", "-", fmt.Sprintf("%s: at %s the cone passes its travel only from %s down, where no music is", where, at, facts.Hertz(s.Exceeds))}
	case s.Corner == 0 && s.Tuning == 0:
		return []string{"bass, subsonic", "none needed", "-", fmt.Sprintf("%s: at %s the cone stays within its travel down to 8 Hz", where, at)}
	case s.Corner == 0:
		return []string{"bass, subsonic", "none needed", "-", fmt.Sprintf("%s, but %s do not move it past its travel", where, at)}
	case !s.Enough:
		return []string{"bass, subsonic", facts.Hertz(s.Corner), "24 dB an octave",
			fmt.Sprintf("%s; at %s it passes its travel from %s down, and even with this filter it stands only %s V: play no bass below %s at full gain", where, at, facts.Hertz(s.Exceeds), facts.Three(s.Volts), facts.Hertz(s.Corner))}
	}
	return []string{"bass, subsonic", facts.Hertz(s.Corner), "24 dB an octave",
		fmt.Sprintf("%s; at %s it passes its travel from %s down. Where the amplifier has no such filter, play nothing below %s at full gain", where, at, facts.Hertz(s.Exceeds), facts.Hertz(s.Exceeds))}
}

func (p *Plan) readingSection() sheet.Section {
	b := &p.Build
	s := sheet.Section{Title: "Meter and clamp: the acceptance test"}
	t := sheet.Table{Columns: []table.Column{{Title: "openings"}, {Title: "place"}, {Title: "level, dB", Right: true}, {Title: "at", Right: true}, {Title: "volts", Right: true}, {Title: "amperes", Right: true}, {Title: "metered", Right: true}}}
	for _, e := range p.Expected {
		t.Rows = append(t.Rows, []string{e.Openings, e.Place, band(e.Level, e.Band, 1), facts.Hertz(e.Hz), figure(e.Volts, e.VoltsBand), figure(e.Amps, e.AmpsBand), sheet.Pen})
	}
	if len(p.Expected) == 0 {
		o := b.Operation
		t.Rows = append(t.Rows, []string{b.Reading.Openings, b.Reading.Place, band(b.Reading.DB, b.Reading.Band, 1), facts.Hertz(b.Reading.Hz), facts.Three(o.Volts), facts.Three(o.Amps), sheet.Pen})
	}
	c := facts.ClampOf(*b)
	s.Blocks = append(s.Blocks,
		sheet.Paragraph(fmt.Sprintf("With the filters as set above, which pass %s: play a sine at the frequency of the row, the loudest there, for about %s s at full scale, meter unweighted and holding its highest; volts and amperes (true rms, clamp around one wire) at %s. "+
			"The bands hold nine of ten, were parts and car drawn again.", p.passedWords(), facts.Plain(p.burst()), c.Output)),
		t,
		sheet.Paragraph(p.voltsWords()),
		sheet.Paragraph(p.beyondWords()+fmt.Sprintf("At the reading of the head (%s, %s) expect %s V and %s A: %s ohm, nominally %s; %s W real of all outputs, and %s A at %s V at the amplifier's supply terminals. What stops it there is %s.",
			b.Reading.Place, b.Reading.Openings, c.Volts, c.Amps, c.Load, c.Nominal, c.Watts, c.SupplyAmps, c.SupplyVolts, b.Operation.Limit)),
	)
	hear := "Hearing: " + facts.HearingWords(*b) + "."
	if caution := facts.Hearing(*b).Caution; caution != "" {
		hear += " " + facts.Sentence(caution)
	}
	s.Blocks = append(s.Blocks, sheet.Warning(hear), sheet.Paragraph("If the meter shows less than the band, in this order: volts too low (gain, supply); volts right and amperes wrong (a coil left out, a wrong hookup); both right and level low (a cone turned round, a leak, a door not shut, another car than the model's)."))
	return s
}

// passedWords are the band.
func (p *Plan) passedWords() string {
	f := p.Passed()
	if f.From > 0 {
		return facts.Fixed(f.From, 0) + " to " + facts.Hertz(f.To)
	}
	return "all up to " + facts.Hertz(f.To)
}

// beyondWords say what to do where the filters cut the reading's own tone.
func (p *Plan) beyondWords() string {
	if f, hz := p.Passed(), p.Build.Reading.Hz; hz < f.From || hz > f.To {
		return fmt.Sprintf("The filters cut the tone of the head, %s: for that reading open them, and set them again after it. ", facts.Hertz(hz))
	}
	return ""
}

// voltsWords say in a sentence why the meter shows other volts than the gain was set to.
func (p *Plan) voltsWords() string {
	o, target := &p.Build.Operation, p.Gain.Target
	text := fmt.Sprintf("The %s V of the gain are those of the amplifier without its drivers, at %s V of supply; with them the meter shows other volts, ", facts.Three(target), facts.Three(amplifier.RatedSupply))
	switch {
	case o.Volts > target && p.Gain.Held:
		return text + fmt.Sprintf("at the reading's own tone %s V: more, as the drivers give out earlier at %s. For the reading turn the gain up to that with the drivers on, and back after it.", facts.Three(o.Volts), facts.Hertz(p.Gain.Tone))
	case o.Volts > target:
		return text + fmt.Sprintf("at the reading's own tone %s V: its load is lighter than the nominal one.", facts.Three(o.Volts))
	case o.Limit == bass.LimitTravel || o.Limit == bass.LimitHeat || o.Limit == bass.LimitPort:
		return text + fmt.Sprintf("at the reading's own tone %s V: as much as the drivers take there (%s), so turn the source down to that.", facts.Three(o.Volts), o.Limit)
	}
	return text + fmt.Sprintf("at the reading's own tone %s V: the supply falls to %s V there, and its load is not the nominal one.", facts.Three(o.Volts), facts.Three(o.SupplyVolts))
}

func (p *Plan) burst() float64 {
	if s := p.Question.Brief.Burst; s > 0 {
		return s
	}
	return bass.Reading().Burst
}

func band(value, half float64, decimals int) string {
	if half == 0 {
		return facts.Fixed(value, decimals)
	}
	return facts.Fixed(value, decimals) + " +/- " + facts.Fixed(half, decimals)
}

// figure is an electrical value with its band, to the same decimals.
func figure(value, half float64) string {
	decimals := 1
	if value >= 100 {
		decimals = 0
	} else if value < 10 {
		decimals = 2
	}
	return band(value, half, decimals)
}
