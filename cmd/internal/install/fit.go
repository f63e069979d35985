package install

import (
	"fmt"
	"math"
	"slices"

	"loudfor/catalog"
	"loudfor/cmd/internal/facts"
	"loudfor/model/enclosure"
	"loudfor/model/supply"
	"loudfor/optimizer/build"
	"loudfor/optimizer/setting"
)

// Check is one thing that has to fit.
type Check struct {
	What, Needs, Has, Verdict string
	Bad                       bool // does not fit, by what the cards state
}

const (
	fits, misfits, unknown = "fits", "DOES NOT FIT", "measure it"
)

// fit fills in Fit; the error is for a space that not even the driver fits.
func (p *Plan) fit() error {
	b := &p.Build.Bass
	if err := p.spaceForDriver(); err != nil {
		return err
	}
	if b.Part.Kind == catalog.KindSubwoofer && b.Enclosure != nil {
		s, e := b.Part.Subwoofer, b.Enclosure.Enclosure
		p.length("hole in the baffle", s.Cutout, e.Cutout)
		p.circle(s.BoltCircle, e.BoltCircle)
		p.length("depth behind the baffle", s.Depth, e.Depth)
	}
	p.volume()
	p.space()
	p.clearances()
	return nil
}

// spaceForDriver refuses a space into which the driver's frame does not go in
// any position.
func (p *Plan) spaceForDriver() error {
	s := p.spaceFree()
	size := p.Build.Bass.Driver.Size
	if p.Question.Vehicle.OpenField || s == (catalog.Size3{}) {
		return nil
	}
	sides := []float64{s.Width, s.Depth, s.Height}
	slices.Sort(sides)
	if sides[1] >= size {
		return nil
	}
	return &supply.Refusal{Quantity: "space for boxes of", Value: 100 * sides[1], Unit: "cm", Reason: fmt.Sprintf(
		"of %s the second longest side must take the driver's frame of %s cm", sizeWords(s), facts.Three(100*size))}
}

// spaceFree is the brief's space, or the vehicle's.
func (p *Plan) spaceFree() catalog.Size3 {
	if s := p.Question.Brief.Space; s != (catalog.Size3{}) {
		return s
	}
	return p.Question.Vehicle.Space
}

func (p *Plan) add(c Check) { p.Fit = append(p.Fit, c) }

// length compares a length that the driver needs with one that the box has.
func (p *Plan) length(what string, needs, has float64) {
	c := Check{What: what, Needs: millimetres(needs), Has: millimetres(has), Verdict: fits}
	switch {
	case needs == 0 || has == 0:
		c.Verdict = unknown
	case needs > has+build.CutTolerance:
		c.Verdict, c.Bad = misfits, true
	}
	p.add(c)
}

// circle compares the circles of the screws, which must be alike.
func (p *Plan) circle(needs, has float64) {
	c := Check{What: "circle of the screws", Needs: millimetres(needs), Has: millimetres(has), Verdict: fits}
	switch {
	case needs == 0:
		c.Verdict = "mark it from the frame"
	case has == 0:
		c.Verdict = "drill it"
	case math.Abs(needs-has) > build.CutTolerance:
		c.Verdict = "drill it anew"
	}
	p.add(c)
}

