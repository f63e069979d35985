package cutlist

import (
	"fmt"
	"slices"
	"strings"

	"loudfor/model/air"
	"loudfor/model/joinery"
	"loudfor/optimizer/workshop"
)

// Fact is a name with what belongs to it.
type Fact struct{ Name, Text string }

// Tuning of the box as built, Hz; 0 of a sealed one.
func Tuning(b *workshop.Box, a air.Air) float64 {
	j := b.Joinery
	if !j.Design.Vented() {
		return 0
	}
	return j.Enclosure.Port.Tuning(j.Net(j.Displacement()), a)
}

// Facts are the figures of a box, in the order in which a carpenter asks.
func Facts(b *workshop.Box, a air.Air) []Fact {
	j, d := b.Joinery, b.Joinery.Design
	litres := func(v float64) string { return fmt.Sprintf("%.3g L", 1000*v) }
	facts := []Fact{
		{"box", fmt.Sprintf("%s, %s of %s in a row in the front", j.Enclosure.Kind, pieces(d.Drivers, "driver"), b.Driver.SKU)},
		{"outside", fmt.Sprintf("%s x %s x %s mm, width x depth x height", mm(d.Outside[0]), mm(d.Outside[1]), mm(d.Outside[2]))},
		{"inside", fmt.Sprintf("%s x %s x %s mm: %s", mm(j.Inside[0]), mm(j.Inside[1]), mm(j.Inside[2]), litres(j.Gross))},
	}
	taken := fmt.Sprintf("the drivers take %s", litres(float64(d.Drivers)*j.Displacement()))
	if d.Vented() {
		taken += fmt.Sprintf(", air of the port %s, its walls %s", litres(j.PortAir), litres(j.PortBox))
	}
	if j.Bracing > 0 {
		taken += fmt.Sprintf(", braces %s", litres(j.Bracing))
	}
	facts = append(facts, Fact{"net volume", fmt.Sprintf("%s are left to the air: %s", litres(j.Net(j.Displacement())), taken)})
	if d.Vented() {
		facts = append(facts, Fact{"port", port(b)}, Fact{"tuning", fmt.Sprintf("%.1f Hz (Helmholtz, with the end corrections of Beranek and Mellow)", Tuning(b, a))})
	}
	var held []string
	if j.Braces > 0 {
		held = append(held, fmt.Sprintf("%s across the inside", pieces(j.Braces, "ring brace")))
	}
	if j.Battens > 0 {
		held = append(held, fmt.Sprintf("%s glued on edge across the large faces", pieces(j.Battens, "batten")))
	}
	braces := "none: no panel needs one"
	if len(held) > 0 {
		braces = strings.Join(held, ", ")
	}
	facts = append(facts,
		Fact{"bracing", braces + " (common practice, no source)"},
		Fact{"joints", "butt joints, glued and screwed: front and back cover all, top and bottom between them, sides between those"},
		Fact{"driver", fmt.Sprintf("cutout %s mm; %s mm deep free behind the front's face", mm(b.Part.Enclosure.Cutout), mm(j.Room))})
	material := fmt.Sprintf("%s: %s of %s", b.Material, pieces(b.Nesting.Sheets, "sheet"), b.Sheet.SKU)
	if b.Sheet.Sheet.ByArea {
		material = fmt.Sprintf("%s: %.3g m2 of %s, by the area", b.Material, b.Nesting.Used, b.Sheet.SKU)
	}
	facts = append(facts, Fact{"material", material}, Fact{"work", fmt.Sprintf("%s: %.2g h at %s", b.Work, b.Hours, b.Workshop.SKU)})
	if b.Weight > 0 {
		facts = append(facts, Fact{"weight", fmt.Sprintf("%.3g kg of wood, without drivers", b.Weight)})
	}
	for _, text := range j.Assumed {
		facts = append(facts, Fact{"assumed", text})
	}
	return facts
}

func port(b *workshop.Box) string {
	d := b.Joinery.Design
	if d.Tube > 0 {
		return fmt.Sprintf("a tube %s mm wide inside, %s mm long from the face of the front, flush with it", mm(d.Tube), mm(d.PortLength))
	}
	way := "straight back along the right side"
	if slices.ContainsFunc(b.Joinery.Panels, func(p joinery.Panel) bool { return p.Name == "port fold" }) {
		way = "along the right side and on along the back"
	}
	p := b.Joinery.Enclosure.Port
	return fmt.Sprintf("a slot %s x %s mm, %s mm long by its middle from the face of the front, %s; both ends act as %s mm more",
		mm(p.Width), mm(p.Height), mm(d.PortLength), way, mm(p.EndCorrection()))
}

func pieces(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}

// Lines are the description of the box as a build file has it.
func Lines(b *workshop.Box) []string {
	d := b.Description
	lines := []string{"built_box:", "  sku: " + d.SKU, "  driver: " + d.Driver, fmt.Sprintf("  holes: %d", d.Holes),
		"  sheet: " + d.Sheet, "  workshop: " + d.Workshop,
		fmt.Sprintf("  outside: %s x %s x %s mm", mm(d.Outside.Width), mm(d.Outside.Depth), mm(d.Outside.Height))}
	if d.Slot > 0 {
		lines = append(lines, "  slot: "+mm(d.Slot)+" mm")
	}
	if d.Tube > 0 {
		lines = append(lines, "  tube: "+mm(d.Tube)+" mm")
	}
	if d.PortLength > 0 {
		lines = append(lines, "  port_length: "+mm(d.PortLength)+" mm")
	}
	return lines
}
