package supply

import "math"

// The same source line made ready to be asked for one power after another: the
// search asks a hundred times for each amplifier, and the feed stays. What does
// not depend on the power is worked out once: how far each straight part is of
// use (to its end, to the peak of its power, or to where amplifiers drop out),
// and the power there.

// Line is a Feed made ready for many questions. The zero Line delivers nothing.
type Line struct {
	parts [3]part
	n     int // of parts in use

	volts, amps float64 // where it gives the most
}

// part is a piece as far as it is of use, and the power at its end.
type part struct {
	piece
	watts float64
}

// Line makes a feed ready.
func (f Feed) Line() (l Line) {
	pieces := f.pieces()
	l.volts = pieces[0].open
	most := 0.0
	for _, p := range pieces {
		if p.slope > 0 {
			// Half the open voltage is that at the peak.
			p.end = min(p.end, min(p.open/2, p.open-DropoutVolts)/p.slope)
		} else if p.open < DropoutVolts {
			break
		}
		if p.end < p.start {
			continue // past its peak or dropped out: only falling power from here
		}
		watts := p.power(p.end)
		l.parts[l.n] = part{p, watts}
		l.n++
		if watts > most {
			most, l.amps, l.volts = watts, p.end, p.open-p.slope*p.end
		}
	}
	return l
}

// Terminal is that of the feed: the smallest current at which the terminals
// give the power, the stable operating point of a load that draws a constant
// one. Within a part watts = open I - slope I^2, solved in the form that does
// not cancel.
func (l *Line) Terminal(watts, efficiency float64) (volts, amps float64, ok bool) {
	if !(watts >= 0) || !(efficiency > 0) {
		return l.volts, l.amps, false
	}
	if watts /= efficiency; watts > math.MaxFloat64 {
		return l.volts, l.amps, false
	}
	for i := range l.n {
		p := &l.parts[i]
		if watts <= p.watts {
			root := 2 * watts / (p.open + math.Sqrt(max(0, p.open*p.open-4*p.slope*watts)))
			amps = min(max(root, p.start), p.end)
			return p.open - p.slope*amps, amps, true
		}
	}
	return l.volts, l.amps, false
}

func (p piece) power(amps float64) float64 { return (p.open - p.slope*amps) * amps }
