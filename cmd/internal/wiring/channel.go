package wiring

import (
	"cmp"
	"slices"
)

// The channel: upright tracks between two columns of ports. A port's level
// wire runs from its edge to the track of its net. As no two ports share a
// row, level wires cannot overlap; upright ones do not, because only nets with
// rows apart share a track. A crossing is no contact: contacts in the middle
// of an upright wire carry a dot.

// Side is an edge of the channel.
type Side int

// The edges.
const (
	Left Side = iota
	Right
)

// port is an end of a net at an edge.
type port struct {
	side Side
	row  int
	net  int
}

// Segment is a straight wire of the drawing, in columns and rows: column 0 is
// the left edge, Tracks+1 the right one, those between are tracks.
type Segment struct {
	Net                                  int
	FromColumn, FromRow, ToColumn, ToRow int
}

// Contact is a dot: there the wires that cross or meet are one.
type Contact struct{ Net, Column, Row int }

// channel is ports with the wires between them.
type channel struct {
	ports  []port
	tracks []int // by net: its column, from 1
	spans  [][2]int
	count  int // of tracks
}

// route gives every net a track.
func route(ports []port, nets int) channel {
	c := channel{ports: ports, tracks: make([]int, nets), spans: make([][2]int, nets)}
	order := make([]int, 0, nets)
	for net := range nets {
		first := true
		for _, p := range ports {
			if p.net != net {
				continue
			}
			if first {
				c.spans[net], first = [2]int{p.row, p.row}, false
			}
			c.spans[net][0], c.spans[net][1] = min(c.spans[net][0], p.row), max(c.spans[net][1], p.row)
		}
		order = append(order, net)
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(c.spans[a][0], c.spans[b][0]) })
	var ends []int // the last row of each track
	for _, net := range order {
		at := slices.IndexFunc(ends, func(end int) bool { return end < c.spans[net][0] })
		if at < 0 {
			at = len(ends)
			ends = append(ends, 0)
		}
		ends[at] = c.spans[net][1]
		c.tracks[net] = at + 1
	}
	c.count = len(ends)
	return c
}

// segments are the wires of the channel.
func (c *channel) segments() []Segment {
	var all []Segment
	for net, span := range c.spans {
		if span[0] < span[1] {
			all = append(all, Segment{net, c.tracks[net], span[0], c.tracks[net], span[1]})
		}
	}
	for _, p := range c.ports {
		edge := 0
		if p.side == Right {
			edge = c.count + 1
		}
		all = append(all, Segment{p.net, edge, p.row, c.tracks[p.net], p.row})
	}
	return all
}

// contacts are the dots: where a level wire meets the middle of its upright
// one. At the ends the two make a corner, which needs none.
func (c *channel) contacts() []Contact {
	var all []Contact
	for _, p := range c.ports {
		if span := c.spans[p.net]; p.row > span[0] && p.row < span[1] {
			all = append(all, Contact{p.net, c.tracks[p.net], p.row})
		}
	}
	return all
}
