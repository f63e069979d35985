package install

import (
	"fmt"
	"strings"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/cmd/internal/sheet"
	"loudfor/cmd/internal/table"
	"loudfor/cmd/internal/wiring"
	"loudfor/model/amplifier"
	"loudfor/optimizer"
)

// Coils is the drawing of the wiring on one bass amplifier.
func (p *Plan) Coils() wiring.Drawing {
	b := &p.Build
	a := wiring.Amplifier{Title: fmt.Sprintf("%s, %s", b.Bass.Amplifier.SKU, b.Plan.Mode)}
	for i := range b.Plan.Outputs {
		a.Outputs = append(a.Outputs, p.output(i))
	}
	return wiring.Coils(b.Plan, a)
}

// output names an output of the bass amplifier with its channels. Channels
// that drive the front are the first ones: that is where amplifiers have their
// high-pass (common practice, no source).
func (p *Plan) output(i int) string {
	const frontChannels = 2
	first := 1
	if p.Build.Front.Power == optimizer.FromBass {
		first += frontChannels
	}
	plan := &p.Build.Plan
	number := ""
	if plan.Outputs > 1 {
		number = fmt.Sprintf(" %d", i+1)
	}
	switch plan.Mode {
	case amplifier.Mono:
		if n := p.Build.Bass.Amplifier.Amplifier.Spec.Channels; n > 1 {
			return fmt.Sprintf("mono output (channel %d)", n)
		}
		return "mono output"
	case amplifier.Stereo:
		return fmt.Sprintf("channel %d", first+i)
	}
	a := first + 2*i
	return fmt.Sprintf("%s output%s (channels %d and %d)", plan.Mode, number, a, a+1)
}

func (p *Plan) wiringSection() sheet.Section {
	b := &p.Build
	d := p.Coils()
	s := sheet.Section{Title: "Voice coils"}
	s.Blocks = append(s.Blocks, sheet.Paragraph(facts.Sentence(b.Plan.Words)))
	caption := "Wiring on " + b.Bass.Amplifier.SKU
	if b.Bass.Amplifiers > 1 {
		caption = fmt.Sprintf("Wiring on each of %d amplifiers %s", b.Bass.Amplifiers, b.Bass.Amplifier.SKU)
	}
	s.Blocks = append(s.Blocks, sheet.Drawing{Caption: caption, Text: d.Text(), SVG: d.SVG()})
	if b.Plan.Mode == amplifier.Bridged {
		s.Blocks = append(s.Blocks, sheet.Paragraph("Bridged: plus and minus are the two terminals that the amplifier's panel marks for bridging, never two of one channel."))
	}
	if b.Plan.Caution != "" {
		s.Blocks = append(s.Blocks, sheet.Warning(facts.Sentence(b.Plan.Caution)))
	}
	t := sheet.Table{Columns: []table.Column{{Title: "between its plus and minus", Fill: true}, {Title: "nominal", Right: true}, {Title: "ohmmeter, about", Right: true}, {Title: "found", Right: true}}}
	for _, point := range wiring.Points(b.Plan) {
		t.Rows = append(t.Rows, []string{point.Where, facts.Three(point.Load) + " ohm", facts.Three(point.Coils*b.Bass.Driver.Re) + " ohm", sheet.Pen})
	}
	minimum := 0.0
	if _, low, _, ok := b.Bass.Amplifier.Amplifier.Spec.Source(b.Plan.Mode); ok {
		minimum = low
	}
	s.Blocks = append(s.Blocks,
		sheet.Paragraph("Check with an ohmmeter before the amplifier is connected; take off the meter's own leads. A reading far off means a coil left out or joined otherwise; a coil turned round does not show here, only with the cell below."),
		t,
		sheet.Paragraph(fmt.Sprintf("The amplifier is rated down to %s ohm in this mode. Polarity: a 1.5 V cell with its plus on the output's plus wire moves every cone outwards.", facts.Plain(minimum))))
	return s
}

