package wiring

import (
	"strings"

	"loudfor/cmd/internal/table"
)

// The chain: how signal and power get to the amplifiers, and from there to the
// loads. Lanes of boxes come in from the left, each ending at the channel;
// blocks stand at its right, with an input for each lane that they need.

// Link is what a wire carries.
type Link int

// The links.
const (
	Signal  Link = iota // small: from the source
	Speaker             // power for a voice coil
	Power               // from the battery
	Ground
)

func (l Link) String() string {
	return [...]string{"signal", "speaker wires", "power", "ground"}[l]
}

// linkClasses are the lines of the links; linkWords what the legend says.
var (
	linkClasses = [...]string{Signal: "between", Speaker: "", Power: "plus", Ground: "minus"}
	linkWords   = [...]string{Signal: "signal", Speaker: "speaker wires, a pair", Power: "power, plus of the battery", Ground: "ground, minus of the battery"}
)

// Node is a box with some lines of text; the first is its name.
type Node []string

// Lane is a row of boxes, each feeding the next and the last one the channel.
type Lane struct {
	Link  Link
	Nodes []Node
}

// Block is an amplifier, or speakers, with what it takes from the lanes.
type Block struct {
	Node   Node
	Inputs []int // numbers of lanes
	Then   Node  // what it drives; nil: nothing
}

// Chain is the whole way.
type Chain struct {
	Lanes  []Lane
	Blocks []Block
}

// Text is the chain in words, a line or more for each lane.
func (c *Chain) Text() string {
	var b strings.Builder
	for i, lane := range c.Lanes {
		var path []string
		for _, n := range lane.Nodes {
			path = append(path, strings.Join(n, ", "))
		}
		var ends []string
		for _, block := range c.Blocks {
			for _, input := range block.Inputs {
				if input == i {
					ends = append(ends, block.Node[0])
				}
			}
		}
		if len(ends) > 0 {
			path = append(path, strings.Join(ends, " and "))
		}
		b.WriteString(chainLine(lane.Link, path))
	}
	for _, block := range c.Blocks {
		if block.Then != nil {
			b.WriteString(chainLine(Speaker, []string{block.Node[0], strings.Join(block.Then, ", ")}))
		}
	}
	return b.String()
}

// linkColumn is the width of the column of links.
const linkColumn = 15

func chainLine(l Link, path []string) string {
	name := l.String()
	return table.Indent(table.Most, name+strings.Repeat(" ", linkColumn-len(name)), strings.Join(path, " --> "))
}

// boxed is a box with its place.
type boxed struct {
	node                Node
	x, y, width, height float64
}

// rail is how the chain is laid out, in rows as the coils are.
type rail struct {
	laneRows  []int // where each lane ends
	blockTops []int
	heights   []int // of blocks, rows
	rows      int
	channel   channel
}

// layRail finds the rows. Lanes end on even ones, blocks begin on odd ones.
func (c *Chain) layRail() rail {
	var r rail
	row := 0
	for _, lane := range c.Lanes {
		half := (boxRows(lane.Nodes...) + 1) / 2
		at := evenUp(row + half)
		r.laneRows = append(r.laneRows, at)
		row = at + half
	}
	r.rows = row
	var ports []port
	for i, at := range r.laneRows {
		ports = append(ports, port{Left, at, i})
	}
	row = 0
	for _, block := range c.Blocks {
		r.blockTops = append(r.blockTops, row)
		height := max(boxRows(block.Node, block.Then), 2*len(block.Inputs)+1)
		for k, lane := range block.Inputs {
			ports = append(ports, port{Right, row + 1 + 2*k, lane})
		}
		r.heights = append(r.heights, height)
		row = evenUp(row + height + 1)
	}
	r.rows = max(r.rows, row)
	r.channel = route(ports, len(c.Lanes))
	return r
}

func evenUp(n int) int { return (n + 1) / 2 * 2 }

// boxRows is how many rows the tallest of some boxes takes.
func boxRows(nodes ...Node) int {
	most := 0
	for _, n := range nodes {
		most = max(most, len(n))
	}
	return max(most+1, 3)
}

const boxGap = 26.0 // between two boxes of a lane

