package wiring

import (
	"fmt"

	"loudfor/model/hookup"
)

// Amplifier is what the drawing says about the side that drives.
type Amplifier struct {
	Title   string
	Outputs []string // a name for each of the plan's outputs
}

// Terminal is a screw or a solder tag of the drawing.
type Terminal struct {
	Side     Side // Left: of the amplifier; Right: of a coil
	Output   int  // from 0; of a coil: that which feeds it
	Driver   int  // of a coil, from 0
	Coil     int  // of a coil, from 0, within its driver
	Positive bool
	Row, Net int
}

// Drawing is the wiring of the coils on one amplifier.
type Drawing struct {
	Terminals []Terminal
	Tracks    int

	plan      hookup.Plan
	amplifier Amplifier
	channel   channel
	role      []role   // of each net
	poles     [][2]int // the nets of plus and minus of each output
	titles    []int    // the row of each driver's title
	titleRow  int      // that of the amplifier
	rows      int
}

// role is where a net leads.
type role int

const (
	between role = iota // from coil to coil
	plus                // to an output's plus
	minus
)

// The rows. Those of the coils are even and those of the amplifier odd, so no
// row is used on both sides.
const (
	coilPitch = 4 // from coil to coil: its plus, its minus
	polePitch = 2
)

// Coils draws a plan. A plan without coils gives an empty drawing.
func Coils(p hookup.Plan, a Amplifier) Drawing {
	d := Drawing{plan: p, amplifier: a}
	networks := p.Networks()
	ends := make(map[[2]int][2]int) // driver and coil: nets of plus and minus
	feeds := make(map[[2]int]int)   // and the output
	for i, n := range networks {
		poles := [2]int{d.net(plus), d.net(minus)}
		d.poles = append(d.poles, poles)
		d.connect(n, poles[0], poles[1], ends)
		n.Walk(func(driver, coil int) { feeds[[2]int{driver, coil}] = i })
	}
	row := 0
	for driver := range p.Drivers {
		d.titles = append(d.titles, row)
		row += polePitch
		for coil := range p.Coils {
			key := [2]int{driver, coil}
			for pole := range 2 {
				d.Terminals = append(d.Terminals, Terminal{Side: Right, Output: feeds[key], Driver: driver, Coil: coil,
					Positive: pole == 0, Row: row + pole*polePitch, Net: ends[key][pole]})
			}
			row += coilPitch
		}
	}
	d.rows = row
	d.place()
	var ports []port
	for _, t := range d.Terminals {
		ports = append(ports, port{t.Side, t.Row, t.Net})
	}
	d.channel = route(ports, len(d.role))
	d.Tracks = d.channel.count
	return d
}

// net makes a net.
func (d *Drawing) net(r role) int {
	d.role = append(d.role, r)
	return len(d.role) - 1
}

// connect lays a network between two nets, and notes where each coil's plus
// and minus go: plus always towards the output's plus.
func (d *Drawing) connect(n hookup.Network, from, to int, ends map[[2]int][2]int) {
	switch n.Joint {
	case hookup.Coil:
		ends[[2]int{n.Driver, n.Coil}] = [2]int{from, to}
	case hookup.Parallel:
		for _, part := range n.Parts {
			d.connect(part, from, to, ends)
		}
	case hookup.Series:
		for i, part := range n.Parts {
			next := to
			if i < len(n.Parts)-1 {
				next = d.net(between)
			}
			d.connect(part, from, next, ends)
			from = next
		}
	}
}

// place puts the amplifier's terminals beside the first coil of each output,
// or as soon below as there is room.
func (d *Drawing) place() {
	next := 1
	for output, poles := range d.poles {
		top := d.rows
		for _, t := range d.Terminals {
			if t.Side == Right && t.Output == output {
				top = min(top, t.Row)
			}
		}
		row := max(next, top+1)
		if output == 0 {
			d.titleRow = row - polePitch
		}
		for pole, net := range poles {
			d.Terminals = append(d.Terminals, Terminal{Side: Left, Output: output, Positive: pole == 0, Row: row + pole*polePitch, Net: net})
		}
		next = row + 2*polePitch
		d.rows = max(d.rows, next)
	}
}

// Segments are the wires as drawn.
func (d *Drawing) Segments() []Segment { return d.channel.segments() }

// Contacts are the dots as drawn: a crossing without one is no connection.
func (d *Drawing) Contacts() []Contact { return d.channel.contacts() }

// Point is a place where the load can be checked with a meter.
type Point struct {
	Where string
	Load  float64 // nominal, ohm
	Coils float64 // the same in units of one coil's load
}

// Points lists the loads from the coil to the output. All coils are treated
// alike, so each kind of joint stands once.
func Points(p hookup.Plan) []Point {
	if p.CoilLoad <= 0 || p.Outputs == 0 {
		return nil
	}
	all := []Point{{Where: "each coil by itself", Coils: 1}}
	add := func(coils float64, where string) { all = append(all, Point{Where: where, Coils: coils}) }
	unit := float64(p.InnerSeries) / float64(p.InnerParallel)
	if inner := p.InnerSeries * p.InnerParallel; inner > 1 {
		what := "each driver"
		if p.Split > 1 {
			what = "each set of coils of a driver"
		}
		add(unit, fmt.Sprintf("%s, its coils %s", what, joined(p.InnerSeries, p.InnerParallel)))
	}
	outerSeries, outerParallel := p.Series/p.InnerSeries, p.Parallel/p.InnerParallel
	if outerSeries > 1 && outerParallel > 1 {
		add(unit*float64(outerSeries), fmt.Sprintf("each string of %d in series", outerSeries))
	}
	where := "the output"
	if p.Outputs > 1 {
		where = "each output"
	}
	add(float64(p.Series)/float64(p.Parallel), where+", with everything connected")
	for i := range all {
		all[i].Load = all[i].Coils * p.CoilLoad
	}
	return all
}

// joined says how series x parallel coils are joined.
func joined(series, parallel int) string {
	switch {
	case parallel == 1:
		return "in series"
	case series == 1:
		return "in parallel"
	}
	return fmt.Sprintf("as %d strings of %d in series, the strings in parallel", parallel, series)
}
