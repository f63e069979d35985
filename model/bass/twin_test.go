package bass

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The search by its definition: up the lattice to the first travel that is not
// allowed, ten halvings of the cell below, a line through the strain in what is
// left; every point of the grid in turn. It remembers nothing, skips nothing
// and guesses nothing.

func plainClimb(p *Prepared, j int, b *bounds) top {
	var s state
	strain := func(u float64) float64 {
		p.at(j, u, b, &s)
		most, _ := b.strain(u, &s)
		return most
	}
	from, to := 0.0, levelStep
	for n := 2; strain(to) <= 1; n++ {
		from, to = to, float64(n)*levelStep
	}
	for n, depth := 0, 0; n < halvings; {
		if from > 0 || depth == deepest {
			n++
		} else {
			depth++
		}
		if middle := (from + to) / 2; strain(middle) <= 1 {
			from = middle
		} else {
			to = middle
		}
	}
	t := top{refused: to}
	below := 0.0
	if from > 0 {
		below = strain(from)
	}
	t.u = between(from, to, below, strain(to))
	p.at(j, t.u, b, &s)
	t.sound = s.sound
	return t
}

func plainLoudest(p *Prepared, b *bounds) (best int, t top) {
	t.sound = -1
	for j := range p.points {
		if other := plainClimb(p, j, b); other.sound > t.sound {
			best, t = j, other
		}
	}
	return best, t
}

// onePart is a part of a cell: where a limit lies on the border of two, rounding
// decides in which the crossing is, and nothing else changes.
const onePart = levelStep / parts * 1.001

func apart(a, b float64) float64 { return math.Abs(level(a) - level(b)) }

// All short cuts together change nothing, whatever was asked before.
func TestSearchEqualsItsDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPrepared(t)
		for range 4 {
			d, l := drawDrive(t, p), drawLimits(t)
			var b bounds
			p.bind(d, l, &b)
			best, want := plainLoudest(p, &b)
			got := p.Loudest(d, l)
			if math.Abs(got.Level-level(want.sound)) > lawTolerance {
				t.Fatalf("loudest %v, by the definition %v at %v", got, level(want.sound), p.hz[best])
			}
			for j := range p.points {
				want := plainClimb(p, j, &b)
				top, _ := p.crossing(j, &b, rival{ties: true})
				if apart(top.sound, want.sound) > lawTolerance || math.Abs(top.refused-want.refused) > onePart {
					t.Fatalf("point %d: %+v, by the definition %+v", j, top, want)
				}
			}
		}
	})
}

// Nothing falls in a cell that is said to rise.
func TestRisingCellsRise(t *testing.T) {
	proved, all := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawPrepared(t)
		for j := range p.points {
			for r := range rungs - 1 {
				all++
				if !p.rises(j, r) {
					continue
				}
				proved++
				const steps = 32
				var i, u, w, flow, sound float64
				for n := range steps + 1 {
					var m move
					v := rungTravel[r] + (rungTravel[r+1]-rungTravel[r])*float64(n)/steps
					p.travel(j, v, &m)
					i1, u1, w1 := p.cold(j, v, &m)
					const rounding = 1 - 1e-9 // of the last digits
					if i1 < i*rounding || u1 < u*rounding || w1 < w*rounding || m.flow < flow*rounding || m.sound < sound*rounding {
						t.Fatalf("point %d, rung %d, step %d: something falls", j, r, n)
					}
					i, u, w, flow, sound = i1, u1, w1, m.flow, m.sound
				}
			}
		}
	})
	if proved*2 < all && !testing.Short() {
		t.Errorf("only %d of %d cells proved to rise", proved, all)
	}
	t.Logf("%d of %d cells proved to rise", proved, all)
}
