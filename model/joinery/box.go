package joinery

import (
	"fmt"
	"math"

	"loudfor/model/enclosure"
)

// Box is a design worked out.
type Box struct {
	Design  Design
	Inside  Size
	Panels  []Panel // shell, port, braces
	Braces  int     // rings across the inside
	Battens int     // on the faces

	Gross   float64 // inside, before anything is in it, m3
	Bracing float64 // wood of braces and battens
	PortAir float64 // inside the box
	PortBox float64 // walls of the port
	Room    float64 // free depth for a driver behind the outside of the front, m

	// Enclosure is the box as package enclosure takes it: its volume leaves
	// out braces and port walls; drivers and air of the port are taken off
	// there.
	Enclosure enclosure.Box

	Assumed []string // what of the driver nobody states
}

// Net is the volume that is left to the air when the drivers are in, m3.
// displacement is that of one driver.
func (b *Box) Net(displacement float64) float64 {
	return b.Gross - b.Bracing - b.PortAir - b.PortBox - float64(b.Design.Drivers)*displacement
}

// Displacement is the volume of one driver, stated or usual, m3.
func (b *Box) Displacement() float64 {
	if v := b.Design.Mount.Displacement; v > 0 {
		return v
	}
	return enclosure.Displacement(b.Design.Mount.Size)
}

// Weight of the wood, kg, of a material of so many kg/m3.
func (b *Box) Weight(density float64) float64 {
	wood := 0.0
	for _, p := range b.Panels {
		wood += p.Wood()
	}
	return wood * density
}

// Build works out a design. The error names the number that does not fit.
func (d Design) Build() (*Box, error) {
	if err := d.check(); err != nil {
		return nil, err
	}
	port, err := d.duct()
	if err != nil {
		return nil, err
	}
	b := &Box{Design: d, Inside: d.Inside(), Panels: d.shell(), PortAir: port.air, PortBox: port.wood}
	b.Gross = b.Inside.Volume()
	b.Room = d.Thickness + b.Inside[1] - port.back - behind
	if err := b.front(&port); err != nil {
		return nil, err
	}
	reach, assumedReach := d.Mount.Reach()
	if reach > b.Room+fit {
		return nil, &Error{Quantity: "driver's depth", Value: reach, Reason: fmt.Sprintf("behind the front there are %s, %s left for the air", cm(b.Room), cm(behind))}
	}
	b.terminals(&port)
	b.Panels = append(b.Panels, port.panels...)
	for _, p := range b.Panels {
		switch p.Name {
		case brace:
			b.Braces++
			b.Bracing += p.Wood()
		case batten:
			b.Battens++
			b.Bracing += p.Wood()
		}
	}
	hole, assumedHole := d.Mount.Hole()
	if assumedHole {
		b.Assumed = append(b.Assumed, fmt.Sprintf("cutout of the driver %.0f mm, by its size (common practice, no source)", 1000*hole))
	}
	if assumedReach {
		b.Assumed = append(b.Assumed, fmt.Sprintf("depth of the driver %.0f mm, by its size (common practice, no source)", 1000*reach))
	}
	e := enclosure.Box{Drivers: d.Drivers, Port: port.port}
	if d.Vented() {
		e.Kind = enclosure.Vented
	}
	e.Volume = b.Gross - b.Bracing - b.PortBox - b.PortAir + port.port.Air()
	if net := b.Net(b.Displacement()); !(net > 0) {
		return nil, &Error{Quantity: "volume", Value: b.Gross, Reason: fmt.Sprintf("braces, port and drivers take %.4g L", 1000*(b.Gross-net))}
	}
	if err := e.Check(); err != nil {
		return nil, err
	}
	b.Enclosure = e
	return b, nil
}

const brace = "ring brace"

// terminals cuts the hole for their cup into the left side, behind the drivers and
// between the battens.
func (b *Box) terminals(port *duct) {
	left := &b.Panels[4]
	left.Openings = append(left.Openings, Opening{Name: "terminals", Diameter: terminalHole,
		Centre: [2]float64{0.75 * (b.Inside[1] - port.back), 0.25 * b.Inside[2]}})
}

// front places drivers and braces along the width, and cuts the front.
func (b *Box) front(port *duct) error {
	d, m := &b.Design, b.Design.Mount
	free := b.Inside[0] - port.strip
	pitch := d.pitch()
	bays := max(1, int(math.Ceil(free/(widestSpan*d.Thickness)-fit)))
	if max(b.Inside[1], b.Inside[2]) <= widestSpan*d.Thickness { // narrow boards are stiff by themselves
		bays = 1
	}
	width := 0.0
	for ; bays > 0; bays-- {
		width = (free - float64(bays-1)*d.Thickness) / float64(bays)
		if each := int((width + fit) / pitch); each*bays >= d.Drivers && each > 0 {
			break
		}
	}
	if bays == 0 {
		return &Error{Quantity: "inside width", Value: b.Inside[0], Reason: fmt.Sprintf("%d cutouts and the port take %s", d.Drivers, cm(float64(d.Drivers)*pitch+port.strip))}
	}
	hole, _ := m.Hole()
	openings := []Opening{}
	last := math.Inf(-1)
	for bay := range bays {
		start := float64(bay) * (width + d.Thickness)
		n := (bay+1)*d.Drivers/bays - bay*d.Drivers/bays
		for j := range n {
			x := start + (float64(j)+0.5)*width/float64(n)
			if x-last < m.Frame()-fit {
				return &Error{Quantity: "inside width", Value: b.Inside[0], Reason: fmt.Sprintf("the frames of the drivers, %s each, would overlap", cm(m.Frame()))}
			}
			last = x
			openings = append(openings, Opening{Name: "driver", Diameter: hole, Centre: [2]float64{d.Thickness + x, d.Thickness + b.Inside[2]/2}})
		}
		if bay > 0 {
			b.ring(start-d.Thickness, port)
		}
		if err := b.stiffen(start, width, port); err != nil {
			return err
		}
	}
	left, right := openings[0].Centre[0], last+d.Thickness
	mouth := d.Outside[0]
	if d.Vented() {
		mouth = d.Thickness + b.Inside[0] - port.strip + edge
		if d.Slot > 0 {
			mouth = d.Thickness + b.Inside[0] - d.Slot
		}
		openings = append(openings, port.mouth)
	}
	if half := m.Frame() / 2; left < half-fit || right+half > mouth+fit {
		return &Error{Quantity: "outside width", Value: d.Outside[0], Reason: fmt.Sprintf("the frames of the drivers, %s each, would stand over its edge or into the port", cm(m.Frame()))}
	}
	b.Panels[0].Openings = openings
	return nil
}

// ring puts a brace at x, behind the front; a folded slot makes it shallower.
func (b *Box) ring(x float64, port *duct) {
	t := b.Design.Thickness
	deep := b.Inside[1]
	if port.back > 0 && x+t > port.fold {
		deep -= port.back
	}
	p := b.Design.board(brace, Size{x, 0, 0}, Size{t, deep, b.Inside[2]})
	if w, h := deep-2*ringWidth, b.Inside[2]-2*ringWidth; w > 0 && h > 0 {
		p.Openings = []Opening{{Name: "window", Sides: [2]float64{w, h}, Centre: [2]float64{deep / 2, b.Inside[2] / 2}}}
	}
	b.Panels = append(b.Panels, p)
}
