package joinery

import (
	"fmt"
	"math"
	"slices"
)

// A ring brace stands between drivers. Where a driver takes all the width there is
// no place for one, and the large faces beside it would sing: 15 mm do not hold 56 x 44
// cm at 137 dB. There battens are glued on edge across the faces, no farther apart than
// braces: on the back, on top, on the bottom. The front is held by the drivers' frames
// and the port's walls, the sides by being no larger.

const batten = "batten"

// stiffen gives a bay, which begins at x and is so wide, the battens that it needs. The
// back behind a folded slot takes none, which would stand in the air's way.
func (b *Box) stiffen(x, width float64, port *duct) error {
	d, t, most := b.Design, b.Design.Thickness, widestSpan*b.Design.Thickness
	deep, high := b.Inside[1]-port.back, b.Inside[2]
	held := width // between walls
	if d.Tube > 0 && x+width > b.Inside[0]-port.strip-fit {
		held += port.strip // a tube holds nothing
	}
	if held <= most+fit {
		return nil
	}
	reach, _ := d.Mount.Reach()
	hole, _ := d.Mount.Hole()
	below, above := (high-hole)/2, (high+hole)/2 // of the drivers
	if high > most+fit && port.back > 0 {
		return &Error{Quantity: "inside height", Value: high, Reason: fmt.Sprintf("the back behind a folded slot takes no batten, and %s of it stay stiff up to %s the shorter way", cm(t), cm(most))}
	}
	if high > most+fit {
		from, to := below, above
		if reach+behind <= t+b.Inside[1]-ringWidth {
			from, to = 0, 0 // they stand behind the drivers
		}
		for _, z := range rows(high, t, most, from, to) {
			b.Panels = append(b.Panels, d.board(batten, Size{x, b.Inside[1] - ringWidth, z}, Size{width, ringWidth, t}))
			if from == to {
				b.Room = math.Min(b.Room, t+b.Inside[1]-ringWidth-behind)
			}
		}
	}
	if deep > most+fit {
		clear := 0.0
		if below < ringWidth {
			clear = reach - t + edge
		}
		for _, y := range rows(deep, t, most, 0, clear) {
			b.Panels = append(b.Panels,
				d.board(batten, Size{x, y, high - ringWidth}, Size{width, t, ringWidth}),
				d.board(batten, Size{x, y, 0}, Size{width, t, ringWidth}))
		}
	}
	return nil
}

// rows are where battens of a thickness begin on a length, so that no more than most is
// free between them; none stands between from and to, which the drivers take.
func rows(length, t, most, from, to float64) (at []float64) {
	even := func(start, end float64) {
		n := math.Ceil((end-start-fit)/most) - 1
		for i := 1.0; i <= n; i++ {
			at = append(at, start+i*(end-start-n*t)/(n+1)+(i-1)*t)
		}
	}
	even(0, length)
	if to > from && slices.ContainsFunc(at, func(a float64) bool { return a < to && a+t > from }) {
		at = at[:0]
		if from >= t {
			even(0, from-t)
			at = append(at, from-t)
		}
		if to+t <= length {
			at = append(at, to)
			even(to+t, length)
		}
	}
	return at
}
