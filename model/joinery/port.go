package joinery

import (
	"fmt"
	"math"

	"loudfor/model/enclosure"
)

// The port as built. A slot as high as the box needs one board, and where it is
// folded along the back a second; the other walls are the box's own.
//
// The end in the front is in a wall. The end inside is free on one side and
// along the box's wall on the other: with its mirror image in that wall it is
// the free end of a slot of twice the area, whose correction is 0.6133 sqrt 2 =
// 0.867 of the single slot's equivalent radius, which is within 2.2 % that of an
// end in a wall (0.849). So a slot counts as having two ends in walls, and a
// tube, which ends free inside, one. The corrections themselves are those of
// enclosure.Port (Beranek and Mellow; Levine and Schwinger 1948).

// duct is where the port runs.
type duct struct {
	port   enclosure.Port
	panels []Panel
	air    float64 // inside the box, without the front's thickness, m3
	wood   float64 // walls of the port, m3
	strip  float64 // width that the port takes off the right of the chamber
	fold   float64 // x at which a folded slot ends; 0: not folded
	back   float64 // depth that a folded slot takes off the back
	mouth  Opening // in the front panel
}

func (d Design) duct() (duct, error) {
	switch {
	case d.Slot > 0:
		return d.slotted()
	case d.Tube > 0:
		return d.tubed()
	}
	return duct{}, nil
}

// slotted runs a slot along the right side, and on along the back if it is long.
func (d Design) slotted() (duct, error) {
	s, t, in := d.Slot, d.Thickness, d.Inside()
	if s < narrowestSlot-fit || s > widestSlot+fit {
		return duct{}, &Error{Quantity: "slot width", Value: s, Reason: fmt.Sprintf("between %s and %s", cm(narrowestSlot), cm(widestSlot))}
	}
	long := d.PortLength - t // inside the box
	if long < shortestPanel-fit {
		return duct{}, &Error{Quantity: "port length", Value: d.PortLength, Reason: fmt.Sprintf("with the front's %s a slot is at least %s long", cm(t), cm(t+shortestPanel))}
	}
	w := duct{strip: s + t, air: s * in[2] * long,
		port:  enclosure.Port{Count: 1, Width: s, Height: in[2], Length: d.PortLength, FlangedEnds: 2},
		mouth: Opening{Name: "slot", Sides: [2]float64{s, in[2]}, Centre: [2]float64{t + in[0] - s/2, t + in[2]/2}}}
	wall := in[0] - s - t
	// A straight slot leaves at its end what it is wide.
	if long <= in[1]-s+fit {
		w.panels = []Panel{d.board("port wall", Size{wall, 0, 0}, Size{t, long, in[2]})}
		w.wood = w.panels[0].Wood()
		return w, nil
	}
	along := long - (in[1] - s/2) // of the middle line, along the back
	second := along - s/2 - t
	if second < shortestPanel-fit {
		return duct{}, &Error{Quantity: "port length", Value: d.PortLength, Reason: fmt.Sprintf("a slot of %s in a box %s deep ends before %s or, folded, beyond %s",
			cm(s), cm(in[1]), cm(in[1]-s+t), cm(in[1]+2*t+shortestPanel))}
	}
	w.fold, w.back = in[0]-s/2-along, s+t
	if w.fold < s-fit {
		return duct{}, &Error{Quantity: "port length", Value: d.PortLength, Reason: fmt.Sprintf("folded along the back of a box %s wide it may be %s", cm(in[0]), cm(d.PortLength-(s-w.fold)))}
	}
	w.panels = []Panel{
		d.board("port wall", Size{wall, 0, 0}, Size{t, in[1] - s, in[2]}),
		d.board("port fold", Size{w.fold, in[1] - s - t, 0}, Size{second, t, in[2]}),
	}
	w.wood = w.panels[0].Wood() + w.panels[1].Wood()
	return w, nil
}

// tubed puts a tube into the front, half way up at the right.
func (d Design) tubed() (duct, error) {
	t, in := d.Thickness, d.Inside()
	outer := d.Tube + 2*tubeWall
	long := d.PortLength - t
	if long < 0 {
		return duct{}, &Error{Quantity: "port length", Value: d.PortLength, Reason: fmt.Sprintf("the front alone is %s thick", cm(t))}
	}
	// A free end needs its own diameter of room.
	if most := in[1] - d.Tube; long > most+fit {
		return duct{}, &Error{Quantity: "port length", Value: d.PortLength, Reason: fmt.Sprintf("a tube of %s in a box %s deep may be %s", cm(d.Tube), cm(in[1]), cm(most+t))}
	}
	if outer+2*edge > in[2]+fit {
		return duct{}, &Error{Quantity: "tube", Value: d.Tube, Reason: fmt.Sprintf("with its wall it does not fit an inside height of %s", cm(in[2]))}
	}
	w := duct{strip: outer + 2*edge, air: math.Pi / 4 * d.Tube * d.Tube * long,
		wood:  math.Pi / 4 * (outer*outer - d.Tube*d.Tube) * long,
		port:  enclosure.Port{Count: 1, Diameter: d.Tube, Length: d.PortLength, FlangedEnds: 1},
		mouth: Opening{Name: "port tube", Diameter: outer, Centre: [2]float64{t + in[0] - edge - outer/2, t + in[2]/2}}}
	return w, nil
}
