package cabin

import (
	"math"
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"

	"loudfor/model/air"
)

func drawCavity(t *rapid.T) Cavity {
	return Cavity{
		Length:     rapid.Float64Range(0.3, 6).Draw(t, "length"),
		Width:      rapid.Float64Range(0.3, 2.5).Draw(t, "width"),
		Height:     rapid.Float64Range(0.3, 2).Draw(t, "height"),
		Admittance: rapid.Float64Range(0, 0.3).Draw(t, "admittance"),
		Air:        air.At(rapid.Float64Range(-30, 60).Draw(t, "celsius")),
		Exponent:   rapid.Float64Range(-1, 3).Draw(t, "exponent"),
		Zone:       rapid.Float64Range(-2, 2).Draw(t, "zone"),
		Ground:     rapid.Float64Range(0, 0.6).Draw(t, "ground"),
	}
}

func drawPoint(t *rapid.T, c Cavity, name string) Point {
	share := rapid.Float64Range(0, 1)
	return Point{share.Draw(t, name+" x") * c.Length, share.Draw(t, name+" y") * c.Width, share.Draw(t, name+" z") * c.Height}
}

// drawPiston is a square piston somewhere inside.
func drawPiston(t *rapid.T, c Cavity, name string) Patch {
	side := rapid.Float64Range(0.05, 0.25).Draw(t, name+" side")
	return Piston(c.inside(drawPoint(t, c, name), side/2, side/2), side*side)
}

// mostDrawn holes keep a case cheap; the pairs of walls are what costs.
const mostDrawn = 3

// drawOpenings puts at most one hole in each wall.
func drawOpenings(t *rapid.T, c Cavity) []Opening {
	var list []Opening
	size := c.lengths()
	for w := Front; w <= Roof; w++ {
		if len(list) == mostDrawn || !rapid.Bool().Draw(t, w.String()) {
			continue
		}
		u, v := w.plane()
		cut := func(axis int, name string) (from, length float64) {
			length = size[axis] * rapid.Float64Range(0.2, 1).Draw(t, name)
			return (size[axis] - length) * rapid.Float64Range(0, 1).Draw(t, name+" from"), length
		}
		o := Opening{Wall: w}
		o.U, o.Width = cut(u, "width")
		o.V, o.Height = cut(v, "height")
		if edge := rapid.IntRange(0, int(Top)).Draw(t, "hinge"); w < Floor {
			o.Leaf = Leaf{Hinge: Edge(edge), Angle: rapid.Float64Range(LeastLeaf, MostLeaf).Draw(t, "angle") * degree}
		}
		list = append(list, o)
	}
	return list
}

func drawHz(t *rapid.T) []float64 {
	return rapid.SliceOfN(rapid.Float64Range(1, 200), 1, 4).Draw(t, "hz")
}

// TestReciprocity: exchanging source and receiver changes nothing, G(a,b) =
// G(b,a), holes or not (Rayleigh's principle of reciprocity; Morse and Ingard,
// Theoretical Acoustics).
func TestReciprocity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCavity(t)
		a, b := drawPiston(t, c, "a"), drawPiston(t, c, "b")
		openings, hz := drawOpenings(t, c), drawHz(t)
		there, back := c.tiled(1, hz, a, b, openings, 2), c.tiled(1, hz, b, a, openings, 2)
		for i := range hz {
			if d := cmplx.Abs(there.Transfer[i] - back.Transfer[i]); d > 1e-6*cmplx.Abs(there.Transfer[i]) {
				t.Fatalf("%g Hz: %v there, %v back", hz[i], there.Transfer[i], back.Transfer[i])
			}
		}
	})
}

// TestPassive: the car never feeds power to the cone, before any guard (energy
// conservation). What is asked for is the sign, to rounding: the image in the ground
// makes the outer resistance of a tiling slightly indefinite (computed: eigenvalues
// down to -3e-4 of its trace), but walls and the flow that a source really drives
// leave nothing of it.
func TestPassive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCavity(t)
		source, hz := drawPiston(t, c, "source"), drawHz(t)
		r := c.tiled(1, hz, source, Patch{Center: drawPoint(t, c, "ear")}, drawOpenings(t, c), 2)
		for i, z := range r.Back {
			if real(z) < -1e-9*cmplx.Abs(z) {
				t.Fatalf("%g Hz: back-action %v", hz[i], z)
			}
		}
	})
}

// TestNeverNaN: valid input gives numbers, and a passive cavity.
func TestNeverNaN(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCavity(t)
		hz := drawHz(t)
		// A resonance of a rigid box exactly is the worst that can be asked.
		hz = append(hz, c.Air.SoundSpeed/(2*max(c.Length, 0.4)))
		source, ear := drawPiston(t, c, "source"), drawPoint(t, c, "ear")
		if rapid.Bool().Draw(t, "on the cone") {
			ear = source.Center
		}
		openings := drawOpenings(t, c)
		if err := c.checkAll(hz, source, ear, openings); err != nil {
			t.Fatal(err)
		}
		// As Respond does, with fewer tiles to save time.
		few := c.tiled(1, hz, source, Patch{Center: ear}, openings, 1)
		checkNumbers(t, extrapolate(few, c.tiled(1, hz, source, Patch{Center: ear}, openings, 2)))
	})
}

type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