// SVG is the chain as a picture.
func (c *Chain) SVG() string {
	if len(c.Blocks) == 0 {
		return ""
	}
	p := &picture{}
	r := c.layRail()
	y := func(row int) float64 { return margin + float64(row)*rowHeight }
	edge := c.drawLanes(p, &r, y)
	x := func(column int) float64 { return edge + float64(column)*trackWidth }
	c.drawBlocks(p, &r, x(r.channel.count+1), y)
	for _, s := range r.channel.segments() {
		p.put(`<path class="wire %s" d="M%.1f %.1fL%.1f %.1f"/>`, linkClasses[c.Lanes[s.Net].Link], x(s.FromColumn), y(s.FromRow), x(s.ToColumn), y(s.ToRow))
	}
	for _, dot := range r.channel.contacts() {
		p.put(`<circle class="dot" cx="%.1f" cy="%.1f" r="%.1f"/>`, x(dot.Column), y(dot.Row), dotSize)
	}
	bottom := y(r.rows)
	for link, words := range linkWords {
		if !c.carries(Link(link)) {
			continue
		}
		bottom += 1.4 * rowHeight
		p.put(`<path class="wire %s" d="M%.1f %.1fH%.1f"/>`, linkClasses[link], margin, bottom-fontSize/3, margin+40)
		p.text(margin+50, bottom, "start", "", words)
		p.width = max(p.width, 2*margin+50+wide(words))
	}
	p.height = bottom + margin
	return p.svg("Signal and power, from the source and the battery to the loads")
}

// drawLanes draws the boxes of the lanes and gives the channel's left edge.
func (c *Chain) drawLanes(p *picture, r *rail, y func(int) float64) (edge float64) {
	var widths []float64
	for _, lane := range c.Lanes {
		for k, n := range lane.Nodes {
			if k == len(widths) {
				widths = append(widths, 0)
			}
			widths[k] = max(widths[k], boxWidth(n))
		}
	}
	edge = margin
	for _, w := range widths {
		edge += w + boxGap
	}
	for i, lane := range c.Lanes {
		x, height := margin, float64(boxRows(lane.Nodes...))*rowHeight
		at := y(r.laneRows[i])
		for k, n := range lane.Nodes {
			end := x + widths[k]
			p.box(boxed{n, x, at - height/2, widths[k], height})
			x = end + boxGap
			to := x
			if k == len(lane.Nodes)-1 {
				to = edge
			}
			p.put(`<path class="wire %s" d="M%.1f %.1fH%.1f"/>`, linkClasses[lane.Link], end, at, to)
		}
	}
	return edge
}

func (c *Chain) drawBlocks(p *picture, r *rail, x float64, y func(int) float64) {
	first, second := 0.0, 0.0
	for _, b := range c.Blocks {
		first = max(first, boxWidth(b.Node))
		if b.Then != nil {
			second = max(second, boxWidth(b.Then)+boxGap)
		}
	}
	for i, b := range c.Blocks {
		top, height := y(r.blockTops[i]), float64(r.heights[i])*rowHeight
		p.box(boxed{b.Node, x, top, first, height})
		if b.Then != nil {
			p.put(`<path class="wire" d="M%.1f %.1fH%.1f"/>`, x+first, top+height/2, x+first+boxGap)
			p.box(boxed{b.Then, x + first + boxGap, top, boxWidth(b.Then), height})
		}
	}
	p.width = x + first + second + margin
}

func boxWidth(n Node) float64 {
	widest := 0.0
	for k, line := range n {
		if k == 0 {
			widest = max(widest, strong(line))
		} else {
			widest = max(widest, wide(line))
		}
	}
	return widest + 2*padding
}

// box draws a box with its lines in the middle.
func (p *picture) box(b boxed) {
	p.frame(b.x, b.y, b.width, b.height)
	line := b.y + b.height/2 - float64(len(b.node)-1)*rowHeight/2 + fontSize/3
	for k, text := range b.node {
		class := ""
		if k == 0 {
			class = "strong"
		}
		p.text(b.x+b.width/2, line+float64(k)*rowHeight*1.05, "middle", class, text)
	}
}

// carries says whether a link is in the chain.
func (c *Chain) carries(l Link) bool {
	for _, lane := range c.Lanes {
		if lane.Link == l {
			return true
		}
	}
	for _, b := range c.Blocks {
		if l == Speaker && b.Then != nil {
			return true
		}
	}
	return false
}
