package joinery

import (
	"fmt"
	"math"
)

// Proportions. How a volume is cut into width, depth and height does not matter
// to the bass, but to the space, the wood and the driver. So the wanted
// proportions are kept as far as limits allow: each edge is the wanted one times
// a common factor, held between the least that the driver needs and the most
// that the space has. The volume rises with the factor, so exactly one factor
// gives the volume.

// Wish is a box by its inside volume.
type Wish struct {
	Volume      float64 // inside, before anything is in it, m3
	Proportions Size    // any scale
	Most        Size    // outside, of the space turned as the box is to stand
	Design      Design  // all but the outside
}

// UsualProportions are width, depth and height where no others are wanted: no
// two edges alike, so that their resonances do not fall together, and the
// broadest face in front (common practice, no source).
var UsualProportions = Size{1.4, 1, 1.1}

// Draw is the design with the outside that the wish asks for. The error names
// the number that fails: what the driver takes against what the space has, or
// the volume that the space holds.
func Draw(w Wish) (Design, error) {
	d := w.Design
	if !(w.Volume > 0) || math.IsInf(w.Volume, 0) {
		return d, &Error{Quantity: "volume", Value: w.Volume, Reason: "must be above zero"}
	}
	least, most, err := w.limits()
	if err != nil {
		return d, err
	}
	inside := func(factor float64) (s Size) {
		for i := range s {
			s[i] = min(max(factor*w.Proportions[i], least[i]), most[i])
		}
		return s
	}
	if full := most.Volume(); w.Volume > full*(1+fit) {
		return d, &Error{Quantity: "volume", Value: w.Volume, Reason: fmt.Sprintf("the space holds a box with %.4g L inside", 1000*full)}
	}
	if small := least.Volume(); w.Volume < small*(1-fit) {
		return d, &Error{Quantity: "volume", Value: w.Volume, Reason: fmt.Sprintf("the smallest box for the driver has %.4g L inside", 1000*small)}
	}
	low, high := 0.0, 1.0
	for inside(high).Volume() < w.Volume*(1-fit) {
		high *= 2
	}
	for range 60 { // to the last bit
		if middle := (low + high) / 2; inside(middle).Volume() < w.Volume {
			low = middle
		} else {
			high = middle
		}
	}
	for i, v := range inside(high) {
		d.Outside[i] = v + 2*d.Thickness
	}
	return d, nil
}

// Volumes are the least and the most inside volume that a wish can have, m3.
func (w Wish) Volumes() (least, most float64, err error) {
	a, b, err := w.limits()
	return a.Volume(), b.Volume(), err
}

// limits are the least and the most inside size.
func (w Wish) limits() (least, most Size, err error) {
	d, m := w.Design, w.Design.Mount
	reach, _ := m.Reach()
	strip, back := 0.0, 0.0
	switch {
	case d.Slot > 0:
		strip = d.Slot + d.Thickness
		if long := d.PortLength - d.Thickness; long > w.Most[1]-2*d.Thickness-d.Slot { // it will be folded
			back = d.Slot + d.Thickness
		}
	case d.Tube > 0:
		strip = d.Tube + 2*tubeWall + 2*edge
	}
	t := d.Thickness
	n := float64(d.Drivers)
	least = Size{
		max(n*d.pitch(), n*m.Frame()-2*t) + strip,
		reach + behind - t + back,
		max(m.clear(), m.Frame()-2*t),
	}
	for i := range most {
		most[i] = w.Most[i] - 2*t
		if !(w.Proportions[i] > 0) || math.IsInf(w.Proportions[i], 0) {
			return least, most, fmt.Errorf("joinery: proportions %v cannot be", w.Proportions)
		}
	}
	// The shorter edge of the sides is limited; hold the depth.
	if stiff := widestSpan * t; min(most[1], most[2]) > stiff {
		if most[1] <= most[2] {
			most[1] = max(stiff, least[1])
		} else {
			most[2] = max(stiff, least[2])
		}
	}
	for i, name := range [...]string{"width", "depth", "height"} {
		if least[i] > most[i]+fit {
			return least, most, &Error{Quantity: name + " of the space", Value: w.Most[i], Reason: fmt.Sprintf("the driver with its box takes %s", cm(least[i]+2*t)), Lacks: least[i] - most[i]}
		}
	}
	return least, most, nil
}
