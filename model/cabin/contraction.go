package cabin

// contraction sums modes over all pairs of patches of two grids, one axis at a
// time.
type contraction struct {
	order    [3]int      // axes, fewest products first
	products [3]products // per axis
	strides  [3]int      // of the mode indices
	number   [3]int      // of modes along each axis
	sums     []int       // of each pair of patches, row by row: which of the distinct sums
	// single is the product along all axes, mode by mode, where there is one
	// pair of patches.
	single []float64
}

func (c Cavity) contraction(a, b grid, m modes) *contraction {
	size := c.lengths()
	k := &contraction{number: m.number, order: [3]int{0, 1, 2}}
	k.strides = [3]int{m.number[1] * m.number[2], m.number[2], 1}
	for i := range size {
		k.products[i] = pairProducts(a.spans[i], b.spans[i], size[i], m.number[i])
	}
	if a.count() == 1 && b.count() == 1 {
		k.multiply()
		return k
	}
	// Insertion sort of three axes, stable.
	for i := 1; i < 3; i++ {
		for j := i; j > 0 && len(k.products[k.order[j]].rows) < len(k.products[k.order[j-1]].rows); j-- {
			k.order[j], k.order[j-1] = k.order[j-1], k.order[j]
		}
	}
	p, q, r := k.order[0], k.order[1], k.order[2]
	k.sums = make([]int, a.count()*b.count())
	var i, j [3]int
	for i[0] = range a.spans[0] {
		for i[1] = range a.spans[1] {
			for i[2] = range a.spans[2] {
				for j[0] = range b.spans[0] {
					for j[1] = range b.spans[1] {
						for j[2] = range b.spans[2] {
							at := k.products[p].of(i[p], j[p])
							at = at*len(k.products[q].rows) + k.products[q].of(i[q], j[q])
							at = at*len(k.products[r].rows) + k.products[r].of(i[r], j[r])
							k.sums[a.index(i)*b.count()+b.index(j)] = at
						}
					}
				}
			}
		}
	}
	return k
}

// scratch holds the sums along one and two axes, and the distinct ones along
// all three.
type scratch struct{ first, second, distinct []complex128 }

// fit makes room for a contraction.
func (in *scratch) fit(k *contraction) {
	if k.single != nil {
		return
	}
	grow := func(list *[]complex128, n int) {
		if len(*list) < n {
			*list = make([]complex128, n)
		}
	}
	q, r := k.order[1], k.order[2]
	grow(&in.first, k.number[q]*k.number[r])
	grow(&in.second, k.number[r])
	grow(&in.distinct, len(k.products[0].rows)*len(k.products[1].rows)*len(k.products[2].rows))
}

// multiply works out the product along all axes of the only pair of patches.
func (k *contraction) multiply() {
	for _, x := range k.products[0].rows[0] {
		for _, y := range k.products[1].rows[0] {
			for _, z := range k.products[2].rows[0] {
				k.single = append(k.single, x*y*z)
			}
		}
	}
}

// sum puts the sum over modes of weight times both patches' means into out,
// by row and column.
func (k *contraction) sum(out, weight []complex128, in *scratch) {
	if k.single != nil {
		out[0] = product(k.single, weight)
		return
	}
	p, q, r := k.order[0], k.order[1], k.order[2]
	first, second := in.first[:k.number[q]*k.number[r]], in.second[:k.number[r]]
	at := 0
	for _, x := range k.products[p].rows {
		k.contractFirst(first, x, weight)
		for _, y := range k.products[q].rows {
			clear(second)
			for nq, f := range y {
				row := first[nq*len(second):][:len(second)]
				for nr, w := range row {
					second[nr] += times(f, w)
				}
			}
			for _, z := range k.products[r].rows {
				var total complex128
				z = z[:len(second)]
				for nr, w := range second {
					total += times(z[nr], w)
				}
				in.distinct[at] = total
				at++
			}
		}
	}
	for i, from := range k.sums {
		out[i] = in.distinct[from]
	}
}

func (k *contraction) contractFirst(first []complex128, x []float64, weight []complex128) {
	p, q, r := k.order[0], k.order[1], k.order[2]
	clear(first)
	step := k.strides[r]
	for np, f := range x {
		for nq := range k.number[q] {
			at := np*k.strides[p] + nq*k.strides[q]
			to := first[nq*k.number[r]:][:k.number[r]]
			for nr := range to {
				to[nr] += times(f, weight[at])
				at += step
			}
		}
	}
}

// product is the sum of the products of two lists of one length, in sums that
// the processor adds up beside each other.
func product(a []float64, b []complex128) complex128 {
	b = b[:len(a)]
	var s, t complex128
	i := 0
	for ; i+2 <= len(a); i += 2 {
		s += times(a[i], b[i])
		t += times(a[i+1], b[i+1])
	}
	if i < len(a) {
		s += times(a[i], b[i])
	}
	return s + t
}

// times multiplies by a real number, which the language has no operator for.
func times(f float64, z complex128) complex128 { return complex(f*real(z), f*imag(z)) }
