package cabin

import "slices"

// The cosines of two patches along one axis are only ever needed as a product.
// Two grids with the same spans along an axis, as an opening has with itself
// and a left door with the right one, have the product of spans i and j twice,
// for x y is y x to the last bit; each is then kept and summed over once. Two
// doors of 36 tiles need a third of the sums for that.

// products are the products of the mean cosines of two lists of spans.
type products struct {
	rows [][]float64 // distinct, by index of the cosine
	row  []int       // of each pair: first span * columns + second
	cols int
}

// of is the row of a pair of spans.
func (p products) of(i, j int) int { return p.row[i*p.cols+j] }

// pairProducts multiplies the mean cosines of each span of a and each span of
// b, for indices 0 to terms-1.
func pairProducts(a, b []span, length float64, terms int) products {
	p := products{row: make([]int, 0, len(a)*len(b)), cols: len(b)}
	same := slices.Equal(a, b)
	ca := cosines(a, length, terms)
	cb := ca
	if !same {
		cb = cosines(b, length, terms)
	}
	for i, x := range ca {
		for j, y := range cb {
			if same && j < i {
				p.row = append(p.row, p.of(j, i))
				continue
			}
			row := make([]float64, terms)
			for n := range row {
				row[n] = x[n] * y[n]
			}
			p.row = append(p.row, len(p.rows))
			p.rows = append(p.rows, row)
		}
	}
	return p
}

func cosines(spans []span, length float64, terms int) [][]float64 {
	table := make([][]float64, len(spans))
	for i, s := range spans {
		table[i] = make([]float64, terms)
		for n := range table[i] {
			table[i][n] = cosineMean(n, s, length)
		}
	}
	return table
}
