package bass

import (
	"math"

	"loudfor/model/cabin"
)

// Mark is Above for several horizons together: it sets in marks, which has a
// place for each frequency of the room that h looked at, those at which a box
// with a mouth could be louder than a pressure in Pa rms, and leaves the others as
// they are. It tells whether there are any.
func (h *Horizon) Mark(least float64, m Mouth, marks []bool) (any bool) {
	for i := range h.hz {
		if h.at(i, m) > least {
			marks[i], any = true, true
		}
	}
	return any
}

// Marked gathers into to the marked frequencies of a room.
func Marked(marks []bool, room, to *cabin.Response) {
	to.Hz, to.Transfer, to.Back = to.Hz[:0], to.Transfer[:0], to.Back[:0]
	for i, marked := range marks {
		if marked {
			to.Hz = append(to.Hz, room.Hz[i])
			to.Transfer = append(to.Transfer, room.Transfer[i])
			to.Back = append(to.Back, room.Back[i])
		}
	}
}

// Narrow is Narrowest for an aim, with the cones facing the car and without.
func (h *Horizon) Narrow(aim *Aim) (open, shut float64) {
	open, shut = math.Inf(1), math.Inf(1)
	for i, flow := range h.flow {
		if aim.pressure < shut*flow {
			shut = aim.pressure / flow
		}
		switch short := aim.pressure - h.cone[i]; {
		case short <= 0:
			open = 0
		case short < open*flow:
			open = short / flow
		}
	}
	return open, shut
}
