package wiring

import (
	"strings"
	"testing"
)

// largestChain is what a car can hold at most: a converter, three amplifiers
// and front speakers with an amplifier of their own.
func largestChain() Chain {
	power := []int{0, 1, 2}
	return Chain{
		Lanes: []Lane{
			{Signal, []Node{{"HU-1", "speaker wires"}, {"CO-2", "line converter"}}},
			{Power, []Node{{"battery, plus", "12 V"}, {"fuse 200 A", "within 45 cm"}, {"1/0 AWG copper", "4.5 m"}, {"distribution block", "a fuse for each branch"}}},
			{Ground, []Node{{"car body", "bare metal"}, {"1/0 AWG copper", "as short as can be"}}},
			{Speaker, []Node{{"HU-1", "front outputs"}, {"BB-150", "in series, one a side"}}},
		},
		Blocks: []Block{
			{Node{"AM-1", "bridged, 2 ohm"}, power, Node{"2 x DR-12", "in 2 x BO-12"}},
			{Node{"AM-1", "bridged, 2 ohm"}, power, Node{"2 x DR-12", "in 2 x BO-12"}},
			{Node{"FR-6", "front speakers"}, []int{3}, nil},
		},
	}
}

// The words say of every block where its inputs come from.
func TestChainText(t *testing.T) {
	c := largestChain()
	want := `
signal         HU-1, speaker wires --> CO-2, line converter --> AM-1 and AM-1
power          battery, plus, 12 V --> fuse 200 A, within 45 cm --> 1/0 AWG copper, 4.5 m -->
               distribution block, a fuse for each branch --> AM-1 and AM-1
ground         car body, bare metal --> 1/0 AWG copper, as short as can be --> AM-1 and AM-1
speaker wires  HU-1, front outputs --> BB-150, in series, one a side --> FR-6
speaker wires  AM-1 --> 2 x DR-12, in 2 x BO-12
speaker wires  AM-1 --> 2 x DR-12, in 2 x BO-12
`[1:]
	if got := c.Text(); got != want {
		t.Errorf("got\n%s", got)
	}
	if (&Chain{}).SVG() != "" {
		t.Error("nothing is drawn")
	}
}

// Every input of a block ends on the wire of its lane: followed line by line,
// as the coils are.
func TestChainIsConnectedAsStated(t *testing.T) {
	c := largestChain()
	r := c.layRail()
	d := Drawing{channel: r.channel, Tracks: r.channel.count}
	w := walk(t, &d)
	for i, block := range c.Blocks {
		for k, lane := range block.Inputs {
			at := w.node[[2]int{r.channel.count + 1, r.blockTops[i] + 1 + 2*k}]
			if from, drawn := w.node[[2]int{0, r.laneRows[lane]}]; !drawn || at != from {
				t.Errorf("input %d of block %d does not come from lane %d", k, i, lane)
			}
		}
	}
	if !strings.Contains(c.SVG(), `class="wire plus"`) {
		t.Error("power is not drawn as such")
	}
}