// volume is what is left in a box, and its tuning.
func (p *Plan) volume() {
	b := &p.Build.Bass
	setup := p.Build.Setup(p.Air())
	circuit, err := b.Box.Circuit(b.Driver, setup.Displacement, p.Air())
	if err != nil {
		p.add(Check{What: "volume of a box", Needs: "-", Has: litres(b.Box.Volume), Verdict: err.Error(), Bad: true})
		return
	}
	each := setup.Displacement
	how := "by its card"
	if each == 0 {
		each, how = enclosure.Displacement(b.Driver.Size), "usual for its size"
	}
	drivers := float64(max(b.Box.Drivers, 1))
	p.add(Check{What: "taken by each driver", Needs: litres(each), Has: "-", Verdict: how})
	if b.Box.Kind != enclosure.Sealed && b.Box.Port.Stated() {
		p.add(Check{What: "taken by the ports of a box", Needs: litres(b.Box.Port.Air()), Has: "-", Verdict: "the air inside them; their walls come on top"})
	}
	p.add(Check{What: "net volume of a box", Needs: "-", Has: litres(circuit.Volume * drivers), Verdict: "of " + litres(b.Box.Volume) + " before anything goes in"})
	if circuit.FrontVolume > 0 {
		p.add(Check{What: "net volume of its front chamber", Needs: "-", Has: litres(circuit.FrontVolume * drivers), Verdict: "of " + litres(b.Box.FrontVolume)})
	}
	if circuit.Tuning > 0 {
		p.add(Check{What: "tuning of a box", Needs: "-", Has: facts.Fixed(circuit.Tuning, 1) + " Hz", Verdict: "where the meter of the impedance shows its dip"})
	}
}

// space is the box in the car.
func (p *Plan) space() {
	outside := p.outside()
	if p.Question.Vehicle.OpenField {
		return
	}
	if outside == (catalog.Size3{}) {
		p.add(Check{What: "outside of a box", Needs: "not stated", Has: sizeWords(p.spaceFree()), Verdict: unknown})
		return
	}
	needs := facts.Times(p.Build.Bass.Boxes, sizeWords(outside))
	c := Check{What: "space for boxes", Needs: needs, Has: sizeWords(p.spaceFree()), Verdict: fits}
	if !setting.FitsSpace(outside, p.spaceFree(), p.Build.Bass.Boxes) {
		c.Verdict, c.Bad = misfits, true
	}
	p.add(c)
	boot := p.Question.Vehicle.Boot
	c = Check{What: "through the opening of the boot", Needs: sizeWords(outside), Has: "not stated", Verdict: unknown}
	if boot != [2]float64{} {
		c.Has = fmt.Sprintf("%s x %s cm", facts.Plain(round(boot[0])), facts.Plain(round(boot[1])))
		c.Verdict = "goes through"
		if !setting.Passes(outside, boot) {
			c.Verdict, c.Bad = "DOES NOT GO THROUGH", true
		}
	}
	p.add(c)
}

func (p *Plan) outside() catalog.Size3 {
	if b := p.Build.Bass; b.Enclosure != nil {
		return b.Enclosure.Enclosure.Outside
	}
	if l := p.Build.Bass.Part.Loaded; l != nil {
		return l.Outside
	}
	return catalog.Size3{}
}

// clearances are what has to stay free in front of cones and ports.
func (p *Plan) clearances() {
	o := p.Build.Operation
	p.add(Check{What: "free before each cone", Needs: "20 mm and its travel, " + facts.Three(1e3*(0.020+math.Max(o.Travel, p.Build.Bass.Driver.Xmax))) + " mm",
		Has: "-", Verdict: "common practice, no source"})
	box := p.Build.Bass.Box
	if box.Kind == enclosure.Sealed {
		return
	}
	needs := "the width of the port"
	if across := mouth(box.Port); across > 0 {
		needs += ", " + millimetres(across)
	}
	p.add(Check{What: "free before each port, and behind it inside", Needs: needs, Has: "-", Verdict: "common practice, no source: closer, the tuning falls"})
}

// mouth is the width of a port's mouth: its diameter, or a slot's shorter side;
// 0 where its size is not stated.
func mouth(p enclosure.Port) float64 {
	if p.Diameter > 0 {
		return p.Diameter
	}
	return min(p.Width, p.Height)
}

func millimetres(m float64) string {
	if m == 0 {
		return "not stated"
	}
	return facts.Three(m*1e3) + " mm"
}

func litres(v float64) string { return facts.Three(v*1e3) + " L" }

func sizeWords(s catalog.Size3) string {
	return fmt.Sprintf("%s x %s x %s cm", facts.Plain(round(s.Width)), facts.Plain(round(s.Depth)), facts.Plain(round(s.Height)))
}

// round gives centimetres to a millimetre.
func round(m float64) float64 { return math.Round(m*1000) / 10 }