func checkNumbers(t failer, r Response) {
	t.Helper()
	if len(r.Transfer) != len(r.Hz) || len(r.Back) != len(r.Hz) {
		t.Fatalf("%d frequencies, %d transfers, %d back-actions", len(r.Hz), len(r.Transfer), len(r.Back))
	}
	for i, f := range r.Hz {
		for _, z := range []complex128{r.Transfer[i], r.Back[i]} {
			if cmplx.IsNaN(z) || cmplx.IsInf(z) {
				t.Fatalf("%g Hz: transfer %v, back-action %v", f, r.Transfer[i], r.Back[i])
			}
		}
		if real(r.Back[i]) < 0 {
			t.Fatalf("%g Hz: the cavity drives the cone, %v", f, r.Back[i])
		}
	}
}

// bruteTerms and the tolerance belong together: what the plain triple sum of
// 36^3 modes leaves out for patches a tenth of the cavity wide.
const (
	bruteTerms     = 36
	bruteTolerance = 2e-3
)

// TestStaticSum holds the closed form of S, along each axis in turn, against
// the plain sum over modes (Kuttruff's Green function at zero frequency).
func TestStaticSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Cavity{
			Length: rapid.Float64Range(0.5, 2).Draw(t, "length"),
			Width:  rapid.Float64Range(0.5, 2).Draw(t, "width"),
			Height: rapid.Float64Range(0.5, 2).Draw(t, "height"),
			Air:    air.At(20),
		}
		a, b := drawBlock(t, c, "a"), drawBlock(t, c, "b")
		ga, gb := patchGrid(a), patchGrid(b)
		want := bruteStatic(c, ga, gb)
		scale := math.Sqrt(bruteStatic(c, ga, ga) * bruteStatic(c, gb, gb))
		for axis := range 3 {
			got := c.staticAlong(ga, gb, axis, c.termsFor(ga, gb, axis))[0]
			if math.Abs(got-want) > bruteTolerance*scale {
				t.Fatalf("closed along axis %d: %.6g, want %.6g", axis, got, want)
			}
		}
	})
}

// drawBlock is a block of air with some extent along each axis: its cosines
// fall off, so that the plain sum converges.
func drawBlock(t *rapid.T, c Cavity, name string) Patch {
	var p Patch
	size := [3]float64{}
	at := [3]float64{}
	for i, l := range c.lengths() {
		size[i] = l * rapid.Float64Range(0.15, 0.4).Draw(t, name+" size")
		at[i] = size[i]/2 + (l-size[i])*rapid.Float64Range(0, 1).Draw(t, name+" at")
	}
	p.Center, p.Size = Point{at[0], at[1], at[2]}, Point{size[0], size[1], size[2]}
	return p
}

func bruteStatic(c Cavity, a, b grid) float64 {
	var x [3][]float64
	for i, l := range c.lengths() {
		x[i] = pairProducts(a.spans[i], b.spans[i], l, bruteTerms).rows[0]
	}
	sum := 0.0
	for i := range bruteTerms {
		for j := range bruteTerms {
			for k := range bruteTerms {
				if i+j+k == 0 {
					continue
				}
				square := math.Pow(float64(i)/c.Length, 2) + math.Pow(float64(j)/c.Width, 2) + math.Pow(float64(k)/c.Height, 2)
				sum += twice(i) * twice(j) * twice(k) * x[0][i] * x[1][j] * x[2][k] / (square * math.Pi * math.Pi * c.Volume())
			}
		}
	}
	return sum
}

// TestContraction holds the axis-by-axis contraction against the plain sum
// over modes, for tiles of walls that do and do not face each other.
func TestContraction(t *testing.T) {
	c := car(5)
	m := c.modes(cutoff, nil)
	weight := make([]complex128, len(m.square))
	for i := range weight {
		weight[i] = complex(1/(1+float64(i%17)), 1/(1+float64(i%13)))
	}
	left, _ := c.tiles(Opening{Left, 0.3, 0.1, 0.9, 0.7, Leaf{}}, 3)
	right, _ := c.tiles(Opening{Right, 0.3, 0.1, 0.9, 0.7, Leaf{}}, 3)
	shifted, _ := c.tiles(Opening{Right, 0.4, 0.1, 0.9, 0.7, Leaf{}}, 3)
	rear, _ := c.tiles(Opening{Rear, 0.2, 0.3, 0.8, 0.5, Leaf{}}, 2)
	point := patchGrid(Patch{Center: Point{1, 0.3, 0.2}})
	for _, pair := range [][2]grid{{left, left}, {left, right}, {shifted, left}, {left, rear}, {rear, point}, {point, point}} {
		a, b := pair[0], pair[1]
		got := make([]complex128, a.count()*b.count())
		k := c.contraction(a, b, m)
		var in scratch
		in.fit(k)
		k.sum(got, weight, &in)
		for row := range a.count() {
			for col := range b.count() {
				var want complex128
				for i := range m.square {
					n := [3]int{i / (m.number[1] * m.number[2]), i / m.number[2] % m.number[1], i % m.number[2]}
					want += weight[i] * complex(c.psi(a, row, n)*c.psi(b, col, n), 0)
				}
				if cmplx.Abs(got[row*b.count()+col]-want) > 1e-9 {
					t.Fatalf("patch %d with %d: %.9g, want %.9g", row, col, got[row*b.count()+col], want)
				}
			}
		}
	}
}

// psi is one mode's mean over one patch of a grid, spelt out.
func (c Cavity) psi(g grid, patch int, n [3]int) float64 {
	i := [3]int{patch / (len(g.spans[1]) * len(g.spans[2])), patch / len(g.spans[2]) % len(g.spans[1]), patch % len(g.spans[2])}
	product := 1.0
	for a, l := range c.lengths() {
		product *= cosineMean(n[a], g.spans[a][i[a]], l)
	}
	return product
}
