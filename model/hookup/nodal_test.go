package hookup

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"

	"loudfor/model/amplifier"
)

// Two independent checks of Enumerate, which knows of divisors only: every
// plan's drawing is solved as a circuit by the node-voltage method, and every
// series/parallel circuit of a few coils is built, to see that no load is
// missing.

// circuit is a list of resistors between nodes; node 0 is ground, node 1 the
// output's hot terminal.
type circuit struct {
	nodes int
	from  []int
	to    []int
}

// build puts a network between two nodes.
func (c *circuit) build(n Network, from, to int) {
	switch n.Joint {
	case Coil:
		c.from, c.to = append(c.from, from), append(c.to, to)
	case Parallel:
		for _, part := range n.Parts {
			c.build(part, from, to)
		}
	case Series:
		for i, part := range n.Parts {
			next := to
			if i < len(n.Parts)-1 {
				next = c.nodes
				c.nodes++
			}
			c.build(part, from, next)
			from = next
		}
	}
}

// solve sends 1 A into node 1 and gives the voltage there, which is the load,
// and across every resistor of the given value.
func (c *circuit) solve(t *testing.T, ohm float64) (load float64, across []float64) {
	t.Helper()
	unknown := c.nodes - 1
	g := mat.NewDense(unknown, unknown, nil)
	stamp := func(i, j int, v float64) {
		if i > 0 && j > 0 {
			g.Set(i-1, j-1, g.At(i-1, j-1)+v)
		}
	}
	for k := range c.from {
		i, j := c.from[k], c.to[k]
		stamp(i, i, 1/ohm)
		stamp(j, j, 1/ohm)
		stamp(i, j, -1/ohm)
		stamp(j, i, -1/ohm)
	}
	in := mat.NewVecDense(unknown, nil)
	in.SetVec(0, 1)
	var v mat.VecDense
	if err := v.SolveVec(g, in); err != nil {
		t.Fatal(err)
	}
	at := func(node int) float64 {
		if node == 0 {
			return 0
		}
		return v.AtVec(node - 1)
	}
	for k := range c.from {
		across = append(across, at(c.from[k])-at(c.to[k]))
	}
	return at(1), across
}

func solveNetwork(t *testing.T, n Network, ohm float64) (load float64, across []float64) {
	t.Helper()
	c := &circuit{nodes: 2}
	c.build(n, 1, 0)
	return c.solve(t, ohm)
}

func TestPlansAsCircuits(t *testing.T) {
	for drivers := 1; drivers <= 6; drivers++ {
		for coils := 1; coils <= 4; coils++ {
			for outputs := 1; outputs <= 4; outputs++ {
				for _, p := range Enumerate(drivers, coils, 3.7, amplifier.Stereo, outputs, 0) {
					for _, n := range p.Networks() {
						load, across := solveNetwork(t, n, 3.7)
						if math.Abs(load-p.Load) > tight*p.Load {
							t.Fatalf("%s: the circuit has %g ohm", p.Words, load)
						}
						for _, v := range across {
							if math.Abs(v-across[0]) > tight*load {
								t.Fatalf("%s: coils are not treated alike: %v", p.Words, across)
							}
						}
					}
				}
			}
		}
	}
}

func TestNoLoadIsMissing(t *testing.T) {
	const most = 7 // coils: 1, 2, 4, 10, 24, 66, 180 circuits (OEIS A000084)
	circuits := everyCircuit(most)
	for n, want := range map[int]int{1: 1, 2: 2, 3: 4, 4: 10, 5: 24, 6: 66, 7: 180} {
		if got := len(circuits[n]); got != want {
			t.Fatalf("%d coils: %d circuits built, want %d", n, got, want)
		}
		var alike []float64
		for _, c := range circuits[n] {
			load, across := solveNetwork(t, c, 4)
			same := true
			for _, v := range across {
				same = same && math.Abs(v-across[0]) < tight
			}
			if same {
				alike = append(alike, load)
			}
		}
		slices.Sort(alike)
		alike = slices.CompactFunc(alike, func(a, b float64) bool { return math.Abs(a-b) < tight })
		listed := loads(Enumerate(n, 1, 4, amplifier.Mono, 1, 0))
		if !slices.EqualFunc(alike, listed, func(a, b float64) bool { return math.Abs(a-b) < tight }) {
			t.Errorf("%d coils: circuits allow %v, listed are %v", n, alike, listed)
		}
	}
}

// everyCircuit lists, by number of coils, every series/parallel circuit up to
// a number of them. A series circuit is a multiset of parts of which none is
// series itself, and the other way round.
func everyCircuit(most int) map[int][]Network {
	all := map[int][]Network{1: {{Joint: Coil}}}
	of := func(joint Joint, n int) []Network { // circuits of n coils that may be a part of joint
		var some []Network
		for _, c := range all[n] {
			if c.Joint != joint {
				some = append(some, c)
			}
		}
		return some
	}
	for n := 2; n <= most; n++ {
		var made []Network
		for _, joint := range []Joint{Series, Parallel} {
			// Choose parts in falling order of (size, index), so that each
			// multiset comes once.
			var choose func(left, size, index int, parts []Network)
			choose = func(left, size, index int, parts []Network) {
				if left == 0 {
					made = append(made, Network{Joint: joint, Parts: slices.Clone(parts)})
					return
				}
				for s := min(size, left); s >= 1; s-- {
					candidates := of(joint, s)
					last := len(candidates) - 1
					if s == size {
						last = min(last, index)
					}
					for i := last; i >= 0; i-- {
						choose(left-s, s, i, append(parts, candidates[i]))
					}
				}
			}
			choose(n, n-1, math.MaxInt, nil)
		}
		all[n] = made
	}
	return all
}