// Chain is the drawing of the way from source and battery to the loads.
func (p *Plan) Chain() wiring.Chain {
	var c wiring.Chain
	lane := func(l wiring.Link, nodes ...wiring.Node) int {
		c.Lanes = append(c.Lanes, wiring.Lane{Link: l, Nodes: nodes})
		return len(c.Lanes) - 1
	}
	signal := lane(wiring.Signal, p.signalNodes()...)
	w := &p.Power
	fuse := wiring.Node{"fuse " + facts.Plain(w.Fuse) + " A", "within 45 cm"}
	cable := wiring.Node{w.Cable.Name + " " + short(w.Cable.CopperClad), facts.Plain(w.Run) + " m"}
	feed := []wiring.Node{{"battery", "plus"}, fuse, cable}
	if len(w.Branches) > 0 {
		feed = append(feed, wiring.Node{"distribution", "fuse per branch"})
	}
	power := lane(wiring.Power, feed...)
	ground := lane(wiring.Ground, wiring.Node{"car body", "bare metal"}, wiring.Node{w.Cable.Name + " " + short(w.Cable.CopperClad), "short"})
	inputs := []int{signal, power, ground}
	for _, a := range p.amplifiers() {
		for range a.count {
			c.Blocks = append(c.Blocks, p.block(a, inputs))
		}
	}
	p.frontBlock(&c, lane)
	return c
}

func short(clad bool) string {
	if clad {
		return "CCA"
	}
	return "copper"
}

func (p *Plan) signalNodes() []wiring.Node {
	source := p.of(catalog.KindSource)
	if source == nil {
		return []wiring.Node{{"source", "not in the build"}}
	}
	if converter := p.of(catalog.KindConverter); converter != nil {
		return []wiring.Node{{source.SKU, "speaker wires"}, {converter.SKU, "line converter"}}
	}
	if source.Source.PreOuts > 0 {
		return []wiring.Node{{source.SKU, "line outputs"}}
	}
	return []wiring.Node{{source.SKU, "speaker wires"}}
}

func (p *Plan) block(a power, inputs []int) wiring.Block {
	b := &p.Build
	if a.front {
		return wiring.Block{Node: wiring.Node{a.part.SKU, "stereo"}, Inputs: inputs, Then: p.frontNode()}
	}
	node := wiring.Node{a.part.SKU, fmt.Sprintf("%s, %s ohm", b.Plan.Mode, facts.Three(b.Plan.Load))}
	each := max(b.Bass.Drivers/max(b.Bass.Amplifiers, 1), 1)
	then := wiring.Node{facts.Times(each, b.Bass.Part.SKU)}
	if b.Bass.Enclosure != nil {
		then = append(then, "in "+b.Bass.Enclosure.SKU)
	}
	if b.Front.Power == optimizer.FromBass {
		node = append(node, "channels 1, 2: front")
		then = append(then, "and "+p.frontNode()[0])
	}
	return wiring.Block{Node: node, Inputs: inputs, Then: then}
}

func (p *Plan) frontNode() wiring.Node {
	if part := p.Build.Front.Part; part != nil {
		return wiring.Node{part.SKU, "front speakers"}
	}
	return wiring.Node{"front speakers", "as in the car"}
}

// frontBlock adds the front where the source drives it.
func (p *Plan) frontBlock(c *wiring.Chain, lane func(wiring.Link, ...wiring.Node) int) {
	source := p.of(catalog.KindSource)
	if p.Build.Front.Power != optimizer.FromSource || source == nil {
		return
	}
	nodes := []wiring.Node{{source.SKU, "front outputs"}}
	if blocker := p.of(catalog.KindBlocker); blocker != nil {
		nodes = append(nodes, wiring.Node{blocker.SKU, "in series, one a side"})
	}
	c.Blocks = append(c.Blocks, wiring.Block{Node: p.frontNode(), Inputs: []int{lane(wiring.Speaker, nodes...)}})
}

func (p *Plan) chainSection() sheet.Section {
	c := p.Chain()
	s := sheet.Section{Title: "Signal and power"}
	s.Blocks = append(s.Blocks, sheet.Drawing{Caption: "From the source and the battery to the loads", Text: c.Text(), SVG: c.SVG()})
	items := sheet.List{
		"Signal wires and power cable go along different sides of the car; where they must cross, at a right angle.",
		"The remote wire from the source to each amplifier turns it on; with a speaker-level input that senses the signal it may be left out.",
	}
	if signal := p.Build.Signal; signal != "" {
		items = append(items, "The signal comes by the "+strings.TrimPrefix(signal, "the ")+".")
	}
	s.Blocks = append(s.Blocks, items)
	return s
}
